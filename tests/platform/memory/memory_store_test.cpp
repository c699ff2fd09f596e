#include "platform/memory/memory_store.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "port/store_contract.hpp"

using kp::memory::MemoryMedium;
using kp::memory::MemoryStore;
using kp::port::Completion;
using Strings = std::vector<std::string>;

namespace {

class Medium final : public kp::test::StoreMedium {
 public:
  std::unique_ptr<kp::port::Store> open() override {
    return std::make_unique<MemoryStore>(medium_);
  }

 private:
  std::shared_ptr<MemoryMedium> medium_ = std::make_shared<MemoryMedium>();
};

std::string codes(kp::port::Store& store) {
  std::string out;
  for (const Completion& done : store.take_completed()) {
    out += (done.error ? done.error->code : "done") + " ";
  }
  return out;
}

Strings lines(MemoryMedium& medium, const std::shared_ptr<MemoryMedium>& shared) {
  MemoryStore reader(shared);
  reader.load("j");
  medium.let_go(100);
  const auto done = reader.take_completed();
  return done.empty() ? Strings{"no answer"} : done.back().lines;
}

}  // namespace

TEST_CASE("memory keeps the contract of a store") {
  Medium medium;
  int told = 0;
  kp::test::ScriptRunner runner(medium, kp::test::store_contract(),
                                [&told](const std::string& what, bool held) {
                                  ++told;
                                  CHECK_MESSAGE(held, what);
                                });
  CHECK(runner.go_on());
  CHECK(told > 300);
  CHECK_FALSE(MemoryStore().lasting());
}

TEST_CASE("memory keeps it in longer dialogues too") {
  for (std::uint64_t seed = 100; seed < 130; ++seed) {
    Medium medium;
    kp::test::ScriptRunner runner(medium, {kp::test::contract::random_dialogue(seed, 200)},
                                  [](const std::string& what, bool held) {
                                    CHECK_MESSAGE(held, what);
                                  });
    CHECK(runner.go_on());
  }
}

TEST_CASE("an append can be made to fail, once, and writes nothing then") {
  const auto medium = std::make_shared<MemoryMedium>();
  MemoryStore store(medium);
  store.acquire("j");
  store.append("j", 1, "one");
  CHECK(codes(store) == "done done ");
  medium->fail_next_append("refused");
  store.append("j", 2, "two");
  store.append("j", 2, "two again");
  CHECK(codes(store) == "refused done ");
  CHECK(lines(*medium, medium) == Strings{"one", "two again"});
}

TEST_CASE("a full medium refuses what does not fit and keeps what it has") {
  const auto medium = std::make_shared<MemoryMedium>();
  MemoryStore store(medium);
  store.acquire("j");
  store.append("j", 1, "12345");
  CHECK(medium->used() == 5);
  medium->set_room(8);
  store.append("j", 2, "6789");
  store.append("j", 2, "678");
  store.put("key", "value");
  CHECK(codes(store) == "done done full done full ");
  CHECK(lines(*medium, medium) == Strings{"12345", "678"});
  medium->set_room(-1);
  store.append("j", 3, "more");
  CHECK(codes(store) == "done ");
}

TEST_CASE("held requests happen when they are let go, in order") {
  const auto medium = std::make_shared<MemoryMedium>();
  MemoryStore store(medium);
  store.acquire("j");
  CHECK(codes(store) == "done ");
  medium->hold();
  store.append("j", 1, "one");
  store.append("j", 2, "two");
  store.append("j", 3, "three");
  CHECK(codes(store).empty());
  medium->let_go(1);
  CHECK(codes(store) == "done ");
  medium->let_all_go();
  CHECK(codes(store) == "done done ");
  store.append("j", 4, "four");
  CHECK(codes(store) == "done ");
}

TEST_CASE("a crash keeps what was confirmed, and the rest as it is told") {
  for (const auto unconfirmed :
       {MemoryMedium::Unconfirmed::lost, MemoryMedium::Unconfirmed::kept}) {
    const auto medium = std::make_shared<MemoryMedium>();
    MemoryStore store(medium);
    store.acquire("j");
    store.append("j", 1, "told");
    CHECK(codes(store) == "done done ");
    store.append("j", 2, "written, not told");
    medium->hold();
    store.append("j", 3, "waiting");
    medium->crash(unconfirmed);
    CHECK(codes(store).empty());
    store.append("j", 2, "from the dead");
    CHECK(codes(store).empty());

    MemoryStore next(medium);
    next.acquire("j");
    CHECK(codes(next) == "done ");
    CHECK(lines(*medium, medium) == (unconfirmed == MemoryMedium::Unconfirmed::lost
                                         ? Strings{"told"}
                                         : Strings{"told", "written, not told", "waiting"}));
  }
}

TEST_CASE("whatever the moment of a crash, what stays is a prefix that holds all that was told") {
  kp::test::Random random(77);
  CAPTURE(random.seed());
  for (int round = 0; round < 500; ++round) {
    const auto medium = std::make_shared<MemoryMedium>();
    MemoryStore store(medium);
    store.acquire("j");
    CHECK(codes(store) == "done ");
    medium->hold();
    Strings asked;
    std::size_t told = 0;
    for (int left = random.between(1, 20); left > 0; --left) {
      if (random.chance(0.6)) {
        asked.push_back(kp::cat("line ", left));
        store.append("j", static_cast<std::uint32_t>(asked.size()), asked.back());
      } else if (random.chance(0.5)) {
        medium->let_go(random.between(1, 3));
      } else {
        told += store.take_completed().size();
      }
    }
    medium->crash(random.chance(0.5) ? MemoryMedium::Unconfirmed::lost
                                     : MemoryMedium::Unconfirmed::kept);
    const Strings kept = lines(*medium, medium);
    CHECK(kept.size() >= told);
    CHECK(kept.size() <= asked.size());
    CHECK(kept == Strings(asked.begin(), asked.begin() + static_cast<std::ptrdiff_t>(kept.size())));
  }
}
