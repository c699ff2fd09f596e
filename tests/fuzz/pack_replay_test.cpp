#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "fuzz/corpus.hpp"
#include "fuzz/pack_laws.hpp"
#include "fuzz/slip.hpp"

// The laws end the program where they do not hold.
TEST_CASE("packs with slips in them are told about and never crash the reader or the checker") {
  std::vector<std::string> texts = kp::test::corpus("pack");
  texts.push_back(kp::test::file_bytes(KP_SOURCE_DIR "/assets/packs/pump-module/pack.json"));
  CHECK(texts.size() >= 2);
  kp::test::Random random(21);
  CAPTURE(random.seed());
  for (const std::string& text : texts) {
    CHECK_FALSE(text.empty());
    kp::test::pack_laws(text);
    for (int round = 0; round < 60; ++round) {
      std::string changed = text;
      for (int slips = random.between(1, 3); slips > 0; --slips) {
        changed = kp::test::slip(random, changed);
      }
      kp::test::pack_laws(changed);
    }
  }
}
