#include "pack/plate.hpp"

#include <doctest/doctest.h>

#include <string>

namespace kp {
namespace {

using pack::match_plate;
using pack::Pack;
using pack::PlateFit;

Pack quill() {
  Pack pack;
  pack.plates = {{"QN 410*", "QN 410 to 430", ""},
                 {"QN 420*", "QN 410 to 430", ""},
                 {"S@ 5##-B", "S 500 to 599", ""}};
  return pack;
}

void check(const char* typed, PlateFit fit, int plate, const char* read_as, const char* message) {
  CAPTURE(std::string(typed));
  const pack::PlateMatch match = match_plate(quill(), typed);
  CHECK(match.fit == fit);
  CHECK(match.plate == plate);
  CHECK(match.read_as == read_as);
  CHECK(match.message == message);
}

TEST_CASE("plate: case, blanks and hyphens do not count") {
  check("QN 410", PlateFit::exact, 0, "QN 410", "");
  check("qn410", PlateFit::exact, 0, "QN410", "");
  check("  qn-4-20 ", PlateFit::exact, 1, "QN-4-20", "");
  check("QN 410-P", PlateFit::exact, 0, "QN 410-P", "");
  check("SA 512-B", PlateFit::exact, 2, "SA 512-B", "");
}

TEST_CASE("plate: signs that worn plates confuse are read the other way, and it is said") {
  check("QN 41O-P", PlateFit::corrected, 0, "QN 410-P", "Read as QN 410-P: O for 0");
  check("QN 4IO", PlateFit::corrected, 0, "QN 410", "Read as QN 410: I for 1, O for 0");
  check("5A 5I2-8", PlateFit::corrected, 2, "SA 512-B",
        "Read as SA 512-B: 5 for S, I for 1, 8 for B");
  check("S8 SBB-B", PlateFit::corrected, 2, "SB 588-B",
        "Read as SB 588-B: 8 for B, S for 5, B for 8");
  check("S0 511B", PlateFit::corrected, 2, "SO 511B", "Read as SO 511B: 0 for O");
}

TEST_CASE("plate: the rest that a star takes is left as it was typed") {
  check("QN 420 O1S", PlateFit::exact, 1, "QN 420 O1S", "");
}

TEST_CASE("plate: the beginning of a number is told from a wrong one") {
  check("Q", PlateFit::partial, 0, "Q", "");
  check("QN 42", PlateFit::partial, 1, "QN 42", "");
  check("S", PlateFit::partial, 2, "S", "");
  check("QN 4I", PlateFit::partial, 0, "QN 41", "Read as QN 41: I for 1");
}

TEST_CASE("plate: what fits nothing has no plate") {
  check("", PlateFit::none, -1, "", "");
  check(" - ", PlateFit::none, -1, "", "");
  check("CB 410", PlateFit::none, -1, "", "");
  check("QN 440", PlateFit::none, -1, "", "");
  check("SA 512-BX", PlateFit::none, -1, "", "");
  check("QN 4\xC3\x98" "0", PlateFit::none, -1, "", "");
  CHECK(match_plate(Pack(), "QN 410").fit == PlateFit::none);
}

TEST_CASE("plate: an exact plate wins over a corrected one, fewer corrections over more") {
  Pack pack;
  pack.plates = {{"A0", "", ""}, {"AO", "", ""}};
  CHECK(match_plate(pack, "ao").plate == 1);
  CHECK(match_plate(pack, "a0").plate == 0);
  pack.plates = {{"A00", "", ""}, {"AO0", "", ""}};
  CHECK(match_plate(pack, "aoo").plate == 1);
  CHECK(match_plate(pack, "aoo").corrections == 1);
}

}  // namespace
}  // namespace kp
