#include "journal/mark.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "journal/words.hpp"

namespace kp::journal {
namespace {

constexpr std::size_t kLeastDigits = 8;

tl::unexpected<Error> no_mark(std::string_view text, const char* remedy) {
  return fail("bad-mark", cat("\"", text, "\" is no mark"), {}, remedy);
}

Finding finding(Severity severity, const char* code, std::uint32_t record, std::string what,
                const char* remedy) {
  Finding out;
  out.severity = severity;
  out.code = code;
  out.line = static_cast<int>(record);
  out.what = std::move(what);
  out.remedy = remedy;
  return out;
}

/// The mark in the words of a finding.
std::string said(const Mark& mark) {
  return mark.record == 0 ? cat("the mark ", mark.sum)
                          : cat("the mark ", integer_text(mark.record), "-", mark.sum);
}

}  // namespace

std::string mark_text(std::uint32_t record, std::string_view line) {
  return cat(integer_text(record), "-", line_hash(line));
}

Result<Mark> parse_mark(std::string_view text) {
  const std::string tidy = lower(trim(text));
  constexpr const char* kBetween = " -:,/";
  const std::size_t parted = tidy.find_last_of(kBetween);
  Mark mark;
  mark.sum = parted == std::string::npos ? tidy : tidy.substr(parted + 1);
  if (mark.sum.size() < kLeastDigits || mark.sum.size() > kHashDigits ||
      !is_hex(mark.sum, mark.sum.size())) {
    return no_mark(text, "Give at least 8 digits of the sum, for example 41-4c1f09ab.");
  }
  if (parted == std::string::npos) {
    return mark;
  }
  const std::size_t digits = tidy.find_last_not_of(kBetween, parted) + 1;  // 0 where there are none
  const auto number = parse_integer(tidy.substr(0, digits));
  constexpr std::int64_t kMost = 4294967295;
  if (!number || *number < 1 || *number > kMost) {
    return no_mark(text, "Give the number of the record in front of the sum, or the sum alone.");
  }
  mark.record = static_cast<std::uint32_t>(*number);
  return mark;
}

std::vector<std::uint32_t> records_of(const Loaded& loaded, const Mark& mark) {
  std::vector<std::uint32_t> out;
  for (std::size_t i = 0; i < loaded.entries.size(); ++i) {
    const bool last = i + 1 == loaded.entries.size();
    const std::string& sum = last ? loaded.tip_hash : loaded.entries[i + 1].prev;
    if (sum.compare(0, mark.sum.size(), mark.sum) == 0) {
      out.push_back(loaded.entries[i].seq);
    }
  }
  return out;
}

Findings look_up(const Loaded& loaded, const Mark& mark) {
  Findings out;
  const std::vector<std::uint32_t> at = records_of(loaded, mark);
  if (at.empty()) {
    out.add(finding(Severity::fault, "mark-nowhere", 0,
                    cat(said(mark), " stands nowhere in this journal"),
                    "Look for a later or an unchanged copy of the journal."));
    return out;
  }
  const bool here = std::find(at.begin(), at.end(), mark.record) != at.end();
  if (mark.record != 0 && !here) {
    out.add(finding(Severity::fault, "mark-elsewhere", at.front(),
                    cat(said(mark), " stands at record ", integer_text(at.front())),
                    "Read the number on the paper again."));
  } else if (mark.record == 0 && at.size() > 1) {
    out.add(finding(Severity::fault, "mark-ambiguous", at.front(),
                    cat(said(mark), " stands at ", to_int(at.size()), " records"),
                    "Give more digits of the sum."));
  } else {
    const std::uint32_t record = here ? mark.record : at.front();
    out.add(finding(Severity::note, "mark-stands", record,
                    cat(said(mark), " stands at record ", integer_text(record), ", ",
                        loaded.entries[to_size(std::int64_t{record}) - 1].kind),
                    ""));
  }
  return out;
}

}  // namespace kp::journal
