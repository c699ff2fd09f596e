// Water that was relieved, and water that was tested under pressure. safety-order of the trade: after
// the static leak test the valve is shut before any wet joint is opened; common practice, no source.

#include <doctest/doctest.h>

#include "safety/story.hpp"
#include "safety/strip.hpp"

namespace {

using namespace kp;
using safety::Act;
using test::Story;

/// Dead, tested under pressure and shut again.
Story tested(bool dry = true) {
  Story story;
  REQUIRE(story.approach());
  REQUIRE(story.prove(story.place));
  REQUIRE(story.tell(safety::WaterOn{true}));
  REQUIRE(story.may(test::demand(Act::static_test)).allowed);
  story.happens(safety::Worked{Act::static_test, false, {}, dry});
  return story;
}

}  // namespace

TEST_CASE("water: covers go on after a dry static test, no tested joint is opened to relieve it") {
  Story story = tested();
  CHECK_FALSE(story.work(test::demand(Act::hands_in)));   // the valve is open
  REQUIRE(story.shut());
  CHECK(safety::summarise(story.state, story.now(), {}).water.line.find("tight") !=
        std::string::npos);
  CHECK(story.work(test::demand(Act::hands_in)));
  safety::Demand opens = test::demand(Act::hands_in);
  opens.opens_wet = true;
  CHECK_FALSE(story.work(opens));
  CHECK(story.was_refused_for("water-not-relieved"));
  CHECK(story.was_refused_for("water-not-watched"));
}

TEST_CASE("water: a drop, an open joint, a machine to be laid down ask for the relief") {
  Story wet = tested(false);
  REQUIRE(wet.shut());
  CHECK_FALSE(wet.work(test::demand(Act::hands_in)));
  CHECK(wet.was_refused_for("water-not-relieved"));

  Story open = tested();
  REQUIRE(open.shut());
  open.machine.wet_joined = false;
  CHECK_FALSE(open.work(test::demand(Act::hands_in)));

  Story lies = tested();
  REQUIRE(lies.shut());
  CHECK_FALSE(lies.work(test::demand(Act::lay_down)));
  CHECK(lies.was_refused_for("water-not-relieved"));
}

TEST_CASE("water: opened again, relieved, found on or hours later, the static test tells nothing") {
  Story again = tested();
  REQUIRE(again.shut());
  REQUIRE(again.tell(safety::WaterOn{true}));
  REQUIRE(again.shut());
  CHECK_FALSE(again.work(test::demand(Act::hands_in)));

  Story relieved = tested();
  REQUIRE(relieved.shut());
  REQUIRE(relieved.relieve());
  CHECK_FALSE(relieved.state.tight.holds());

  Story found = tested();
  REQUIRE(found.shut());
  REQUIRE(found.tell(safety::Doubted{safety::Doubt::water_found_on}));
  REQUIRE(found.shut());
  CHECK_FALSE(found.work(test::demand(Act::hands_in)));

  Story late = tested();
  REQUIRE(late.shut());
  late.wait(5 * 3600 * 1000);
  CHECK_FALSE(late.work(test::demand(Act::hands_in)));

  // The words of a test with the water shut change nothing.
  Story never;
  REQUIRE(never.approach());
  never.happens(safety::Worked{Act::static_test, false, {}, true});
  CHECK_FALSE(never.state.tight.holds());
}
