#pragma once
// A made-up outside: a clock that a test moves, counted identities, papers kept in a list.

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "base/text.hpp"
#include "port/outside.hpp"

namespace kp::test {

class FakeClock final : public port::Clock {
 public:
  port::ClockReading read() override { return now; }
  void pass(std::int64_t ms) {
    now.wall.utc_ms += ms;
    now.mono_ms += ms;
  }

  port::ClockReading now{Moment{1'793'500'000'000, -300}, 1'000, false};
};

class CountedIdentity final : public port::Identity {
 public:
  std::string fresh() override {
    static constexpr const char* kDigits = "0123456789abcdef";
    ++count_;
    std::string out(16, '0');
    std::uint64_t rest = count_ * 0x9E3779B97F4A7C15ULL;
    for (char& digit : out) {
      digit = kDigits[rest & 15U];
      rest >>= 4U;
    }
    return out;
  }

 private:
  std::uint64_t count_ = 0;
};

/// Keeps what it is offered and says so at once; with `ask` nothing is said before the test says it.
class KeptPapers final : public port::Share {
 public:
  int offer(const port::Document& document) override {
    all.push_back(document);
    const int number = static_cast<int>(all.size());
    if (!ask) {
      handed.push_back(port::Handed{number, port::Handing::completed, {}});
    }
    return number;
  }
  std::vector<port::Handed> take_handed() override { return std::exchange(handed, {}); }

  std::vector<port::Document> all;
  std::vector<port::Handed> handed;
  bool ask = false;
};

}  // namespace kp::test
