#include "job/bind_find.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "base/text.hpp"
#include "job/bind_circuit.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_safety.hpp"
#include "job/bind_test.hpp"
#include "job/find_standings.hpp"
#include "job/rules.hpp"

namespace kp::job {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
/// Faults below this share beside a complaint are not looked at one by one.
constexpr double kLeastShare = 0.004;
/// A pack never knows everything: so likely is a fault that it does not list.
constexpr double kLeastElse = 0.01;
/// From here on what is left is none of the faults that were looked at.
constexpr double kMostlyElse = 0.5;
/// A test that tells less of the fault is not worth its search.
constexpr double kLeastBits = 0.003;
constexpr double kSecondFault = 0.02;   ///< ours, no source
/// Half of the last digit and the leads, where a display has few digits.
constexpr double kLeastOhm = 0.2;
constexpr double kLeastVolt = 1;
constexpr double kLeastAmpere = 0.05;

double seconds_of(std::int64_t ms) { return static_cast<double>(ms) / 1000; }

double noisy_or(double leak, const std::vector<pack::Shows>& shows, int fault) {
  double silent = 1 - leak;
  for (const pack::Shows& one : shows) {
    if (one.fault == fault) silent *= 1 - one.chance;
  }
  return 1 - silent;
}

/// What the circuit says only where a band could be proved.
bool speaks(const pack::Test& test, int index, FindMemo& memo) {
  return !test.on_circuit() || memo.good(index).has_value();
}

class Binder {
 public:
  Binder(const State& state, const Context& context, const FindTerms& terms, FindMemo& memo)
      : state_(state), model_(context.library->models[to_size(state.model)]), pack_(model_.pack),
        terms_(terms), memo_(memo) {
    running_now_ = state.safety.power != safety::Power::supply_dead;
  }

  Finding bind(bool all) {
    out_ = Finding{};
    standings_.emplace(model_, state_.unit, running_now_);
    choose_faults(all);
    add_symptom();
    prior_ = find::believe(out_.problem, out_.evidence).fault;
    const double all_shares = std::accumulate(prior_.begin(), prior_.end(), 0.0);
    for (double& share : prior_) share /= all_shares;   // two at once are counted twice
    add_tests();
    test_standings_ = standings_->size();
    add_repairs();
    add_moves();
    add_evidence();
    out_.standings = standings_->take();
    return std::move(out_);
  }

 private:
  // ---- faults

  void choose_faults(bool all) {
    const int symptom = pack_.symptom(state_.complaint.symptom);
    std::vector<std::pair<double, int>> shares;
    double sum = 0;
    for (int i = 0; i < to_int(pack_.faults.size()); ++i) {
      double share = pack_.faults[to_size(i)].weight;
      if (symptom >= 0) {
        const pack::Symptom& heard = pack_.symptoms[to_size(symptom)];
        share *= noisy_or(heard.leak, heard.causes, i);
      }
      shares.emplace_back(share, i);
      sum += share;
    }
    std::stable_sort(shares.begin(), shares.end(),
                     [](const auto& a, const auto& b) { return a.first > b.first; });
    double rest = 0;
    for (const auto& [share, fault] : shares) {
      const bool room = to_int(out_.faults.size()) < terms_.most_faults;
      if (all || (room && share >= kLeastShare * sum)) {
        out_.faults.push_back(fault);
        find::Fault one;
        one.name = pack_.faults[to_size(fault)].title;
        one.weight = pack_.faults[to_size(fault)].weight;
        out_.problem.faults.push_back(std::move(one));
      } else {
        rest += share;
      }
    }
    // What is left together is as likely as its members with the complaint, which it causes: with
    // their weights it would be most machines' second fault.
    out_.faults.push_back(-1);
    out_.problem.faults.push_back(find::Fault{"Anything else", std::max(rest, kLeastElse * sum)});
    out_.problem.second_fault = all ? 0 : kSecondFault;
    out_.problem.give_up_seconds = kHandOverSeconds;
    out_.problem.confidence = pack_.confidence;
  }

