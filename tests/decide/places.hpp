#pragma once
// What is read where at a small machine, and which cover bares what, in plain words: nothing
// here asks the program.

#include <string>
#include <utility>
#include <vector>

#include "base/text.hpp"
#include "decide/packs.hpp"
#include "job/event.hpp"

namespace kp::test {

inline const std::string kLoadPlace = "behind:toe";   ///< terminals of the load, the hose's band
inline const std::string kBoxPlace = "behind:lid";    ///< where the leads of the house come in

/// The conductors that are read at a place, two and two.
inline std::vector<std::pair<std::string, std::string>> pairs_at(Site site, const std::string& place) {
  const bool split = site == Site::split;
  if (place == kLoadPlace) return {{"p", "E"}};
  if (place == kBoxPlace) {
    const std::string other = split ? "M" : "N";
    return {{"L", "E"}, {other, "E"}, {"L", other}};
  }
  // Value 1 of the order of safety: n conductors have n(n-1)/2 pairs.
  if (!split) return {{"L", "N"}, {"L", "E"}, {"N", "E"}};
  return {{"L1", "L2"}, {"L1", "N"}, {"L1", "E"}, {"L2", "N"}, {"L2", "E"}, {"N", "E"}};
}
inline bool holds_charge(Site site, const std::string& place) {
  return site == Site::fixed && place != safety::kSupply;
}
/// Every reading that a place is owed, in its order, as keys.
inline std::vector<std::string> owed_at(Site site, const std::string& place) {
  std::vector<std::string> out{"before"};
  if (place == safety::kSupply && site != Site::cord) out.push_back("earth");
  for (const auto& [a, b] : pairs_at(site, place)) out.push_back(cat(a, "~", b));
  if (holds_charge(site, place)) {
    for (const auto& [a, b] : pairs_at(site, place)) out.push_back(cat(a, "=", b));
  }
  out.push_back("after");
  return out;
}
inline std::string key_of(const safety::ReadingTaken& fact) {
  switch (fact.role) {
    case safety::Role::known_before: return "before";
    case safety::Role::earth_shown: return "earth";
    case safety::Role::pair: return cat(fact.a, "~", fact.b);
    case safety::Role::pair_dc: return cat(fact.a, "=", fact.b);
    case safety::Role::known_after: return "after";
  }
  return {};
}
/// The means parts every conductor of the house that can be live (333(b)(2)(ii)(B)).
inline bool parts_all(Site site, safety::Means means) {
  using safety::Means;
  if (means == Means::plug_out) return site == Site::cord;
  return means == Means::breaker_off || (means == Means::spur_fuse_out && site != Site::split);
}
/// What hands meet at a thing: the group of bare conductors behind the same cover; none: no group.
inline std::string place_of_hands(const std::string& what) {
  if (what == "leads" || what == "earth" || what == "box") return kBoxPlace;
  const bool outside = what == "toe" || what == "toe-screws" || what == "fixing";
  return outside ? "" : kLoadPlace;
}

}  // namespace kp::test
