#include "pack/report.hpp"
#include "pack/words.hpp"

namespace kp::pack {
namespace {

/// The contacts that hurt before anybody can think.
std::vector<std::string> sudden(const std::vector<Contact>& contacts) {
  std::vector<std::string> out;
  for (const Contact contact : contacts) {
    if (contact == Contact::stored_charge || contact == Contact::hot ||
        contact == Contact::sharp || contact == Contact::sprung || contact == Contact::heavy) {
      out.push_back(contact_words()[static_cast<std::size_t>(contact)]);
    }
  }
  return out;
}

void check_caution(const std::vector<Contact>& contacts, const std::string& caution,
                   std::string pointer, Report& report) {
  const std::vector<std::string> words = sudden(contacts);
  if (!words.empty() && caution.empty()) {
    report.add("caution-missing", std::move(pointer),
               cat("hands meet ", quoted_list(words), " here and no caution says so"),
               "Add a \"caution\".");
  }
}

}  // namespace

void check_contacts(const Pack& pack, Report& report) {
  for (std::size_t i = 0; i < pack.changes.size(); ++i) {
    const PositionChange& change = pack.changes[i];
    check_caution(change.contacts, change.caution, at("changes", to_int(i)), report);
  }
  for (std::size_t i = 0; i < pack.parts.size(); ++i) {
    check_caution(pack.parts[i].contacts, pack.parts[i].caution, at("parts", to_int(i)), report);
  }
  for (std::size_t i = 0; i < pack.joints.size(); ++i) {
    check_caution(pack.joints[i].contacts, pack.joints[i].caution, at("joints", to_int(i)), report);
  }
}

namespace {

/// The joints that free a part, a change of position or a test.
std::vector<bool> freeing_joints(const Pack& pack) {
  std::vector<bool> out(pack.joints.size());
  const auto mark = [&out](const std::vector<int>& joints) {
    for (const int joint : joints) {
      out[to_size(joint)] = true;
    }
  };
  for (std::size_t i = 0; i < pack.parts.size(); ++i) {
    if (pack.parts[i].removable) {
      mark(holding_joints(pack, to_int(i)));
    }
  }
  for (const PositionChange& change : pack.changes) {
    mark(change.needs_released);
  }
  for (const Test& test : pack.tests) {
    mark(test.needs_released);
  }
  return out;
}

}  // namespace

void check_idle(const Pack& pack, Report& report) {
  const std::vector<bool> freeing = freeing_joints(pack);
  std::vector<bool> tools(pack.tools.size());
  std::vector<bool> checks(pack.refit_checks.size());
  const auto mark_checks = [&checks](const std::vector<int>& asked) {
    for (const int check : asked) {
      checks[to_size(check)] = true;
    }
  };
  for (const Part& part : pack.parts) {
    mark_checks(part.refit_checks);
  }
  for (std::size_t i = 0; i < pack.joints.size(); ++i) {
    const Joint& joint = pack.joints[i];
    tools[to_size(joint.tool)] = true;
    mark_checks(joint.refit_checks);
    if (!freeing[i]) {
      report.add("joint-idle", at("joints", to_int(i)),
                 cat("the joint ", quoted(joint.id), " frees nothing"),
                 "Name a part that comes away, or the change of position that needs it.");
    }
  }
  for (std::size_t i = 1; i < tools.size(); ++i) {
    if (!tools[i]) {
      report.add("tool-idle", at("tools", to_int(i)),
                 cat("no joint uses the tool ", quoted(pack.tools[i].id)), "Remove it or use it.");
    }
  }
  for (std::size_t i = 0; i < checks.size(); ++i) {
    if (!checks[i]) {
      report.add("refit-check-idle", at("refit_checks", to_int(i)),
                 cat("nothing asks for the refit check ", quoted(pack.refit_checks[i].id)),
                 "Name it in the \"refit_checks\" of a part or joint, or remove it.");
    }
  }
}

}  // namespace kp::pack
