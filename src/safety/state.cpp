#include "safety/state.hpp"

#include <algorithm>

#include "safety/fact.hpp"

namespace kp::safety {

namespace {

struct LossWords {
  const char* word;
  const char* title;
};
constexpr LossWords kLossWords[kLosses] = {
    {"none", ""},
    {"power-back", "power was put back"},
    {"water-back", "water was put back"},
    {"found-live", "power was found on"},
    {"found-wet", "water was found on"},
    {"left", "the machine was left"},
    {"handed-over", "another person took over"},
    {"gap", "nobody saw it for a while"},
    {"clock-doubt", "the clock is in doubt"},
    {"meter-says-live", "the tester showed voltage"},
    {"controls-answered", "the machine answered"},
    {"lock-off", "a lock was taken off"},
    {"lock-found-off", "a lock was found off"},
    {"unit-differs", "the supply is another than thought"},
    {"new-visit", "a new visit began"},
    {"seeps", "the valve seeps"},
    {"device-opened", "a protective device opened"},
    {"series-failed", "the tester failed"}};
constexpr const char* kAnswerWords[kAnswers] = {"nothing", "answered", "tells-nothing"};
constexpr const char* kSupportWords[kSupports] = {"block", "strap", "person"};
constexpr const char* kDoubtWords[kDoubts] = {"power-found-on", "water-found-on", "lock-found-off",
                                              "sight-lost",     "left",           "clock-doubted",
                                              "device-opened"};
constexpr const char* kStayedWords[kStayed] = {"here", "left-locked", "unknown"};

}  // namespace

const char* words(Loss loss) { return kLossWords[static_cast<int>(loss)].word; }
const char* title(Loss loss) { return kLossWords[static_cast<int>(loss)].title; }
const char* words(Answer answer) { return kAnswerWords[static_cast<int>(answer)]; }
const char* words(Support support) { return kSupportWords[static_cast<int>(support)]; }
const char* words(Doubt doubt) { return kDoubtWords[static_cast<int>(doubt)]; }
const char* words(Stayed stayed) { return kStayedWords[static_cast<int>(stayed)]; }

std::int64_t age_ms(const Stamp& stamp, Now now) {
  return std::max(now.utc_ms - stamp.at.utc_ms, now.mono_ms - stamp.mono_ms);
}

const GroupProof* State::group(const std::string& id) const {
  const auto found = std::find_if(groups.begin(), groups.end(),
                                  [&](const GroupProof& group) { return group.id == id; });
  return found == groups.end() ? nullptr : &*found;
}

bool is_held(const State& state) {
  return state.power == Power::held || state.power == Power::supply_dead;
}

bool is_shut(const State& state) {
  return state.water == Water::shut || state.water == Water::relieved ||
         state.water == Water::holding;
}

bool in_approach(const State& state) {
  return state.power == Power::held && state.tried != Tried::no && is_shut(state);
}

bool stays_held(const State& state, const std::string& lock) {
  const auto hangs = [&](const std::string& id, bool own) {
    return std::any_of(state.locks.begin(), state.locks.end(), [&](const Lock& one) {
      return one.id == id && (one.owner == state.worker) == own;
    });
  };
  return is_held(state) && !state.inspected.holds() && lock != state.lock && hangs(lock, false) &&
         hangs(state.lock, true);
}

}  // namespace kp::safety
