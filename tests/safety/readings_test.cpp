// Readings and their series. The truth table is the project's table of published values 1.4 (29 CFR
// 1910.333(b)(2)(iv), GS38, NFPA 70E 120.5 from memory) with the ninth row of the order of safety,
// section 4; numbers are those of its section 5. [read], [2nd], [computed], [ours] as marked there.

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "safety/story.hpp"

using namespace kp;
using namespace kp::safety;
using test::Story;

namespace {

constexpr double kNan = std::numeric_limits<double>::quiet_NaN();

// Held, tried, water shut, and the known source good.
Story begun(Connection connection = Connection::cord) {
  Story story(connection);
  CHECK(story.approach());
  CHECK(story.tell(story.next(story.place), story.place));
  return story;
}

// Reads on until what is wanted next has this role.
void read_up_to(Story& story, Role role) {
  Wanted wanted;
  for (int i = 0; i < 20 && next_of(story.state.series, story.place, wanted); ++i) {
    if (wanted.role == role) {
      return;
    }
    CHECK(story.tell(story.next(story.place), story.place));
  }
}

bool told(Story& story, ReadingTaken reading) { return story.tell(std::move(reading), story.place); }

}  // namespace

TEST_CASE("readings: row 1, known source, all pairs, known source: proven dead") {
  Story story = begun();
  read_up_to(story, Role::known_after);
  CHECK_FALSE(story.is_dead());
  CHECK(told(story, story.next(story.place)));
  CHECK(story.is_dead());
}

TEST_CASE("readings: row 2, the tester died during the test: not proven, from the start") {
  Story story = begun();
  read_up_to(story, Role::known_after);
  ReadingTaken dead = story.next(story.place);
  dead.shown = {true, 0};
  CHECK(told(story, dead));
  CHECK_FALSE(story.is_dead());
  CHECK(story.state.power == Power::held);
  CHECK(story.next(story.place).role == Role::known_before);
  // The same series cannot be mended by touching the source again.
  CHECK_FALSE(told(story, [&] {
    ReadingTaken again = dead;
    again.shown = {false, 120};
    return again;
  }()));
}

TEST_CASE("readings: row 3, volts on a pair are live, back to isolate, known source or not") {
  for (const double volts : {50.0, 118.0, 400.0, -60.0}) {
    Story story = begun();
    ReadingTaken live = story.next(story.place);
    live.shown = {false, volts};
    CHECK(told(story, live));
    CHECK(story.state.power == Power::live);
    CHECK(story.state.exposed);
    CHECK(story.state.lost == Loss::meter_says_live);
    CHECK_FALSE(told(story, story.next(story.place)));
    CHECK(story.was_refused_for("not-held"));
  }
}

TEST_CASE("readings: row 4, a tester that does not show the known source proves nothing") {
  Story story(Connection::cord);
  CHECK(story.approach());
  ReadingTaken known = story.next(story.place);
  known.shown = {true, 0};
  CHECK(told(story, known));
  CHECK(story.next(story.place).role == Role::known_before);
  ReadingTaken pair = known;
  pair.role = Role::pair;
  pair.a = "L";
  pair.b = "N";
  CHECK_FALSE(told(story, pair));
  CHECK(story.was_refused_for("wrong-order"));
}

TEST_CASE("readings: row 5, fewer than all pairs are no proof") {
  Story story = begun();
  for (int pairs = 0; pairs < 3; ++pairs) {
    ReadingTaken after = story.next(story.place);
    after.role = Role::known_after;
    after.a = after.b = "";
    after.shown = {false, 120};
    after.band_low = 104;
    after.band_high = 127;
    CHECK_FALSE(told(story, after));
    CHECK(story.was_refused_for("wrong-order"));
    CHECK(told(story, story.next(story.place)));
  }
  CHECK(told(story, story.next(story.place)));
  CHECK(story.is_dead());
}

TEST_CASE("readings: row 6, too late or with another tester") {
  Story story = begun();
  read_up_to(story, Role::known_after);
  ReadingTaken after = story.next(story.place);
  after.tester = "T2";
  CHECK_FALSE(told(story, after));
  CHECK(story.was_refused_for("other-tester"));
  story.wait((story.law.policy.prove_seconds + 1) * 1000);
  after.tester = "T1";
  CHECK_FALSE(told(story, after));
  CHECK(story.was_refused_for("too-late"));
  CHECK_FALSE(story.is_dead());
}

TEST_CASE("readings: row 7, the known source was not read before") {
  Story story(Connection::cord);
  CHECK(story.approach());
  ReadingTaken pair;
  pair.place = kSupply;
  pair.role = Role::pair;
  pair.a = "L";
  pair.b = "N";
  pair.shown = {true, 0};
  pair.tester = "T1";
  CHECK_FALSE(told(story, pair));
  CHECK(story.was_refused_for("wrong-order"));
}

