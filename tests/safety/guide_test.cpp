// The order of work the guide gives: 29 CFR 1910.147(d) on the way in, (e) on the way back.

#include <doctest/doctest.h>

#include "safety/guide.hpp"
#include "safety/story.hpp"

using namespace kp;
using safety::Contact;
using safety::Demand;
using safety::EventKind;
using safety::Todo;
using test::Story;

namespace {

std::vector<EventKind> kinds_of(const std::vector<Todo>& todos) {
  std::vector<EventKind> kinds;
  for (const Todo& todo : todos) {
    kinds.push_back(todo.kind);
  }
  return kinds;
}

std::vector<Todo> way_in(const Story& story, const Demand& demand = {}) {
  return safety::make_safe(story.state, demand, story.now_ms, {});
}

}  // namespace

TEST_CASE("guide: the whole way in") {
  using enum EventKind;
  const Demand demand{{Contact::stored_charge, Contact::hot, Contact::heavy}, true, false, 2};
  const std::vector<EventKind> expected = {
      prepared, stopped, isolated, water_shut, water_relieved, controls_tried, reading, reading,
      reading, reading, reading, charge_gone, cooled, secured, helpers_here};
  const Story story;
  CHECK(kinds_of(way_in(story, demand)) == expected);
}

TEST_CASE("guide: nothing to do when the gate is open, the rest when half-way") {
  using enum EventKind;
  Story story;
  CHECK(story.make_safe());
  CHECK(way_in(story).empty());
  CHECK(kinds_of(way_in(story, {{Contact::hot}, true, false, 1})) == std::vector<EventKind>{cooled});
  story.wait(safety::Policy{}.proof_seconds + 1);
  CHECK(kinds_of(way_in(story)) ==
        std::vector<EventKind>{water_relieved, reading, reading, reading, reading, reading});
}

TEST_CASE("guide: a sequence that took too long starts again") {
  using enum EventKind;
  Story story;
  CHECK(story.prepare(safety::Connection::fixed));
  CHECK(story.tell(stopped));
  CHECK(story.isolate(safety::Means::breaker_locked, "L1"));
  CHECK(story.water_off());
  CHECK(story.tell(controls_tried));
  CHECK(story.read(safety::Station::known_before, 121));
  CHECK(story.read(safety::Station::line_neutral, 0));
  CHECK(way_in(story).size() == 3);
  CHECK(way_in(story).front().station == safety::Station::line_earth);
  story.wait(safety::Policy{}.prove_seconds + 1);
  CHECK(kinds_of(way_in(story)).front() == prove_restarted);
  CHECK(way_in(story).size() == 6);
}

TEST_CASE("guide: the way back: inspect, panels, people, water, locks, power") {
  using enum EventKind;
  Story story;
  CHECK(story.make_safe());
  CHECK(kinds_of(safety::put_back(story.state, true, true)) ==
        std::vector<EventKind>{inspected, panels_set, people_clear, water_restored, lock_removed,
                               power_restored});
  CHECK(kinds_of(safety::put_back(story.state, false, true)) ==
        std::vector<EventKind>{inspected, panels_set, people_clear, water_restored});
  CHECK(safety::put_back(story.state, false, false).empty());
  safety::Event handed;
  handed.kind = taken_over;
  handed.person = "Ben";
  CHECK(story.tell(handed));
  const std::vector<Todo> back = safety::put_back(story.state, true, false);
  REQUIRE(back.size() == 5);
  CHECK(back[3].lock == "L1");
  CHECK(back[3].sentence == "Let Ana take lock L1 off.");
}

TEST_CASE("guide: each thing to do has words, and readings warn first") {
  const Story story;
  const Demand demand{{Contact::stored_charge, Contact::hot, Contact::heavy}, true, false, 2};
  for (const Todo& todo : way_in(story, demand)) {
    CAPTURE(safety::words(todo.kind));
    CHECK_FALSE(todo.sentence.empty());
    CHECK_FALSE(todo.how.empty());
    CHECK_FALSE(todo.why.empty());
    if (todo.kind == EventKind::reading) {
      CHECK(todo.caution.word == safety::SignalWord::danger);
      // GS38 paragraph 9: 4 mm of bare tip at most; EN 61010: CAT III for building wiring.
      CHECK(todo.how.find("4 mm") != std::string::npos);
      CHECK(todo.how.find("CAT III") != std::string::npos);
    }
  }
}

TEST_CASE("guide: the five rules of EN 50110-1 stand in their order, GS38 with its figures") {
  const std::string five = safety::teachings()[0].text;
  std::size_t last = 0;
  for (const char* word : {"Disconnect", "Secure", "Prove", "Earth", "Guard"}) {
    const std::size_t at = five.find(word);
    REQUIRE(at != std::string::npos);
    CHECK(at >= last);
    last = at;
  }
  std::string all;
  for (const safety::Teaching& row : safety::teachings()) {
    all += row.text;
  }
  for (const char* figure : {"4 mm", "2 mm", "500 mA", "CAT III", "CAT II ", "34 V", "50 V"}) {
    CAPTURE(figure);
    CHECK(all.find(figure) != std::string::npos);
  }
  CHECK(all.find("Local codes") != std::string::npos);
}
