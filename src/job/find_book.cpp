#include "job/find_book.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "base/text.hpp"
#include "job/bind_circuit.hpp"
#include "job/bind_plan.hpp"
#include "circuit/read.hpp"

namespace kp::job {

namespace {

constexpr double kOpen = std::numeric_limits<double>::infinity();
constexpr double kNoWay_seconds = 24 * 3600;

/// A band of the solver as find's, the whole field where the solver has none to give.
find::Band band_of(const circuit::Band& band, double top) {
  const bool there = band.state == circuit::State::shown || band.state == circuit::State::over;
  if (band.state == circuit::State::short_circuit) return {0, 0};  // the breaker has tripped
  if (!there || !band.bounded) return {0, top};
  return {band.shown_low, band.shown_high};
}

struct Maker {
  const Model& model;
  FindBook& book;
  circuit::Netlist netlist;

  [[nodiscard]] const pack::Pack& pack() const { return model.pack; }

  void faults() {
    for (const pack::Fault& fault : pack().faults) {
      book.problem.faults.push_back({fault.title, fault.weight});
    }
    for (const pack::Symptom& symptom : pack().symptoms) {
      find::Symptom out{symptom.title, symptom.leak, std::vector<double>(pack().faults.size())};
      for (const pack::Shows& cause : symptom.causes) out.causes[to_size(cause.fault)] = cause.chance;
      book.problem.symptoms.push_back(std::move(out));
    }
  }

  [[nodiscard]] std::vector<find::Outcome> looked_at(const pack::Test& test) const {
    const bool words = test.probe == pack::Probe::look;
    find::Outcome good{words && !test.good.empty() ? test.good : "good", {}, 1 - test.leak};
    find::Outcome bad{words && !test.bad.empty() ? test.bad : "not good", {}, test.leak};
    bad.likelihood.assign(pack().faults.size(), test.leak);
    for (const pack::Shows& sign : test.shows) {
      bad.likelihood[to_size(sign.fault)] = 1 - (1 - test.leak) * (1 - sign.chance);
    }
    for (const double p : bad.likelihood) good.likelihood.push_back(1 - p);
    return {std::move(good), std::move(bad)};
  }

  /// Whether a fault changes what a typical unit shows, at either end of its amount; the long sum over
  /// tolerances is worked out only then.
  [[nodiscard]] bool shows_in(const pack::Test& test, const pack::Fault& fault) const {
    std::optional<circuit::Fault> one = fault_of(fault);
    if (!one.has_value()) return false;
    const Measurement m = measurement_of(pack(), test);
    const circuit::Reading good = circuit::read(netlist, m.meter, m.probe, m.setting);
    const circuit::Spread amount = one.value().amount;
    for (const double end : {amount.low, amount.high}) {
      one.value().amount = {end, end, end};
      const circuit::Reading bad = circuit::read(netlist, m.meter, m.probe, m.setting,
                                                 {&one.value(), 1});
      if (bad.state != good.state) return true;
      const bool same = bad.exact == good.exact ||
                        std::fabs(bad.exact - good.exact) <= 1e-6 * std::fabs(good.exact);
      if (!same) return true;
    }
    return false;
  }

  [[nodiscard]] find::Bins measured(const pack::Test& test) const {
    const circuit::Meter meter;
    const circuit::Mode mode = mode_of(test.probe);
    const std::vector<circuit::Range>& ranges = meter.ranges(mode);
    find::ReadingRule rule;
    rule.soft_share = 2 * meter.accuracy(mode).share;
    rule.soft_least = std::max(0.1, 5 * ranges.front().step);
    rule.open_from = ranges.back().top;
    const find::Band good = band_of(good_band(pack(), netlist, test), rule.open_from);
    std::vector<find::Band> bands;
    for (const pack::Fault& fault : pack().faults) {
      bands.push_back(shows_in(test, fault) ? band_of(fault_band(pack(), netlist, test, fault),
                                                      rule.open_from)
                                            : good);
    }
    return find::bins_of(good, bands, rule, test.unit);
  }

  int standing(const Standing& wanted) {
    for (int s = 0; s < to_int(book.standings.size()); ++s) {
      if (book.standings[to_size(s)] == wanted) return s;
    }
    book.standings.push_back(wanted);
    return to_int(book.standings.size()) - 1;
  }

