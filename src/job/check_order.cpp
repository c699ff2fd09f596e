// What only the planner and the mains can find in the order of a pack.
#include <algorithm>
#include <utility>

#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_prove.hpp"
#include "job/bind_supply.hpp"

namespace kp::job {
namespace {

Finding finding_at(const pack::Places& places, const char* code, std::string pointer,
                   std::string what, std::string remedy) {
  const data::Place place = places.at(pointer);
  Finding finding;
  finding.severity = Severity::fault;
  finding.code = code;
  finding.pointer = std::move(pointer);
  finding.line = place.line;
  finding.column = place.column;
  finding.what = std::move(what);
  finding.remedy = std::move(remedy);
  return finding;
}

/// Every part that comes out, those that the test's own place names before all others.
std::vector<int> targets_near(const pack::Pack& pack, const pack::ProveTest& test) {
  std::vector<int> out;
  const auto add = [&](int part) {
    const bool known = part < 0 || std::find(out.begin(), out.end(), part) != out.end();
    if (!known && pack.parts[to_size(part)].removable) {
      out.push_back(part);
    }
  };
  for (const int joint : test.needs_released) {
    for (const int part : pack.joints[to_size(joint)].parts) {
      add(part);
    }
  }
  for (const pack::Way& way : test.behind) {
    for (const int part : way.parts) {
      add(part);
    }
  }
  add(test.part);
  for (int part = 0; part < to_int(pack.parts.size()); ++part) {
    add(part);
  }
  return out;
}

/// Whether the way back from this part has a moment for the test.
bool is_placed(const Model& model, int test, int target) {
  plan::Targets targets;
  targets.parts = {target};
  plan::State unit = initial_unit(model);
  const plan::Plan way = plan::reach(model.rules, unit, targets);
  if (way.error) {
    return false;
  }
  for (const plan::Step& step : way.steps) {
    unit = model.rules.apply(unit, plan::Action{step.kind, step.subject});
  }
  const plan::Plan back = order_for_proofs(model, unit, plan::refit(model.rules, unit));
  const auto placings = prove_schedule(model, unit, back, {});
  return std::any_of(placings.begin(), placings.end(), [test](const Placing& one) {
    return one.test == test && one.before >= 0;
  });
}

void check_places(const pack::Pack& pack, const pack::Places& places, Findings& found) {
  const auto made = make_model(pack);
  if (!made.has_value()) {
    return;  // what makes no rules is reported by pack::check
  }
  const Model& model = made.value();
  for (int i = 0; i < to_int(pack.prove_tests.size()); ++i) {
    const pack::ProveTest& test = pack.prove_tests[to_size(i)];
    if (test.when != pack::ProveWhen::before_power || !has_place(test)) {
      continue;
    }
    const std::vector<int> targets = targets_near(pack, test);
    if (std::none_of(targets.begin(), targets.end(),
                     [&](int target) { return is_placed(model, i, target); })) {
      found.add(finding_at(places, "prove-never", cat("/prove_tests/", i),
                           cat("no way back has a moment for the prove test \"", test.id, "\""),
                           "Let its cover, position and joints fit together on the way back."));
    }
  }
}

}  // namespace

Findings check_order(const pack::Pack& pack, const pack::Places& places) {
  Findings found;
  const auto band = house_band(pack.supply);
  if (!band.has_value()) {
    found.add(finding_at(places, "supply-range", "/supply/volts", band.error().what,
                         "Write \"volts_low\" and \"volts_high\"."));
  }
  check_places(pack, places, found);
  found.sort();
  return found;
}

}  // namespace kp::job
