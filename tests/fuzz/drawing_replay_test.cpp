#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "fuzz/corpus.hpp"
#include "fuzz/drawing_laws.hpp"
#include "fuzz/slip.hpp"

// The laws end the program where they do not hold.
TEST_CASE("drawings with slips in them are told about and never crash the reader") {
  const std::vector<std::string> texts = kp::test::corpus("drawing");
  CHECK(texts.size() >= 3);
  kp::test::Random random(34);
  CAPTURE(random.seed());
  for (const std::string& text : texts) {
    CHECK_FALSE(text.empty());
    for (int round = 0; round < 400; ++round) {
      std::string changed = text;
      for (int slips = random.between(0, 3); slips > 0 && !changed.empty(); --slips) {
        changed = kp::test::slip(random, changed);
      }
      kp::test::drawing_laws(changed);
    }
  }
}
