#include "job/bind_prove.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "pack/reach.hpp"

namespace kp::job {
namespace {

using Reasons = std::vector<safety::Reason>;

void add(Reasons& out, const char* code, std::string sentence) {
  out.push_back(safety::Reason{code, std::move(sentence), 0});
}

void explain_position(const Model& model, const plan::State& unit, const std::vector<int>& wanted,
                      Reasons& out) {
  if (!wanted.empty() && std::find(wanted.begin(), wanted.end(), unit.position) == wanted.end()) {
    add(out, "wrong-position",
        cat("Bring the unit to: ", model.pack.positions[to_size(wanted.front())].title, "."));
  }
}

/// Tells the way that lacks the fewest parts.
void explain_cover(const Model& model, const plan::State& unit, const pack::ProveTest& test,
                   Reasons& out) {
  const pack::Pack& pack = model.pack;
  const std::vector<int> shared =
      test.part < 0 ? std::vector<int>{} : pack::carriers(pack, test.part);
  std::vector<bool> removed(pack.parts.size());
  unit.removed.each([&](int part) { removed[to_size(part)] = true; });
  std::vector<bool> here(pack.positions.size());
  here[to_size(unit.position)] = true;
  if (pack::is_open(pack, test.behind, shared, removed, here)) {
    return;
  }
  const auto lacking = [&](const pack::Way& way) {
    std::vector<int> parts;
    for (const int part : way.parts) {
      if (!pack::is_open(pack, {pack::Way{part}}, shared, removed)) {
        parts.push_back(part);
      }
    }
    return parts;
  };
  const auto nearest = std::min_element(
      test.behind.begin(), test.behind.end(), [&](const pack::Way& a, const pack::Way& b) {
        return lacking(a).size() < lacking(b).size();
      });
  for (const int part : lacking(*nearest)) {
    add(out, "place-shut", cat("Take away first: ", pack.parts[to_size(part)].name, "."));
  }
  explain_position(model, unit, nearest->positions, out);
}

void explain_joints(const Model& model, const plan::State& unit, const pack::ProveTest& test,
                    Reasons& out) {
  const auto name = [&](int joint) -> const std::string& {
    return model.pack.joints[to_size(joint)].name;
  };
  for (const int joint : test.needs_released) {
    if (!unit.released.test(joint)) {
      add(out, "still-held", cat("Release first: ", name(joint), "."));
    }
  }
  for (const int joint : fast_for(model, test)) {
    if (unit.released.test(joint)) {
      add(out, "still-loose", cat("Fasten first: ", name(joint), "."));
    }
  }
}

bool holds(const std::vector<int>& list, int one) {
  return std::find(list.begin(), list.end(), one) != list.end();
}

/// The last moment, not after `limit`, at which the test can be made; -1: none.
int last_moment(const Model& model, const std::vector<plan::State>& moments,
                const pack::ProveTest& test, int limit) {
  for (int i = limit; i >= 0; --i) {
    if (place_open(model, moments[to_size(i)], test)) {
      return i;
    }
  }
  return -1;
}

/// What is in the way at the moment that lacks least.
Reasons least_reasons(const Model& model, const std::vector<plan::State>& moments,
                      const pack::ProveTest& test) {
  Reasons least = place_reasons(model, moments.front(), test);
  for (const plan::State& moment : moments) {
    Reasons here = place_reasons(model, moment, test);
    if (here.size() < least.size()) {
      least = std::move(here);
    }
  }
  return least;
}

}  // namespace

std::vector<int> fast_for(const Model& model, const pack::ProveTest& test) {
  std::vector<int> out = test.needs_fastened;
  for (int joint = 0; test.static_water && joint < to_int(model.pack.joints.size()); ++joint) {
    const bool wet = model.hazards.is_wet(model.pack, joint);
    if ((wet || model.hazards.hangs_by_water(model.pack, joint)) && !holds(out, joint)) {
      out.push_back(joint);
    }
  }
  return out;
}

ProveDemand prove_demand(const pack::ProveTest& test) {
  switch (test.when) {
    case pack::ProveWhen::before_power:
      return test.static_water ? ProveDemand::static_water : ProveDemand::hands_in;
    case pack::ProveWhen::running:
      return ProveDemand::running;
    case pack::ProveWhen::after:
      return ProveDemand::free;
  }
  return ProveDemand::hands_in;
}

bool has_place(const pack::ProveTest& test) {
  return !test.behind.empty() || !test.needs_released.empty() || !test.positions.empty();
}

std::vector<safety::Reason> place_reasons(const Model& model, const plan::State& unit,
                                          const pack::ProveTest& test) {
  Reasons out;
  if (!has_place(test)) {
    if (!is_closed(model, unit)) {
      add(out, "not-closed", "Close the machine before it is proved.");
    }
    return out;
  }
  explain_position(model, unit, test.positions, out);
  explain_cover(model, unit, test, out);
  explain_joints(model, unit, test, out);
  return out;
}

bool place_open(const Model& model, const plan::State& unit, const pack::ProveTest& test) {
  return place_reasons(model, unit, test).empty();
}

std::vector<Placing> prove_schedule(const Model& model, const plan::State& unit,
                                    const plan::Plan& back, const std::vector<int>& done) {
  std::vector<plan::State> moments = {unit};
  for (const plan::Step& step : back.steps) {
    moments.push_back(model.rules.apply(moments.back(), plan::Action{step.kind, step.subject}));
  }
  const int end = to_int(back.steps.size());
  const auto& tests = model.pack.prove_tests;
  int insulation = end;
  std::vector<Placing> out;
  for (int i = 0; i < to_int(tests.size()); ++i) {
    const pack::ProveTest& test = tests[to_size(i)];
    if (test.when != pack::ProveWhen::before_power || holds(done, i)) {
      continue;
    }
    Placing one{i, last_moment(model, moments, test, end), {}};
    if (one.before < 0) {
      one.reasons = least_reasons(model, moments, test);
    } else if (test.item == pack::ProveItem::b3) {
      insulation = std::min(insulation, one.before);
    }
    out.push_back(std::move(one));
  }
  for (Placing& one : out) {
    const pack::ProveTest& test = tests[to_size(one.test)];
    if (test.item == pack::ProveItem::b2 && one.before > insulation) {
      const int earlier = last_moment(model, moments, test, insulation);
      one.before = earlier < 0 ? one.before : earlier;
    }
  }
  return out;
}

}  // namespace kp::job
