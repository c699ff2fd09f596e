#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "fuzz/corpus.hpp"
#include "fuzz/laws.hpp"
#include "support/random.hpp"

// The laws end the program where they do not hold.
TEST_CASE("the corpus of journals obeys the laws of reading") {
  const std::vector<std::string> texts = kp::test::corpus("journal");
  CHECK(texts.size() >= 6);
  for (const std::string& text : texts) {
    CAPTURE(text);
    kp::test::journal_laws(text);
  }
}

TEST_CASE("the corpus of JSON texts obeys the laws of reading") {
  const std::vector<std::string> texts = kp::test::corpus("json");
  CHECK(texts.size() >= 8);
  for (const std::string& text : texts) {
    CAPTURE(text);
    kp::test::json_laws(text);
  }
}

TEST_CASE("the corpus with bytes changed at random obeys them too") {
  kp::test::Random random(5);
  CAPTURE(random.seed());
  for (const std::string& text : kp::test::corpus("journal")) {
    for (int round = 0; round < 200 && !text.empty(); ++round) {
      std::string changed = text;
      for (int left = random.between(1, 3); left > 0; --left) {
        const int at = random.between(0, static_cast<int>(changed.size()) - 1);
        changed[static_cast<std::size_t>(at)] = static_cast<char>(random.between(-128, 127));
      }
      kp::test::journal_laws(changed);
      kp::test::json_laws(changed);
    }
  }
}
