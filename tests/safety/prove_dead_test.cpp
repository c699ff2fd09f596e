// The three-point test as a truth table: rows of the project's table of published values, which
// follows 29 CFR 1910.333(b)(2)(iv), GS38 and NFPA 70E 120.5 (the last from memory).

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "base/text.hpp"
#include "safety/prove_dead.hpp"
#include "safety/story.hpp"

using namespace kp;
using safety::MeterFunction;
using safety::ProveVerdict;
using safety::Reading;
using safety::Station;

namespace {

struct Shown {
  double k1 = 121;          // below zero: not done
  std::vector<double> pairs = {0, 0, 0};
  double k2 = 121;          // below zero: not done
  MeterFunction function = MeterFunction::volts_ac;
  std::int64_t k2_after_s = 60;
  std::string k2_meter = "T1";
};

std::vector<Reading> readings_of(const Shown& shown) {
  std::vector<Reading> out;
  std::int64_t id = 0;
  const auto put = [&](Station station, double volts, MeterFunction function,
                       const std::string& meter, std::int64_t after_s) {
    out.push_back(Reading{station, volts, function, meter, {1000 * after_s, 0}, ++id});
  };
  if (shown.k1 >= 0) {
    put(Station::known_before, shown.k1, MeterFunction::volts_ac, "T1", 0);
  }
  const Station stations[] = {Station::line_neutral, Station::line_earth, Station::neutral_earth};
  for (std::size_t i = 0; i < shown.pairs.size(); ++i) {
    put(stations[i], shown.pairs[i], shown.function, "T1", 10);
  }
  if (!(shown.k2 < 0)) {
    put(Station::known_after, shown.k2, MeterFunction::volts_ac, shown.k2_meter, shown.k2_after_s);
  }
  return out;
}

// 50 V as the published limit, no ghost band of our own.
safety::Policy published() {
  safety::Policy policy;
  policy.dead_below_volts = 50;
  return policy;
}

ProveVerdict verdict(const Shown& shown, const safety::Policy& policy = published()) {
  return safety::judge(readings_of(shown), policy, true);
}

}  // namespace

TEST_CASE("prove dead: eight rows in, eight verdicts out") {
  Shown row1;
  CHECK(verdict(row1) == ProveVerdict::proven_dead);

  Shown row2;
  row2.k2 = 0;
  CHECK(verdict(row2) == ProveVerdict::tester_died);

  Shown row3;
  row3.pairs = {0, 120, 0};
  CHECK(verdict(row3) == ProveVerdict::live);
  row3.k2 = 0;
  CHECK(verdict(row3) == ProveVerdict::live);

  Shown row4;
  row4.k1 = 0;
  CHECK(verdict(row4) == ProveVerdict::tester_faulty);
  row4.pairs = {120, 120, 120};
  row4.k2 = 0;
  CHECK(verdict(row4) == ProveVerdict::tester_faulty);

  Shown row5;
  row5.pairs = {0, 0};
  CHECK(verdict(row5) == ProveVerdict::incomplete);

  Shown row6_late;
  row6_late.k2_after_s = safety::Policy{}.prove_seconds + 1;
  CHECK(verdict(row6_late) == ProveVerdict::late_or_other);
  Shown row6_other;
  row6_other.k2_meter = "T2";
  CHECK(verdict(row6_other) == ProveVerdict::late_or_other);

  Shown row7;
  row7.k1 = -1;
  CHECK(verdict(row7) == ProveVerdict::not_before);

  Shown row8;
  row8.function = MeterFunction::ohms;
  CHECK(verdict(row8) == ProveVerdict::wrong_function);
  row8.function = MeterFunction::diode;
  CHECK(verdict(row8) == ProveVerdict::wrong_function);
}

