// Stored energy: t = RC ln(V0/V), R = t/(C ln(V0/V)), E = CV^2/2. Rows S1 to S5 are computed from
// these formulas; 34 V and 1 s are IEC 60335-1 clause 22.5, from memory.

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "safety/discharge.hpp"

using namespace kp;

TEST_CASE("discharge: S1, 0.47 uF over 1 Mohm at 240 V fails the rule of plug pins") {
  const auto seconds = safety::discharge_seconds(0.47e-6, 1e6, safety::peak_volt(240), 34);
  REQUIRE(seconds.has_value());
  CHECK(std::fabs(seconds.value() - 1.0814) < 0.00005);
  CHECK(safety::plug_pins_safe(0.47e-6, 1e6, 240).value() == false);
}

TEST_CASE("discharge: S2, the largest resistor for one second") {
  const auto at_240 = safety::discharge_ohm_most(0.47e-6, 1, safety::peak_volt(240), 34);
  REQUIRE(at_240.has_value());
  CHECK(std::fabs(at_240.value() - 924.7e3) < 50);
  const auto at_230 = safety::discharge_ohm_most(0.47e-6, 1, safety::peak_volt(230), 34);
  REQUIRE(at_230.has_value());
  CHECK(std::fabs(at_230.value() - 942.2e3) < 50);
  CHECK(safety::plug_pins_safe(0.47e-6, 924e3, 240).value() == true);
}

TEST_CASE("discharge: S3, 0.10 uF over 1 Mohm at 230 V") {
  const auto seconds = safety::discharge_seconds(0.10e-6, 1e6, safety::peak_volt(230), 34);
  REQUIRE(seconds.has_value());
  CHECK(std::fabs(seconds.value() - 0.2258) < 0.00005);
}

TEST_CASE("discharge: S4, 10 uF over 20 kohm from 400 V to 50 V") {
  const auto seconds = safety::discharge_seconds(10e-6, 20e3, 400, 50);
  REQUIRE(seconds.has_value());
  CHECK(std::fabs(seconds.value() - 0.41589) < 0.000005);
}

TEST_CASE("discharge: S5, 1 uF at 325 V holds 52.81 mJ") {
  const auto joule = safety::stored_joule(1e-6, 325);
  REQUIRE(joule.has_value());
  CHECK(std::fabs(joule.value() - 52.81e-3) < 0.005e-3);
}

TEST_CASE("discharge: the two formulas undo each other") {
  const double ohm = safety::discharge_ohm_most(2.2e-6, 3.5, 170, 12).value();
  CHECK(safety::discharge_seconds(2.2e-6, ohm, 170, 12).value() == doctest::Approx(3.5));
  CHECK(safety::discharge_seconds(1e-6, 1e6, 100, 100).value() == 0);
}

TEST_CASE("discharge: small capacitors and low voltages need no resistor") {
  CHECK(safety::plug_pins_safe(0.1e-6, 1e9, 240).value() == true);
  CHECK(safety::plug_pins_safe(1e-6, 1e9, 24).value() == true);
}

TEST_CASE("discharge: nonsense is an error that names the quantity") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK(safety::discharge_seconds(0, 1, 2, 1).error().where == "capacitance");
  CHECK(safety::discharge_seconds(1, nan, 2, 1).error().where == "resistance");
  CHECK(safety::discharge_seconds(1, 1, -2, 1).error().where == "start voltage");
  CHECK(safety::discharge_seconds(1, 1, 2, 0).error().where == "end voltage");
  CHECK(safety::discharge_seconds(1, 1, 1, 2).error().code == "bad-quantity");
  CHECK(safety::discharge_ohm_most(1, 0, 2, 1).error().where == "time");
  CHECK_FALSE(safety::discharge_ohm_most(1, 1, 2, 2).has_value());
  CHECK_FALSE(safety::stored_joule(-1, 2).has_value());
  CHECK_FALSE(safety::plug_pins_safe(1e-6, 0, 240).has_value());
}

TEST_CASE("discharge: value 18 of the order of safety, 45 uF over 20 kohm from 169.7 V [computed]") {
  // 20 kohm, 2 W is in public guides [2nd]; the peak of the power stays below it.
  const double peak = safety::peak_volt(120);
  CHECK(peak == doctest::Approx(169.7).epsilon(0.005));
  CHECK(safety::discharge_seconds(45e-6, 20e3, peak, 50).value() == doctest::Approx(1.100).epsilon(0.005));
  CHECK(safety::discharge_seconds(45e-6, 20e3, peak, 34).value() == doctest::Approx(1.447).epsilon(0.005));
  CHECK(safety::discharge_seconds(45e-6, 20e3, peak, 5).value() == doctest::Approx(3.172).epsilon(0.005));
  CHECK(safety::stored_joule(45e-6, peak).value() == doctest::Approx(0.648).epsilon(0.005));
  CHECK(peak * peak / 20e3 == doctest::Approx(1.44).epsilon(0.005));
}
