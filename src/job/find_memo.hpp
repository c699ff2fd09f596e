#pragma once

#include <map>
#include <optional>
#include <tuple>
#include <utility>
#include <vector>

#include "circuit/expect.hpp"
#include "find/reading.hpp"
#include "job/state.hpp"

namespace kp::job {

/// Bands of a pack's tests, worked out when they are first asked for. Nothing but a memory: the same
/// pack gives the same bands. It belongs to one model.
class FindMemo {
 public:
  explicit FindMemo(const Model& model) : model_(&model) {}

  /// What a good unit may show in a test on the circuit; nothing where no band could be proved.
  [[nodiscard]] const std::optional<find::Band>& good(int test);
  /// The same with one fault of the pack. A fault that the measurement does not see gives the band
  /// of a good unit; one that leaves no band (the supply is shorted), everything.
  [[nodiscard]] const find::Band& with_fault(int test, int fault);
  /// The same with two faults at once.
  [[nodiscard]] const find::Band& with_faults(int test, int a, int b);

 private:
  /// Whether one solve shows another reading than that of a good unit.
  [[nodiscard]] bool seen(int test, const std::vector<int>& faults);

  const Model* model_;
  std::map<int, std::optional<find::Band>> good_;
  std::map<int, circuit::Reading> typical_;
  std::map<std::pair<int, int>, find::Band> faulty_;
  std::map<std::tuple<int, int, int>, find::Band> pairs_;
};

}  // namespace kp::job
