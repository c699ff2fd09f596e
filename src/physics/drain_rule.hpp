#pragma once

#include <string>
#include <vector>

namespace kp::physics {

/// Which family of plumbing rules holds at the address. A local code goes before both.
enum class PlumbingCode { upc, ipc };

struct DrainLayout {
  bool listed_air_gap = false;     ///< a listed air-gap fitting on the discharge
  bool gap_above_flood = true;     ///< its flood-level mark at or above sink and drainboard
  bool high_loop = false;          ///< the hose rises and is fastened under the sink rim or counter
  bool supply_protected = true;    ///< air gap or backflow preventer inside the machine
  double supply_pascal = 0;        ///< static, 0: not measured
  bool hammer_arrester = false;
};

struct DrainVerdict {
  bool passes = true;
  std::vector<std::string> why;    ///< what fails, a sentence each, with its rule
  std::vector<std::string> advice; ///< what does not fail but should be told
};

/// UPC 807.3 (807.4 in texts of 2000 to 2010): no domestic dishwasher straight to the drain or
/// grinder without a listed air-gap fitting. IPC 802.1.6 and IRC P2717: a high loop or an air gap.
/// Supply side: IRC P2717.1. Pressure above 80 psi and hammer arresters: IPC 604.8 and 604.9, from
/// memory. It defers to the local code and to a licensed plumber.
[[nodiscard]] DrainVerdict check_drain(PlumbingCode code, const DrainLayout& layout);

/// EN 1717: an air gap is at least twice the inlet's bore, and at least 20 mm (from memory).
[[nodiscard]] double en_air_gap_mm(double inlet_bore_mm);

}  // namespace kp::physics