TEST_CASE("prove dead: the eight verdicts have eight codes and eight remedies") {
  for (int a = 0; a < safety::kProveVerdicts; ++a) {
    const safety::VerdictWords& one = safety::words_of(static_cast<ProveVerdict>(a));
    CHECK(std::string(one.remedy).size() > 10);
    for (int b = a + 1; b < safety::kProveVerdicts; ++b) {
      const safety::VerdictWords& two = safety::words_of(static_cast<ProveVerdict>(b));
      CHECK(std::string(one.code) != two.code);
      CHECK(std::string(one.title) != two.title);
      CHECK(std::string(one.remedy) != two.remedy);
    }
  }
}

TEST_CASE("prove dead: 50 V is the limit, 29 CFR 1910.333(a)(1)") {
  Shown shown;
  shown.pairs = {49.9, 0, 0};
  CHECK(verdict(shown) == ProveVerdict::proven_dead);
  shown.pairs = {50.0, 0, 0};
  CHECK(verdict(shown) == ProveVerdict::live);
  shown.pairs = {0, 0, -60};
  CHECK(verdict(shown) == ProveVerdict::live);
}

TEST_CASE("prove dead: our own stricter band is ghost voltage, not death") {
  const safety::Policy ours;
  Shown shown;
  shown.pairs = {9.9, 0, 0};
  CHECK(verdict(shown, ours) == ProveVerdict::proven_dead);
  for (const double volts : {10.0, 31.0, 49.9}) {
    shown.pairs = {0, volts, 0};
    CHECK(verdict(shown, ours) == ProveVerdict::ghost);
  }
  CHECK(std::string(safety::words_of(ProveVerdict::ghost).remedy).find("low-impedance") !=
        std::string::npos);
}

TEST_CASE("prove dead: a reading that is not a number is live") {
  const double odd[] = {std::numeric_limits<double>::quiet_NaN(),
                        std::numeric_limits<double>::infinity()};
  for (const double volts : odd) {
    Shown shown;
    shown.pairs = {0, 0, volts};
    CHECK(verdict(shown) == ProveVerdict::live);
    Shown source;
    source.k2 = volts;
    CHECK(verdict(source) == ProveVerdict::tester_died);
  }
}

TEST_CASE("prove dead: proximity and solenoid testers prove nothing, OSHA on 1910.333") {
  for (int i = 0; i < safety::kMeterFunctions; ++i) {
    const auto function = static_cast<MeterFunction>(i);
    Shown shown;
    shown.function = function;
    const bool proves = function == MeterFunction::volts_ac ||
                        function == MeterFunction::volts_ac_low_impedance ||
                        function == MeterFunction::two_pole_detector;
    CHECK(safety::can_prove(function) == proves);
    CHECK((verdict(shown) == ProveVerdict::proven_dead) == proves);
    // A tester that cannot prove death still tells of life, where it shows volts at all.
    shown.pairs = {120, 0, 0};
    const bool shows = proves || function == MeterFunction::volts_dc ||
                       function == MeterFunction::non_contact ||
                       function == MeterFunction::solenoid;
    CHECK((verdict(shown) == ProveVerdict::live) == shows);
  }
}

TEST_CASE("prove dead: only one of all the 3^5 outcomes is death") {
  // Each of the five readings missing, good or bad; in every combination.
  int dead = 0;
  for (int code = 0; code < 243; ++code) {
    std::vector<Reading> readings;
    int rest = code;
    for (int i = 0; i < safety::kStations; ++i, rest /= 3) {
      const auto station = static_cast<Station>(i);
      const bool known = i == 0 || i == 4;
      const double volts = (rest % 3 == 1) == known ? 121 : 0;
      if (rest % 3 != 0) {
        readings.push_back({station, volts, MeterFunction::volts_ac, "T1", {i * 1000, 0}, i + 1});
      }
    }
    dead += safety::judge(readings, {}, true) == ProveVerdict::proven_dead ? 1 : 0;
    CHECK((safety::judge(readings, {}) == ProveVerdict::proven_dead) ==
          (safety::judge(readings, {}, true) == ProveVerdict::proven_dead));
  }
  CHECK(dead == 1);
}