TEST_CASE("readings: row 8, ohms, diode, amperes, proximity and solenoid prove nothing") {
  for (const MeterFunction function : {MeterFunction::ohms, MeterFunction::diode,
                                       MeterFunction::amperes, MeterFunction::non_contact,
                                       MeterFunction::solenoid, MeterFunction::volts_dc}) {
    CHECK_FALSE(can_prove(function));
    Story story = begun();
    ReadingTaken pair = story.next(story.place);
    pair.function = function;
    CHECK_FALSE(told(story, pair));
    CHECK(story.was_refused_for("wrong-function"));
  }
}

TEST_CASE("readings: row 9, an earth that was not shown is no earth to read against") {
  Story story = begun(Connection::fixed);
  ReadingTaken pair = story.next(story.place);
  CHECK(pair.role == Role::earth_shown);
  pair.role = Role::pair;
  pair.a = "L";
  pair.b = "N";
  pair.function = MeterFunction::two_pole_detector;
  pair.shown = {true, 0};
  CHECK_FALSE(told(story, pair));
  CHECK(story.was_refused_for("wrong-order"));
  // Below 1 Ω to a second earth it is one; at it, or open, it is not.
  for (const double ohm : {1.0, 40.0, 1e6}) {
    ReadingTaken earth = story.next(story.place);
    earth.shown = {false, ohm};
    CHECK(told(story, earth));
    CHECK(story.next(story.place).role == Role::earth_shown);
  }
  ReadingTaken earth = story.next(story.place);
  earth.shown = {false, 0.99};
  CHECK(told(story, earth));
  CHECK(story.next(story.place).role == Role::pair);
}

TEST_CASE("readings: value 13, earth and neutral open, all pairs nil: line to a known earth tells") {
  // [computed] L-N 0.0, L-E 0, N-E 0 with L at 120 V; L to the second earth 120.0.
  Story story = begun(Connection::fixed);
  ReadingTaken sixth = story.next(story.place);
  sixth.function = MeterFunction::volts_ac_low_impedance;
  sixth.shown = {false, 120.0};
  CHECK(told(story, sixth));
  CHECK(story.state.power == Power::live);
  CHECK(story.state.exposed);
}

TEST_CASE("readings: value 1, n conductors have n(n-1)/2 pairs: 3 and 6") {
  CHECK(supply_pairs(System::single).size() == 3);
  CHECK(supply_pairs(System::split).size() == 6);
  // 240 V without neutral: two lines and earth. Order of safety, 1.4.
  CHECK(supply_pairs(System::split, false).size() == 3);
  for (const System system : {System::single, System::split}) {
    const std::vector<Pair> pairs = supply_pairs(system);
    for (std::size_t i = 0; i < pairs.size(); ++i) {
      CHECK(pairs[i].a != pairs[i].b);
      for (std::size_t j = 0; j < i; ++j) {
        CHECK_FALSE(pairs[i] == pairs[j]);
      }
    }
  }
}

TEST_CASE("readings: values 6 and 7, a known source of 230 V, EN 50160 [2nd]") {
  const Range band = outlet_band(230);
  CHECK(band.low == doctest::Approx(195.5).epsilon(1e-9));
  CHECK(band.high == doctest::Approx(253).epsilon(1e-9));
  const auto good = [&](double volts) {
    return judge(Role::known_before, {false, volts}, MeterFunction::volts_ac, band, {}) ==
           Found::source_good;
  };
  CHECK_FALSE(good(195));
  CHECK(good(196));
  CHECK(good(230));
  CHECK(good(253));
  CHECK_FALSE(good(254));
}

TEST_CASE("readings: a known source of 120 V, ANSI C84.1 range B, from memory: 104 to 127 V") {
  const Range band = outlet_band(120);
  CHECK(band.low == doctest::Approx(104).epsilon(1e-9));
  CHECK(band.high == doctest::Approx(127).epsilon(1e-9));
  // 5, 400 and 999 V are no known source of such a house, and a lit step has no volts here.
  for (const double volts : {5.0, 103.0, 128.0, 400.0, 999.0, kNan}) {
    CHECK(judge(Role::known_before, {false, volts}, MeterFunction::volts_ac, band, {}) ==
          Found::source_out);
  }
  CHECK(judge(Role::known_before, {true, 0}, MeterFunction::two_pole_detector, band, {}) ==
        Found::source_out);
}

TEST_CASE("readings: a proving unit has its own band, and none that begins at nothing") {
  Story story(Connection::cord);
  CHECK(story.approach());
  ReadingTaken known = story.next(story.place);
  known.source = Source::proving_unit;
  known.band_low = 220;
  known.band_high = 260;
  known.shown = {false, 240};
  CHECK(told(story, known));
  for (const double low : {0.0, 3.0, 49.0, kNan}) {
    ReadingTaken nothing = known;
    nothing.band_low = low;
    nothing.shown = {true, 0};
    CHECK_FALSE(told(story, nothing));
    CHECK(story.was_refused_for("out-of-range"));
  }
  // An outlet has the band of the house.
  ReadingTaken wide = known;
  wide.source = Source::outlet;
  CHECK_FALSE(told(story, wide));
}

