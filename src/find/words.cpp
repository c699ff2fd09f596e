#include <cmath>

#include "base/text.hpp"
#include "find/advise.hpp"

namespace kp::find {

namespace {

std::string percent(double p) {
  const int whole = static_cast<int>(std::lround(p * 100));
  if (whole >= 100) return "over 99 %";   // nothing is sure before it is confirmed
  if (whole == 0 && p > 0) return "below 1 %";
  return cat(whole, " %");
}

std::string minutes(double seconds) {
  const int whole = static_cast<int>(std::lround(seconds));
  if (whole < 90) return cat(whole, " s");
  return cat(static_cast<int>(std::lround(seconds / 60)), " min");
}

std::string thing(const Problem& problem, Move move, int index) {
  if (move == Move::test) return problem.tests[to_size(index)].name;
  if (move == Move::repair) return problem.repairs[to_size(index)].name;
  return {};
}

void say_odd(const Problem& problem, const std::vector<Evidence>& evidence, const Advice& advice,
             std::vector<std::string>& out) {
  for (const int at : advice.belief.odd) {
    const Evidence& entry = evidence[to_size(at)];
    const std::string name = entry.kind == Kind::symptom ? problem.symptoms[to_size(entry.index)].name
                                                         : problem.tests[to_size(entry.index)].name;
    if (advice.belief.fit == Fit::reading_fits_nothing) {
      out.push_back(cat("This fits no fault that is known here: ", name, "."));
    } else {
      out.push_back(cat("This does not fit the other readings: ", name, "."));
    }
    out.push_back("Do it again, or take it back.");
  }
}

void say_leaves(const Problem& problem, const Leaves& leaves, std::vector<std::string>& out) {
  if (leaves.faults.empty()) return;
  const Share& first = leaves.faults.front();
  const std::string& name = problem.faults[to_size(first.fault)].name;
  out.push_back(cat("If ", leaves.name, " (", percent(leaves.p), "): ", name, ", ",
                    percent(first.p), "."));
}

void say_alternative(const Problem& problem, const Advice& advice, const Alternative& other,
                     std::vector<std::string>& out) {
  const double more = other.expected_seconds - advice.expected_seconds;
  if (more < 1) return;
  const std::string name = thing(problem, other.move, other.index);
  switch (other.why) {
    case Alternative::Why::likeliest_repair:
    case Alternative::Why::best_ratio:
      out.push_back(cat("Not first: ", name, ". That costs ", minutes(more), " more on average."));
      break;
    case Alternative::Why::cheapest_test:
    case Alternative::Why::most_bits:
      out.push_back(cat("Not yet: ", name, ". To begin there costs up to ", minutes(more), " more."));
      break;
    case Alternative::Why::plain_order:
      out.push_back(cat("Part after part without a test costs ", minutes(more), " more on average."));
      break;
  }
}

}  // namespace

std::vector<std::string> explain(const Problem& problem, const std::vector<Evidence>& evidence,
                                 const Advice& advice) {
  std::vector<std::string> out;
  say_odd(problem, evidence, advice, out);
  const std::string name = thing(problem, advice.move, advice.index);
  switch (advice.move) {
    case Move::nothing:
      out.push_back("Nothing here tells more or mends more.");
      return out;
    case Move::give_up:
      out.push_back("Hand the unit over: every way on from here costs more.");
      return out;
    case Move::test:
      out.push_back(cat("Do this test next: ", name, "."));
      break;
    case Move::repair:
      out.push_back(cat("Do this repair next: ", name, "."));
      break;
  }
  if (advice.move == Move::repair && advice.sure > 0) {
    out.push_back(cat("It mends with ", percent(advice.sure), ", and from ", percent(problem.confidence),
                      " on no more tests are asked for."));
  }
  out.push_back(cat("It takes ", minutes(advice.own_seconds), ", and ", minutes(advice.move_seconds),
                    " to open, turn or switch the unit."));
  for (const Leaves& leaves : advice.leaves) say_leaves(problem, leaves, out);
  out.push_back(cat("From here to the confirmed repair: ", minutes(advice.expected_seconds),
                    " on average."));
  for (const Alternative& other : advice.alternatives) say_alternative(problem, advice, other, out);
  if (advice.proved) {
    out.push_back("No other order costs less on average. This is proved.");
  } else {
    out.push_back(cat("No order is more than ", percent(advice.gap), " better."));
  }
  return out;
}

}  // namespace kp::find
