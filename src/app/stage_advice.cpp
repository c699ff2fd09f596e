// What to do next in Find, why, and what each outcome would leave.
#include <algorithm>
#include <cmath>
#include <limits>

#include "app/desk.hpp"
#include "app/find_words.hpp"
#include "base/text.hpp"
#include "job/bind_circuit.hpp"
#include "job/bind_safety.hpp"

namespace kp::app {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

std::string title_of(const Desk& desk, int fault) {
  return fault < 0 ? std::string("anything else") : desk.pack()->faults[to_size(fault)].title;
}

/// The part alone, where a line is short.
std::string part_of(const Desk& desk, int fault) {
  return fault < 0 ? std::string("anything else")
                   : desk.pack()->parts[to_size(desk.pack()->faults[to_size(fault)].part)].name;
}

/// Outcomes that a person tells apart by one glance at the meter, in this order.
enum class Glance { below, in_band, above, open_loop, bad, count };

struct Group {
  double p = 0;
  double low = kInfinity;
  double high = 0;
  std::vector<double> fault;   ///< P(fault and one of these outcomes), a fault each
};

Glance glance_of(const pack::Test& test, const find::Bin& bin) {
  if (!std::isfinite(bin.low)) return std::isfinite(test.high) ? Glance::open_loop : Glance::in_band;
  const double middle = std::isfinite(bin.high) ? (bin.low + bin.high) / 2 : bin.low;
  if (middle < test.low) return Glance::below;
  return middle <= test.high ? Glance::in_band : Glance::above;
}

std::string shown_words(const pack::Test& test, Glance glance) {
  switch (glance) {
    case Glance::below: return cat("Below ", job::quantity_words(test.low, test.unit));
    case Glance::in_band:
      return std::isfinite(test.high) || test.low < test.field_high ? "In the band" : "OL";
    case Glance::above: return cat("Above ", job::quantity_words(test.high, test.unit));
    case Glance::open_loop: return "OL";
    case Glance::bad:
    case Glance::count: break;
  }
  return test.bad.empty() ? std::string("Not right") : test.bad;
}

/// The parts of the two likeliest faults of a group.
std::string leaves_words(const Desk& desk, const job::Finding& finding, const Group& group) {
  std::vector<int> order(group.fault.size());
  for (int i = 0; i < to_int(order.size()); ++i) order[to_size(i)] = i;
  std::stable_sort(order.begin(), order.end(), [&](int a, int b) {
    return group.fault[to_size(a)] > group.fault[to_size(b)];
  });
  constexpr double kSure = 0.8;
  std::string out;
  for (int i = 0; i < 2 && i < to_int(order.size()); ++i) {
    const double share = group.fault[to_size(order[to_size(i)])] / group.p;
    if (share < 0.05) break;
    out += cat(out.empty() ? "" : ", ", part_of(desk, finding.faults[to_size(order[to_size(i)])]),
               " ", percent_text(std::min(1.0, share)));
    if (share >= kSure) break;
  }
  return out;
}

void fill_outcomes(Card& card, const Desk& desk, int index, const pack::Test& test) {
  const job::Finding& finding = desk.finder->finding();
  const find::Test& plain = finding.problem.tests[to_size(index)];
  const std::vector<double>& belief = desk.finder->advice().belief.fault;
  double all = 0;
  for (const double p : belief) all += p;
  Group groups[static_cast<int>(Glance::count)];
  const auto add = [&](Glance glance, int outcome, double share) {
    Group& group = groups[static_cast<int>(glance)];
    group.fault.resize(belief.size(), 0);
    for (std::size_t f = 0; f < belief.size(); ++f) {
      const double p = belief[f] / all * plain.outcomes[to_size(outcome)].likelihood[f] * share;
      group.fault[f] += p;
      group.p += p;
    }
  };
  if (test.on_circuit()) {
    // An outcome of several bins is split among them by their place on the scale.
    for (int o = 0; o < to_int(plain.outcomes.size()); ++o) {
      std::vector<Glance> places;
      for (const find::Bin& bin : finding.bins[to_size(index)].bins) {
        if (bin.outcome == o) places.push_back(glance_of(test, bin));
      }
      // Where the good band is among them, it is where such readings come.
      const bool good = std::find(places.begin(), places.end(), Glance::in_band) != places.end();
      if (good) {
        add(Glance::in_band, o, 1);
      } else {
        for (const Glance place : places) add(place, o, 1.0 / static_cast<double>(places.size()));
      }
    }
  } else {
    add(Glance::in_band, 0, 1);
    if (plain.outcomes.size() > 1) add(Glance::bad, 1, 1);
  }
  for (int g = 0; g < static_cast<int>(Glance::count); ++g) {
    const Group& group = groups[g];
    if (group.p < 0.005) continue;
    const auto glance = static_cast<Glance>(g);
    Outcome one;
    one.shown = test.on_circuit() || glance == Glance::bad ? shown_words(test, glance)
                : test.good.empty()                        ? std::string("In the band")
                                                           : test.good;
    one.leaves = leaves_words(desk, finding, group);
    if (!one.leaves.empty()) card.outcomes.push_back(std::move(one));
  }
}

/// The band on a scale whose ends are what the field takes; by logarithm, since ohms span decades.
Band band_of(const pack::Test& test) {
  const double top = std::isfinite(test.high) ? std::max(test.high * 3, test.low + 1) : test.low * 10;
  const auto place = [&](double value) {
    return std::isfinite(value) ? std::clamp(value / top, 0.0, 1.0) * 0.85 : 1.0;
  };
  Band out;
  out.from = place(test.low);
  out.to = place(test.high);
  out.left = "0";
  out.words = band_text(test);
  out.right = may_be_open(test) ? "OL" : "";
  return out;
}

/// "Takes 2 min, after 5 min to get there."
std::string cost_words(const find::Advice& advice) {
  const auto minutes = [](double seconds) {
    return duration_words(std::max<std::int64_t>(1, std::llround(seconds)));
  };
  std::string out = cat("Takes ", minutes(advice.own_seconds));
  if (advice.move_seconds >= 1) out += cat(", after ", minutes(advice.move_seconds), " to get there");
  return cat(out, ".");
}

void fill_test_advice(Snapshot& out, const Desk& desk) {
  const find::Advice& advice = desk.finder->advice();
  const job::Finding& finding = desk.finder->finding();
  const pack::Test& test = desk.pack()->tests[to_size(finding.tests[to_size(advice.index)])];
  Card& card = out.card;
  card.id = cat("advice-", test.id);
  card.sentence = cat("Next: ", lower_first(test.title));
  card.how = test.how;
  card.facts = {cost_words(advice)};
  const bool look = test.probe == pack::Probe::look;
  if (!look) card.band = band_of(test);
  fill_outcomes(card, desk, advice.index, test);
  const bool there = finding.standings[to_size(finding.problem.tests[to_size(advice.index)].standing)]
                         .way.steps.empty();
  card.primary = tap_button(look || !there ? "Do this test" : "Enter reading",
                            desk.action(Verb::choose_test, test.id));
}

void fill_repair_advice(Snapshot& out, const Desk& desk) {
  const find::Advice& advice = desk.finder->advice();
  const job::Finding& finding = desk.finder->finding();
  const int index = advice.index;
  const pack::Part& part = desk.pack()->parts[to_size(finding.repair_parts[to_size(index)])];
  const int mend = finding.repair_mends[to_size(index)];
  double p = 0;
  int likeliest = -1;
  for (const int fault : finding.problem.repairs[to_size(index)].clears) {
    const double share = advice.belief.fault[to_size(fault)];
    p += share;
    if (likeliest < 0 || share > advice.belief.fault[to_size(likeliest)]) likeliest = fault;
  }
  Card& card = out.card;
  card.id = cat("repair-", part.id);
  const std::string sentence = cat(mend >= 0 ? "Mend the " : "Reach the ", part.name);
  card.sentence = cat(sentence, ".");
  card.how = cat(title_of(desk, finding.faults[to_size(likeliest)]), ", ",
                 percent_text(std::min(1.0, p)), ".");
  if (mend >= 0) card.facts.push_back(desk.pack()->faults[to_size(mend)].mend);
  const plan::Plan& way = finding.standings[to_size(finding.problem.repairs[to_size(index)].standing)].way;
  if (!way.error) {
    card.facts.push_back(cat(duration_words((way.cost_ms + 999) / 1000), " to get there."));
  }
  Button reach = tap_button(sentence, desk.action(Verb::choose_part, part.id,
                                                  mend < 0 ? std::string() : desk.pack()->faults[to_size(mend)].id));
  card.primary = reach;
}

}  // namespace

