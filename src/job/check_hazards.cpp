#include <algorithm>

#include "base/text.hpp"
#include "job/hazards.hpp"

namespace kp::job {
namespace {

class HazardCheck {
 public:
  HazardCheck(const pack::Pack& pack, const pack::Places& places)
      : pack_(pack), places_(places), hazards_(hazards_of(pack)) {}

  Findings run() {
    for (std::size_t i = 0; i < pack_.joints.size(); ++i) {
      left_out(cat("/joints/", to_int(i)), cat("the joint \"", pack_.joints[i].id, "\""),
               pack_.joints[i].contacts, hazards_.joints[i]);
    }
    for (std::size_t i = 0; i < pack_.parts.size(); ++i) {
      left_out(cat("/parts/", to_int(i)), cat("the part \"", pack_.parts[i].id, "\""),
               pack_.parts[i].contacts, hazards_.parts[i]);
    }
    for (std::size_t i = 0; i < pack_.changes.size(); ++i) {
      left_out(cat("/changes/", to_int(i)),
               cat("the change to \"", pack_.positions[to_size(pack_.changes[i].to)].id, "\""),
               pack_.changes[i].contacts, hazards_.changes[i]);
    }
    for (const Group& group : hazards_.groups) {
      if (group.covers.empty()) {
        open(group);
      }
      if (group.points.empty()) {
        unproved(group);
      }
    }
    found_.sort();
    return std::move(found_);
  }

 private:
  void add(Severity severity, const char* code, std::string pointer, std::string what,
           std::string remedy) {
    const data::Place place = places_.at(pointer);
    Finding finding;
    finding.severity = severity;
    finding.code = code;
    finding.pointer = std::move(pointer);
    finding.line = place.line;
    finding.column = place.column;
    finding.what = std::move(what);
    finding.remedy = std::move(remedy);
    found_.add(std::move(finding));
  }

  void left_out(const std::string& pointer, const std::string& subject,
                const std::vector<pack::Contact>& authored, const Hazards::Tags& derived) {
    for (const Derived& one : derived) {
      const bool written = std::find(authored.begin(), authored.end(), one.tag) != authored.end();
      if (!written && !one.near) {
        const std::string& word = pack::contact_words()[to_size(static_cast<int>(one.tag))];
        add(Severity::note, "tag-left-out", pointer,
            cat(subject, " has the contact \"", word, "\" by its ", one.why,
                ", and its contacts do not say so"),
            cat("Add \"", word, "\" to its contacts; it counts all the same."));
      }
    }
  }

  static std::string pointer_to(const Group& group) {
    return !group.points.empty()   ? cat("/circuit/test_points/", group.points.front())
           : !group.joints.empty() ? cat("/joints/", group.joints.front())
                                   : cat("/parts/", group.parts.front());
  }

  void unproved(const Group& group) {
    const std::string& part = pack_.parts[to_size(group.parts.front())].id;
    add(Severity::fault, "conductor-unproved", pointer_to(group),
        cat("no test point shows the live conductors of the part \"", part,
            "\", so they cannot be proved dead before hands meet them"),
        "Give a test point on a live node there, with the same \"behind\".");
  }

  void open(const Group& group) {
    const std::string pointer = pointer_to(group);
    const std::string& part = pack_.parts[to_size(group.parts.front())].id;
    add(Severity::warning, "conductor-open", pointer,
        cat("nothing stands in front of live conductors of the part \"", part, "\""),
        "Name in \"behind\" what covers them.");
  }

  const pack::Pack& pack_;
  const pack::Places& places_;
  Hazards hazards_;
  Findings found_;
};

}  // namespace

Findings check_hazards(const pack::Pack& pack, const pack::Places& places) {
  return HazardCheck(pack, places).run();
}

}  // namespace kp::job
