#include "find/reading.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <utility>

#include "base/text.hpp"

namespace kp::find {

namespace {

constexpr double kOpen = std::numeric_limits<double>::infinity();
constexpr double kSameShare = 1e-9;

/// The distribution of one band: OL, and the rest over core and shoulders.
struct Spread {
  double low = 0, high = 0;          ///< core
  double soft_low = 0, soft_high = 0;
  double open = 0;                   ///< P(OL)
  double edge = 0;

  [[nodiscard]] double core(double x) const {
    if (!(high > low)) return x < low ? 0 : 1;
    const double at = std::clamp(x, low, high);
    if (low > 0 && high > 10 * low) return std::log(at / low) / std::log(high / low);
    return (at - low) / (high - low);
  }
  static double ramp(double x, double from, double to) {
    return std::clamp((x - from) / (to - from), 0.0, 1.0);
  }
  /// P(shown <= x), for finite x.
  [[nodiscard]] double below(double x) const {
    return (1 - open) * ((1 - edge) * core(x) + edge / 2 * ramp(x, low - soft_low, low) +
                         edge / 2 * ramp(x, high, high + soft_high));
  }
};

Spread spread_of(const Band& band, const ReadingRule& rule) {
  Spread out;
  out.low = std::min(band.low, rule.open_from);
  out.high = std::min(band.high, rule.open_from);
  if (band.low >= rule.open_from) {
    out.open = 1;
  } else if (band.high >= rule.open_from) {
    out.open = 0.5;
  }
  out.soft_low = rule.soft_share * std::fabs(out.low) + rule.soft_least;
  out.soft_high = rule.soft_share * std::fabs(out.high) + rule.soft_least;
  out.edge = out.high > out.low ? rule.edge : 1;
  return out;
}

std::string number(double value) {
  if (value >= 1e6) return cat(fixed_text(value / 1e6, 2), " M");
  if (value >= 1e4) return cat(fixed_text(value / 1e3, 1), " k");
  return fixed_text(value, value >= 100 ? 0 : value >= 10 ? 1 : 2);
}

/// Two columns of likelihoods in one proportion: the same news.
bool in_proportion(const std::vector<double>& a, const std::vector<double>& b) {
  double sum_a = 0;
  double sum_b = 0;
  for (std::size_t f = 0; f < a.size(); ++f) {
    sum_a += a[f];
    sum_b += b[f];
  }
  if (sum_a <= 0 || sum_b <= 0) return sum_a <= 0 && sum_b <= 0;
  for (std::size_t f = 0; f < a.size(); ++f) {
    if (std::fabs(a[f] / sum_a - b[f] / sum_b) > kSameShare) return false;
  }
  return true;
}

std::vector<double> cuts_of(const std::vector<Spread>& spreads) {
  std::vector<double> cuts;
  for (const Spread& s : spreads) {
    if (s.open >= 1) continue;
    cuts.insert(cuts.end(), {s.low - s.soft_low, s.low, s.high, s.high + s.soft_high});
  }
  std::sort(cuts.begin(), cuts.end());
  cuts.erase(std::unique(cuts.begin(), cuts.end()), cuts.end());
  return cuts;
}

/// A run of the display with what it says.
struct Run {
  double low = 0, high = 0;
  std::vector<double> likelihood;
  double good = 0;
  double mass = 0;
  double worth = 0;   ///< its part of the mutual information, all faults as likely

