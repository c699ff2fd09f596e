#pragma once

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace kp::plan {

/// A set of small whole numbers 0 .. 64 * Words - 1 in a fixed array: no allocation, cheap to copy
/// and to compare. An index outside is our own mistake and is not looked for here.
template <int Words>
class Bits {
 public:
  static constexpr int kSize = Words * 64;

  void set(int i) { word(i) |= mask(i); }
  void reset(int i) { word(i) &= ~mask(i); }
  [[nodiscard]] bool test(int i) const { return (words_[at(i)] & mask(i)) != 0; }

  [[nodiscard]] bool none() const {
    std::uint64_t all = 0;
    for (const std::uint64_t w : words_) all |= w;
    return all == 0;
  }
  [[nodiscard]] bool any() const { return !none(); }
  [[nodiscard]] int count() const {
    int n = 0;
    for (const std::uint64_t w : words_) n += std::popcount(w);
    return n;
  }
  /// The lowest member, or -1.
  [[nodiscard]] int first() const {
    for (std::size_t k = 0; k < words_.size(); ++k) {
      if (words_[k] != 0) return static_cast<int>(k) * 64 + std::countr_zero(words_[k]);
    }
    return -1;
  }
  [[nodiscard]] bool within(const Bits& other) const {
    std::uint64_t outside = 0;
    for (std::size_t k = 0; k < words_.size(); ++k) outside |= words_[k] & ~other.words_[k];
    return outside == 0;
  }
  [[nodiscard]] bool meets(const Bits& other) const {
    std::uint64_t shared = 0;
    for (std::size_t k = 0; k < words_.size(); ++k) shared |= words_[k] & other.words_[k];
    return shared != 0;
  }

  Bits& operator|=(const Bits& other) {
    for (std::size_t k = 0; k < words_.size(); ++k) words_[k] |= other.words_[k];
    return *this;
  }
  Bits& operator&=(const Bits& other) {
    for (std::size_t k = 0; k < words_.size(); ++k) words_[k] &= other.words_[k];
    return *this;
  }
  /// Takes the members of `other` out.
  Bits& operator-=(const Bits& other) {
    for (std::size_t k = 0; k < words_.size(); ++k) words_[k] &= ~other.words_[k];
    return *this;
  }
  friend Bits operator|(Bits a, const Bits& b) { return a |= b; }
  friend Bits operator&(Bits a, const Bits& b) { return a &= b; }
  friend Bits operator-(Bits a, const Bits& b) { return a -= b; }
  friend bool operator==(const Bits& a, const Bits& b) { return a.words_ == b.words_; }

  /// Calls f(index) for each member, lowest first.
  template <class F>
  void each(F f) const {
    for (std::size_t k = 0; k < words_.size(); ++k) {
      for (std::uint64_t rest = words_[k]; rest != 0; rest &= rest - 1) {
        f(static_cast<int>(k) * 64 + std::countr_zero(rest));
      }
    }
  }

  /// The first n numbers.
  static Bits up_to(int n) {
    Bits b;
    for (int i = 0; i < n; ++i) b.set(i);
    return b;
  }

  [[nodiscard]] std::uint64_t hash(std::uint64_t seed) const {
    std::uint64_t h = seed;
    for (const std::uint64_t w : words_) {
      h = (h ^ w) * 0x9E3779B97F4A7C15ULL;
      h ^= h >> 29U;
    }
    return h ^ (h >> 32U);
  }

 private:
  static std::size_t at(int i) { return static_cast<std::size_t>(i) >> 6U; }
  static std::uint64_t mask(int i) { return std::uint64_t{1} << (static_cast<unsigned>(i) & 63U); }
  std::uint64_t& word(int i) { return words_[at(i)]; }

  std::array<std::uint64_t, static_cast<std::size_t>(Words)> words_{};
};

/// Joints, or parts, of one unit.
using Set = Bits<2>;
/// Joints and parts together, with room for the points to be uncovered and the end of the plan.
using ItemSet = Bits<4>;

inline constexpr std::uint64_t kAllPositions = ~std::uint64_t{0};

/// One way to a thing: all of these must be open, and the unit must be in one of these positions.
struct ItemWay {
  ItemSet items;
  std::uint64_t positions = kAllPositions;  ///< bit p: position p

  [[nodiscard]] bool stands(const ItemSet& open, int position) const {
    return (positions >> static_cast<unsigned>(position) & 1U) != 0 && items.within(open);
  }
  /// Whoever can go the other way can go this one.
  [[nodiscard]] bool covers(const ItemWay& other) const {
    return items.within(other.items) && (other.positions & ~positions) == 0;
  }
};

/// What must not be: all of these open with the unit in one of these positions.
struct Bar {
  ItemSet items;
  std::uint64_t positions = 0;  ///< bit p: position p

  [[nodiscard]] bool stands(const ItemSet& open, int position) const {
    return (positions >> static_cast<unsigned>(position) & 1U) != 0 && items.within(open);
  }
};

/// The first bar that stands, by its index, or -1.
[[nodiscard]] inline int barred_by(const std::vector<Bar>& bars, const ItemSet& open, int position) {
  for (std::size_t k = 0; k < bars.size(); ++k) {
    if (bars[k].stands(open, position)) return static_cast<int>(k);
  }
  return -1;
}

}  // namespace kp::plan
