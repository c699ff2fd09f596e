#include "app/known.hpp"

#include <utility>

#include "base/text.hpp"

namespace kp::app {
namespace {

const char* why(Knowledge knowledge) {
  switch (knowledge) {
    case Knowledge::known:
      return "";
    case Knowledge::stale:
      return "what was recorded last is not read yet";
    case Knowledge::damaged:
      return "the record of this job is not whole here";
    case Knowledge::apart:
      return "this journal is only read here, and nothing in it counts as proof";
    case Knowledge::silent:
      return "another window wrote last, and it is silent";
    case Knowledge::clock_doubt:
      return "the clock stands before the last record";
    case Knowledge::unsaved:
      return "a record that ends the proof is not saved";
  }
  return "";
}

/// A side that is dangerous already keeps its own words: they say more.
void take_as_live(safety::StripSide& side, safety::StripSide live, const std::string& reason) {
  if (side.meaning != safety::Meaning::danger) {
    live.evidence = std::move(side.evidence);
    side = std::move(live);
  }
  side.evidence.insert(side.evidence.begin(), reason);
}

bool green(const safety::StripSide& side) { return side.meaning == safety::Meaning::safe; }

}  // namespace

std::string reason_of(Knowledge knowledge) {
  return knowledge == Knowledge::known ? std::string()
                                       : cat("TAKEN AS LIVE: ", why(knowledge), ".");
}

safety::Strip strip_as_known(safety::Strip strip, Knowledge knowledge) {
  if (knowledge == Knowledge::known) {
    return strip;
  }
  // Nothing shown at all: the words and signs of that are safety's own.
  safety::Strip live = safety::summarise({}, safety::Now{}, {});
  take_as_live(strip.power, std::move(live.power), reason_of(knowledge));
  take_as_live(strip.water, std::move(live.water), reason_of(knowledge));
  return strip;
}

bool loses_green(const safety::Strip& before, const safety::Strip& after) {
  return (green(before.power) && !green(after.power)) ||
         (green(before.water) && !green(after.water));
}

}  // namespace kp::app
