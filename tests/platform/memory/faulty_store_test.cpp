#include "platform/memory/faulty_store.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "platform/memory/memory_store.hpp"
#include "port/store_contract.hpp"

using kp::memory::FaultyStore;
using kp::memory::MemoryMedium;
using kp::memory::MemoryStore;
using Strings = std::vector<std::string>;

namespace {

/// A store and the faults in front of it, as one handle.
class Both final : public kp::port::Store {
 public:
  explicit Both(std::shared_ptr<MemoryMedium> medium) : inner_(std::move(medium)), outer_(inner_) {}
  kp::port::Request list() override { return outer_.list(); }
  kp::port::Request acquire(const std::string& job) override { return outer_.acquire(job); }
  kp::port::Request take_over(const std::string& job) override { return outer_.take_over(job); }
  kp::port::Request release(const std::string& job) override { return outer_.release(job); }
  kp::port::Request load(const std::string& job) override { return outer_.load(job); }
  kp::port::Request append(const std::string& job, std::uint32_t seq,
                           const std::string& line) override {
    return outer_.append(job, seq, line);
  }
  kp::port::Request erase(const std::string& job, std::uint32_t seq,
                          const std::string& kept) override {
    return outer_.erase(job, seq, kept);
  }
  kp::port::Request put(const std::string& key, const std::string& text) override {
    return outer_.put(key, text);
  }
  kp::port::Request get(const std::string& key) override { return outer_.get(key); }
  kp::port::Request look(const std::string& job) override { return outer_.look(job); }
  void watch(const std::string& job) override { outer_.watch(job); }
  void sign_of_life() override { outer_.sign_of_life(); }
  bool take_changed() override { return outer_.take_changed(); }
  std::vector<kp::port::Completion> take_completed() override { return outer_.take_completed(); }
  std::vector<std::string> take_lost() override { return outer_.take_lost(); }
  [[nodiscard]] bool lasting() const override { return outer_.lasting(); }

 private:
  MemoryStore inner_;
  FaultyStore outer_;
};

class Medium final : public kp::test::StoreMedium {
 public:
  std::unique_ptr<kp::port::Store> open() override { return std::make_unique<Both>(medium_); }

 private:
  std::shared_ptr<MemoryMedium> medium_ = std::make_shared<MemoryMedium>();
};

std::string codes(kp::port::Store& store) {
  std::string out;
  for (const kp::port::Completion& done : store.take_completed()) {
    out += (done.error ? done.error->code : "done") + " ";
  }
  return out;
}

}  // namespace

TEST_CASE("without faults it is the store behind it") {
  Medium medium;
  kp::test::ScriptRunner runner(
      medium, kp::test::store_contract(),
      [](const std::string& what, bool held) { CHECK_MESSAGE(held, what); });
  CHECK(runner.go_on());
}

TEST_CASE("a fault fails so many requests of its kind, in their turn, and no others") {
  MemoryStore inner;
  FaultyStore store(inner);
  store.fail(FaultyStore::Ask::append, "full", 2);
  store.acquire("j");
  store.append("j", 1, "a");
  store.append("j", 1, "b");
  store.append("j", 1, "c");
  store.load("j");
  const auto done = store.take_completed();
  CHECK(done.size() == 5);
  CHECK_FALSE(done[0].error.has_value());
  CHECK(done[1].error->code == "full");
  CHECK(done[2].error->code == "full");
  CHECK_FALSE(done[3].error.has_value());
  CHECK(done[4].lines == Strings{"c"});
  CHECK(store.asked() ==
        Strings{"acquire j", "append j 1", "append j 1", "append j 1", "load j"});
}

TEST_CASE("a request can be done and its answer be wrong") {
  MemoryStore inner;
  FaultyStore store(inner);
  store.fail_after(FaultyStore::Ask::append, "refused");
  store.acquire("j");
  store.append("j", 1, "a");
  store.load("j");
  store.append("j", 1, "b");
  const auto done = store.take_completed();
  CHECK(done[1].error->code == "refused");
  CHECK(done[2].lines == Strings{"a"});
  CHECK(done[3].error->code == "conflict");
}

TEST_CASE("completions can be kept back, and a failed one waits for those before it") {
  MemoryStore inner;
  FaultyStore store(inner);
  inner.medium().hold();
  store.acquire("j");
  store.fail(FaultyStore::Ask::append, "refused");
  store.append("j", 1, "a");
  CHECK(codes(store).empty());
  inner.medium().let_all_go();
  store.keep_completions();
  CHECK(codes(store).empty());
  store.release_completions();
  CHECK(codes(store) == "done refused ");
}
