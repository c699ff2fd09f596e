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

/// False where it is no journal, which is then said and nothing else.
bool is_journal(Findings& findings, Shape shape) {
  switch (shape) {
    case Shape::journal:
      return true;
    case Shape::empty:
      add(findings, Severity::fault, "empty-file", 0, "the file is empty",
          "Look for another copy of the journal.");
      return false;
    case Shape::other:
      add(findings, Severity::fault, "not-a-journal", 0, "this is no journal of a job",
          "Give the file that was exported from the job.");
      return false;
    case Shape::utf16:
      add(findings, Severity::fault, "utf-16", 0, "the file is text in UTF-16",
          "Save it as UTF-8, or export the job again.");
      return false;
  }
  return false;
}

void tell_line_ends(Findings& findings, const Loaded& loaded) {
  if (loaded.byte_order_mark) {
    add(findings, Severity::note, "byte-order-mark", 1,
        "the file begins with a byte-order mark, which was passed over");
  }
  if (loaded.crlf_lines > 0) {
    add(findings, Severity::note, "cr-lf", 1,
        cat(loaded.crlf_lines, " lines end with CR LF, which were read as LF"));
  }
}

/// Parts that are here and count as erased, because they are not what the chain says.
int altered_parts(const Loaded& loaded) {
  return to_int(to_size(std::count_if(
      loaded.part_faults.begin(), loaded.part_faults.end(),
      [](const PartFault& fault) { return fault.code == "part-altered"; })));
}

}  // namespace

Findings verify(const Loaded& loaded) {
  Findings findings;
  if (!is_journal(findings, loaded.shape)) {
    return findings;
  }
  tell_line_ends(findings, loaded);
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
  if (loaded.damage) {
    add(findings, Severity::fault, loaded.damage->code, loaded.damage_line, loaded.damage->what,
        loaded.damage->remedy);
  }
  if (loaded.further_damage) {
    add(findings, Severity::fault, loaded.further_damage->code, loaded.further_line,
        loaded.further_damage->what, loaded.further_damage->remedy);
  }
  for (const PartFault& fault : loaded.part_faults) {
    add(findings, Severity::fault, fault.code, fault.record, fault.what,
        "Keep a copy of the file. Look for an unchanged one.");
  }
  if (const int erased = erased_parts(loaded) - altered_parts(loaded); erased > 0) {
    add(findings, Severity::note, "parts-erased", 0,
        cat(erased, erased == 1 ? " personal part is erased" : " personal parts are erased"));
  }
  const std::int64_t next = to_int(loaded.entries.size()) + 1;
  if (loaded.torn_tail && loaded.tail_ended) {
    add(findings, Severity::fault, "broken-tail", next, "the last line is no JSON",
        "Keep a copy of the file. Look for an unchanged one.");
  } else if (loaded.torn_tail) {
    add(findings, Severity::warning, "torn-tail", next,
        "the last line is unfinished and was cut off");
  }
  findings.sort();
  return findings;
}

}  // namespace kp::journal
