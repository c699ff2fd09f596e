#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <string>

#include "circuit/meter.hpp"

// A meter of 6000 counts; the ranges are common practice, no source. Its digits follow from them.

namespace kp::circuit {
namespace {

std::string shows(Mode mode, double exact) { return display(Meter{}, mode, exact).text; }

}  // namespace

TEST_CASE("ohms: each range has its step, its prefix and its end") {
  CHECK(shows(Mode::ohms, 0) == "0.0 Ω");
  CHECK(shows(Mode::ohms, 0.04) == "0.0 Ω");
  CHECK(shows(Mode::ohms, 16.04) == "16.0 Ω");
  CHECK(shows(Mode::ohms, 599.94) == "599.9 Ω");
  CHECK(shows(Mode::ohms, 599.96) == "0.600 kΩ");
  CHECK(shows(Mode::ohms, 1234.4) == "1.234 kΩ");
  CHECK(shows(Mode::ohms, 12'344) == "12.34 kΩ");
  CHECK(shows(Mode::ohms, 123'440) == "123.4 kΩ");
  CHECK(shows(Mode::ohms, 5e6) == "5.000 MΩ");
  CHECK(shows(Mode::ohms, 59.99e6) == "59.99 MΩ");
  CHECK(shows(Mode::ohms, 60e6) == "OL");
  CHECK(shows(Mode::ohms, std::numeric_limits<double>::infinity()) == "OL");
}

TEST_CASE("continuity: beeps below thirty ohm, knows one range only") {
  CHECK(display(Meter{}, Mode::continuity, 0.3).beeps);
  CHECK(display(Meter{}, Mode::continuity, 29.9).beeps);
  CHECK_FALSE(display(Meter{}, Mode::continuity, 30).beeps);
  CHECK_FALSE(display(Meter{}, Mode::ohms, 0.3).beeps);
  CHECK(shows(Mode::continuity, 120) == "120.0 Ω");
  CHECK(shows(Mode::continuity, 700) == "OL");
}

TEST_CASE("volts and amperes") {
  CHECK(shows(Mode::volts, 0.0719) == "0.072 V");
  CHECK(shows(Mode::volts, 24.004) == "24.00 V");
  CHECK(shows(Mode::volts, 117.1084) == "117.1 V");
  CHECK(shows(Mode::volts_low_z, 230) == "230.0 V");
  CHECK(shows(Mode::volts, 600) == "OL");
  CHECK(shows(Mode::amperes, 7.2289) == "7.23 A");
  CHECK(shows(Mode::amperes, 75.04) == "75.0 A");
  CHECK(display(leakage_clamp(), Mode::amperes, 2.3e-3).text == "2.30 mA");
  CHECK(display(leakage_clamp(), Mode::amperes, 0.1234).text == "123.4 mA");
}

TEST_CASE("what is shown never falls when the true value rises, and is no further off than half a step") {
  for (const Mode mode : {Mode::ohms, Mode::volts, Mode::amperes}) {
    double before = 0;
    for (double exact = 1e-4; exact < 1e9; exact *= 1.001) {
      const Reading reading = display(Meter{}, mode, exact);
      if (reading.state == State::over) break;
      CHECK(reading.value >= before);
      CHECK(std::abs(reading.value - exact) <= reading.step * 0.500001);
      before = reading.value;
    }
  }
}

TEST_CASE("the meter's own error: a share of the reading and its last digits") {
  const Reading ohms = display(Meter{}, Mode::ohms, 16);
  CHECK(ohms.error == doctest::Approx(0.009 * 16 + 3 * 0.1));
  const Reading volts = display(Meter{}, Mode::volts, 120);
  CHECK(volts.error == doctest::Approx(0.01 * 120 + 3 * 0.1));
}

}  // namespace kp::circuit
