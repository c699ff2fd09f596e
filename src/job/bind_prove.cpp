#include "job/bind_prove.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "pack/reach.hpp"

namespace kp::job {

std::vector<safety::Reason> place_open(const Model& model, const plan::State& unit,
                                       const pack::ProveTest& test) {
  const pack::Pack& pack = model.pack;
  std::vector<safety::Reason> out;
  const auto& places = test.positions;
  if (!places.empty() && std::find(places.begin(), places.end(), unit.position) == places.end()) {
    out.push_back({"wrong-position",
                   cat("Bring the unit to: ", pack.positions[to_size(places.front())].title, "."), 0});
  }
  std::vector<bool> removed(pack.parts.size());
  unit.removed.each([&](int part) { removed[to_size(part)] = true; });
  if (!pack::is_open(pack, test.behind, {}, removed)) {
    out.push_back({"covered", "This place is closed. Open it for the test.", 0});
  }
  for (const int joint : test.needs_released) {
    if (!unit.released.test(joint)) {
      out.push_back({"still-held", cat("Release first: ", pack.joints[to_size(joint)].name, "."), 0});
    }
  }
  for (const int joint : test.needs_fastened) {
    if (unit.released.test(joint)) {
      out.push_back({"still-loose", cat("Fasten first: ", pack.joints[to_size(joint)].name, "."), 0});
    }
  }
  return out;
}

}  // namespace kp::job
