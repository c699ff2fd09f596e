#include "pack/sentence.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

// ASD-STE100, in our words: at most 20 words in an instruction, one instruction in a sentence, the
// verb first, a leading condition parted off by a comma.

namespace kp {
namespace {

using pack::sentences;
using pack::starts_well;
using pack::word_count;

TEST_CASE("sentence: texts are cut at the stops that end a word") {
  CHECK(sentences("").empty());
  CHECK(sentences("  ").empty());
  CHECK(sentences("Pull it.") == std::vector<std::string>{"Pull it."});
  CHECK(sentences("Sharp rim. Wear gloves.") ==
        std::vector<std::string>{"Sharp rim.", "Wear gloves."});
  CHECK(sentences("Measure 0.3 Ω. Is it dry? Stop") ==
        std::vector<std::string>{"Measure 0.3 Ω.", "Is it dry?", "Stop"});
}

TEST_CASE("sentence: words are what stands between blanks and can be spoken") {
  CHECK(word_count("") == 0);
  CHECK(word_count("Undo the two toe panel screws.") == 6);
  CHECK(word_count("Heater - A to B") == 4);
  CHECK(word_count("Wait 60 s at 49 °C.") == 6);
}

TEST_CASE("sentence: an instruction starts with its verb, or with a condition and a comma") {
  CHECK(starts_well("Undo the screws."));
  CHECK(starts_well("undo the screws."));
  CHECK(starts_well("Stop."));
  CHECK(starts_well("If the plug is hot, wait."));
  CHECK(starts_well("Before you lift, hold the door."));
  CHECK(!starts_well("The screws are undone."));
  CHECK(!starts_well("You undo the screws."));
  CHECK(!starts_well("If the plug is hot wait."));
  CHECK(!starts_well("If the plug is hot, the technician waits."));
  CHECK(!starts_well("Carefully undo the screws."));
  CHECK(!starts_well(""));
}

TEST_CASE("sentence: the verbs are in small letters, each once") {
  std::set<std::string> seen;
  for (const std::string& verb : pack::verbs()) {
    CAPTURE(verb);
    CHECK(seen.insert(verb).second);
    CHECK(std::all_of(verb.begin(), verb.end(), [](char c) { return c >= 'a' && c <= 'z'; }));
  }
}

}  // namespace
}  // namespace kp
