#include "journal/judgement.hpp"

#include <algorithm>

#include "base/text.hpp"

namespace kp::journal {
namespace {

// 1 and 2 are taken by every command: something was found, it was called wrongly.
constexpr int kExitWhole = 0;
constexpr int kExitNotAJournal = 3;
constexpr int kExitCut = 4;
constexpr int kExitAltered = 5;
constexpr int kExitNotBelievable = 6;
constexpr int kExitNewer = 7;

bool is_newer(const Loaded& loaded) {
  return loaded.damage && loaded.damage->code == "newer-format";
}

/// The first record that is damaged in form or chain, or whose content is.
std::optional<std::uint32_t> altered_at(const Loaded& loaded, const Further& further) {
  int line = is_newer(loaded) ? loaded.further_line : loaded.damage_line;
  if (line == 0 && loaded.torn_tail && loaded.tail_ended) {
    line = to_int(loaded.entries.size()) + 1;
  }
  std::optional<std::uint32_t> first = further.altered;
  const auto take = [&first](std::uint32_t record) { first = std::min(record, first.value_or(record)); };
  if (line > 0) {
    take(static_cast<std::uint32_t>(line));
  }
  for (const PartFault& fault : loaded.part_faults) {
    // One that does not say of which record it is may be of any: none is believed with it.
    take(std::max<std::uint32_t>(fault.record, 1));
  }
  return first;
}

struct Words {
  Verdict operator()(const Whole&) const {
    return {kExitWhole, "The journal is whole: form, chain and arithmetic hold.", ""};
  }
  Verdict operator()(const NotAJournal& one) const {
    switch (one.shape) {
      case Shape::empty:
        return {kExitNotAJournal, "The file is empty.", "Look for another copy of the journal."};
      case Shape::utf16:
        return {kExitNotAJournal, "The file is text in UTF-16.",
                "Save it as UTF-8, or export the job again."};
      case Shape::journal:
      case Shape::other:
        break;
    }
    return {kExitNotAJournal, "This is no journal of a job.",
            "Give the file that was exported from the job."};
  }
  Verdict operator()(const Cut& one) const {
    return {kExitCut,
            one.records == 0 ? std::string("The journal is cut in its first record.")
                             : cat("The journal is cut after record ", one.records, "."),
            "Look for a longer copy."};
  }
  Verdict operator()(const Altered& one) const {
    return {kExitAltered,
            cat("The journal was altered. Do not believe it from record ",
                integer_text(one.record), " on."),
            "Keep a copy of the file. Look for an unchanged one."};
  }
  Verdict operator()(const NotBelievable& one) const {
    return {kExitNotBelievable,
            cat("The journal is not believable from record ", integer_text(one.record),
                " on: its own rules refuse it."),
            "Keep a copy of the file. Ask who wrote it."};
  }
  Verdict operator()(const Newer& one) const {
    return {kExitNewer,
            cat("Record ", integer_text(one.record),
                " is newer than this program. Only form, chain and arithmetic were checked."),
            "Open it with the newer program."};
  }
};

}  // namespace

Judgement judge(const Loaded& loaded, const Further& further) {
  if (loaded.shape != Shape::journal) {
    return NotAJournal{loaded.shape};
  }
  if (const auto record = altered_at(loaded, further)) {
    return Altered{*record};
  }
  if (further.not_believable) {
    return NotBelievable{*further.not_believable};
  }
  if (loaded.torn_tail) {
    return Cut{to_int(loaded.entries.size())};
  }
  if (is_newer(loaded)) {
    return Newer{1};
  }
  if (further.newer) {
    return Newer{*further.newer};
  }
  return Whole{to_int(loaded.entries.size())};
}

Verdict verdict_of(const Judgement& judgement) { return std::visit(Words{}, judgement); }

}  // namespace kp::journal
