// Giving back: the order of 29 CFR 1910.333(b)(2)(v) as state text [read], of 1910.147(e), (f)(1)
// [read], and 1910.334(b)(2) [read]. Numbers are values of the order of safety, section 5.

#include <doctest/doctest.h>

#include <algorithm>
#include <array>

#include "safety/story.hpp"

using namespace kp;
using namespace kp::safety;
using test::Story;

namespace {

Fact said(Act act) {
  switch (act) {
    case Act::inspect: return Inspected{};
    case Act::warn: return Warned{{"Ida"}};
    case Act::lock_off: return LockOff{"7"};
    case Act::look_clear: return LookedClear{};
    case Act::power_on: return PowerOn{};
    default: return Stopped{};
  }
}

}  // namespace

TEST_CASE("release: value 3, of the 24 orders of inspect, warn, lock off, look one is accepted") {
  std::array<Act, 4> order = {Act::inspect, Act::warn, Act::lock_off, Act::look_clear};
  std::sort(order.begin(), order.end());
  int orders = 0;
  int accepted = 0;
  do {
    Story story;
    CHECK(story.make_safe());
    const bool all = std::all_of(order.begin(), order.end(),
                                 [&](Act act) { return story.tell(said(act)); });
    ++orders;
    accepted += all && story.tell(PowerOn{}) ? 1 : 0;
  } while (std::next_permutation(order.begin(), order.end()));
  CHECK(orders == 24);
  CHECK(accepted == 1);
}

TEST_CASE("release: value 4, test under power: of 120 orders one, 1910.147(f)(1)(i) to (v)") {
  // Clear the tools, clear the people, locks off, power, off and everything again.
  std::array<int, 5> order = {0, 1, 2, 3, 4};
  int orders = 0;
  int accepted = 0;
  do {
    Story story;
    CHECK(story.make_safe());
    const bool all = std::all_of(order.begin(), order.end(), [&](int what) {
      switch (what) {
        case 0: return story.tell(Inspected{});
        case 1: return story.tell(Warned{{"Ida"}});
        case 2: return story.tell(LockOff{"7"}) && story.tell(LookedClear{});
        case 3: return story.tell(PowerOn{});
        default:
          // Off again counts only where power was on, and then the whole way is owed.
          return story.state.power == Power::on && story.tell(Stopped{}) &&
                 !story.may(test::demand(Act::hands_in)).allowed &&
                 story.tell(Isolated{Means::breaker_off}) && story.hold() && story.try_it() &&
                 story.prove();
      }
    });
    ++orders;
    accepted += all && story.may(test::demand(Act::hands_in)).allowed ? 1 : 0;
  } while (std::next_permutation(order.begin(), order.end()));
  CHECK(orders == 120);
  CHECK(accepted == 1);
}

TEST_CASE("release: value 5, no second close of a breaker that opened without a reading") {
  Story story;
  CHECK(story.make_safe());
  CHECK(story.release());
  CHECK(story.tell(PowerOn{}));
  story.happens(Fact{Doubted{Doubt::device_opened}});
  CHECK(story.state.power == Power::live);
  CHECK(story.tell(Inspected{}));
  CHECK(story.tell(Warned{{"Ida"}}));
  CHECK(story.tell(LookedClear{}));
  CHECK_FALSE(story.tell(PowerOn{}));
  CHECK(story.was_refused_for("device-opened"));
  // Nor is the machine handed back with it.
  CHECK(Story::has(story.may(test::demand(Act::end_in_service)).reasons, "device-opened"));
  // Known to be safe: isolated, held, tried and read.
  CHECK(story.isolate());
  CHECK(story.hold());
  CHECK(story.try_it());
  CHECK(story.prove());
  CHECK(story.release());
  CHECK(story.tell(PowerOn{}));
}

TEST_CASE("release: from the first lock off everything counts as live") {
  Story story;
  CHECK(story.make_safe());
  CHECK(story.hold("12"));
  CHECK(story.tell(Inspected{}));
  CHECK(story.tell(Warned{{"Ida"}}));
  CHECK(story.tell(LockOff{"12"}));
  CHECK(story.state.power == Power::live);
  CHECK_FALSE(story.is_dead());
  CHECK_FALSE(story.tell(LookedClear{}));
  CHECK(story.was_refused_for("lock-hanging"));
  CHECK(story.tell(LockOff{"7"}));
  CHECK(story.tell(LookedClear{}));
}

