#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>

#include "physics/heat.hpp"
#include "physics/mains.hpp"
#include "physics/sensor.hpp"
#include "physics/wire.hpp"

namespace kp::physics {

using doctest::Approx;

TEST_CASE("copper: IEC 60028, and a physics textbook's metals") {
  CHECK(1 / kCopper_ohm_mm2_per_m == Approx(58));
  CHECK(kCopper_ohm_mm2_per_m == Approx(0.0172414).epsilon(1e-5));
  CHECK(kCopper_per_k == 0.00393);
  struct Row { Metal metal; double ohm_m, per_k; };
  for (const Row& row : {Row{Metal::copper, 1.68e-8, .0039}, Row{Metal::nichrome, 100e-8, .0004},
                         Row{Metal::aluminium, 2.65e-8, .0039}, Row{Metal::iron, 9.71e-8, .0065},
                         Row{Metal::tungsten, 5.60e-8, .0045}, Row{Metal::platinum, 10.60e-8, .0039},
                         Row{Metal::constantan, 49e-8, .00003}}) {
    CHECK(metal(row.metal).ohm_m == Approx(row.ohm_m));
    CHECK(metal(row.metal).per_k == Approx(row.per_k));
  }
  CHECK(copper_to_20(30) == Approx(0.962).epsilon(5e-4));  // IEC 60228 annex
  CHECK(copper_to_20(65) == Approx(0.850).epsilon(6e-4));
  CHECK(copper_to_20_simple(65) == Approx(0.847).epsilon(6e-4));
  CHECK(ohm_at(1, 65) == Approx(1.17685).epsilon(1e-9));
  CHECK(ohm_at(1, 75) == Approx(1.21615).epsilon(1e-9));
  CHECK(ohm_at(1, 90) == Approx(1.27510).epsilon(1e-9));
}

TEST_CASE("IEC 60228: largest resistance of plain copper at 20 °C, ohm a kilometre") {
  struct Row { double mm2, solid, flexible; };
  for (const Row& row : {Row{0.5, 36.0, 39.0}, Row{0.75, 24.5, 26.0}, Row{1, 18.1, 19.5},
                         Row{1.5, 12.1, 13.3}, Row{2.5, 7.41, 7.98}, Row{4, 4.61, 4.95},
                         Row{6, 3.08, 3.30}}) {
    CAPTURE(row.mm2);
    CHECK(iec_ohm_per_km(row.mm2, Strands::solid).value() == row.solid);
    CHECK(iec_ohm_per_km(row.mm2, Strands::flexible).value() == row.flexible);
    // The standard's own metal: never less than what the nominal section of pure copper has.
    CHECK(row.solid > 0.98 * wire_ohm(1000, row.mm2));
    CHECK(row.flexible > row.solid);
  }
  const Result<double> none = iec_ohm_per_km(3, Strands::solid);
  CHECK(!none.has_value());
  CHECK(none.error().code == "unknown-size");
}

TEST_CASE("AWG: ASTM B258's formula against the tables of NBS Circular 31 (AWG 10 from memory)") {
  struct Row { int gauge; double mm, mm2, computed, table; };
  for (const Row& row :
       {Row{10, 2.5882, 5.2612, 0.9989, 0.9989}, Row{12, 2.0525, 3.3088, 1.5883, 1.588},
        Row{14, 1.6277, 2.0809, 2.5254, 2.525}, Row{16, 1.2908, 1.3087, 4.0156, 4.016},
        Row{18, 1.0237, 0.8230, 6.3850, 6.385}, Row{20, 0.8118, 0.5176, 10.1526, 10.15},
        Row{22, 0.6438, 0.3255, 16.1432, 16.14}}) {
    CAPTURE(row.gauge);
    CHECK(awg_mm(row.gauge) == Approx(row.mm).epsilon(1e-4));
    CHECK(awg_mm2(row.gauge) == Approx(row.mm2).epsilon(2e-4));
    CHECK(awg_ohm_per_1000_ft(row.gauge) == Approx(row.computed).epsilon(1e-4));
    CHECK(awg_ohm_per_1000_ft(row.gauge) == Approx(row.table).epsilon(5e-4));
  }
  // 10 A over 50 ft of 14 AWG, and over 15 m of 2.5 mm² class 2: computed.
  CHECK(drop_volt(10, 15.24, awg_ohm_per_1000_ft(14) / 0.3048) == Approx(2.525).epsilon(5e-4));
  CHECK(drop_volt(10, 15, 7.41) == Approx(2.223).epsilon(1e-9));
}

TEST_CASE("heaters: V^2/P with the power's tolerance of IEC 60335-1 (clause not read), computed") {
  struct Row { double watt, volt, ohm, ampere, low, high; };
  for (const Row& row :
       {Row{1800, 230, 29.389, 7.826, 27.989, 32.654}, Row{2000, 230, 26.450, 8.696, 25.190, 29.389},
        Row{1800, 240, 32.000, 7.500, 30.476, 35.556}, Row{1000, 120, 14.400, 8.333, 13.714, 16.000},
        Row{1200, 120, 12.000, 10.000, 11.429, 13.333}, Row{900, 120, 16.000, 7.500, 15.238, 17.778},
        Row{700, 120, 20.571, 5.833, 19.592, 22.857}, Row{800, 120, 18.000, 6.667, 17.143, 20.000}}) {
    CAPTURE(row.watt);
    const HeaterBand band = heater_band(row.watt, row.volt);
    CHECK(band.ohm == Approx(row.ohm).epsilon(5e-5));
    CHECK(band.ampere == Approx(row.ampere).epsilon(1e-4));
    CHECK(band.ohm_high == Approx(row.high).epsilon(5e-5));
    // The table's lower ends are those of +5 %; below 400 W only would +20 W be more.
    CHECK(band.ohm_low == Approx(row.low).epsilon(5e-5));
    CHECK(band.ohm_low_cold < band.ohm_low);
  }
  CHECK(heater_band(300, 120).ohm_low == Approx(14400.0 / 320));
  CHECK(heater_watt_at(2000, 230, 207) == Approx(1620).epsilon(1e-9));
  CHECK(heater_watt_at(2000, 230, 253) == Approx(2420).epsilon(1e-9));
  // Common practice, no source: 120 V heaters 10 to 30 ohm, 230 V heaters 22 to 35 ohm.
  for (const double watt : {700.0, 1200.0}) {
    CHECK(heater_band(watt, 120).ohm_low >= 10);
    CHECK(heater_band(watt, 120).ohm_high <= 30);
  }
  for (const double watt : {1800.0, 2000.0}) {
    CHECK(heater_band(watt, 230).ohm_low >= 22);
    CHECK(heater_band(watt, 230).ohm_high <= 35);
  }
}

TEST_CASE("Pt100: IEC 60751, coefficients from memory, printed table to two decimals") {
  struct Row { double celsius, computed, table; };
  for (const Row& row :
       {Row{-100, 60.2558, 60.26}, Row{-50, 80.3063, 80.31}, Row{0, 100.0000, 100.00},
        Row{20, 107.7935, 107.79}, Row{25, 109.7347, 109.73}, Row{50, 119.3971, 119.40},
        Row{60, 123.2419, 123.24}, Row{65, 125.1600, 125.16}, Row{70, 127.0751, 127.08},
        Row{100, 138.5055, 138.51}, Row{150, 157.3251, 157.33}, Row{200, 175.8560, 175.86}}) {
    CAPTURE(row.celsius);
    CHECK(std::fabs(pt_ohm(row.celsius) - row.computed) < 6e-5);
    CHECK(std::fabs(pt_ohm(row.celsius) - row.table) <= 0.0051);
    CHECK(pt_celsius(pt_ohm(row.celsius)).value() == Approx(row.celsius).epsilon(1e-9));
  }
  CHECK(pt_ohm(-200) == Approx(18.520).epsilon(3e-5));
  CHECK(pt_celsius(125).value() == Approx(64.5827).epsilon(1e-6));
  CHECK(!pt_celsius(5).has_value());
  CHECK(!pt_celsius(1000).has_value());
}

TEST_CASE("NTC by its beta, computed; 10 k with B 3950 at 60 °C is printed as about 2.49 k") {
  const double celsius[] = {0, 10, 20, 25, 49, 50, 60, 65, 70, 85};
  const double a[] = {33620.6, 20174.6, 12535.3, 10000, 3726.9, 3588.2, 2486.2, 2086.4, 1759.8, 1086.7};
  const double b[] = {28704.3, 18410.4, 12171.4, 10000, 4238.8, 4101.2, 2980.9, 2559.3, 2207.2, 1451.3};
  const double c[] = {168103, 100873, 62677, 50000, 18635, 17941, 12431, 10432, 8799, 5433};
  for (int i = 0; i < 10; ++i) {
    CAPTURE(celsius[i]);
    CHECK(ntc_ohm({10'000, 3950}, celsius[i]) == Approx(a[i]).epsilon(5e-5));
    CHECK(ntc_ohm({10'000, 3435}, celsius[i]) == Approx(b[i]).epsilon(5e-5));
    CHECK(ntc_ohm({50'000, 3950}, celsius[i]) == Approx(c[i]).epsilon(1e-4));
    CHECK(ntc_celsius({10'000, 3950}, ntc_ohm({10'000, 3950}, celsius[i])) == Approx(celsius[i]).epsilon(1e-9));
  }
  CHECK(ntc_ohm({10'000, 3950}, 60) == Approx(2490).epsilon(0.002));
  CHECK(ntc_beta_kelvin(10'000, 25, 3588, 50) == Approx(3950.2).epsilon(1e-5));
}

TEST_CASE("a thermostat has two answers and a range between them") {
  // Common practice, no source: a high limit opens at 85 to 105 °C.
  const Thermostat limit{95, 5, 70, true};
  CHECK(thermostat_contact(limit, 20, true) == Contact::closed);
  CHECK(thermostat_contact(limit, 85, true) == Contact::closed);
  CHECK(thermostat_contact(limit, 95, true) == Contact::either);
  CHECK(thermostat_contact(limit, 101, true) == Contact::open);
  CHECK(thermostat_contact(limit, 85, false) == Contact::open);
  CHECK(thermostat_contact(limit, 64, false) == Contact::closed);
  const Thermostat cycling{60, 3, 50, false};
  CHECK(thermostat_contact(cycling, 20, true) == Contact::open);
  CHECK(thermostat_contact(cycling, 64, true) == Contact::closed);
}

TEST_CASE("a PTC is a table: cold, switch, hot (from memory)") {
  const Ptc starter{30, 100, 130, 30'000};
  CHECK(ptc_ohm(starter, 25) == 30);
  CHECK(ptc_ohm(starter, 150) == 30'000);
  CHECK(ptc_ohm(starter, 115) == Approx(30 * std::sqrt(1000.0)));
}

TEST_CASE("mains: IEC 60038, the UK's range and ANSI C84.1, all from memory") {
  CHECK(iec_supply().low == Approx(207));
  CHECK(iec_supply().high == Approx(253));
  CHECK(iec_supply().low == Approx(230 * 0.9));
  CHECK(uk_supply().low == Approx(230 * 0.94));
  CHECK(uk_supply().high == Approx(230 * 1.1));
  CHECK(ansi_range_a(2).low == 228);
  CHECK(ansi_range_a(2).high == 252);
  CHECK(ansi_range_b(2).low == 220);
  CHECK(ansi_range_b(2).high == 254);
  CHECK(ansi_utilisation_least(false) == 108);
  CHECK(ansi_utilisation_least(false, 2) == 216);
  CHECK(ansi_utilisation_least(true) == 104);
  CHECK(ansi_utilisation_least(true, 2) == 208);
}

TEST_CASE("mains: what a house supplies, by the machine's nominal voltage") {
  // 104 and 127 V: ANSI C84.1 range B, utilisation and service, from memory; 208 and 254 V are
  // those of two legs. 195.5 V and 253 V: EN 50160, 230 V - 15 % + 10 %, electrical-contractor.net.
  const auto one = house_supply(120, false);
  REQUIRE(one.has_value());
  CHECK(one->line_neutral.low == 104);
  CHECK(one->line_neutral.high == 127);
  CHECK(one->line_line.high == 0);
  for (const double nominal : {120.0, 240.0}) {
    const auto split = house_supply(nominal, true);
    REQUIRE(split.has_value());
    CHECK(split->line_neutral.low == 104);
    CHECK(split->line_neutral.high == 127);
    CHECK(split->line_line.low == 208);
    CHECK(split->line_line.high == 254);
  }
  const auto europe = house_supply(230, false);
  REQUIRE(europe.has_value());
  CHECK(europe->line_neutral.low == doctest::Approx(195.5));
  CHECK(europe->line_neutral.high == doctest::Approx(253));
  for (const double nominal : {12.0, 100.0, 180.0, 400.0}) {
    CHECK(house_supply(nominal, false).error().code == "no-range");
  }
  CHECK(classify_service(113) == Service::b_low);
  CHECK(classify_service(114) == Service::in_a);
  CHECK(classify_service(126) == Service::in_a);
  CHECK(classify_service(127) == Service::b_high);
  CHECK(classify_service(128) == Service::out);
  CHECK(classify_service(109) == Service::out);
  CHECK(classify_service(226, 2) == Service::b_low);
}

TEST_CASE("earth continuity by the length of the lead (VDE 0701-0702:2008)") {
  struct Row { double metre, step, linear; };
  for (const Row& row : {Row{1.5, .30, .30}, Row{5, .30, .30}, Row{12.5, .40, .40}, Row{20, .50, .50},
                         Row{57.5, 1, 1}, Row{100, 1, 1}}) {
    CAPTURE(row.metre);
    CHECK(earth_limit_ohm(row.metre) == Approx(row.step));
    CHECK(earth_limit_ohm(row.metre, false) == Approx(row.linear));
  }
  CHECK(earth_limit_ohm(6) == Approx(0.4));
  CHECK(earth_limit_ohm(6, false) == Approx(0.3 + 0.1 / 7.5));
  CHECK(earth_current_limit_ma(4.5) == Approx(4.5));
  CHECK(earth_current_limit_ma(2.0) == Approx(3.5));
  CHECK(earth_current_limit_ma(20) == Approx(10));
  // From memory: 0.1 ohm and the lead's own. A lead of 1.5 mm² and 1.5 m has 17 milliohm.
  CHECK(earth_limit_uk_ohm(1.5, 1.5) == Approx(0.1172).epsilon(1e-3));
}

TEST_CASE("bleeders and leakage: t = RC ln(V0/V), E = CV²/2, I = 2 pi f C V, computed") {
  const double root2 = std::sqrt(2.0);
  CHECK(bleed_seconds(0.47e-6, 1e6, 240 * root2, 34).value() == Approx(1.0814).epsilon(5e-5));
  CHECK(bleed_ohm_most(0.47e-6, 1, 240 * root2, 34).value() == Approx(924.7e3).epsilon(1e-4));
  CHECK(bleed_ohm_most(0.47e-6, 1, 230 * root2, 34).value() == Approx(942.2e3).epsilon(1e-4));
  CHECK(bleed_seconds(0.1e-6, 1e6, 230 * root2, 34).value() == Approx(0.2258).epsilon(5e-4));
  CHECK(bleed_seconds(10e-6, 20e3, 400, 50).value() == Approx(0.41589).epsilon(5e-5));
  CHECK(stored_joule(1e-6, 325) == Approx(52.81e-3).epsilon(1e-4));
  CHECK(!bleed_seconds(0, 1e6, 325, 34).has_value());
  CHECK(bleed_seconds(1e-6, 1e6, 30, 34).error().code == "bad-number");
  // Two filter capacitors of 4.7 nF on 230 V, 50 Hz: 2 pi 50 * 9.4e-9 * 230 = 0.679 mA.
  CHECK(leakage_ma(230, 50, 9.4e-9, 0) == Approx(0.679).epsilon(1e-3));
  CHECK(leakage_ma(230, 50, 0, 1e6) == Approx(0.23));
}

}  // namespace kp::physics