  void add_symptom() {
    const int symptom = pack_.symptom(state_.complaint.symptom);
    if (symptom < 0) return;
    const pack::Symptom& heard = pack_.symptoms[to_size(symptom)];
    find::Symptom one;
    one.name = heard.title;
    one.leak = heard.leak;
    for (const int fault : out_.faults) {
      one.causes.push_back(fault >= 0 ? noisy_or(0, heard.causes, fault) : 1);
    }
    out_.problem.symptoms.push_back(std::move(one));
    out_.evidence.push_back(find::noticed(0));
  }

  // ---- standings

  Standing standing_for(const pack::Test& test) const {
    Standing standing;
    const safety::Act act = demand_of(model_, state_, test).act;
    standing.running = test.live();
    if (wants_closed(test)) {
      standing.closed = true;
      return standing;
    }
    standing.targets = targets_of(pack_, test);
    standing.wiring = wiring_of(test);
    // A look without hands does not ask for a dead machine; where nothing is open it stays as found.
    if (!test.live() && !safety::hands_in(act) && standing.targets.points.empty()) {
      standing.running = running_now_;
    }
    return standing;
  }

  // ---- tests

  void add_tests() {
    for (int i = 0; i < to_int(pack_.tests.size()); ++i) {
      const pack::Test& test = pack_.tests[to_size(i)];
      if (!speaks(test, i, memo_)) continue;
      find::Test one;
      one.name = test.title;
      one.seconds = test.seconds;
      find::Bins bins;
      if (test.on_circuit()) {
        bins = bins_of(i);
        one.outcomes = bins.outcomes;
      } else {
        one.outcomes = outcomes_of(test);
      }
      const bool known = std::any_of(state_.tests.begin(), state_.tests.end(),
                                     [&](const auto& kept) { return kept.body.test == test.id; });
      if (!known && worth(one) < kLeastBits) continue;
      if (known && test.on_circuit()) add_pairs(one, bins, i);
      one.standing = standings_->add(standing_for(test));
      if (!known && !can_stand(one.standing, test)) continue;
      out_.tests.push_back(i);
      out_.bins.push_back(std::move(bins));
      out_.problem.tests.push_back(std::move(one));
    }
  }

  /// Whether a plan leads there and, with power on, leaves nothing open but what the test needs.
  [[nodiscard]] bool can_stand(int standing, const pack::Test& test) const {
    const Standing& one = standings_->at(standing);
    if (one.way.error) return false;
    return one.closed || !one.running ||
           stands_for_live(model_, standings_->unit(standing), test);
  }

  /// What a reading that was taken says of two electrical faults at once, by the circuit: each may
  /// hide the other, or both together show what neither does alone.
  void add_pairs(find::Test& test, const find::Bins& bins, int index) {
    if (out_.problem.second_fault <= 0) return;
    const auto electrical = [&](int fault) {
      return fault >= 0 && pack_.faults[to_size(fault)].effect != pack::Effect::mechanical;
    };
    for (int a = 0; a < to_int(out_.faults.size()); ++a) {
      for (int b = a + 1; b < to_int(out_.faults.size()); ++b) {
        const int first = out_.faults[to_size(a)];
        const int second = out_.faults[to_size(b)];
        if (!electrical(first) || !electrical(second)) continue;
        const find::Band& band = memo_.with_faults(index, {first, second});
        test.pairs.push_back({a, b, find::likelihood_of(bins, band, rule_of(pack_.tests[to_size(index)]))});
      }
    }
  }

  static find::ReadingRule rule_of(const pack::Test& test) {
    find::ReadingRule rule;
    switch (test.probe) {
      case pack::Probe::volt_live:
      case pack::Probe::volt_low_live: rule.soft_least = kLeastVolt; break;
      case pack::Probe::ampere_live: rule.soft_least = kLeastAmpere; break;
      case pack::Probe::look:
      case pack::Probe::ohm:
      case pack::Probe::continuity:
      case pack::Probe::other: rule.soft_least = kLeastOhm; break;
    }
    return rule;
  }

