#pragma once
// Journals that a technician's work wrote, and what the command line says to them.

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "cli/fake_files.hpp"
#include "job/work.hpp"

namespace kp::test {

/// A repaired machine, billed.
inline Work repaired() {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.repair("thermal-fuse"));
  REQUIRE(work.prove_all());
  REQUIRE(work.tell(job::JobEnded{job::Outcome::repaired, ""}).accepted());
  REQUIRE(work.tell(issued("2026-117", 12'345)).accepted());
  return work;
}

/// What journal verify says to a file of this text.
inline Ran verified(const std::string& text, const std::string& tip = {}) {
  FakeFiles files;
  files.files["job.jsonl"] = text;
  std::vector<std::string> words = {"journal", "verify", "job.jsonl"};
  if (!tip.empty()) {
    words.insert(words.end(), {"--tip", tip});
  }
  return run(words, files);
}

inline std::string last_line(std::size_t records, const std::string& tip) {
  return cat("job.jsonl: ", to_int(records), " records, sum of the last ", tip, "\n");
}

inline constexpr const char* kWholeLine =
    "job.jsonl: The journal is whole: form, chain and arithmetic hold.\n";

}  // namespace kp::test
