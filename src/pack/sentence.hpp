#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace kp::pack {

/// The habits of Simplified Technical English that a machine can hold a text to.
inline constexpr int kMostWords = 20;

/// Cuts a text at full stops, question and exclamation marks that end a word; each sentence keeps
/// its mark. A stop inside a number or a word ("0.3 Ω") ends nothing.
[[nodiscard]] std::vector<std::string> sentences(std::string_view text);

/// Words between blanks; a lone sign such as "-" or "=" is none.
[[nodiscard]] int word_count(std::string_view sentence);

/// The verbs with which an instruction may start, in small letters.
[[nodiscard]] const std::vector<std::string>& verbs();

/// True when the sentence starts with a known verb, or with a condition ("If", "When", "Before",
/// "After", "While", "With", "Where") and a comma before its verb.
[[nodiscard]] bool starts_well(std::string_view sentence);

}  // namespace kp::pack