  void tests() {
    for (int t = 0; t < to_int(pack().tests.size()); ++t) {
      const pack::Test& test = pack().tests[to_size(t)];
      find::Test out;
      out.name = test.title;
      out.seconds = test.seconds;
      book.bins.emplace_back();
      const bool live = test.running || pack::is_live(test.probe);
      const TestReach reached = reach_test(model, plan::State{}, t);
      if (!reached.plan.error.has_value()) {
        out.standing = standing({reached.unit, live});
        if (test.on_circuit() && pack().circuit.there()) {
          book.bins.back() = measured(test);
          out.outcomes = book.bins.back().outcomes;
        } else {
          out.outcomes = looked_at(test);
        }
      }
      book.problem.tests.push_back(std::move(out));
    }
  }

  void add_repair(find::Repair repair, int part, int fault) {
    repair.leaves = 0;
    book.problem.repairs.push_back(std::move(repair));
    book.swaps.push_back(part);
    book.mends.push_back(fault);
  }

  void swap_part(int part) {
    find::Repair repair;
    for (int f = 0; f < to_int(pack().faults.size()); ++f) {
      const pack::Fault& fault = pack().faults[to_size(f)];
      if (fault.part == part && fault.mend.empty()) repair.clears.push_back(f);
    }
    if (repair.clears.empty()) return;
    plan::Targets targets;
    targets.parts = {part};
    const plan::Plan plan = plan::reach(model.rules, plan::State{}, targets);
    if (plan.error.has_value()) return;
    const pack::Part& what = pack().parts[to_size(part)];
    repair.name = cat("Fit a new part: ", what.name);
    repair.seconds = book.costs.fit_seconds + book.costs.confirm_seconds;
    repair.price_seconds = static_cast<double>(what.price_minor) * 3600 /
                           static_cast<double>(book.costs.hour_minor);
    plan::State unit;
    for (const plan::Step& step : plan.steps) {
      unit = model.rules.apply(unit, {step.kind, step.subject});
    }
    unit.tool = -1;
    repair.standing = standing({unit, false});
    add_repair(std::move(repair), part, -1);
  }

  void mend(int f) {
    const pack::Fault& fault = pack().faults[to_size(f)];
    const pack::Part& part = pack().parts[to_size(fault.part)];
    find::Repair repair;
    repair.name = cat("Mend: ", fault.title);
    repair.seconds = fault.mend_seconds + book.costs.confirm_seconds;
    repair.clears = {f};
    plan::Targets targets;
    plan::Point point{part.inside, {}};
    for (const pack::Way& way : part.behind) point.behind.emplace_back(way.parts, way.positions);
    targets.points = {point};
    targets.positions = part.positions;
    const plan::Plan plan = plan::reach(model.rules, plan::State{}, targets);
    if (plan.error.has_value()) return;
    plan::State unit;
    for (const plan::Step& step : plan.steps) {
      unit = model.rules.apply(unit, {step.kind, step.subject});
    }
    unit.tool = -1;
    repair.standing = standing({unit, false});
    add_repair(std::move(repair), -1, f);
  }

  void positions() {
    const int n = to_int(model.problem.positions.size());
    const auto far = static_cast<std::int64_t>(kNoWay_seconds) * 1000;
    book.position_ms.assign(to_size(n) * to_size(n), far);
    const auto at = [&](int from, int to) -> std::int64_t& {
      return book.position_ms[to_size(from * n + to)];
    };
    for (int p = 0; p < n; ++p) at(p, p) = 0;
    for (const plan::Turn& turn : model.problem.turns) {
      at(turn.from, turn.to) = std::min(at(turn.from, turn.to), turn.cost_ms);
    }
    for (int k = 0; k < n; ++k) {
      for (int i = 0; i < n; ++i) {
        for (int j = 0; j < n; ++j) at(i, j) = std::min(at(i, j), at(i, k) + at(k, j));
      }
    }
  }

