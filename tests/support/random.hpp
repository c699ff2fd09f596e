#pragma once
// Random cases for property tests: the same sequence on every target, its seed printed on failure
// through CAPTURE(random.seed()).

#include <cstdint>

namespace kp::test {

class Random {
 public:
  explicit Random(std::uint64_t seed) : seed_(seed), state_(seed + 0x9E3779B97F4A7C15ULL) {}

  [[nodiscard]] std::uint64_t seed() const { return seed_; }

  /// splitmix64 (Steele, Lea, Flood 2014).
  std::uint64_t next() {
    state_ += 0x9E3779B97F4A7C15ULL;
    std::uint64_t z = state_;
    z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9ULL;
    z = (z ^ (z >> 27U)) * 0x94D049BB133111EBULL;
    return z ^ (z >> 31U);
  }

  /// A whole number in [low, high].
  int between(int low, int high) {
    const auto span = static_cast<std::uint64_t>(static_cast<std::int64_t>(high) - low + 1);
    return static_cast<int>(low + static_cast<std::int64_t>(next() % span));
  }

  double unit() { return static_cast<double>(next() >> 11U) * 0x1.0p-53; }
  bool chance(double probability) { return unit() < probability; }

 private:
  std::uint64_t seed_;
  std::uint64_t state_;
};

}  // namespace kp::test