void fill_advice(Snapshot& out, const Desk& desk) {
  const find::Advice& advice = desk.finder->advice();
  switch (advice.move) {
    case find::Move::test: fill_test_advice(out, desk); break;
    case find::Move::repair: fill_repair_advice(out, desk); break;
    case find::Move::give_up:
    case find::Move::nothing:
      out.card.id = "no-advice";
      out.card.sentence = "Nothing here tells more.";
      out.card.how = "Choose a test or a part. Else end the visit, or ask somebody who knows more.";
      break;
  }
  if (advice.belief.fit != find::Fit::fits) {
    const std::vector<std::string>& reasons = desk.finder->reasons();
    for (std::size_t i = 0; i < reasons.size() && i < 2; ++i) out.card.refusal.push_back(reasons[i]);
  }
  out.card.ways_out = {tap_button("Other tests", desk.action(Verb::show_sheet, "tests")),
                       tap_button("Why this one", desk.action(Verb::show_sheet, "advice")),
                       tap_button("I know it", desk.action(Verb::show_sheet, "parts"))};
}

void fill_circuit(Snapshot& out, const Desk& desk, int test) {
  const job::Model& model = *desk.model();
  const std::optional<ChosenStrip>& chosen = test < 0 ? desk.finder->advised_strip() : desk.finder->strip(test);
  if (!chosen) return;
  constexpr double kSuspect = 0.15;
  std::vector<int> suspects;
  const job::Finding& finding = desk.finder->finding();
  for (std::size_t i = 0; i < finding.faults.size(); ++i) {
    const int fault = finding.faults[i];
    if (fault >= 0 && desk.finder->advice().belief.fault[i] >= kSuspect &&
        model.pack.faults[to_size(fault)].element >= 0) {
      suspects.push_back(model.pack.faults[to_size(fault)].element);
    }
  }
  const pack::Test* one = test < 0 ? nullptr : &model.pack.tests[to_size(test)];
  out.circuit = picture_of(model.pack, model.netlist, *chosen, one, suspects);
  if (one != nullptr) out.circuit->meter = meter_text(*one);
  for (CircuitPoint& point : out.circuit->points) {
    for (const pack::TestPoint& known : model.pack.circuit.points) {
      if (known.title == point.name) point.tap = desk.action(Verb::show_sheet, cat("point-", known.id));
    }
  }
  for (const circuit::Sneak& sneak : chosen->strip.sneaks) {
    out.circuit->notes.push_back(circuit::sneak_text(model.netlist, sneak));
  }
  out.chart = chart_of(model.pack, chosen->strip, chosen->step);
}

}  // namespace kp::app
