#pragma once
// What a journal is worth, as one answer. Screen, papers and command line say it in the same words.

#include <cstdint>
#include <optional>
#include <string>
#include <variant>

#include "journal/format.hpp"

namespace kp::journal {

struct Whole {
  int records = 0;
};
struct NotAJournal {
  Shape shape = Shape::other;
};
struct Cut {
  int records = 0;            ///< whole ones before the cut
};
/// Form, chain or arithmetic do not hold.
struct Altered {
  std::uint32_t record = 0;   ///< the first one that is not believed
};
/// Form, chain and arithmetic hold, and the rules that the journal itself names would have refused
/// this record.
struct NotBelievable {
  std::uint32_t record = 0;
};
/// Records, members or words that this program does not know: no more than form, chain and
/// arithmetic could be checked.
struct Newer {
  std::uint32_t record = 0;   ///< the first of them
};

using Judgement = std::variant<Whole, NotAJournal, Cut, Altered, NotBelievable, Newer>;

/// What rooms found that know what records mean: numbers of the first record it is true of.
struct Further {
  std::optional<std::uint32_t> altered;         ///< no record of its kind, or its sums are wrong
  std::optional<std::uint32_t> not_believable;  ///< refused, decided again
  std::optional<std::uint32_t> newer;           ///< of a kind or with words that are not known
};

/// The gravest that is true: not a journal, altered, not believable, cut, newer; else whole.
[[nodiscard]] Judgement judge(const Loaded& loaded, const Further& further = {});

/// A judgement for a person and for a script.
struct Verdict {
  int exit_code = 0;          ///< of `kickplate journal verify`
  std::string sentence;       ///< "The journal is whole: form, chain and arithmetic hold."
  std::string remedy;         ///< what to do, empty where nothing is to be done
};

[[nodiscard]] Verdict verdict_of(const Judgement& judgement);

}  // namespace kp::journal
