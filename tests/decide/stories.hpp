#pragma once
// Stories of careful work at a small machine, from which the enumeration sets out.

#include <string>
#include <vector>

#include "decide/eye.hpp"

namespace kp::test {

/// Careful work as names of intents: "READ x" is every reading that place x is owed, "WAIT" two
/// minutes and a little.
using Story = std::vector<std::string>;
inline void tell(Story& story, const Story& more) {
  story.insert(story.end(), more.begin(), more.end());
}
/// Isolated, held, tried, the supply proved, the load's place open and proved, water off.
inline Story made_safe(Site site) {
  const std::string load = kLoadPlace;
  Story out{"prepare", "stop", site == Site::cord ? "isolate-plug" : "isolate-breaker", "hold",
            "shut", "try"};
  if (site == Site::cord) {
    tell(out, {"READ supply", "release toe-screws", "remove toe"});
  } else {
    if (site == Site::fixed) out.push_back("WAIT");   // the charge bleeds off
    tell(out, {"release toe-screws", "remove toe", "release lid-screws", "remove lid", "READ supply"});
  }
  if (site == Site::fixed) out.push_back("discharge " + load);
  tell(out, {"READ " + load});
  if (site == Site::split) out.push_back("cool");
  tell(out, {"relieve", "WAIT", "watch"});
  return out;
}
inline Story shut_box(Site site) {
  return site == Site::cord ? Story{} : Story{"set lid", "fasten lid-screws"};
}
inline Story given_back() {
  return {"inspect", "warn", "water-on", "lock-off 7", "look", "power-on"};
}
inline Story repair(Site site) {
  Story out = made_safe(site);
  tell(out, {"choose", "release plug"});
  if (site == Site::cord) out.push_back("release band");
  out.push_back("remove load");
  if (site == Site::split) out.push_back("cool-load");   // on the bench it is another place
  tell(out, {"swap", "set load", "fasten plug", "fasten band", "prove earth-path"});
  if (site == Site::cord) {
    tell(out, {"prove insulation", "water-static", "prove static", "test drip", "shut", "relieve"});
  } else {
    tell(out, {"leave-out insulation", "leave-out static"});
  }
  tell(out, shut_box(site));
  tell(out, {"set toe", "fasten toe-screws"});
  tell(out, given_back());
  tell(out, {"prove run", "stop", "prove feel", "end repaired", "visit", "found-as-left"});
  return out;
}
inline Story measured(Site site) {
  Story out = made_safe(site);
  tell(out, {"test hot", "release plug", "test ohm", "fasten plug"});
  if (site != Site::cord) out.push_back("fasten band");
  tell(out, shut_box(site));
  // A lead was off: that the earth path is untouched is not believed.
  tell(out, {"prove earth-path", "leave-out insulation"});
  tell(out, given_back());
  tell(out, {"test volts", "doubt device-opened"});
  return out;
}
inline Story parted(Site site) {
  Story out = made_safe(site);
  if (site == Site::cord) return out;
  if (site == Site::fixed) out.push_back("discharge " + kBoxPlace);
  tell(out, {"READ " + kBoxPlace, "neutral", "release leads", "release earth", "prove insulation",
             "fasten earth", "fasten leads", "release leads", "bar", "tag", "end waiting", "visit", "found-as-left", "prepare"});
  return out;
}
inline Story stands(Site site) {
  Story out{"prepare-frame", "frame-live", "frame-nil", "turn door-open", "test look-in", "turn in-place"};
  tell(out, made_safe(site));
  tell(out, {"release fixing"});
  if (site == Site::cord) {
    tell(out, {"helper", "secure-on-back", "turn on-back"});
  }
  return out;
}
inline Story reached(Site site) {
  return {"prepare", "stop", site == Site::cord ? "isolate-plug" : "isolate-breaker", "hold", "shut",
          "try", "turn door-open", "test reach", "turn in-place", "hand-on", "try", "away", "stayed",
          "foreign-lock"};
}
inline std::vector<Story> stories(Site site) {
  std::vector<Story> out{repair(site), measured(site), parted(site), stands(site), reached(site)};
  if (site != Site::cord) {
    out.push_back({"prepare", "stop", "isolate-breaker", "hold-measure", "shut", "try", "end waiting",
                   "visit", "found-as-left"});
  } else {
    out.push_back({"prepare", "stop", "isolate-plug", "hold-in-hand", "shut", "try", "READ supply"});
  }
  return out;
}

}  // namespace kp::test
