// What is shown and what is not: bodies that stay, ranks, copies of fasteners.
#include <doctest/doctest.h>

#include <vector>

#include "scene/drawings.hpp"
#include "scene/layout.hpp"
#include "scene/machine.hpp"
#include "scene/random_items.hpp"
#include "support/random.hpp"

using kp::scene::Callout;
using kp::scene::Drawing;
using kp::scene::Item;
using kp::scene::ItemState;
using kp::scene::Scene;
using kp::scene::Vec;
using kp::scene::Viewport;
using kp::test::Random;

TEST_CASE("context stands pale at home, takes no room, is not named, and goes when all is apart") {
  const std::vector<Drawing> drawings = kp::test::part_drawings();
  std::vector<Item> items = kp::test::pump_module(drawings);
  const Viewport viewport;
  const Scene before = layout(items, 0, viewport);
  Item tub = kp::test::item_of(drawings, 50, {"tub", "tub", Vec(0, -120), Vec(0, 0)});
  tub.context = true;
  items.push_back(tub);
  const Scene after = layout(items, 0, viewport);
  for (std::size_t i = 0; i < before.items.size(); ++i) {
    CHECK(before.items[i].at == after.items[i].at);
  }
  REQUIRE(after.find(50) != nullptr);
  CHECK(after.find(50)->context);
  // At its home with respect to the floor, which stays.
  CHECK(after.find(50)->at.x == doctest::Approx(after.find(3)->at.x));
  CHECK(after.find(50)->at.y - after.find(3)->at.y == doctest::Approx(-120 * after.scale));
  for (const Callout& callout : after.callouts) {
    CHECK(callout.id != 50);
  }
  CHECK(layout(items, 1, viewport).find(50) == nullptr);
}

TEST_CASE("items of a rank are left out until the rest can be read, those without never") {
  Random random(33);
  CAPTURE(random.seed());
  const std::vector<Drawing> drawings = kp::test::random_drawings(random, 8);
  for (int round = 0; round < 20; ++round) {
    std::vector<Item> items = kp::test::random_items(random, drawings, 20, false);
    for (std::size_t i = 0; i < items.size(); ++i) {
      items[i].rank = i < 2 ? 0 : static_cast<int>(i);
      items[i].away = Vec(i % 2 == 0 ? -1 : 1, 0);
      items[i].carrier = -1;
    }
    const Viewport viewport;
    const Scene scene = layout(items, 1, viewport);
    REQUIRE(scene.find(items[0].id) != nullptr);
    REQUIRE(scene.find(items[1].id) != nullptr);
    // A first part of the ranks stays, whole.
    bool gone = false;
    for (const Item& item : items) {
      gone = gone || scene.find(item.id) == nullptr;
      CHECK((scene.find(item.id) == nullptr) == gone);
    }
    const int shown = kp::to_int(scene.items.size());
    CHECK((shown == 2 || !scene.scrolls));
    CHECK((shown <= viewport.good_count || scene.scale >= viewport.good_scale - 1e-9));
  }
}

TEST_CASE("several fasteners at one place given are shown on both sides of what they hold") {
  Item panel;
  panel.id = 1;
  panel.name = "panel";
  const Drawing wide = kp::scene::drawing_of(
      "wide", {{Vec(-60, -12), Vec(60, -12), Vec(60, 12), Vec(-60, 12)}});
  const Drawing small =
      kp::scene::drawing_of("small", {{Vec(-4, -8), Vec(4, -8), Vec(4, 8), Vec(-4, 8)}});
  panel.drawing = &wide;
  panel.home = Vec(300, 40);
  panel.away = Vec(-1, 0);
  Item screws;
  screws.id = 2;
  screws.name = "screw";
  screws.drawing = &small;
  screws.home = Vec(250, 40);
  screws.away = Vec(-1, 0);
  screws.fastener = true;
  screws.holds = {1};
  screws.state = ItemState::next;
  screws.count = 2;
  const Scene both = layout({panel, screws}, 1, Viewport{});
  REQUIRE(both.items.size() == 3);
  CHECK(both.items[1].box.centre().x + both.items[2].box.centre().x ==
        doctest::Approx(2 * both.items[0].box.centre().x));
  CHECK(both.items[1].box.centre().y == doctest::Approx(both.items[2].box.centre().y));
  // One alone, several in the middle, or no seat on the other side: one picture.
  screws.count = 1;
  CHECK(layout({panel, screws}, 1, Viewport{}).items.size() == 2);
  screws.count = 4;
  screws.home = Vec(301, 40);
  CHECK(layout({panel, screws}, 1, Viewport{}).items.size() == 2);
  const Drawing lopsided = kp::scene::drawing_of(
      "lopsided", {{Vec(-60, -12), Vec(60, 40), Vec(60, 60), Vec(-60, 12)}});
  panel.drawing = &lopsided;
  screws.home = Vec(250, 40);
  CHECK(layout({panel, screws}, 1, Viewport{}).items.size() == 2);
}