  void weigh() {
    mass = 0;
    worth = 0;
    const double count = static_cast<double>(likelihood.size());
    for (const double p : likelihood) mass += p / count;
    for (const double p : likelihood) worth += p > 0 ? p / count * std::log2(p / mass) : 0;
  }
};

Run joined(const Run& a, const Run& b) {
  Run out = a;
  out.high = b.high;
  for (std::size_t f = 0; f < out.likelihood.size(); ++f) out.likelihood[f] += b.likelihood[f];
  out.good += b.good;
  out.weigh();
  return out;
}

/// Joins neighbours, those first that lose least. What no fault gives stays by itself.
void join_runs(std::vector<Run>& runs, const ReadingRule& rule) {
  while (runs.size() > 1) {
    std::size_t at = 0;
    double least = kOpen;
    int telling = 0;
    for (std::size_t i = 0; i < runs.size(); ++i) {
      telling += runs[i].mass > 0 ? 1 : 0;
      if (i + 1 == runs.size() || runs[i].mass <= 0 || runs[i + 1].mass <= 0) continue;
      const double lost = runs[i].worth + runs[i + 1].worth - joined(runs[i], runs[i + 1]).worth;
      if (lost >= least) continue;
      least = lost;
      at = i;
    }
    if (least == kOpen || (least > rule.lost_bits && telling <= rule.most_outcomes)) return;
    runs[at] = joined(runs[at], runs[at + 1]);
    runs.erase(runs.begin() + static_cast<std::ptrdiff_t>(at) + 1);
  }
}

/// Adds a bin to the outcome that says the same, or to one of its own.
void add_bin(Bins& out, double low, double high, const std::vector<double>& likelihood, double good) {
  int outcome = -1;
  for (int o = 0; o < to_int(out.outcomes.size()) && outcome < 0; ++o) {
    if (in_proportion(out.outcomes[to_size(o)].likelihood, likelihood)) outcome = o;
  }
  if (outcome < 0) {
    outcome = to_int(out.outcomes.size());
    out.outcomes.push_back({{}, std::vector<double>(likelihood.size()), 0});
  }
  Outcome& into = out.outcomes[to_size(outcome)];
  for (std::size_t f = 0; f < likelihood.size(); ++f) into.likelihood[f] += likelihood[f];
  into.good += good;
  out.bins.push_back({low, high, outcome});
}

double heard(const Outcome& outcome) {
  double sum = 0;
  for (const double p : outcome.likelihood) sum += p;
  return sum;
}

/// Most often good first; what nothing gives last.
void order_outcomes(Bins& bins) {
  std::vector<int> order;
  for (int o = 0; o < to_int(bins.outcomes.size()); ++o) order.push_back(o);
  std::stable_sort(order.begin(), order.end(), [&bins](int x, int y) {
    const Outcome& a = bins.outcomes[to_size(x)];
    const Outcome& b = bins.outcomes[to_size(y)];
    const bool a_silent = heard(a) <= 0;
    const bool b_silent = heard(b) <= 0;
    if (a_silent != b_silent) return b_silent;
    return a.good > b.good;
  });
  std::vector<Outcome> sorted;
  std::vector<int> place(order.size());
  for (int at = 0; at < to_int(order.size()); ++at) {
    place[to_size(order[to_size(at)])] = at;
    sorted.push_back(bins.outcomes[to_size(order[to_size(at)])]);
  }
  bins.outcomes = std::move(sorted);
  for (Bin& bin : bins.bins) bin.outcome = place[to_size(bin.outcome)];
}

void name_outcomes(Bins& bins, const std::string& unit) {
  for (int o = 0; o < to_int(bins.outcomes.size()); ++o) {
    double low = kOpen;
    double high = 0;
    bool open = false;
    bool finite = false;
    for (const Bin& bin : bins.bins) {
      if (bin.outcome != o) continue;
      if (bin.low == kOpen) {
        open = true;
        continue;
      }
      finite = true;
      low = std::min(low, bin.low);
      high = std::max(high, bin.high);
    }
    std::string& name = bins.outcomes[to_size(o)].name;
    if (heard(bins.outcomes[to_size(o)]) <= 0) name = "nothing known";
    else if (!finite) name = "OL";
    else name = cat(number(std::max(0.0, low)), " to ", number(high), " ", unit, open ? " or OL" : "");
  }
}

}  // namespace

Bins bins_of(const Band& good, const std::vector<Band>& faults, const ReadingRule& rule,
             const std::string& unit) {
  Bins out;
  std::vector<Spread> spreads;
  for (const Band& band : faults) spreads.push_back(spread_of(band, rule));
  const Spread as_good = spread_of(good, rule);
  std::vector<Spread> all = spreads;
  all.push_back(as_good);
  const std::vector<double> cuts = cuts_of(all);
  std::vector<Run> runs;
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
    Run run{cuts[i], cuts[i + 1], {}, 0, 0, 0};
    for (const Spread& s : spreads) {
      run.likelihood.push_back(std::max(0.0, s.below(cuts[i + 1]) - s.below(cuts[i])));
    }
    run.good = std::max(0.0, as_good.below(cuts[i + 1]) - as_good.below(cuts[i]));
    run.weigh();
    runs.push_back(std::move(run));
  }
  join_runs(runs, rule);
  for (const Run& run : runs) add_bin(out, run.low, run.high, run.likelihood, run.good);
  std::vector<double> open;
  for (const Spread& s : spreads) open.push_back(s.open);
  add_bin(out, kOpen, kOpen, open, as_good.open);
  bool silent = false;
  for (const Outcome& outcome : out.outcomes) silent = silent || heard(outcome) <= 0;
  if (!silent) out.outcomes.push_back({{}, std::vector<double>(faults.size()), 0});
  order_outcomes(out);
  name_outcomes(out, unit);
  return out;
}

std::vector<double> likelihood_of(const Bins& bins, const Band& band, const ReadingRule& rule) {
  const Spread spread = spread_of(band, rule);
  std::vector<double> out(bins.outcomes.size(), 0.0);
  double known = 0;
  for (const Bin& bin : bins.bins) {
    const double p = bin.low == kOpen ? spread.open
                                      : std::max(0.0, spread.below(bin.high) - spread.below(bin.low));
    out[to_size(bin.outcome)] += p;
    known += p;
  }
  if (known < 1) out.back() += 1 - known;   // "nothing known"
  return out;
}

int outcome_of(const Bins& bins, double shown) {
  const int nothing = to_int(bins.outcomes.size()) - 1;
  for (const Bin& bin : bins.bins) {
    if (bin.low == kOpen ? shown == kOpen : shown >= bin.low && shown <= bin.high) return bin.outcome;
  }
  return nothing;
}

}  // namespace kp::find
