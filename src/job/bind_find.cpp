#include "job/bind_find.hpp"

#include <algorithm>
#include <limits>
#include <utility>

#include "base/text.hpp"

namespace kp::job {

namespace {

constexpr double kOpen = std::numeric_limits<double>::infinity();

struct Entry {
  std::uint32_t record = 0;
  find::Evidence what;
};

int outcome_of_record(const Model& model, const FindBook& book, int test,
                      const TestRecorded& record) {
  if (record.looked) return record.good ? 0 : 1;
  return outcome_for(model, book, test, record.open_loop ? kOpen : record.value);
}

}  // namespace

int outcome_for(const Model& model, const FindBook& book, int test, double value) {
  if (book.problem.tests[to_size(test)].outcomes.empty()) return -1;
  const find::Bins& bins = book.bins[to_size(test)];
  if (!bins.bins.empty()) return find::outcome_of(bins, value);
  const pack::Test& what = model.pack.tests[to_size(test)];
  return value >= what.low && value <= what.high ? 0 : 1;
}

Evidence find_evidence(const Model& model, const FindBook& book, const State& state,
                       const std::vector<std::string>& more,
                       const std::vector<std::string>& cannot) {
  std::vector<Entry> entries;
  const auto complain = [&](const std::string& id) {
    const int symptom = model.pack.symptom(id);
    if (symptom >= 0) entries.push_back({0, find::noticed(symptom)});
  };
  complain(state.complaint.symptom);
  for (const std::string& id : more) complain(id);
  for (const auto& record : state.tests) {
    const int test = model.pack.test(record.body.test);
    if (test < 0) continue;
    const int outcome = outcome_of_record(model, book, test, record.body);
    if (outcome >= 0) entries.push_back({record.stamp.n, find::answered(test, outcome)});
  }
  // A part that was swapped before the finding goes on did not help.
  for (const auto& record : state.swapped) {
    const int part = model.pack.part(record.body.part);
    const int repair = part < 0 ? -1 : book.swap_of(part);
    if (repair >= 0 && state.stage == Stage::find) {
      entries.push_back({record.stamp.n, find::failed(repair)});
    }
  }
  std::stable_sort(entries.begin(), entries.end(),
                   [](const Entry& a, const Entry& b) { return a.record < b.record; });
  for (const std::string& id : cannot) {
    const int test = model.pack.test(id);
    if (test >= 0) entries.push_back({0, find::cannot(test)});
  }
  Evidence out;
  for (Entry& entry : entries) {
    out.entries.push_back(std::move(entry.what));
    out.records.push_back(entry.record);
  }
  return out;
}

Standing standing_of(const State& state) {
  Standing out;
  out.unit = state.unit;
  out.unit.tool = -1;
  out.live = state.safety.power == safety::PowerState::taken_as_live ||
             state.safety.power == safety::PowerState::live_for_test;
  return out;
}

find::Problem bind_find(const Model& model, const FindBook& book, const Standing& now) {
  find::Problem problem = book.problem;
  for (int s = 0; s < to_int(book.standings.size()); ++s) {
    if (book.standings[to_size(s)] == now) {
      problem.standing = s;
      return problem;
    }
  }
  const int here = to_int(book.standings.size());
  std::vector<double> row;
  for (int s = 0; s < here; ++s) {
    const Standing& other = book.standings[to_size(s)];
    row.push_back(change_seconds(model, book, now, other));
    problem.moves[to_size(s)].push_back(change_seconds(model, book, other, now));
  }
  row.push_back(0);
  problem.moves.push_back(std::move(row));
  problem.standing = here;
  return problem;
}

FindAdvice advise_find(const Model& model, const FindBook& book, const Standing& now,
                       const Evidence& evidence, const find::AdviseOptions& options) {
  const find::Problem problem = bind_find(model, book, now);
  FindAdvice out;
  out.advice = find::advise(problem, evidence.entries, options);
  out.words = find::explain(problem, evidence.entries, out.advice);
  if (out.advice.move == find::Move::test) out.test = out.advice.index;
  if (out.advice.move == find::Move::repair) {
    out.mend = book.mends[to_size(out.advice.index)];
    out.part = out.mend >= 0 ? model.pack.faults[to_size(out.mend)].part
                             : book.swaps[to_size(out.advice.index)];
  }
  return out;
}

}  // namespace kp::job
