#pragma once

#include <map>
#include <optional>
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
  /// The same with these faults of the pack. Faults that the measurement does not see, mechanical
  /// ones among them, give the band of a good unit; those that leave no band (the supply is shorted),
  /// everything.
  [[nodiscard]] const find::Band& with_faults(int test, std::vector<int> faults);

 private:
  const Model* model_;
  std::map<int, std::optional<find::Band>> good_;
  std::map<int, circuit::Reading> typical_;
  std::map<std::pair<int, std::vector<int>>, find::Band> faulty_;
};

}  // namespace kp::job
