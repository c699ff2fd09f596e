#include <doctest/doctest.h>

#include <algorithm>
#include <vector>

#include "scene/drawings.hpp"
#include "scene/layout.hpp"
#include "scene/machine.hpp"

using kp::scene::Drawing;
using kp::scene::Item;
using kp::scene::ItemState;
using kp::scene::neighbourhood;
using kp::scene::Vec;

namespace {

std::vector<int> ids(const std::vector<Item>& some) {
  std::vector<int> out;
  for (const Item& item : some) {
    if (!item.context) {
      out.push_back(item.id);
    }
  }
  return out;
}

bool has(const std::vector<int>& some, int id) {
  return std::find(some.begin(), some.end(), id) != some.end();
}

/// The pump module of the tests with a picture of the whole, id 20, that carries its parts.
std::vector<Item> with_assembly(const std::vector<Drawing>& drawings) {
  std::vector<Item> items = kp::test::pump_module(drawings);
  items.push_back(
      kp::test::item_of(drawings, 20, {"pump-module", "pump module", Vec(0, 76), Vec(0, 1)}));
  for (Item& item : items) {
    if (item.id >= 5 && item.id <= 10) {
      item.carrier = 20;
    }
  }
  items[4].holds = {3, 20};
  return items;
}

}  // namespace

TEST_CASE("neighbourhoods hold the seeds, their covers, and rest while the work stays") {
  const std::vector<Drawing> drawings = kp::test::part_drawings();
  const std::vector<Item> items = kp::test::pump_module(drawings);
  const std::vector<int> around = ids(neighbourhood(items, {7}, 4));
  CHECK(around == std::vector<int>{5, 6, 7, 8});
  CHECK(ids(neighbourhood(items, {8}, 4, around)) == around);
  CHECK(ids(neighbourhood(items, {10}, 4, around)) != around);
  CHECK(ids(neighbourhood(items, {7}, 1)) == std::vector<int>{7});
  CHECK(neighbourhood(items, {7}, 99).size() == items.size() - 1);  // all but the fasteners
  CHECK(ids(neighbourhood(items, {4}, 3)).size() == 3);
  CHECK(neighbourhood(items, {}, 9).empty());
  CHECK(neighbourhood(items, {777}, 9).empty());
}

TEST_CASE("seeds have rank 0, the others by closeness") {
  const std::vector<Drawing> drawings = kp::test::part_drawings();
  const std::vector<Item> items = kp::test::pump_module(drawings);
  for (const Item& item : neighbourhood(items, {7}, 6)) {
    CHECK((item.rank == 0) == (item.id == 7));
    CHECK((item.rank <= 2) == (item.id == 6 || item.id == 7 || item.id == 8));
  }
}

TEST_CASE("what is far away and has no tie stays out") {
  const std::vector<Drawing> drawings = kp::test::part_drawings();
  std::vector<Item> items = kp::test::pump_module(drawings);
  items.push_back(
      kp::test::item_of(drawings, 30, {"timer", "timer", Vec(400, -400), Vec(-1, 0)}));
  CHECK_FALSE(has(ids(neighbourhood(items, {7}, 99)), 30));
}

TEST_CASE("an assembly is shown whole, or as parts where one of them is meant") {
  const std::vector<Drawing> drawings = kp::test::part_drawings();
  const std::vector<Item> items = with_assembly(drawings);
  const std::vector<int> whole = ids(neighbourhood(items, {4, 20}, 9));
  CHECK(has(whole, 20));
  const std::vector<int> parts = ids(neighbourhood(items, {7}, 9));
  CHECK_FALSE(has(parts, 20));
  for (int part = 5; part <= 10; ++part) {
    CHECK_FALSE(has(whole, part));
    CHECK(has(parts, part));
  }
}

TEST_CASE("a part that a fastener stands for is not shown twice") {
  const std::vector<Drawing> drawings = kp::test::part_drawings();
  std::vector<Item> items = kp::test::pump_module(drawings);
  Item spring = items[4];
  spring.id = 40;
  spring.fastener = false;
  spring.state = ItemState::at_rest;
  items.push_back(spring);
  const std::vector<int> shown = ids(neighbourhood(items, {4, 40, 5}, 9));
  CHECK(has(shown, 4));
  CHECK_FALSE(has(shown, 40));
  CHECK(has(ids(neighbourhood(items, {40}, 9)), 40));
}

TEST_CASE("a section between the parts comes along, other context stays context") {
  const std::vector<Drawing> drawings = kp::test::part_drawings();
  std::vector<Item> items = with_assembly(drawings);
  items[3].context = true;  // the floor, drawn as a cut
  Item tub = kp::test::item_of(drawings, 50, {"tub", "tub", Vec(0, -120), Vec(0, 0)});
  tub.context = true;
  items.push_back(tub);
  const std::vector<Item> whole = neighbourhood(items, {4, 20}, 9);
  CHECK(has(ids(whole), 3));
  CHECK_FALSE(has(ids(whole), 50));
  CHECK(std::any_of(whole.begin(), whole.end(), [](const Item& item) { return item.id == 50; }));
  // Not where the module is taken apart on the bench.
  CHECK_FALSE(has(ids(neighbourhood(items, {7}, 9)), 3));
}
