#include <doctest/doctest.h>

#include "base/text.hpp"
#include "physics/drain_rule.hpp"
#include "physics/water.hpp"

// Uniform Plumbing Code 807.3; International Plumbing Code 802.1.6 and International Residential Code
// P2717, read in copies of their texts; IPC 604.8 and 604.9 and EN 1717 from memory.

namespace kp::physics {

TEST_CASE("UPC wants an air gap, a high loop is no help") {
  DrainLayout layout;
  layout.high_loop = true;
  CHECK(!check_drain(PlumbingCode::upc, layout).passes);
  CHECK(check_drain(PlumbingCode::upc, layout).why.front() ==
        "Fit a listed air gap on the drain hose (UPC 807.3).");
  layout.listed_air_gap = true;
  CHECK(check_drain(PlumbingCode::upc, layout).passes);
  layout.gap_above_flood = false;
  CHECK(!check_drain(PlumbingCode::upc, layout).passes);
}

TEST_CASE("IPC and IRC take a high loop or an air gap") {
  DrainLayout layout;
  CHECK(!check_drain(PlumbingCode::ipc, layout).passes);
  layout.high_loop = true;
  CHECK(check_drain(PlumbingCode::ipc, layout).passes);
  layout.high_loop = false;
  layout.listed_air_gap = true;
  CHECK(check_drain(PlumbingCode::ipc, layout).passes);
  layout.supply_protected = false;
  CHECK(!check_drain(PlumbingCode::ipc, layout).passes);
}

TEST_CASE("pressure above 80 psi is told, not refused; the local code goes first") {
  DrainLayout layout;
  layout.high_loop = true;
  layout.hammer_arrester = true;
  layout.supply_pascal = 79 * kPa_per_psi;
  CHECK(check_drain(PlumbingCode::ipc, layout).advice.size() == 1);
  layout.supply_pascal = 81 * kPa_per_psi;
  const DrainVerdict verdict = check_drain(PlumbingCode::ipc, layout);
  CHECK(verdict.passes);
  CHECK(verdict.advice.size() == 2);
  CHECK(verdict.advice.back() == "Follow the local code where it differs.");
  for (const std::string& sentence : verdict.advice) CHECK(split(sentence, ' ').size() <= 20);
}

TEST_CASE("EN 1717: an air gap is twice the bore, and 20 mm at least") {
  CHECK(en_air_gap_mm(8) == 20);
  CHECK(en_air_gap_mm(13) == 26);
}

}  // namespace kp::physics