TEST_CASE("readings: value 15, a shared neutral opened: 72 V on its end are live [computed]") {
  CHECK(judge(Role::pair, {false, 72.0}, MeterFunction::volts_ac, {}, {}) == Found::live);
  CHECK(judge(Role::pair, {false, 48.0}, MeterFunction::volts_ac, {}, {}) == Found::ghost);
  CHECK(judge(Role::pair, {false, 48.0}, MeterFunction::volts_ac_low_impedance, {}, {}) ==
        Found::live);
}

TEST_CASE("readings: value 16, the drop of another load on the neutral is nil, 5 V is not") {
  // [computed] 10 A over 50 ft of 14 AWG: 1.263 V; over 15 m of 2.5 mm²: 1.112 V.
  for (const double volts : {1.263, 1.112, 3.0}) {
    CHECK(judge(Role::pair, {false, volts}, MeterFunction::volts_ac_low_impedance, {}, {}) ==
          Found::nil);
  }
  CHECK(judge(Role::pair, {false, 5.0}, MeterFunction::volts_ac, {}, {}) == Found::ghost);
}

TEST_CASE("readings: value 41, below 100 kΩ only a low-impedance range settles a ghost [2nd]") {
  for (int i = 0; i < kMeterFunctions; ++i) {
    const auto function = static_cast<MeterFunction>(i);
    CHECK(is_low_impedance(function) == (function == MeterFunction::volts_ac_low_impedance));
  }
  Story story = begun();
  ReadingTaken ghost = story.next(story.place);
  ghost.shown = {false, 31};
  CHECK(told(story, ghost));
  CHECK(story.state.power == Power::held);
  ReadingTaken same = ghost;
  same.shown = {true, 0};
  CHECK_FALSE(told(story, same));
  CHECK(story.was_refused_for("wrong-order"));
  CHECK(told(story, story.next(story.place)));
  read_up_to(story, Role::known_after);
  CHECK(told(story, story.next(story.place)));
  CHECK(story.is_dead());
  CHECK(story.state.series.readings[1].found == Found::ghost);
}

TEST_CASE("readings: 50 V is the published limit, 29 CFR 1910.333(a)(1) [read], our nil below it") {
  const auto found = [](double volts) {
    return judge(Role::pair, {false, volts}, MeterFunction::volts_ac, {}, {});
  };
  CHECK(found(49.9) == Found::ghost);
  CHECK(found(50.0) == Found::live);
  CHECK(found(3.1) == Found::ghost);
  CHECK(found(3.0) == Found::nil);
  CHECK(found(kNan) == Found::live);
  CHECK(judge(Role::pair, {true, 400}, MeterFunction::two_pole_detector, {}, {}) == Found::nil);
  // No shop may raise it.
  Policy loose;
  loose.live_from_volts = 400;
  loose.nil_volts = 300;
  CHECK(judge(Role::pair, {false, 50}, MeterFunction::volts_ac, {}, loose) == Found::live);
  CHECK(judge(Role::pair, {false, 11}, MeterFunction::volts_ac, {}, loose) == Found::ghost);
}

TEST_CASE("readings: a group is read after the supply, direct voltage too where charge can stand") {
  Story story;
  CHECK(story.approach());
  const Place group = test::group_place("heater", true);
  CHECK_FALSE(story.tell(story.next(group), group));
  CHECK(story.was_refused_for("wrong-order"));
  CHECK(story.prove());
  CHECK(story.prove(group));
  int dc = 0;
  for (const Reading& reading : story.state.series.readings) {
    dc += reading.role == Role::pair_dc ? 1 : 0;
  }
  CHECK(dc == 3);
  CHECK(group_dead(story.state, "heater", story.now(), story.law.policy));
  CHECK_FALSE(group_dead(story.state, "pump", story.now(), story.law.policy));
  // 0 V across a heater of 240 V is no proof: each end to earth is among the pairs (1.4).
  CHECK(group.pairs.size() == 3);
}

TEST_CASE("readings: a place without pairs proves nothing") {
  Story story;
  CHECK(story.approach());
  CHECK(story.prove());
  Place empty;
  empty.id = "nothing";
  (void)story.prove(empty);
  CHECK_FALSE(group_dead(story.state, "nothing", story.now(), story.law.policy));
}

TEST_CASE("readings: reading the supply again gives up what stood on the old proof") {
  Story story;
  CHECK(story.make_safe());
  CHECK(story.prove(test::group_place("pump")));
  CHECK(story.tell([&] {
    const Series none;
    Wanted wanted;
    ReadingTaken known = story.next(story.place);
    (void)next_of(none, story.place, wanted);
    known.role = wanted.role;
    known.a = known.b = "";
    known.shown = {false, 120};
    known.function = MeterFunction::two_pole_detector;
    known.band_low = 104;
    known.band_high = 127;
    return known;
  }(), story.place));
  CHECK_FALSE(story.is_dead());
  CHECK(story.state.groups.empty());
}
