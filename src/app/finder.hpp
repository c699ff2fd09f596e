#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "app/strip_picture.hpp"
#include "find/advise.hpp"
#include "job/bind_find.hpp"

namespace kp::app {

/// What the Find stage knows beside the job's state: beliefs, the next step, its reasons. Worked out
/// anew after each record; it holds no facts.
class Finder {
 public:
  explicit Finder(const job::Model& model) : model_(&model), memo_(model) {}

  void think(const job::State& state, const job::Context& context,
             std::int64_t labour_per_hour_minor);

  [[nodiscard]] const job::Finding& finding() const { return finding_; }
  [[nodiscard]] const find::Advice& advice() const { return advice_; }
  [[nodiscard]] const std::vector<std::string>& reasons() const { return reasons_; }

  /// Index into the finding's tests of a test of the pack, or -1: it tells nothing here.
  [[nodiscard]] int test(int pack_test) const;
  /// The test of the pack that is advised; -1: none is.
  [[nodiscard]] int advised_test() const;
  /// The strip circuit that goes with a test of the pack, with or without a fault suspected.
  [[nodiscard]] const std::optional<ChosenStrip>& strip(int pack_test);
  /// The strip that goes with the advice: of the test, or through the part that is to be renewed.
  [[nodiscard]] const std::optional<ChosenStrip>& advised_strip();

 private:
  const job::Model* model_;
  job::FindMemo memo_;
  job::Finding finding_;
  find::Advice advice_;
  std::vector<std::string> reasons_;
  std::map<int, std::optional<ChosenStrip>> strips_;
  std::map<int, std::optional<ChosenStrip>> part_strips_;
};

}  // namespace kp::app
