#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "fuzz/laws.hpp"
#include "support/files.hpp"
#include "support/random.hpp"

// The laws end the program where they do not hold.
TEST_CASE("the corpus of journals obeys the laws of reading") {
  const auto files = kp::test::files_in(KP_SOURCE_DIR "/tests/fuzz/corpus/journal");
  CHECK(files.size() >= 4);
  for (const std::string& file : files) {
    CAPTURE(file);
    kp::test::journal_laws(kp::test::read_file(file));
  }
}

TEST_CASE("the corpus of JSON texts obeys the laws of reading") {
  const auto files = kp::test::files_in(KP_SOURCE_DIR "/tests/fuzz/corpus/json");
  CHECK(files.size() >= 4);
  for (const std::string& file : files) {
    CAPTURE(file);
    kp::test::json_laws(kp::test::read_file(file));
  }
}

TEST_CASE("the corpus with bytes changed at random obeys them too") {
  kp::test::Random random(5);
  CAPTURE(random.seed());
  std::vector<std::string> files = kp::test::files_in(KP_SOURCE_DIR "/tests/fuzz/corpus/journal");
  for (const std::string& file : files) {
    const std::string text = kp::test::read_file(file);
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
