#include "job/stage.hpp"

#include "base/text.hpp"

namespace kp::job {

namespace {

const std::vector<std::string> kStageTitles = {"Arrive", "Make safe", "Find",  "Open",
                                               "Swap",   "Close",     "Prove", "Bill"};
const std::vector<std::string> kStageWords = {"arrive", "make-safe", "find",  "open",
                                              "swap",   "close",     "prove", "bill"};
const std::vector<std::string> kOutcomeTitles = {"Open", "Repaired", "Waiting for parts",
                                                 "Not to be used", "No fault found"};
const std::vector<std::string> kOutcomeWords = {"none", "repaired", "waiting-for-parts",
                                                "not-to-be-used", "no-fault-found"};
const std::vector<std::string> kPhaseTitles = {"Travel", "Diagnosis", "Labour", "Waiting",
                                               "Not billed"};
const std::vector<std::string> kPhaseWords = {"travel", "diagnosis", "labour", "waiting",
                                              "unbilled"};
const std::vector<std::string> kModeWords = {"field", "practice"};
const std::vector<std::string> kDeedWords = {"turn", "release", "remove", "swap", "set", "fasten"};

}  // namespace

std::string_view stage_title(Stage stage) { return kStageTitles[to_size(static_cast<int>(stage))]; }
std::string_view stage_word(Stage stage) { return kStageWords[to_size(static_cast<int>(stage))]; }
const std::vector<std::string>& stage_words() { return kStageWords; }

std::string_view outcome_title(Outcome outcome) {
  return kOutcomeTitles[to_size(static_cast<int>(outcome))];
}
const std::vector<std::string>& outcome_words() { return kOutcomeWords; }

std::string_view phase_title(Phase phase) { return kPhaseTitles[to_size(static_cast<int>(phase))]; }
const std::vector<std::string>& phase_words() { return kPhaseWords; }

const std::vector<std::string>& mode_words() { return kModeWords; }
const std::vector<std::string>& deed_words() { return kDeedWords; }

Phase usual_phase(Stage stage) {
  switch (stage) {
    case Stage::arrive:
    case Stage::find:
      return Phase::diagnosis;
    case Stage::make_safe:
    case Stage::open:
    case Stage::swap:
    case Stage::close:
    case Stage::prove:
      return Phase::labour;
    case Stage::bill:
      return Phase::unbilled;
  }
  return Phase::labour;
}

}  // namespace kp::job
