// How long a job of 100,000 records takes to become a state: what is done when a job is opened.
// The records are those of one repair, told again on visit after visit.

#include <cstdio>
#include <utility>
#include <variant>

#include "job/work.hpp"
#include "support/bench.hpp"

namespace {

using namespace kp;

constexpr std::size_t kRecords = 100'000;

/// The bodies of one whole visit, from Make safe to the end.
std::vector<job::Body> one_visit(test::Work& work) {
  work.arrive();
  const std::size_t arrived = work.lines.size();
  const bool done = work.open_gate() && work.repair("thermal-fuse") && work.prove_all() &&
                    work.tell(job::JobEnded{job::Outcome::repaired, ""}).accepted();
  std::vector<job::Body> out;
  if (!done) {
    return out;
  }
  const journal::Loaded loaded = journal::read_lines(work.lines);
  job::RecordReader reader;
  for (std::size_t i = 0; i < loaded.entries.size(); ++i) {
    Findings notes;
    auto record = reader.read(loaded.entries[i], notes);
    if (record.has_value() && i >= arrived) {
      out.push_back(std::move(record.value().body));
    }
  }
  return out;
}

}  // namespace

int main() {
  test::Work work;
  const std::vector<job::Body> visit = one_visit(work);
  if (visit.empty()) {
    return 1;
  }
  while (work.lines.size() < kRecords) {
    work.write(job::VisitBegun{});
    work.write(job::StageEntered{job::Stage::make_safe});
    for (std::size_t i = 0; i < visit.size() && work.lines.size() < kRecords; ++i) {
      work.write(visit[i]);
    }
  }
  const std::string file = journal::to_file(work.lines);
  std::printf("{\"bench\":\"journal_100000\",\"bytes\":%zu}\n", file.size());
  const journal::Loaded loaded = journal::read(file);
  std::vector<job::Body> bodies;
  job::RecordReader reader;
  for (const journal::Entry& entry : loaded.entries) {
    Findings notes;
    auto record = reader.read(entry, notes);
    if (record.has_value()) {
      bodies.push_back(std::move(record.value().body));
    }
  }
  if (bodies.size() != kRecords) {
    return 1;
  }
  constexpr double kTargetUs = 150'000;
  test::bench("fold_100000", 15, kTargetUs, [&] {
    job::State state;
    for (std::size_t i = 0; i < bodies.size(); ++i) {
      job::fold(state, work.stamps[i], bodies[i]);
    }
    test::keep(state);
  });
  test::bench("decode_and_fold_100000", 9, -1, [&] {
    test::keep(job::replay(loaded, test::shipped_library()));
  });
  test::bench("read_and_check_the_chain_100000", 5, -1, [&] { test::keep(journal::read(file)); });
  return 0;
}