  find::Bins bins_of(int test) {
    std::vector<find::Band> bands;
    for (const int fault : out_.faults) {
      bands.push_back(fault < 0 ? *memo_.good(test) : memo_.with_faults(test, {fault}));
    }
    const pack::Test& one = pack_.tests[to_size(test)];
    return find::bins_of(*memo_.good(test), bands, rule_of(one), one.unit);
  }

  /// Good, and not good, by the table.
  std::vector<find::Outcome> outcomes_of(const pack::Test& test) const {
    find::Outcome good{test.good.empty() ? std::string("In the band") : test.good, {}, 1 - test.leak};
    find::Outcome bad{test.bad.empty() ? std::string("Out of the band") : test.bad, {}, test.leak};
    for (const int fault : out_.faults) {
      const double shown = fault < 0 ? test.leak : noisy_or(test.leak, test.shows, fault);
      good.likelihood.push_back(1 - shown);
      bad.likelihood.push_back(shown);
    }
    return {std::move(good), std::move(bad)};
  }

  /// What its answer is worth beside the complaint alone, in bits (mutual information of outcome
  /// and fault). A test that is worth nothing is not looked at.
  [[nodiscard]] double worth(const find::Test& test) const {
    double bits = 0;
    for (const find::Outcome& one : test.outcomes) {
      double heard = 0;
      for (std::size_t f = 0; f < prior_.size(); ++f) heard += prior_[f] * one.likelihood[f];
      for (std::size_t f = 0; f < prior_.size(); ++f) {
        const double both = prior_[f] * one.likelihood[f];
        if (both > 0) bits += both * std::log2(one.likelihood[f] / heard);
      }
    }
    return bits;
  }

  // ---- repairs

  void add_repairs() {
    for (int f = 0; f < to_int(out_.faults.size()); ++f) {
      const int fault = out_.faults[to_size(f)];
      if (fault < 0) continue;
      const pack::Fault& one = pack_.faults[to_size(fault)];
      const bool mended = !one.mend.empty();
      if (!mended) {
        const auto same = [&](int r) {
          return out_.repair_mends[to_size(r)] < 0 && out_.repair_parts[to_size(r)] == one.part;
        };
        int known = -1;
        for (int r = 0; r < to_int(out_.repair_parts.size()); ++r) known = same(r) ? r : known;
        if (known >= 0) {
          out_.problem.repairs[to_size(known)].clears.push_back(f);
          continue;
        }
      }
      add_repair(f, one, mended);
    }
  }

  void add_repair(int f, const pack::Fault& one, bool mended) {
    const pack::Part& part = pack_.parts[to_size(one.part)];
    Standing standing;
    if (mended || !part.removable) {
      standing.targets = uncovered(pack_, one.part);
    } else {
      standing.targets.parts.push_back(one.part);
    }
    find::Repair repair;
    repair.name = mended ? cat("Mend: ", one.title) : cat("New ", part.name);
    repair.standing = standings_->add(std::move(standing));
    repair.leaves = 1;
    repair.clears.push_back(f);
    const Standing& there = standings_->at(repair.standing);
    const plan::Plan back =
        plan::refit(model_.rules, standings_->unit(repair.standing), kRoughPlan);
    repair.seconds = (mended ? one.mend_seconds : kExchangeSeconds) + seconds_of(back.cost_ms) +
                     kPowerBackSeconds + kConfirmSeconds;
    if (!mended && terms_.labour_per_hour_minor > 0) {
      repair.price_seconds = static_cast<double>(part.price_minor) * 3600 /
                             static_cast<double>(terms_.labour_per_hour_minor);
    }
    if (there.way.error) repair.seconds += kFarSeconds;
    out_.problem.repairs.push_back(std::move(repair));
    out_.repair_parts.push_back(one.part);
    out_.repair_mends.push_back(mended ? pack_.fault(one.id) : -1);
  }

