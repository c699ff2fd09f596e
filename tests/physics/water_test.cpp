#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>

#include "physics/fill.hpp"
#include "physics/heat.hpp"
#include "physics/water.hpp"

// Sources: hydrostatics and orifice flow from any textbook of hydraulics; water's density and heat
// from tables of IAPWS-95 values; units as NIST SP 811 defines them. Figures computed from these
// unless a line says where they are printed.

namespace kp::physics {

using doctest::Approx;

namespace {

double psi(double value) { return value * kPa_per_psi; }
double bar(double value) { return value * kPa_per_bar; }

}  // namespace

TEST_CASE("water's density and heat, as printed in the tables") {
  CHECK(water_density_kg_m3(20) == Approx(998.2071).epsilon(1e-7));
  CHECK(water_density_kg_m3(40) == Approx(992.2).epsilon(5e-5));
  CHECK(water_density_kg_m3(50) == Approx(988.0).epsilon(5e-5));
  CHECK(water_density_kg_m3(60) == Approx(983.2).epsilon(5e-5));
  CHECK(water_density_kg_m3(65) == Approx(980.5).epsilon(1e-4));  // between; IAPWS-95 from memory
  CHECK(water_density_kg_m3(70) == Approx(977.8).epsilon(5e-5));
  CHECK(water_heat_j_per_kg_k(20) == Approx(4181.8));
  CHECK(water_heat_j_per_kg_k(40) == Approx(4178.5));
  CHECK(water_heat_j_per_kg_k(50) == Approx(4180.6));
  CHECK(water_heat_j_per_kg_k(60) == Approx(4184.3));
  CHECK(water_heat_j_per_kg_k(65) == Approx(4187).epsilon(1e-4));
  CHECK(water_heat_j_per_kg_k(70) == Approx(4189.5));
  CHECK(kVaporise_j_per_kg == Approx(2256e3));  // at 100 °C, textbook of physics
}

TEST_CASE("W1 to W4: heat-up with 1 kg a litre and 4184 J/kg K") {
  CHECK(water_heat_joule(3.5, 15, 60) == Approx(658'980).epsilon(1e-9));
  CHECK(heat_up_seconds(3.5, 15, 60, 1800) == Approx(366.1).epsilon(1e-3));
  CHECK(heat_up_seconds(3.5, 15, 60, 1800) / 60 == Approx(6.10).epsilon(1e-3));
  CHECK(water_heat_joule(3.5, 15, 65) == Approx(732'200).epsilon(1e-9));
  CHECK(water_heat_joule(3.5, 15, 65) / 3.6e6 == Approx(0.2034).epsilon(1e-3));
  CHECK(heat_up_seconds(3.5, 15, 65, 1800) == Approx(406.8).epsilon(1e-3));
  CHECK(water_heat_joule(4, 49, 65) == Approx(267'776).epsilon(1e-9));
  CHECK(heat_up_seconds(4, 49, 65, 800) == Approx(334.7).epsilon(1e-3));
  CHECK(water_heat_joule(4, 10, 55) == Approx(753'120).epsilon(1e-9));
  CHECK(heat_up_seconds(4, 10, 55, 2000) == Approx(376.6).epsilon(1e-3));
  CHECK(heated_celsius(4, 10, 2000, heat_up_seconds(4, 10, 55, 2000, 0.8), 0.8) == Approx(55));
}

TEST_CASE("W6: aluminium pan with water (example of a textbook of physics)") {
  CHECK(heat_joule(0.5, 900, 60) == Approx(27.0e3).epsilon(0.005));
  CHECK(heat_joule(0.25, 4186, 60) == Approx(62.8e3).epsilon(0.005));
  CHECK(heat_joule(0.5, 900, 60) + heat_joule(0.25, 4186, 60) == Approx(89.8e3).epsilon(0.005));
}

TEST_CASE("W7: the regulator's water constant (10 CFR 430 appendix C1, from memory)") {
  CHECK(regulator_water_kwh(1, 70) == Approx(0.168));
  const double physics = water_heat_joule(kLitre_per_us_gallon, 0, 70 / 1.8) / 3.6e6;
  CHECK(physics == Approx(0.1707).epsilon(0.003));
}

TEST_CASE("degrees Fahrenheit") {
  CHECK(celsius_of_fahrenheit(120) == Approx(48.889).epsilon(1e-4));
  CHECK(celsius_of_fahrenheit(140) == Approx(60));
  CHECK(celsius_of_fahrenheit(50) == Approx(10));
}

TEST_CASE("F1 to F5: pressure and head") {
  CHECK(head_m(psi(1), 20) == Approx(0.70433).epsilon(1e-5));
  CHECK(head_m(psi(1), 4) == Approx(0.70309).epsilon(2e-5));
  CHECK(head_m(psi(1), 4) / 0.3048 == Approx(2.3067).epsilon(2e-5));
  CHECK(head_pascal(1, 20) == Approx(9789.07).epsilon(1e-6));
  CHECK(head_pascal(1, 20) / kPa_per_psi == Approx(1.41978).epsilon(1e-5));
  struct Row { double psi, kpa, metre; };
  for (const Row& row : {Row{20, 137.90, 14.087}, Row{35, 241.32, 24.652}, Row{80, 551.58, 56.347},
                         Row{120, 827.37, 84.520}}) {
    CHECK(psi(row.psi) / 1000 == Approx(row.kpa).epsilon(5e-5));
    CHECK(head_m(psi(row.psi)) == Approx(row.metre).epsilon(5e-5));
  }
  CHECK(bar(0.3) / kPa_per_psi == Approx(4.35).epsilon(1e-3));
  CHECK(bar(1) / kPa_per_psi == Approx(14.50).epsilon(1e-3));
  CHECK(bar(8) / kPa_per_psi == Approx(116.03).epsilon(1e-4));
  CHECK(bar(10) / kPa_per_psi == Approx(145.04).epsilon(1e-4));
  CHECK(head_pascal(.050) == Approx(489.5).epsilon(2e-4));
  CHECK(head_pascal(.080) == Approx(783.1).epsilon(2e-4));
  CHECK(head_pascal(.100) == Approx(978.9).epsilon(2e-4));
  CHECK(head_pascal(.150) == Approx(1468.4).epsilon(2e-4));
}

TEST_CASE("F6 to F10: orifices and fill times") {
  CHECK(orifice_litre_per_minute(3.0, bar(1)) == Approx(3.722).epsilon(5e-4));
  CHECK(orifice_litre_per_minute(3.0, bar(1)) / 60'000 == Approx(6.2034e-5).epsilon(5e-4));
  CHECK(fill_seconds(3.5, orifice_litre_per_minute(3.0, bar(1))) == Approx(56.4).epsilon(1e-3));
  CHECK(orifice_litre_per_minute(2.5, bar(2)) == Approx(3.655).epsilon(5e-4));
  CHECK(fill_seconds(3.5, orifice_litre_per_minute(2.5, bar(2))) == Approx(57.5).epsilon(1e-3));
  CHECK(flow_ratio(psi(120), psi(20)) == Approx(std::sqrt(6.0)).epsilon(1e-9));
  CHECK(flow_ratio(psi(120), psi(20)) == Approx(2.4495).epsilon(1e-4));
  CHECK(fill_seconds(3.5, 2.5) == Approx(84.0));
  CHECK(fill_seconds(4, kLitre_per_us_gallon) == Approx(63.40).epsilon(1e-4));
}

TEST_CASE("F11 to F14: water hammer, lift, fall") {
  CHECK(bar(17.97) == Approx(hammer_pascal(1200, 1.5)).epsilon(5e-4));
  CHECK(bar(11.98) == Approx(hammer_pascal(1200, 1.0)).epsilon(5e-4));
  CHECK(lift_watt(1, 10) == Approx(1.63).epsilon(2e-3));
  CHECK(free_fall_m_s(0.8) == Approx(3.961).epsilon(2e-4));
}

TEST_CASE("a fill time is judged by the pressure") {
  const Inlet washer{3.0, 2.5, 0.15, bar(1)};
  // 3.5 L at 2.5 L/min is F10's 84 s.
  CHECK(check_fill(washer, 3.5, bar(3), 84).verdict == FillVerdict::plausible);
  CHECK(check_fill(washer, 3.5, bar(8), 84).verdict == FillVerdict::plausible);
  CHECK(check_fill(washer, 3.5, bar(3), 130).verdict == FillVerdict::too_slow);
  CHECK(check_fill(washer, 3.5, bar(3), 40).verdict == FillVerdict::too_fast);
  CHECK(check_fill(washer, 3.5, 0, 84).verdict == FillVerdict::no_pressure);
  // Below the washer's pressure it lets in less; the same time is then too fast to be true.
  CHECK(inlet_rate(washer, bar(0.1)).high_litre_per_minute < 2.5);
  const Inlet bare{3.0, 0, 0, 0};
  CHECK(check_fill(bare, 3.5, bar(1), 56.4).verdict == FillVerdict::plausible);  // F6
  CHECK(check_fill(bare, 3.5, bar(4), 56.4).verdict == FillVerdict::too_slow);
  // Common practice, no source: fills of 3 to 4.5 L take 45 to 120 s on 20 to 120 psi.
  for (const double pressure : {psi(20), psi(120)}) {
    const FillCheck check = check_fill(washer, 3.5, pressure, 84);
    CHECK(check.least_seconds >= 45);
    CHECK(check.most_seconds <= 120);
  }
}

TEST_CASE("a pump lifts no higher than its head (about 1.0 m: common practice, no source)") {
  CHECK(check_lift(1.0, 0.8).lifts);
  CHECK(check_lift(1.0, 0.8).spare_m == Approx(0.2));
  CHECK(!check_lift(1.0, 1.1).lifts);
}

}  // namespace kp::physics
