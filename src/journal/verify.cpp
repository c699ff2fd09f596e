#include "journal/verify.hpp"

#include <algorithm>
#include <string>
#include <vector>

#include "base/text.hpp"

namespace kp::journal {
namespace {

void add(Findings& findings, Severity severity, std::string code, std::int64_t line,
         std::string what, std::string remedy = {}) {
  Finding finding;
  finding.severity = severity;
  finding.code = std::move(code);
  finding.line = static_cast<int>(line);
  finding.what = std::move(what);
  finding.remedy = std::move(remedy);
  findings.add(std::move(finding));
}

void compare(Findings& findings, const Entry& before, const Entry& entry) {
  if (entry.at.utc_ms < before.at.utc_ms) {
    add(findings, Severity::note, "wall-clock-back", entry.seq,
        cat("the wall clock was set back by ",
            duration_text(before.at.utc_ms - entry.at.utc_ms)));
  }
  if (entry.life == before.life && entry.mono_ms < before.mono_ms) {
    add(findings, Severity::fault, "steady-clock-back", entry.seq,
        cat("the steady clock ran back by ", before.mono_ms - entry.mono_ms, " ms"),
        "Do not bill from this journal before a person has looked at it.");
  }
}

}  // namespace

Findings verify(const Loaded& loaded, std::string_view expected_tip) {
  Findings findings;
  std::vector<std::string> lives;
  for (std::size_t i = 0; i < loaded.entries.size(); ++i) {
    const Entry& entry = loaded.entries[i];
    if (i > 0) {
      compare(findings, loaded.entries[i - 1], entry);
    }
    if (lives.empty() || lives.back() != entry.life) {
      if (std::find(lives.begin(), lives.end(), entry.life) != lives.end()) {
        add(findings, Severity::warning, "life-returned", entry.seq,
            cat("the run ", entry.life, " writes again after another one"),
            "Check which of two open windows the work was done in.");
      }
      lives.push_back(entry.life);
    }
  }
  const std::int64_t next = to_int(loaded.entries.size()) + 1;
  if (loaded.damage) {
    add(findings, Severity::fault, loaded.damage->code, loaded.damage_line, loaded.damage->what,
        loaded.damage->remedy);
  }
  if (loaded.torn_tail) {
    add(findings, Severity::warning, "torn-tail", next,
        "the last line is unfinished and was cut off");
  }
  if (!expected_tip.empty() && expected_tip != loaded.tip_hash) {
    add(findings, Severity::fault, "wrong-tip", next - 1,
        "this is not the last line that the record was made from",
        "Look for a later or an unchanged copy of the journal.");
  }
  findings.sort();
  return findings;
}

}  // namespace kp::journal
