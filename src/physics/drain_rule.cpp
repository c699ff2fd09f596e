#include "physics/drain_rule.hpp"

#include <algorithm>

#include "physics/water.hpp"

namespace kp::physics {

namespace {

constexpr double kReducerFrom_pascal = 80 * kPa_per_psi;

}  // namespace

DrainVerdict check_drain(PlumbingCode code, const DrainLayout& layout) {
  DrainVerdict out;
  const auto refuse = [&out](const char* sentence) {
    out.passes = false;
    out.why.emplace_back(sentence);
  };
  if (code == PlumbingCode::upc && !layout.listed_air_gap) {
    refuse("Fit a listed air gap on the drain hose (UPC 807.3).");
  }
  if (code == PlumbingCode::ipc && !layout.listed_air_gap && !layout.high_loop) {
    refuse("Fasten the drain hose under the counter, or fit an air gap (IPC 802.1.6).");
  }
  if (layout.listed_air_gap && !layout.gap_above_flood) {
    refuse("Set the air gap's mark at or above the flood level (UPC 807.3).");
  }
  if (!layout.supply_protected) {
    refuse("Protect the supply against backflow (IRC P2717.1).");
  }
  if (layout.supply_pascal > kReducerFrom_pascal) {
    out.advice.emplace_back("Tell the customer: this pressure needs a reducing valve (IPC 604.8).");
  }
  if (!layout.hammer_arrester) {
    out.advice.emplace_back("Listen for hammer when the valve shuts: an arrester stops it (IPC 604.9).");
  }
  out.advice.emplace_back("Follow the local code where it differs.");
  return out;
}

double en_air_gap_mm(double inlet_bore_mm) { return std::max(20.0, 2 * inlet_bore_mm); }

}  // namespace kp::physics