TEST_CASE("release: the last look counts for the walk, as timed, and one minute [ours]") {
  const auto held_for_walk = [](std::int64_t walk_ms) {
    Story story;
    CHECK(story.prepare());
    CHECK(story.isolate());
    CHECK(story.shut());
    CHECK(story.hold());
    story.wait(walk_ms - 1000);
    CHECK(story.try_it());
    CHECK(story.prove());
    CHECK(story.relieve());
    CHECK(story.release());
    return story;
  };
  // Forty seconds from the breaker to the machine: 100 s after the look it still counts.
  Story near = held_for_walk(40'000);
  near.wait(98'000);
  CHECK(near.tell(PowerOn{}));
  Story late = held_for_walk(40'000);
  late.wait(101'000);
  CHECK_FALSE(late.tell(PowerOn{}));
  CHECK(late.was_refused_for("look-old"));
  CHECK(late.tell(LookedClear{}));
  CHECK(late.tell(PowerOn{}));
  // Nobody walks for an hour: five minutes at most.
  Story called_away = held_for_walk(test::kHourMs);
  called_away.wait(362'000);
  CHECK_FALSE(called_away.tell(PowerOn{}));
}

TEST_CASE("release: hands in again, and the whole release is owed again") {
  Story story;
  CHECK(story.make_safe());
  CHECK(story.tell(Inspected{}));
  CHECK(story.tell(Warned{{"Ida"}}));
  CHECK(story.work(test::demand(Act::hands_in)));
  CHECK_FALSE(story.tell(LockOff{"7"}));
  CHECK(story.was_refused_for("people-not-warned"));
  CHECK_FALSE(story.tell(Warned{{"Ida"}}));
  CHECK(story.was_refused_for("not-inspected"));
}

TEST_CASE("release: covers, leads, joints, earths and tests bar the look and the power") {
  const auto refused = [](auto spoil, const char* code) {
    Story story;
    CHECK(story.make_safe());
    Story spoiled = story;
    spoil(spoiled.machine);
    CHECK_FALSE(spoiled.tell(Inspected{}));
    CHECK(spoiled.was_refused_for(code));
    CHECK(story.release());
    spoil(story.machine);
    CHECK_FALSE(story.tell(PowerOn{}));
    CHECK(story.was_refused_for(code));
  };
  refused([](Machine& m) { m.live_covers_on = false; }, "cover-off");
  refused([](Machine& m) { m.leads_joined = false; }, "lead-off");
  refused([](Machine& m) { m.wet_joined = false; }, "joint-open");
  refused([](Machine& m) { m.earths_fast = false; }, "earth-loose");
  refused([](Machine& m) { m.tests_done = false; }, "tests-open");
}

TEST_CASE("release: a lock of another is taken off by its owner alone, 1910.147(e)(3) [read]") {
  Story story;
  CHECK(story.make_safe());
  story.happens(Fact{ForeignLock{"9", "Ida"}});
  CHECK(story.tell(Inspected{}));
  CHECK(story.tell(Warned{{"Ida"}}));
  CHECK_FALSE(story.tell(LockOff{"9"}));
  CHECK(story.was_refused_for("lock-of-another"));
  CHECK(story.tell(LockOff{"7"}));
  CHECK_FALSE(story.tell(LookedClear{}));
  story.person = "Ida";
  CHECK_FALSE(story.tell(LockOff{"5"}));
  CHECK(story.was_refused_for("no-such-lock"));
  CHECK(story.tell(LockOff{"9"}));
  story.person = "Ana";
  CHECK(story.tell(LookedClear{}));
  CHECK(story.tell(PowerOn{}));
}

TEST_CASE("release: a plug is taken to its outlet by who holds it") {
  Story story(Connection::cord);
  CHECK(story.prepare());
  CHECK(story.isolate());
  CHECK(story.tell(HeldFast{Control::in_hand, "", "", ""}));
  CHECK(story.tell(Inspected{}));
  CHECK(story.tell(Warned{{"Ida"}}));
  CHECK_FALSE(story.tell(LookedClear{}));
  story.person = "Ida";
  CHECK_FALSE(story.tell(LockOff{""}));
  story.person = "Ana";
  CHECK(story.tell(LockOff{""}));
  CHECK(story.tell(LookedClear{}));
  CHECK(story.tell(PowerOn{}));
}

TEST_CASE("release: water and power on are no bed for hands, and void what was proved") {
  Story story;
  CHECK(story.make_safe());
  CHECK(story.prove(test::group_place("pump")));
  CHECK(story.tell(Inspected{}));
  CHECK(story.tell(Warned{{"Ida"}}));
  CHECK(story.tell(WaterOn{false}));
  CHECK_FALSE(story.may(test::demand(Act::hands_in)).allowed);
  CHECK(story.may(test::demand(Act::run)).allowed);
  Demand live = test::demand(Act::live_reading);
  live.live_reason = true;
  CHECK(Story::has(story.may(live).reasons, "nothing-on"));   // water alone is no live reading
  CHECK(story.tell(LockOff{"7"}));
  CHECK(story.tell(LookedClear{}));
  CHECK(story.tell(PowerOn{}));
  CHECK(story.may(live).allowed);
  live.live_reason = false;
  CHECK(Story::has(story.may(live).reasons, "no-live-reason"));
  CHECK(story.state.groups.empty());
  CHECK_FALSE(story.tell(Isolated{Means::breaker_off}));
  CHECK(story.was_refused_for("not-stopped"));
}
