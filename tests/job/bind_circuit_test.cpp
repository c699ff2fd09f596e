#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "base/text.hpp"
#include "job/bind_circuit.hpp"
#include "job/work.hpp"

// The machine that ships as a circuit: its bands against its plate and the textbook, its strips
// against its chart, each fault against the test that should find it.

namespace kp {
namespace {

const pack::Pack& machine() { return test::shipped_library().models.front().pack; }

const circuit::Netlist& netlist() {
  static const circuit::Netlist bound = job::bind_circuit(machine());
  return bound;
}

const pack::Test& test_of(const char* id) {
  const int index = machine().test(id);
  CAPTURE(std::string(id));
  REQUIRE(index >= 0);
  return machine().tests[to_size(index)];
}

const pack::Fault& fault_of(const char* id) {
  const int index = machine().fault(id);
  CAPTURE(std::string(id));
  REQUIRE(index >= 0);
  return machine().faults[to_size(index)];
}

int element_of(const char* id) {
  const int index = machine().circuit.element(id);
  CAPTURE(std::string(id));
  REQUIRE(index >= 0);
  return index;
}

circuit::Band good(const char* id) { return job::good_band(machine(), netlist(), test_of(id)); }

circuit::Band bad(const char* id, const char* fault) {
  return job::fault_band(machine(), netlist(), test_of(id), {machine().fault(fault)});
}

bool apart(const circuit::Band& a, const circuit::Band& b) {
  return a.shown_high < b.shown_low || b.shown_high < a.shown_low;
}

TEST_CASE("bind circuit: an insulation above the instrument's range is good, not a fault") {
  // At least 1.0 MΩ for class I, no upper limit: EN 50678 (VDE 0701), second hand.
  for (const char* id : {"heater-insulation", "motor-insulation"}) {
    const pack::Test& test = test_of(id);
    CHECK(job::in_band(test, 0, true));
    CHECK(job::in_band(test, 19'999, false));
    CHECK(job::in_band(test, 1, false));
    CHECK_FALSE(job::in_band(test, 0.99, false));
    CHECK(job::band_words(test) == "1 MΩ or more");
  }
  // A capacitor has both limits.
  CHECK_FALSE(job::in_band(test_of("capacitor-microfarad"), 0, true));
  CHECK_FALSE(job::in_band(test_of("capacitor-microfarad"), 60, false));
}

TEST_CASE("bind circuit: both rooms write kinds and effects with the same words") {
  std::vector<std::string> kinds = pack::element_kind_words();
  kinds.push_back("supply");
  CHECK(kinds == circuit::kind_words());
  CHECK(static_cast<int>(circuit::FaultKind::earth_leak) + 1 ==
        static_cast<int>(pack::Effect::earth_leak));
  CHECK(static_cast<int>(circuit::FaultKind::open) + 1 == static_cast<int>(pack::Effect::open));
  CHECK(pack::effect_words().size() == static_cast<std::size_t>(pack::Effect::earth_leak));
}

TEST_CASE("bind circuit: indices are kept, the supply comes last, units are turned to SI") {
  const circuit::Netlist& net = netlist();
  CHECK(circuit::check(net).faults() == 0);
  REQUIRE(net.elements.size() == machine().circuit.elements.size() + 1);
  CHECK(net.elements.back().kind == circuit::Kind::supply);
  CHECK(net.elements.back().rated_ampere == machine().supply.breaker_amperes);
  CHECK(net.hertz == 60);
  for (std::size_t i = 0; i < machine().circuit.elements.size(); ++i) {
    CHECK(net.elements[i].name == machine().circuit.elements[i].name);
    CHECK(net.elements[i].a == machine().circuit.elements[i].a);
    CHECK(net.elements[i].pullable == !machine().circuit.elements[i].terminal.empty());
  }
  CHECK(net.elements[to_size(element_of("capacitor"))].farad.typical == doctest::Approx(45e-6));
  CHECK(net.elements[to_size(element_of("main-winding"))].henry.typical == doctest::Approx(0.079));
  CHECK(net.earth == machine().circuit.node("frame"));
  CHECK(net.nodes[to_size(machine().circuit.node("heater-a"))].name == "Heater, leg A");
}

TEST_CASE("bind circuit: the heater reads V²/P, a little less when cold") {
  // 1000 W at 120 V, power +5 % or -10 % (IEC 60335-1 clause 10.1, table 1), cold 5 % lower (from
  // memory): 13.03 to 16.00 Ω. The meter adds 0.9 % and 3 digits of 0.1 Ω (common practice).
  const circuit::Band band = good("heater-ohms");
  CHECK(band.state == circuit::State::shown);
  CHECK(band.low == doctest::Approx(120.0 * 120 / 1050 * 0.95).epsilon(0.001));
  CHECK(band.high == doctest::Approx(120.0 * 120 / 900).epsilon(0.001));
  CHECK(band.shown_low == doctest::Approx(band.low - 0.009 * band.low - 0.35).epsilon(0.01));
  CHECK(band.shown_high == doctest::Approx(band.high + 0.009 * band.high + 0.35).epsilon(0.01));
  // What the app shows is that band, in whole steps of the display, outwards.
  const pack::Test& shown = test_of("heater-ohms");
  CHECK(shown.low <= band.shown_low);
  CHECK(shown.low > band.shown_low - 0.11);
  CHECK(shown.high >= band.shown_high);
  CHECK(shown.high < band.shown_high + 0.11);
  CHECK(shown.unit == "Ω");
}

TEST_CASE("bind circuit: an open heater reads OL with its leads off, and not with them on") {
  const circuit::Band off = bad("heater-ohms", "heater-open");
  CHECK(std::isinf(off.shown_low));
  pack::Test in_place = test_of("heater-ohms");
  in_place.needs_released.clear();
  // With the leads on and the knob at the heat step the motor's main winding is a way round: a good
  // heater reads far below its ohms, an open one reads no open loop.
  in_place.step = machine().circuit.step("heat");
  const circuit::Band whole = job::good_band(machine(), netlist(), in_place);
  const circuit::Band open =
      job::fault_band(machine(), netlist(), in_place, {machine().fault("heater-open")});
  CHECK(whole.high < 5);
  CHECK(std::isfinite(open.shown_high));
  CHECK(open.high < 6);
  const auto round = circuit::way_round(
      netlist(), job::setting_of(machine(), job::stand_of(in_place)), element_of("heater-element"));
  REQUIRE(round.has_value());
  CHECK(std::any_of(round->links.begin(), round->links.end(), [](const circuit::Link& link) {
    return link.element == element_of("main-winding");
  }));
  CHECK(round->pull >= 0);
  // One lead off is enough.
  in_place.off = {element_of("heater-1")};
  const circuit::Band one =
      job::fault_band(machine(), netlist(), in_place, {machine().fault("heater-open")});
  CHECK(std::isinf(one.shown_low));
}

TEST_CASE("bind circuit: every test on the circuit has a band, and a display value stands in it") {
  int count = 0;
  for (const pack::Test& test : machine().tests) {
    if (!test.on_circuit()) {
      continue;
    }
    CAPTURE(test.id);
    ++count;
    const circuit::Band band = job::good_band(machine(), netlist(), test);
    CHECK((band.state == circuit::State::shown || band.state == circuit::State::over));
    CHECK(band.bounded);
    const circuit::Reading reading = job::reading_of(machine(), netlist(), test, {});
    CHECK(band.holds(reading.state == circuit::State::over ? HUGE_VAL : reading.value));
    CHECK(test.low <= test.high);
    CHECK((std::isinf(test.high) || test.high <= test.field_high));
    CHECK_FALSE(test.unit.empty());
  }
  CHECK(count >= 25);
}

TEST_CASE("bind circuit: each part's fault is told by its own test") {
  struct Told {
    const char* fault;
    const char* test;
  };
  for (const Told& told :
       {Told{"heater-open", "heater-ohms"}, Told{"heater-earth", "heater-earth-ohms"},
        Told{"heater-open", "heat-loop"}, Told{"fuse-open", "thermal-fuse-ohms"},
        Told{"fuse-open", "heat-loop"}, Told{"thermostat-open", "thermostat-ohms"},
        Told{"thermostat-welded", "thermostat-hot"}, Told{"cam-4-burnt", "timer-heat-ohms"},
        Told{"cam-2-burnt", "timer-fill-ohms"}, Told{"cam-2-welded", "timer-fill-off"},
        Told{"cam-3-burnt", "timer-main-ohms"}, Told{"cam-6-burnt", "timer-cup-ohms"},
        Told{"cam-7-burnt", "timer-drain-ohms"}, Told{"cam-5-burnt", "timer-wash-ohms"},
        Told{"cam-10-burnt", "timer-dry-ohms"}, Told{"timer-motor-open", "timer-motor-ohms"},
        Told{"door-switch-open", "door-switch-ohms"}, Told{"on-button-burnt", "on-button-ohms"},
        Told{"dry-button-burnt", "buttons-ohms"}, Told{"supply-loose", "feed-volts"},
        Told{"valve-open", "valve-ohms"}, Told{"valve-earth", "valve-earth-ohms"},
        Told{"float-switch-open", "float-switch-ohms"},
        Told{"float-switch-welded", "float-switch-up"}, Told{"start-open", "start-ohms"},
        Told{"main-open", "motor-ohms"}, Told{"motor-earth", "motor-earth-ohms"},
        Told{"solenoid-open", "solenoid-ohms"}, Told{"box-lead-earth", "box-earth-ohms"},
        Told{"heater-lead-burnt", "heater-lead-ohms"}, Told{"thermostat-open", "thermostat-volts"},
        Told{"fuse-open", "fuse-volts"}, Told{"heater-open", "heater-amperes"},
        Told{"cam-4-burnt", "heater-volts"}, Told{"float-switch-open", "float-volts"}}) {
    CAPTURE(std::string(told.fault));
    CAPTURE(std::string(told.test));
    CHECK(apart(good(told.test), bad(told.test, told.fault)));
  }
}

TEST_CASE("bind circuit: a mechanical fault reads as a good unit") {
  CHECK_FALSE(job::fault_of(fault_of("chopper-jammed")).has_value());
  const circuit::Band mechanical = bad("motor-ohms", "chopper-jammed");
  CHECK(mechanical.low == good("motor-ohms").low);
  CHECK(mechanical.high == good("motor-ohms").high);
}

TEST_CASE("bind circuit: live readings in the heat step") {
  // 120 V behind 0.3 Ω and the harness, 13.7 Ω of heater: more than 8.2 A, less than 8.8 A. The
  // ends: 108 V on 16 Ω and 126 V on 13.03 Ω, both behind the least and most of the supply.
  const circuit::Band amperes = good("heater-amperes");
  CHECK(amperes.typical > 8.2);
  CHECK(amperes.typical < 8.8);
  CHECK(amperes.low > 108.0 / (16 + 0.6 + 3));
  CHECK(amperes.low < 108.0 / 16);
  CHECK(amperes.high < 126.0 / 13.03);
  const circuit::Band volts = good("heater-volts");
  CHECK(volts.low > 108 * 16 / (16 + 0.6 + 4.0));
  CHECK(volts.high < 126);
  // An open thermostat carries the whole voltage; a good one a few tenths of a volt.
  CHECK(good("thermostat-volts").high < 5);
  CHECK(bad("thermostat-volts", "thermostat-open").low > 100);
  // With the timer off nothing is left on the heater, ghosts least of all.
  CHECK(good("ghost-volts").shown_high < 1);
}

TEST_CASE("bind circuit: in the heat hold the timer waits for the thermostat") {
  // Its motor lies across the contact: nothing on it while the water is cold, the whole voltage
  // behind the heater once the contact opens. Common practice of cam timers, no source.
  const int motor = element_of("timer-motor");
  const auto volts_on = [&](double celsius, const std::vector<circuit::Fault>& faults) {
    job::UnitStand stand;
    stand.powered = true;
    stand.step = machine().circuit.step("heat");
    stand.celsius = celsius;
    const circuit::Strip strip =
        circuit::path(netlist(), job::setting_of(machine(), stand), motor, faults);
    return strip.volt;
  };
  CHECK(volts_on(30, {}) < 12);
  CHECK(volts_on(70, {}) > 110);
  // A welded contact never lets it go on.
  CHECK(volts_on(70, {*job::fault_of(fault_of("thermostat-welded"))}) < 12);
  // Without fuse it goes on at once, and the water stays cold.
  CHECK(volts_on(30, {*job::fault_of(fault_of("fuse-open"))}) > 110);
}

TEST_CASE("bind circuit: each load has a closed strip in its step, and none in a wrong one") {
  struct Case {
    const char* load;
    const char* step;
    const char* wrong;
    const char* opens;  ///< the contact that is open in the wrong step
  };
  for (const Case& one : {Case{"heater-element", "heat", "fill", "cam-4"},
                          Case{"valve-coil", "fill", "wash", "cam-2"},
                          Case{"main-winding", "wash", "fill", "cam-3"},
                          Case{"solenoid-coil", "cup", "wash", "cam-6"},
                          Case{"timer-motor", "wash", "heat", ""}}) {
    CAPTURE(std::string(one.load));
    const int load = element_of(one.load);
    const circuit::Strip right =
        job::strip_of(machine(), netlist(), load, machine().circuit.step(one.step));
    REQUIRE_FALSE(right.error.has_value());
    CHECK(right.closed);
    CHECK(right.volt > 100);
    CHECK(right.ampere > 0);
    REQUIRE_FALSE(right.links.empty());
    CHECK(right.links.front().from == machine().circuit.mains.line);
    CHECK(right.links.back().to == machine().circuit.mains.neutral);
    for (std::size_t i = 1; i < right.links.size(); ++i) {
      CHECK(right.links[i].from == right.links[i - 1].to);
    }
    const circuit::Strip wrong =
        job::strip_of(machine(), netlist(), load, machine().circuit.step(one.wrong));
    CHECK(wrong.volt < 20);
    if (std::string(one.opens).empty()) {
      continue;
    }
    CHECK_FALSE(wrong.closed);
    const auto open = std::find_if(wrong.links.begin(), wrong.links.end(),
                                   [](const circuit::Link& link) { return !link.state.closed; });
    REQUIRE(open != wrong.links.end());
    CHECK(open->element == element_of(one.opens));
    CHECK(open->why.find("open by Cam") == 0);
  }
}

TEST_CASE("bind circuit: draining reverses the start winding, not the main winding") {
  const auto direction = [](const circuit::Strip& strip) {
    for (const circuit::Link& link : strip.links) {
      if (link.element == strip.load) {
        return netlist().elements[to_size(link.element)].a == link.from ? 1 : -1;
      }
    }
    return 0;
  };
  const auto strip = [](const char* load, const char* step) {
    return job::strip_of(machine(), netlist(), element_of(load), machine().circuit.step(step));
  };
  const int wash = direction(strip("start-winding", "wash"));
  CHECK(wash != 0);
  CHECK(direction(strip("start-winding", "drain")) == -wash);
  CHECK(direction(strip("main-winding", "drain")) == direction(strip("main-winding", "wash")));
}

TEST_CASE("bind circuit: door, float and buttons stop the current, each for its reason") {
  const int valve = element_of("valve-coil");
  const auto why_not = [&](const job::UnitStand& stand) {
    const circuit::Strip strip = job::strip_of(machine(), netlist(), valve, stand);
    std::string out;
    for (const circuit::Link& link : strip.links) {
      out += link.state.closed
                 ? ""
                 : cat(machine().circuit.elements[to_size(link.element)].id, " ", link.why, ";");
    }
    CHECK(strip.closed == out.empty());
    return out;
  };
  job::UnitStand stand;
  stand.powered = true;
  stand.step = machine().circuit.step("fill");
  CHECK(why_not(stand) == "");
  job::UnitStand other = stand;
  other.door_open = true;
  CHECK(why_not(other) == "door-contact open, the door is open;");
  other = stand;
  other.float_up = true;
  CHECK(why_not(other) == "float-contact open, the float is up;");
  other = stand;
  other.buttons_out = {element_of("on-button")};
  CHECK(why_not(other) == "on-button open, not pressed;");
  other = stand;
  other.joints = {machine().joint("valve-leads")};
  CHECK(why_not(other) == "valve-1 open, the lead is off;valve-2 open, the lead is off;");
  other = stand;
  other.off = {element_of("float-1")};
  CHECK(why_not(other) == "float-1 open, the lead is off;");
}

TEST_CASE("bind circuit: the thermostat remembers from which side it comes") {
  job::UnitStand stand;
  stand.celsius = 58;  // above where it comes back (55), below where it leaves (63)
  const int contact = element_of("thermostat-contact");
  const auto closed = [&] {
    return circuit::contact_state(netlist(), job::setting_of(machine(), stand), {}, contact).closed;
  };
  CHECK(closed());
  stand.cooling = true;
  CHECK_FALSE(closed());
  stand.celsius = 54;
  CHECK(closed());
}

TEST_CASE("bind circuit: the checker finds nothing in the pack that ships") {
  const pack::Loaded loaded =
      pack::load(test::file_bytes(std::string(KP_SOURCE_DIR) + "/assets/packs/pump-module/pack.json"));
  REQUIRE(loaded.pack.has_value());
  const Findings findings = job::check_circuit(*loaded.pack, loaded.places);
  for (const Finding& finding : findings.all()) {
    MESSAGE(finding.text());
  }
  CHECK(findings.all().empty());
}

TEST_CASE("bind circuit: the checker tells hidden faults, faults alike and missing bands") {
  pack::Pack pack = *pack::load(test::file_bytes(std::string(KP_SOURCE_DIR) +
                                                 "/assets/packs/pump-module/pack.json"))
                         .pack;
  // Of the tests only the one at the timer plug stays: it cannot tell the heater from its fuse,
  // and knows nothing of the valve.
  const pack::Test loop = pack.tests[to_size(pack.test("heat-loop"))];
  pack.tests = {loop};
  const Findings few = job::check_circuit(pack);
  const auto told = [&few](const std::string& what) {
    return std::any_of(few.all().begin(), few.all().end(),
                       [&](const Finding& finding) { return finding.what == what; });
  };
  CHECK(told("no test tells the fault \"valve-open\" from a good unit"));
  CHECK(told("no test tells the fault \"fuse-open\" from \"heater-open\""));
  CHECK_FALSE(told("no test tells the fault \"heater-open\" from a good unit"));
  CHECK(few.faults() == 0);
  // With the mains shorted and nothing to limit the current, no volts can be foretold.
  pack.tests.front().probe = pack::Probe::volt_live;
  pack.circuit.mains.ohm = {0, 0, 0};
  pack.circuit.elements[to_size(pack.circuit.element("bond"))].ohm = {0, 0, 0};
  pack.circuit.elements[to_size(pack.circuit.element("bond"))].a = pack.circuit.mains.line;
  pack.circuit.elements[to_size(pack.circuit.element("bond"))].b = pack.circuit.mains.neutral;
  CHECK(job::check_circuit(pack).has("band-missing"));
}

}  // namespace
}  // namespace kp
