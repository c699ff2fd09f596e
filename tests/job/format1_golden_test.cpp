// Journals of format 1 as they were written when it was in use, with the pack of that day: they
// open for ever, and say what the text beside them says. The files are never made again; their
// sums stand here, so that no change of them goes unseen.

#include <doctest/doctest.h>

#include <algorithm>

#include "base/sha256.hpp"
#include "job/format1_journal.hpp"
#include "job/format1_text.hpp"
#include "journal/verify.hpp"

namespace {

using kp::test::format1::golden;
using kp::test::format1::golden_library;

kp::job::Replayed replayed(const std::string& text) {
  return kp::job::replay(kp::journal::read(text), golden_library());
}

std::string said(const std::string& text) {
  return kp::test::format1::text_of(replayed(text), golden_library());
}

struct Sum {
  const char* file;
  const char* sha256;
};
constexpr Sum kSums[] = {
    {"pack.json",
     "f3635815a723769ffa6f3b87c27c536b7b89fb11eb42525091568942a5f9504d"},
    {"open.jsonl",
     "53b4cd32e08bf99969fe1ae8e800dc56b4403c443acace1105541399cef34e85"},
    {"open.state.txt",
     "50c55421de684d84bb8e1bf92687527f85ddbfd2e64a5bab3a62eed299d3fb9e"},
    {"ended.jsonl",
     "00ae5b66728f4c220046e23da37841747300790e32f8c885733aae441308c3f7"},
    {"ended.state.txt",
     "4baaaa86f17d87463d62cd5cb43fa721e60fbf4d30aa0b7c005914688c74ab80"},
    {"second-visit.jsonl",
     "6e22d83968f7b9f2d14288d1c6b242e16feee694f04557bb8f2167bd88fdc97e"},
    {"second-visit.state.txt",
     "1eb6e430bf368716db21d1c9c39a5c49e239c14f7e0a0b752ff96a69bbea90a1"},
    {"practice.jsonl",
     "b1b5400cdcc4d89ad79bf017a5a40df93146100f17ef42f1d0768db19cfe8239"},
    {"practice.state.txt",
     "a92b03795bf7eaece469a5babc39b3b32d7cacf93e24db9786253a3e82100973"},
    {"damaged.jsonl",
     "e2a78cc403a7102cfa141063f6af914d81d8999314262e02a6fd88cff8c91ca2"},
    {"damaged.state.txt",
     "d7dc19711b03a1dd31706d45f093615913d8fd27932d61886e5973aefeb2b919"},
};

/// `ended.jsonl` with one byte of this line changed.
constexpr int kDamagedLine = 142;

constexpr const char* kWhole[] = {"open", "ended", "second-visit", "practice"};

}  // namespace

TEST_CASE("format 1: the golden files are those that were written then") {
  for (const Sum& one : kSums) {
    CAPTURE(one.file);
    CHECK(kp::sha256_hex(golden(one.file)) == one.sha256);
  }
}

TEST_CASE("format 1: each whole journal opens to its end and says what it said") {
  CHECK(golden_library().models.size() == 1);
  for (const std::string name : kWhole) {
    CAPTURE(name);
    const std::string text = golden(name + ".jsonl");
    const kp::journal::Loaded loaded = kp::journal::read(text);
    CHECK_FALSE(loaded.damage.has_value());
    CHECK_FALSE(loaded.torn_tail);
    CHECK(kp::to_int(loaded.entries.size()) == std::count(text.begin(), text.end(), '\n'));
    CHECK(kp::journal::verify(loaded).faults() == 0);
    CHECK(replayed(text).notes.all().empty());
    CHECK(replayed(text).format == 1);
    CHECK_FALSE(replayed(text).continues());
    CHECK(said(text) == golden(name + ".state.txt"));
  }
}

TEST_CASE("format 1: the damaged journal says where, and what stood before it") {
  const std::string text = golden("damaged.jsonl");
  const kp::job::Replayed read = replayed(text);
  CHECK(read.damage.has_value());
  CHECK(read.damage_line == kDamagedLine);
  CHECK(read.state.last_n == kDamagedLine - 1);
  CHECK(said(text) == golden("damaged.state.txt"));
  // One byte is all that tells it from the whole one.
  const std::string whole = golden("ended.jsonl");
  CHECK(text.size() == whole.size());
  int different = 0;
  for (std::size_t i = 0; i < std::min(text.size(), whole.size()); ++i) {
    different += text[i] != whole[i] ? 1 : 0;
  }
  CHECK(different == 1);
}
