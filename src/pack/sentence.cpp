#include "pack/sentence.hpp"

#include <algorithm>

#include "base/text.hpp"

namespace kp::pack {
namespace {

bool is_stop(char c) { return c == '.' || c == '!' || c == '?'; }

bool is_letter_or_digit(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
         static_cast<unsigned char>(c) >= 0x80U;
}

std::vector<std::string> blank_split(std::string_view text) {
  std::vector<std::string> out;
  for (std::string& word : split(text, ' ')) {
    if (!word.empty()) {
      out.push_back(std::move(word));
    }
  }
  return out;
}

bool is_verb(std::string_view word) {
  while (!word.empty() && !is_letter_or_digit(word.back())) {
    word.remove_suffix(1);
  }
  const std::string small = lower(word);
  return std::find(verbs().begin(), verbs().end(), small) != verbs().end();
}

bool is_condition(std::string_view word) {
  for (const char* known : {"if", "when", "before", "after", "while", "with", "where"}) {
    if (lower(word) == known) {
      return true;
    }
  }
  return false;
}

}  // namespace

std::vector<std::string> sentences(std::string_view text) {
  std::vector<std::string> out;
  std::size_t start = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (is_stop(text[i]) && (i + 1 == text.size() || text[i + 1] == ' ')) {
      out.emplace_back(trim(text.substr(start, i + 1 - start)));
      start = i + 1;
    }
  }
  const std::string_view rest = trim(text.substr(start));
  if (!rest.empty()) {
    out.emplace_back(rest);
  }
  return out;
}

int word_count(std::string_view sentence) {
  const std::vector<std::string> words = blank_split(sentence);
  return static_cast<int>(std::count_if(words.begin(), words.end(), [](const std::string& word) {
    return std::any_of(word.begin(), word.end(), is_letter_or_digit);
  }));
}

const std::vector<std::string>& verbs() {
  // Verbs of hand work as the trade uses them; a shop that needs another adds it here.
  static const std::vector<std::string> known = {
      "add",     "align",   "apply",   "ask",     "bend",    "block",   "catch",    "check",
      "clamp",   "clean",   "clear",   "clip",    "close",   "collect", "compare",  "connect",
      "count",   "cover",   "cut",     "disconnect", "discharge", "do", "drain",   "draw",     "drop",
      "dry",     "empty",   "fasten",  "feed",    "feel",    "fill",    "fit",      "fold",
      "free",    "grip",    "guide",   "hang",    "hold",    "hook",    "insert",   "join",
      "keep",    "lay",     "lean",    "leave",   "let",     "level",   "lift",     "listen",
      "lock",    "look",    "loosen",  "lower",   "make",    "mark",    "measure",  "move",
      "note",    "open",    "part",    "peel",    "place",   "press",   "pull",     "push",
      "put",     "raise",   "read",    "record",  "release", "remove",  "replace",  "rest",
      "roll",    "rotate",  "run",     "screw",   "seat",    "secure",  "separate", "set",
      "shake",   "shut",    "slacken", "slide",   "smell",   "snap",    "spin",     "spread",
      "stand",   "start",   "stop",    "support", "swing",   "switch",  "take",     "test",
      "tie",     "tighten", "tilt",    "touch",   "tug",     "turn",    "twist",    "undo",
      "unhook",  "unplug",  "unscrew", "use",     "wait",    "watch",   "wear",     "wet",
      "wind",    "wipe",    "work"};
  return known;
}

bool starts_well(std::string_view sentence) {
  const std::vector<std::string> words = blank_split(sentence);
  if (words.empty()) {
    return false;
  }
  if (!is_condition(words[0])) {
    return is_verb(words[0]);
  }
  for (std::size_t i = 1; i + 1 < words.size(); ++i) {
    if (words[i].back() == ',') {
      return is_verb(words[i + 1]);
    }
  }
  return false;
}

}  // namespace kp::pack
