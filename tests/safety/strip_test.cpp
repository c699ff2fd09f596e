// The strip at the top of the screen: words, symbols, colours' meanings, evidence.

#include <doctest/doctest.h>

#include "base/time.hpp"
#include "safety/reach.hpp"
#include "safety/story.hpp"
#include "safety/strip.hpp"

using namespace kp;
using safety::EventKind;
using safety::Meaning;
using safety::Strip;
using safety::Symbol;
using test::Story;

namespace {

Strip strip_of(const Story& story) {
  return safety::summarise(story.state, story.now_ms, safety::Policy{});
}

bool mentions(const safety::StripSide& side, const std::string& text) {
  for (const std::string& line : side.evidence) {
    if (line.find(text) != std::string::npos) {
      return true;
    }
  }
  return false;
}

Story at_ten_forty() {
  Story story;
  story.now_ms = parse_rfc3339("2026-03-02T10:40:00Z").value().utc_ms;
  return story;
}

}  // namespace

TEST_CASE("strip: from taken as live to proved") {
  Story story = at_ten_forty();
  Strip strip = strip_of(story);
  CHECK(strip.power.word == "LIVE");
  CHECK(strip.power.line == "Power, taken as live");
  CHECK(strip.power.symbol == Symbol::closed);
  CHECK(strip.power.meaning == Meaning::danger);
  CHECK(strip.water.word == "OPEN");
  CHECK(strip.water.line == "Water, taken as on");
  CHECK(strip.water.meaning == Meaning::danger);

  CHECK(story.prepare(safety::Connection::fixed));
  CHECK(story.tell(EventKind::stopped));
  CHECK(story.isolate(safety::Means::breaker_locked, "L1"));
  strip = strip_of(story);
  CHECK(strip.power.word == "NOT PROVED");
  CHECK(strip.power.line == "Power, isolated 10:40");
  CHECK(strip.power.symbol == Symbol::open);
  CHECK(strip.power.meaning == Meaning::not_proved);
  CHECK(mentions(strip.power, "Breaker off and locked, lock L1, Ana, 10:40"));

  CHECK(story.tell(EventKind::water_shut));
  strip = strip_of(story);
  CHECK(strip.water.word == "SHUT");
  CHECK(strip.water.line == "Water, not relieved, shut 10:40");
  CHECK(strip.water.meaning == Meaning::not_proved);

  CHECK(story.tell(EventKind::water_relieved));
  CHECK(story.prove());
  strip = strip_of(story);
  CHECK(strip.power.word == "DEAD");
  CHECK(strip.power.line == "Power, proved 10:40");
  CHECK(strip.power.symbol == Symbol::crossed);
  CHECK(strip.power.meaning == Meaning::safe);
  CHECK(strip.water.line == "Water, relieved 10:40");
  CHECK(strip.water.symbol == Symbol::crossed);
  CHECK(mentions(strip.power, "Tester on a known live point: 121.0 V~, tester T1, 10:40"));
  CHECK(mentions(strip.power, "Neutral to earth: 0.0 V~"));
}

TEST_CASE("strip: times are told in the local clock of their moment") {
  Story story = at_ten_forty();
  CHECK(story.prepare(safety::Connection::fixed));
  CHECK(story.tell(EventKind::stopped));
  safety::Event event;
  event.kind = EventKind::isolated;
  event.means = safety::Means::breaker_locked;
  event.lock = "L1";
  event.id = 90;
  event.person = "Ana";
  event.at = {story.now_ms, -300};
  const safety::State state = safety::apply(story.state, event, safety::Policy{});
  CHECK(safety::summarise(state, story.now_ms, {}).power.line == "Power, isolated 05:40");
}

TEST_CASE("strip: an old proof is yellow again, and says so") {
  Story story = at_ten_forty();
  CHECK(story.make_safe());
  story.wait(safety::Policy{}.proof_seconds + 60);
  const Strip strip = strip_of(story);
  CHECK(strip.power.word == "NOT PROVED");
  CHECK(strip.power.line == "Power, proof too old: 10:40");
  CHECK(strip.power.meaning == Meaning::not_proved);
  CHECK(strip.water.meaning == Meaning::not_proved);
}

TEST_CASE("strip: back on, and why a proof was given up") {
  Story story = at_ten_forty();
  CHECK(story.make_safe());
  CHECK(story.tell(EventKind::power_found_on));
  CHECK(strip_of(story).power.word == "LIVE");
  CHECK(mentions(strip_of(story).power, "Proof given up 10:40: power found on"));
  CHECK(story.tell(EventKind::inspected));
  CHECK(story.tell(EventKind::panels_set));
  CHECK(story.tell(EventKind::people_clear));
  CHECK(story.tell(EventKind::water_restored));
  CHECK(strip_of(story).water.word == "OPEN");
  CHECK(strip_of(story).water.line == "Water, back on 10:40");
}

TEST_CASE("strip: green in exactly those reachable states in which the gate believes the proof") {
  const safety::Policy policy;
  int green = 0;
  int wrong = 0;
  model::explore(
      [](model::Ev ev) {
        return ev != model::Ev::cool && ev != model::Ev::secure && ev != model::Ev::two_people &&
               ev != model::Ev::charge_gone && ev != model::Ev::tag &&
               ev != model::Ev::prepare_cord && ev != model::Ev::panels;
      },
      false,
      [&](model::Bits, const safety::State& state) {
        const Strip strip = safety::summarise(state, model::kNow, policy);
        const bool power = safety::power_dead(state, model::kNow, policy);
        const bool water = safety::water_off(state, model::kNow, policy);
        wrong += (strip.power.meaning == Meaning::safe) == power ? 0 : 1;
        wrong += (strip.water.meaning == Meaning::safe) == water ? 0 : 1;
        wrong += (strip.power.symbol == Symbol::crossed) == power ? 0 : 1;
        wrong += (strip.power.word == "DEAD") == power ? 0 : 1;
        green += power && water ? 1 : 0;
      },
      [](model::Bits, const safety::State&, model::Ev, const model::Move&, model::Bits) {});
  CHECK(wrong == 0);
  CHECK(green > 0);
}
