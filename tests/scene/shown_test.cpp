// What is shown and what is not: bodies that stay, and the neighbourhood of a step.
#include <doctest/doctest.h>

#include <vector>

#include "scene/drawings.hpp"
#include "scene/layout.hpp"
#include "scene/machine.hpp"

using kp::scene::Callout;
using kp::scene::Drawing;
using kp::scene::Item;
using kp::scene::Scene;
using kp::scene::Vec;
using kp::scene::Viewport;

TEST_CASE("context stands pale at home, takes no room and is not named") {
  const std::vector<Drawing> drawings = kp::test::part_drawings();
  std::vector<Item> items = kp::test::pump_module(drawings);
  const Viewport viewport;
  const Scene before = layout(items, 1, viewport);
  Item tub = kp::test::item_of(drawings, 50, {"tub", "tub", Vec(0, -120), Vec(0, 0)});
  tub.context = true;
  items.push_back(tub);
  const Scene after = layout(items, 1, viewport);
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
}

TEST_CASE("neighbourhoods hold the seeds, their covers, and rest while the work stays") {
  const std::vector<Drawing> drawings = kp::test::part_drawings();
  const std::vector<Item> items = kp::test::pump_module(drawings);
  const auto ids = [](const std::vector<Item>& some) {
    std::vector<int> out;
    for (const Item& item : some) {
      out.push_back(item.id);
    }
    return out;
  };
  const std::vector<int> around = ids(neighbourhood(items, {7}, 4));
  CHECK(around == std::vector<int>{5, 6, 7, 8});
  CHECK(ids(neighbourhood(items, {8}, 4, around)) == around);
  CHECK(ids(neighbourhood(items, {10}, 4, around)) != around);
  CHECK(ids(neighbourhood(items, {7}, 1)) == std::vector<int>{7});
  CHECK(neighbourhood(items, {7}, 99).size() == items.size() - 1);  // all but the fasteners
  CHECK(neighbourhood(items, {4}, 3).size() == 3);
}
