#pragma once
// Refusals that must stand at a small machine, whatever else refuses the same: after this story, this
// intent, this reason among the reasons.

#include <string>
#include <vector>

#include "decide/moves.hpp"
#include "decide/stories.hpp"

namespace kp::test {

struct Refusal {
  Site site = Site::fixed;
  Story story;
  std::string intent;
  std::string code;
  std::int64_t later_ms = 0;
};

inline Story and_then(Story story, const Story& more) {
  tell(story, more);
  return story;
}
inline Story up_to(Story story, const std::string& word) {
  story.erase(std::find(story.begin(), story.end(), word) + 1, story.end());
  return story;
}

inline Story found_tipping() {
  return {"prepare", "stop", "isolate-breaker", "hold", "shut", "try", "tag", "end waiting", "visit",
          "found-tipping", "prepare"};
}

inline std::vector<Refusal> refusals() {
  const Site cord = Site::cord;
  const Site fixed = Site::fixed;
  const Site split = Site::split;
  const Story told{"prepare"};
  const Story tried{"prepare", "stop", "isolate-breaker", "hold", "shut", "try"};
  const Story open = made_safe(fixed);
  const Story lies = stands(cord);
  const Story tips = found_tipping();
  return {
      {fixed, tried, "stop", "clock-doubt", -1000},
      {fixed, tried, "inspect-ben", "other-person"},
      {fixed, and_then(tried, {"away"}), "try", "gap-open"},
      {fixed, {}, "shut", "not-prepared"},
      {fixed, {}, "release toe-screws", "energy-not-listed"},
      {fixed, tips, "test look-in", "would-tip"},
      {fixed, tips, "release toe-screws", "would-tip"},
      {fixed, tips, "relieve", "would-tip"},
      {fixed, tips, "end waiting", "would-tip"},
      {fixed, {"prepare-frame"}, "turn door-open", "frame-not-read"},
      {fixed, tried, "release toe-screws", "not-bled"},
      {fixed, told, "release toe-screws", "not-held"},
      {fixed, told, "release toe-screws", "controls-not-tried"},
      {fixed, told, "release toe-screws", "water-not-shut"},
      {cord, {"prepare", "stop", "isolate-plug", "hold-in-hand", "helper"}, "try", "control-lost"},
      {cord, lies, "read-good supply", "not-upright"},
      {fixed, tried, "read-good supply", "place-covered"},
      {fixed, told, "release fixing", "power-not-proved"},
      {fixed, told, "release band", "work-not-proved"},
      {fixed, told, "release band", "charge-not-gone"},
      {fixed, told, "release band", "water-not-relieved"},
      {cord, and_then(up_to(made_safe(cord), "READ supply"), {"release toe-screws", "remove toe"}),
       "relieve", "work-not-proved"},
      {split, up_to(made_safe(split), "READ " + kLoadPlace), "relieve", "not-cooled"},
      {fixed, told, "release band", "water-not-watched"},
      {split, told, "release band", "not-cooled"},
      {cord, told, "turn on-back", "not-secured"},
      {cord, told, "turn on-back", "helper-missing"},
      {fixed, and_then(open, {"discharge " + kBoxPlace, "READ " + kBoxPlace}), "release leads", "neutral-not-read"},
      {fixed, open, "prove insulation", "supply-not-parted"},
      {fixed, told, "test drip", "water-off"},
      {fixed, open, "water-static", "joint-open"},
      {fixed, and_then(open, {"fasten band", "release plug"}), "water-static", "lead-off"},
      {cord, {"prepare-frame", "frame-nil", "stop", "isolate-plug", "hold", "shut", "try", "turn door-open"},
       "test reach", "power-not-proved"},
      {fixed, {"prepare", "turn door-open"}, "try", "door-open"},
      {cord, lies, "test hot", "not-upright"},
      {fixed, told, "test runs", "nothing-on"},
      {fixed, open, "inspect", "cover-off"},
      {fixed, and_then(open, {"release plug"}), "inspect", "lead-off"},
      {fixed, open, "inspect", "joint-open"},
      {fixed, told, "test unreasoned", "no-live-reason"},
      {cord, lies, "power-on", "not-upright"},
      {fixed, told, "isolate-breaker", "not-stopped"},
      {fixed, told, "isolate-door", "means-refused"},
      {fixed, told, "hold", "not-isolated"},
      {fixed, told, "hold-sight", "control-refused"},
      {fixed, told, "hold-no-lock", "lock-missing"},
      {fixed, told, "hold-no-tag", "tag-missing"},
      {fixed, {"prepare", "foreign-lock"}, "hold-anothers", "lock-of-another"},
      {cord, told, "shut-unnamed", "valve-missing"},
      {fixed, told, "try", "not-held"},
      {fixed, told, "read-untold supply", "tester-missing"},
      {fixed, told, "read-ohms supply", "wrong-function"},
      {fixed, told, "read-skip supply", "wrong-order"},
      {fixed, told, "read-skip supply", "other-tester"},
      {fixed, told, "read-skip supply", "too-late"},
      {fixed, told, "cool-insane", "out-of-range"},
      {fixed, told, "frame-untold", "tester-missing"},
      {fixed, told, "discharge-charged behind:toe", "charge-still-there"},
      {fixed, told, "watch", "too-early"},
      {fixed, told, "cool-hot", "still-hot"},
      {fixed, told, "helper-crowd", "people-out-of-range"},
      {fixed, told, "prop-nobody", "no-name"},
      {fixed, up_to(parted(fixed), "release earth"), "inspect", "earth-loose"},
      {fixed, and_then(open, {"release plug"}), "inspect", "tests-open"},
      {fixed, told, "warn", "not-inspected"},
      {fixed, told, "look", "people-not-warned"},
      {fixed, told, "lock-off 5", "no-such-lock"},
      {fixed, tried, "lock-off-by-ben 7", "lock-of-another"},
      {fixed, tried, "look", "lock-hanging"},
      {fixed, told, "power-on", "not-looked"},
      {fixed, up_to(measured(fixed), "look"), "power-on", "look-old", 20 * 60'000},
      {fixed, {"prepare", "doubt device-opened"}, "power-on", "device-opened"},
      {fixed, up_to(measured(fixed), "power-on"), "power-on", "power-on"},
      {fixed, told, "end waiting", "leave-power-locked"},
      {fixed, told, "end waiting", "leave-tag"},
      {cord, lies, "end waiting", "not-upright"},
      {fixed, open, "end waiting", "leave-open"},
      {fixed, told, "bar", "not-held"},
      {fixed, tried, "end no-fault", "lock-hanging"},
      {fixed, tried, "end no-fault", "still-isolated"},
      {fixed, open, "end no-fault", "not-inspected"},
      {fixed, told, "tag", "not-held"},
      {fixed, told, "tag-empty", "tag-missing"},
      {fixed, tried, "hand-on-no-lock", "lock-missing"},
      {fixed, and_then(tried, {"foreign-lock"}), "hand-on-anothers", "lock-of-another"},
  };
}

/// What decide() refuses by itself, beside the gate.
inline std::vector<Refusal> own_refusals() {
  const Site cord = Site::cord;
  const Site fixed = Site::fixed;
  const Story open = made_safe(fixed);
  const Story proved = up_to(made_safe(cord), "READ supply");
  return {
      {fixed, open, "test volts", "power-off"},
      {fixed, open, "test runs", "power-off"},
      {cord, proved, "test hot", "covered"},
      {cord, stands(cord), "test reach", "covered"},
      {cord, proved, "relieve", "place-covered"},
      {fixed, and_then(open, {"discharge " + kBoxPlace, "READ " + kBoxPlace, "set lid"}), "neutral", "place-covered"},
      {fixed, and_then(open, {"set lid", "fasten lid-screws", "set toe"}), "discharge " + kLoadPlace,
       "place-covered"},
      {fixed, and_then(open, {"choose"}), "swap", "still-in"},
      {cord, {"prepare", "choose-mend"}, "mend", "covered"},
      {fixed, open, "prove run", "not-closed"},
      {fixed, {"prepare"}, "prove run", "not-running"},
      {fixed, {"prepare"}, "prove static", "place-shut"},
      {fixed, open, "end repaired", "not-closed"},
      {fixed, {"prepare"}, "end repaired", "nothing-done"},
      {fixed, {"prepare"}, "end no-fault", "proof-open"},
      {fixed, {"prepare"}, "stage find", "power-not-proved"},
      {fixed, open, "stage prove", "not-closed"},
  };
}

}  // namespace kp::test