  // ---- moves

  void add_moves() {
    const int count = standings_->size();
    out_.problem.moves.assign(to_size(count), std::vector<double>(to_size(count), kFarSeconds));
    for (int from = 0; from < count; ++from) {
      for (int to = 0; to < count; ++to) {
        // From a repair one only goes on through the closed machine.
        if (from == to || from < test_standings_ || to == 1) {
          out_.problem.moves[to_size(from)][to_size(to)] = standings_->seconds(from, to);
        }
      }
    }
  }

  // ---- evidence

  void add_evidence() {
    // Readings and swaps in the order of the journal: a test is worth doing again after a repair.
    struct Entry {
      std::uint32_t n;
      find::Evidence evidence;
    };
    std::vector<Entry> entries;
    for (const auto& kept : state_.tests) {
      if (const auto one = answer_of(kept.body)) entries.push_back({kept.stamp.n, *one});
    }
    for (const auto& given_up : state_.impossible) {
      const int test = test_index(given_up.body.test);
      if (test >= 0) entries.push_back({given_up.stamp.n, find::cannot(test)});
    }
    for (const auto& swapped : state_.swapped) {
      for (int r = 0; r < to_int(out_.repair_parts.size()); ++r) {
        const pack::Part& part = pack_.parts[to_size(out_.repair_parts[to_size(r)])];
        const int mend = out_.repair_mends[to_size(r)];
        const bool done = mend < 0 ? swapped.body.mended.empty() && part.id == swapped.body.part
                                   : pack_.faults[to_size(mend)].id == swapped.body.mended;
        if (done) {
          entries.push_back({swapped.stamp.n, find::failed(r)});
        }
      }
    }
    std::stable_sort(entries.begin(), entries.end(),
                     [](const Entry& a, const Entry& b) { return a.n < b.n; });
    for (Entry& entry : entries) out_.evidence.push_back(std::move(entry.evidence));
  }

  [[nodiscard]] int test_index(const std::string& id) const {
    for (int i = 0; i < to_int(out_.tests.size()); ++i) {
      if (pack_.tests[to_size(out_.tests[to_size(i)])].id == id) return i;
    }
    return -1;
  }

  [[nodiscard]] std::optional<find::Evidence> answer_of(const TestRecorded& body) const {
    const int index = test_index(body.test);
    if (index < 0) return std::nullopt;
    const pack::Test& test = pack_.tests[to_size(out_.tests[to_size(index)])];
    if (test.on_circuit()) {
      const double shown = body.open_loop ? kInfinity : body.value;
      return find::answered(index, find::outcome_of(out_.bins[to_size(index)], shown));
    }
    const bool good = body.looked ? body.good : in_band(test, body.value, body.open_loop);
    return find::answered(index, good ? 0 : 1);
  }

  const State& state_;
  const Model& model_;
  const pack::Pack& pack_;
  const FindTerms& terms_;
  FindMemo& memo_;
  bool running_now_ = false;
  std::vector<double> prior_;      ///< of each fault, by the complaint alone
  int test_standings_ = 0;
  std::optional<Standings> standings_;
  Finding out_;
};

}  // namespace

Finding bind_find(const State& state, const Context& context,
                  const FindTerms& terms, FindMemo& memo) {
  Binder binder(state, context, terms, memo);
  Finding some = binder.bind(false);
  const find::Belief belief = find::believe(some.problem, some.evidence);
  const bool other = belief.fit == find::Fit::fits && belief.fault.back() > kMostlyElse;
  return other || belief.fit == find::Fit::reading_fits_nothing ? Binder(state, context, terms, memo).bind(true)
                                                                : some;
}

}  // namespace kp::job
