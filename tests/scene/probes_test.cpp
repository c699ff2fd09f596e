// Lit probe points and the letters beside them.
#include <doctest/doctest.h>

#include <algorithm>
#include <vector>

#include "geom/vec.hpp"
#include "scene/layout.hpp"
#include "scene/machine.hpp"
#include "scene/random_items.hpp"
#include "support/random.hpp"

namespace kp::scene {
namespace {

using geom::length;
using test::Random;

TEST_CASE("two legs of one part: the letters point at them and hide neither each other nor the legs") {
  const std::vector<Drawing> drawings = test::part_drawings();
  std::vector<Item> items = {
      test::item_of(drawings, 1, {"heater", "heater", Vec(0, 0), Vec(0, -1)}),
      test::item_of(drawings, 2, {"thermostat", "thermostat", Vec(0, 60), Vec(0, 1)})};
  items[0].probes = {{Vec(-60, 57), "A"}, {Vec(-30, 57), "B"}};
  const Scene scene = layout(items, 1, Viewport{});
  REQUIRE(scene.badges.size() == 2);
  const Placed* heater = scene.find(1);
  REQUIRE(heater != nullptr);
  CHECK(scene.badges[0].letter == "A");
  CHECK(scene.badges[1].letter == "B");
  CHECK(length(scene.badges[0].tip - (heater->at + Vec(-60, 57) * heater->scale)) < 1e-9);
  CHECK(scene.badges[0].centre.x < scene.badges[1].centre.x);
  CHECK(length(scene.badges[0].centre - scene.badges[1].centre) >= 20);
  for (const Badge& badge : scene.badges) {
    CHECK(length(badge.centre - badge.tip) < 60);
    CHECK(scene.content.contains(badge.centre));
    for (const Badge& other : scene.badges) CHECK(length(badge.centre - other.tip) > 10);
  }
  items[0].state = ItemState::removed;
  CHECK(layout(items, 1, Viewport{}).badges.empty());
}

TEST_CASE("in random machines letters stay near their points and clear of one another") {
  Random random(512);
  CAPTURE(random.seed());
  const std::vector<Drawing> drawings = test::random_drawings(random, 8);
  for (int round = 0; round < 60; ++round) {
    std::vector<Item> items = test::random_items(random, drawings, 8);
    const Item& touched = items[to_size(random.between(0, 7))];
    std::size_t wanted = 0;
    for (Item& item : items) {
      if (item.id != touched.id || item.fastener || item.state == ItemState::removed) continue;
      const Box ink = item.drawing->box;
      item.probes = {{ink.centre() + Vec(ink.width() / 4, 0), "A"},
                     {ink.centre() - Vec(ink.width() / 4, 0), "B"}};
      wanted = 2;
    }
    const Scene scene = layout(items, 1, Viewport{});
    REQUIRE(scene.badges.size() == wanted);
    if (wanted == 0) continue;
    const Placed* placed = scene.find(touched.id);
    REQUIRE(placed != nullptr);
    CHECK(length(scene.badges[0].centre - scene.badges[1].centre) >= 20);
    for (const Badge& badge : scene.badges) {
      CHECK(placed->box.contains(badge.tip));
      CHECK(length(badge.centre - badge.tip) < 60);
      for (const Badge& other : scene.badges) CHECK(length(badge.centre - other.tip) > 10);
    }
    const Scene again = layout(items, 1, Viewport{});
    CHECK(again.badges[1].centre == scene.badges[1].centre);
  }
}

}  // namespace
}  // namespace kp::scene
