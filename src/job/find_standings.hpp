#pragma once

#include <vector>

#include "job/bind_find.hpp"

namespace kp::job {

// For bind_find only.

/// How rough a plan may be that only says what something costs.
inline constexpr plan::Limits kRoughPlan{4'000};
/// A step towards a place that no plan reaches.
inline constexpr double kFarSeconds = 1e6;

/// The places where tests are made and parts are reached, each once, and what it costs to go from
/// one to another: hands, power put back, the machine made dead again.
class Standings {
 public:
  /// `running`: the machine has power now. Standing 0 is now, 1 is closed with power on.
  Standings(const Model& model, const plan::State& unit, bool running);

  /// Index of this standing; its plan is made.
  int add(Standing standing);

  [[nodiscard]] int size() const { return static_cast<int>(all_.size()); }
  [[nodiscard]] const Standing& at(int index) const;
  /// The unit when it stands so.
  [[nodiscard]] const plan::State& unit(int index) const;
  [[nodiscard]] double seconds(int from, int to) const;
  [[nodiscard]] std::vector<Standing> take() { return std::move(all_); }

 private:
  const Model& model_;
  std::vector<Standing> all_;
  std::vector<plan::State> units_;
};

}  // namespace kp::job