TEST_CASE("prove dead: readings out of their time order prove nothing") {
  std::vector<Reading> readings = readings_of(Shown{});
  readings[2].at.utc_ms = 70'000;  // after K2
  CHECK(safety::judge(readings, {}) == ProveVerdict::late_or_other);
  readings = readings_of(Shown{});
  readings[1].at.utc_ms = -1;  // before K1
  CHECK(safety::judge(readings, {}) == ProveVerdict::late_or_other);
}

TEST_CASE("prove dead: the next reading follows the order and stops at a verdict") {
  std::vector<Reading> readings;
  const std::vector<Reading> all = readings_of(Shown{});
  for (int i = 0; i < safety::kStations; ++i) {
    CHECK(safety::next_reading(readings, {}) == static_cast<Station>(i));
    CHECK(safety::judge(readings, {}) == ProveVerdict::unfinished);
    readings.push_back(all[to_size(i)]);
  }
  CHECK_FALSE(safety::next_reading(readings, {}).has_value());
  CHECK(safety::judge(readings, {}) == ProveVerdict::proven_dead);
  CHECK(safety::judge({}, {}) == ProveVerdict::unfinished);
  CHECK(safety::judge({}, {}, true) == ProveVerdict::not_before);
}

TEST_CASE("prove dead: fields take 0 to 1000 V and say what is good") {
  const safety::Policy policy;
  const safety::StationRange pair = safety::range_of(Station::line_earth, policy);
  CHECK(pair.field_low == 0);
  CHECK(pair.field_high == 1000);
  CHECK(pair.good_high == policy.dead_below_volts);
  const safety::StationRange known = safety::range_of(Station::known_after, policy);
  CHECK(known.good_low == policy.known_low_volts);
  CHECK(known.good_high == policy.known_high_volts);

  test::Story story;
  CHECK(story.prepare(safety::Connection::fixed));
  CHECK(story.tell(safety::EventKind::stopped));
  CHECK(story.isolate(safety::Means::breaker_locked, "L1"));
  CHECK(story.tell(safety::EventKind::controls_tried));
  for (const double nonsense : {-1.0, 1000.1, std::nan("")}) {
    CHECK_FALSE(story.read(Station::known_before, nonsense));
    CHECK(story.was_refused_for("reading-out-of-range"));
  }
  CHECK_FALSE(story.read(Station::known_before, 121, MeterFunction::volts_ac, ""));
  CHECK(story.was_refused_for("meter-missing"));
  CHECK(story.read(Station::known_before, 121));
}

TEST_CASE("prove dead: each failing verdict leads back to the first reading") {
  const double bad_k1 = 3;
  test::Story story;
  CHECK(story.prepare(safety::Connection::fixed));
  CHECK(story.tell(safety::EventKind::stopped));
  CHECK(story.isolate(safety::Means::breaker_locked, "L1"));
  CHECK(story.tell(safety::EventKind::controls_tried));
  CHECK(story.read(Station::known_before, bad_k1));
  CHECK(story.state.verdict == ProveVerdict::tester_faulty);
  CHECK_FALSE(story.read(Station::line_neutral, 0));
  CHECK(story.was_refused_for("wrong-order"));
  CHECK(story.prove());
  CHECK(story.state.verdict == ProveVerdict::proven_dead);
}

TEST_CASE("prove dead: a live pair sends the worker back to isolate") {
  test::Story story;
  CHECK(story.make_safe());
  CHECK(story.hands_in());
  CHECK(story.read(Station::known_before, 121));
  CHECK_FALSE(story.hands_in());
  CHECK(story.read(Station::line_neutral, 118));
  CHECK(story.state.power == safety::PowerState::taken_as_live);
  CHECK(story.state.verdict == ProveVerdict::live);
  CHECK(story.state.lost == safety::VoidCause::meter_says_live);
  CHECK_FALSE(story.read(Station::known_before, 121));
  CHECK(story.was_refused_for("power-not-isolated"));
}
