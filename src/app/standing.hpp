#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "app/known.hpp"
#include "port/outside.hpp"

namespace kp::app {

// Ours, by judgement, no source: a living window is heard four times before it counts as silent.
inline constexpr std::int64_t kSignMs = 5'000;     ///< the writer gives a sign of life so often
inline constexpr std::int64_t kLookMs = 5'000;     ///< a reader looks for it so often
inline constexpr std::int64_t kSilentMs = 20'000;  ///< without one it is silent

/// How a window stands to the store's journal of its job: as the writer or as a reader, whether
/// what it has read is all there is, and when the writer was last heard. Knows no store: it is told
/// what was asked and answered, and says what is known and when to ask again.
class Standing {
 public:
  /// Nothing is open.
  void leave() { *this = {}; }
  /// This window writes. It knows what it wrote.
  void write();
  /// Another window writes. Nothing is known until the store was looked at.
  void read();
  /// More may have been written than was read: the page was away, or a line was told of.
  void doubt() { whole_ = false; }

  /// A look at the store is due.
  [[nodiscard]] bool look_due(const port::ClockReading& now) const;
  void looked(const port::ClockReading& now);
  /// What came of it. `whole`: the journal's last line is the one that was read last. The writer's
  /// `sign` is that of port::Store::look().
  void told(const std::string& sign, bool whole, const port::ClockReading& now);
  /// The look failed.
  void not_told();

  /// The writer's sign of life is due; it is taken for given.
  [[nodiscard]] bool sign_due(const port::ClockReading& now);
  [[nodiscard]] Knowledge knowledge(const port::ClockReading& now) const;
  /// Milliseconds until a look is due; negative: none will be.
  [[nodiscard]] std::int64_t next_ms(const port::ClockReading& now) const;

 private:
  enum class Role { none, writer, reader };
  /// Whether so many milliseconds have gone by since, or nothing is known of it.
  static bool gone(const std::optional<port::ClockReading>& since, std::int64_t ms,
                   const port::ClockReading& now);

  Role role_ = Role::none;
  bool whole_ = false;
  bool looking_ = false;                         ///< an answer is still to come
  std::string sign_;                             ///< as it was last seen
  std::optional<port::ClockReading> looked_;     ///< when it was asked last
  std::optional<port::ClockReading> told_;       ///< when the last answer came
  std::optional<port::ClockReading> heard_;      ///< when the writer's sign was last a new one
  std::optional<port::ClockReading> signed_;
};

}  // namespace kp::app
