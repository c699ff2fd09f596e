// check, plan, refit.
#include <string_view>

#include "app/step_words.hpp"
#include "base/text.hpp"
#include "base/time.hpp"
#include "cli/commands.hpp"
#include "data/value.hpp"
#include "job/bind_circuit.hpp"
#include "job/bind_plan.hpp"
#include "job/hazards.hpp"
#include "job/bind_prove.hpp"
#include "pack/check.hpp"
#include "pack/load.hpp"

namespace kp::cli {

namespace {

int failed(const Error& error, Output& output) {
  output.err += cat(error.text(), "\n");
  return kUsage;
}

const std::vector<std::string>& kind_words() {
  static const std::vector<std::string> words = {"turn",   "take-tool", "release",
                                                 "remove", "fasten",    "set"};
  return words;
}

/// The id of what a step acts on: a position, a tool, a joint or a part.
std::string subject_of(const pack::Pack& pack, const plan::Step& step) {
  const std::size_t at = to_size(step.subject);
  switch (step.kind) {
    case plan::Kind::turn:
      return pack.positions[to_size(pack.changes[at].to)].id;
    case plan::Kind::take_tool:
      return pack.tools[at].id;
    case plan::Kind::release:
    case plan::Kind::fasten:
      return pack.joints[at].id;
    case plan::Kind::remove:
    case plan::Kind::set:
      return pack.parts[at].id;
  }
  return {};
}

data::Value seconds_of(std::int64_t ms) {
  return ms % 1000 == 0 ? data::Value::of(ms / 1000)
                        : data::Value::of(static_cast<double>(ms) / 1000);
}

std::string as_json(const pack::Pack& pack, const plan::Plan& plan) {
  data::Value root = data::Value::object();
  root.set("seconds", seconds_of(plan.cost_ms));
  root.set("proved", data::Value::of(plan.proved));
  data::Value actions = data::Value::array();
  for (const plan::Step& step : plan.steps) {
    data::Value action = data::Value::object();
    action.set("do", data::Value::of(kind_words()[to_size(static_cast<int>(step.kind))]));
    action.set("what", data::Value::of(subject_of(pack, step)));
    action.set("seconds", seconds_of(step.cost_ms));
    action.set("tool", data::Value::of(step.tool < 0 ? pack.tools.front().id
                                                     : pack.tools[to_size(step.tool)].id));
    action.set("position", data::Value::of(pack.positions[to_size(step.position)].id));
    data::Value needs = data::Value::array();
    for (const int need : step.needs) {
      needs.push(data::Value::of(need));
    }
    action.set("requires", std::move(needs));
    actions.push(std::move(action));
  }
  root.set("actions", std::move(actions));
  return data::print(root) + "\n";
}

std::string as_text(const pack::Pack& pack, const plan::Plan& plan) {
  std::string out = cat(duration_words((plan.cost_ms + 999) / 1000), ", ",
                        plan.proved ? "proved shortest" : "a shorter way may exist", "\n");
  std::string group;
  for (const plan::Step& step : plan.steps) {
    app::StepWords words;
    if (!app::words_of(pack, step, words)) {
      continue;
    }
    const std::string& where = pack.positions[to_size(step.position)].title;
    std::string here = group.rfind(where, 0) == 0 ? group : where;
    if (!words.tool.empty()) {
      here = cat(where, ", ", lower(words.tool));
    }
    if (here != group) {
      group = here;
      out += cat("\n", group, "\n");
    }
    out += cat("  ", words.title, "  (", app::about(step.cost_ms), ")\n");
  }
  return out;
}

}  // namespace

void print_findings(const Findings& findings, const std::string& name, Output& output) {
  for (const Finding& finding : findings.all()) {
    const char* word = finding.severity == Severity::fault     ? "fault"
                       : finding.severity == Severity::warning ? "warning"
                                                               : "note";
    output.out += cat(name, ": ", word, ": ", finding.text(), "\n");
  }
}

std::string no_such(const std::string& word, const std::string& what,
                    const std::vector<std::string>& known) {
  const auto near = nearest(word, known);
  return cat("\"", word, "\" is no ", what, ".",
             near.has_value() ? cat(" Did you mean \"", near.value(), "\"?") : "", "\n");
}

int read_pack(const std::string& name, Files& files, Output& output, pack::Pack& pack) {
  const auto text = pack_text(name, files);
  if (!text.has_value()) {
    output.err += cat(text.error().text(), "\n");
    return kUsage;
  }
  pack::Loaded loaded = pack::load(text.value());
  if (!loaded.pack.has_value()) {
    print_findings(loaded.findings, name, output);
    return kFinding;
  }
  pack = std::move(loaded.pack.value());
  return kDone;
}

Result<std::string> pack_text(const std::string& name, Files& files) {
  const std::string shipped = cat("packs/", name, "/pack.json");
  std::vector<std::string> known;
  for (app::NamedBytes& file : files.assets()) {
    if (file.name == shipped) {
      return std::move(file.bytes);
    }
    const std::vector<std::string> parts = split(file.name, '/');
    if (parts.size() == 3 && parts[0] == "packs" && parts[2] == "pack.json") {
      known.push_back(parts[1]);
    }
  }
  auto text = files.read(name);
  if (!text.has_value()) {
    Error error = text.error();
    const auto near = nearest(name, known);
    if (near.has_value()) {
      error.remedy = cat("Did you mean the pack \"", near.value(), "\"?");
    }
    return fail(std::move(error));
  }
  return text;
}

std::vector<std::string> drawing_ids(Files& files) {
  std::vector<std::string> ids;
  for (const app::NamedBytes& file : files.assets()) {
    const std::vector<std::string> parts = split(file.name, '/');
    if (parts.size() == 2 && parts[0] == "parts" && parts[1].size() > 4 &&
        parts[1].substr(parts[1].size() - 4) == ".svg") {
      ids.push_back(parts[1].substr(0, parts[1].size() - 4));
    }
  }
  return ids;
}

int check_pack(const std::string& name, Files& files, Output& output) {
  const auto text = pack_text(name, files);
  if (!text.has_value()) {
    return failed(text.error(), output);
  }
  const pack::Loaded loaded = pack::load(text.value());
  print_findings(loaded.findings, name, output);
  if (!loaded.pack.has_value()) {
    return kFinding;
  }
  const Findings sense = pack::check(loaded.pack.value(), drawing_ids(files), loaded.places);
  print_findings(sense, name, output);
  if (sense.faults() > 0) {
    return kFinding;
  }
  const pack::Pack& pack = loaded.pack.value();
  const Findings wiring = job::check_circuit(pack, loaded.places);
  print_findings(wiring, name, output);
  if (wiring.faults() > 0) {
    return kFinding;
  }
  const Findings hazards = job::check_hazards(pack, loaded.places);
  print_findings(hazards, name, output);
  if (hazards.faults() > 0) {
    return kFinding;
  }
  const Findings order = job::check_order(pack, loaded.places);
  print_findings(order, name, output);
  if (order.faults() > 0) {
    return kFinding;
  }
  output.out += cat(name, ": ", to_int(pack.parts.size()), " parts, ", to_int(pack.joints.size()),
                    " joints, no fault\n");
  return kDone;
}

int print_plan(const Wanted& wanted, bool back, Files& files, Output& output) {
  const auto text = pack_text(wanted.pack, files);
  if (!text.has_value()) {
    return failed(text.error(), output);
  }
  pack::Loaded loaded = pack::load(text.value());
  if (!loaded.pack.has_value()) {
    print_findings(loaded.findings, wanted.pack, output);
    return kFinding;
  }
  auto model = job::make_model(std::move(loaded.pack.value()));
  if (!model.has_value()) {
    output.err += cat(model.error().text(), "\n");
    return kFinding;
  }
  const pack::Pack& pack = model.value().pack;
  std::vector<std::string> ids;
  for (const pack::Part& part : pack.parts) {
    ids.push_back(part.id);
  }
  plan::Targets targets;
  for (const std::string& id : wanted.parts) {
    const int part = pack.part(id);
    if (part < 0) {
      const auto near = nearest(id, ids);
      output.err += cat("\"", id, "\" is no part of ", wanted.pack, ".",
                        near.has_value() ? cat(" Did you mean \"", near.value(), "\"?") : "", "\n");
      return kUsage;
    }
    targets.parts.push_back(part);
  }
  const plan::State whole = job::initial_unit(model.value());
  plan::Plan plan = plan::reach(model.value().rules, whole, targets);
  if (back && !plan.error.has_value()) {
    plan::State opened = whole;
    for (const plan::Step& step : plan.steps) {
      opened = model.value().rules.apply(opened, plan::Action{step.kind, step.subject});
    }
    plan = plan::refit(model.value().rules, opened);
  }
  if (plan.error.has_value()) {
    output.err += cat(plan.error->text(), "\n");
    return kFinding;
  }
  output.out += wanted.json ? as_json(pack, plan) : as_text(pack, plan);
  return kDone;
}

}  // namespace kp::cli