  /// The planner's own figures between the closed unit and each standing.
  void moves() {
    const int n = to_int(book.standings.size());
    book.problem.moves.assign(to_size(n), std::vector<double>(to_size(n)));
    for (int i = 0; i < n; ++i) {
      for (int j = 0; j < n; ++j) {
        if (i == j) continue;
        book.problem.moves[to_size(i)][to_size(j)] = change_seconds(
            model, book, book.standings[to_size(i)], book.standings[to_size(j)]);
      }
    }
    const FindCosts& costs = book.costs;
    for (int s = 1; s < n; ++s) {
      const Standing& one = book.standings[to_size(s)];
      const plan::Plan back = plan::refit(model.rules, one.unit);
      double& home = book.problem.moves[to_size(s)][0];
      if (!back.error.has_value()) {
        home = static_cast<double>(back.cost_ms) / 1000 + (one.live ? 0 : costs.restore_seconds);
      }
    }
  }
};

}  // namespace

int FindBook::swap_of(int part) const {
  for (int r = 0; r < to_int(swaps.size()); ++r) {
    if (swaps[to_size(r)] == part) return r;
  }
  return -1;
}

double change_seconds(const Model& model, const FindBook& book, const Standing& from,
                      const Standing& to) {
  const plan::Problem& problem = model.problem;
  std::int64_t ms = 0;
  std::vector<bool> tools(problem.tools.size());
  const auto differ = [](const plan::Set& a, const plan::Set& b, const auto& see) {
    plan::Set out = a;
    out |= b;
    out.each([&](int i) {
      if (a.test(i) != b.test(i)) see(i);
    });
  };
  differ(from.unit.released, to.unit.released, [&](int joint) {
    const plan::Joint& one = problem.joints[to_size(joint)];
    ms += one.cost_ms;
    if (one.tool >= 0) tools[to_size(one.tool)] = true;
  });
  differ(from.unit.removed, to.unit.removed,
         [&](int part) { ms += problem.parts[to_size(part)].cost_ms; });
  for (std::size_t tool = 0; tool < tools.size(); ++tool) {
    if (tools[tool]) ms += problem.tools[tool].take_ms;
  }
  const int n = to_int(problem.positions.size());
  ms += book.position_ms[to_size(from.unit.position * n + to.unit.position)];
  double seconds = static_cast<double>(ms) / 1000;
  // Hands change something only where it is dead; under power the unit must be made safe between.
  const bool hands = !(from.unit.released == to.unit.released && from.unit.removed == to.unit.removed &&
                       from.unit.position == to.unit.position);
  if (from.live && (!to.live || hands)) seconds += book.costs.isolate_seconds;
  if (to.live && (!from.live || hands)) seconds += book.costs.restore_seconds;
  return seconds;
}

TestReach reach_test(const Model& model, const plan::State& unit, int test) {
  const pack::Test& what = model.pack.tests[to_size(test)];
  // The needs of a test as a thing to be done: a joint that is loose when they are all met, on a part
  // that nothing else holds.
  plan::Problem problem = model.problem;
  plan::Part probe;
  probe.name = what.title;
  probe.inside = what.part;
  probe.positions = what.positions;
  plan::Joint needs;
  needs.name = what.title;
  needs.parts = {to_int(problem.parts.size())};
  needs.positions = what.positions;
  needs.needs_released = what.needs_released;
  for (const pack::Way& way : what.behind) needs.behind.emplace_back(way.parts, way.positions);
  plan::Targets targets;
  targets.parts = needs.parts;
  targets.positions = what.positions;
  problem.parts.push_back(std::move(probe));
  problem.joints.push_back(std::move(needs));
  TestReach out;
  out.unit = unit;
  const auto rules = plan::Rules::make(problem);
  if (!rules.has_value()) {
    out.plan.error = rules.error();
    return out;
  }
  out.plan = plan::reach(rules.value(), unit, targets);
  for (const plan::Step& step : out.plan.steps) {
    out.unit = rules.value().apply(out.unit, {step.kind, step.subject});
  }
  out.unit.released.reset(to_int(problem.joints.size()) - 1);
  out.unit.removed.reset(to_int(problem.parts.size()) - 1);
  out.unit.tool = -1;
  // The probe itself is no step for hands.
  const auto of_probe = [&](const plan::Step& step) {
    return (step.kind == plan::Kind::release && step.subject == to_int(problem.joints.size()) - 1) ||
           (step.kind == plan::Kind::remove && step.subject == to_int(problem.parts.size()) - 1);
  };
  auto& steps = out.plan.steps;
  steps.erase(std::remove_if(steps.begin(), steps.end(), of_probe), steps.end());
  for (plan::Step& step : steps) step.needs.clear();  // they counted the probe's steps too
  return out;
}

FindBook make_find_book(const Model& model, const FindCosts& costs) {
  FindBook book;
  book.costs = costs;
  Maker maker{model, book, {}};
  if (model.pack.circuit.there()) maker.netlist = bind_circuit(model.pack);
  maker.faults();
  maker.positions();
  book.standings.push_back({plan::State{}, true});
  maker.tests();
  for (int part = 0; part < to_int(model.pack.parts.size()); ++part) maker.swap_part(part);
  for (int f = 0; f < to_int(model.pack.faults.size()); ++f) {
    if (!model.pack.faults[to_size(f)].mend.empty()) maker.mend(f);
  }
  maker.moves();
  book.problem.give_up_seconds = costs.give_up_seconds;
  return book;
}

}  // namespace kp::job
