#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "geom/segment.hpp"
#include "scene/drawings.hpp"
#include "scene/layout.hpp"
#include "scene/machine.hpp"
#include "scene/random_items.hpp"
#include "support/random.hpp"

using kp::geom::Contour;
using kp::geom::distance;
using kp::geom::FillRule;
using kp::geom::length;
using kp::geom::meets;
using kp::geom::touch;
using kp::scene::Box;
using kp::scene::Callout;
using kp::scene::CalloutSide;
using kp::scene::Drawing;
using kp::scene::Item;
using kp::scene::ItemState;
using kp::scene::Placed;
using kp::scene::Scene;
using kp::scene::Vec;
using kp::scene::Viewport;
using kp::test::Random;

namespace {

std::vector<Contour> outline_of(const Placed& placed) {
  std::vector<Contour> out = placed.drawing->outline;
  for (Contour& contour : out) {
    for (Vec& point : contour) {
      point = placed.at + Vec(placed.mirrored ? -point.x : point.x, point.y) * placed.scale;
    }
  }
  return out;
}

/// Exact: no edge of one silhouette touches the other, and neither lies within the other.
bool silhouettes_meet(const std::vector<Contour>& a, const std::vector<Contour>& b) {
  if (!kp::geom::bounds(a).overlaps(kp::geom::bounds(b))) {
    return false;
  }
  for (const Contour& contour : a) {
    for (std::size_t i = 0; i < contour.size(); ++i) {
      if (meets(b, FillRule::nonzero, contour[i], contour[(i + 1) % contour.size()])) {
        return true;
      }
    }
  }
  return kp::geom::contains(a, FillRule::nonzero, b.front().front());
}

void check_apart(const Scene& scene) {
  std::vector<std::vector<Contour>> outlines;
  for (const Placed& placed : scene.items) {
    outlines.push_back(outline_of(placed));
  }
  for (std::size_t i = 0; i < outlines.size(); ++i) {
    for (std::size_t j = i + 1; j < outlines.size(); ++j) {
      CAPTURE(scene.items[i].id);
      CAPTURE(scene.items[j].id);
      CHECK_FALSE(silhouettes_meet(outlines[i], outlines[j]));
    }
  }
}

void check_callouts(const Scene& scene, const std::vector<Item>& items) {
  for (std::size_t i = 0; i < scene.callouts.size(); ++i) {
    const Callout& one = scene.callouts[i];
    CAPTURE(one.id);
    for (std::size_t j = 0; j < scene.callouts.size(); ++j) {
      const Callout& other = scene.callouts[j];
      if (i == j) {
        continue;
      }
      CHECK_FALSE(one.box.overlaps(other.box));
      if (one.over || other.over) {
        continue;
      }
      for (std::size_t a = 0; a + 1 < one.leader.size(); ++a) {
        CHECK_FALSE(meets(other.box, one.leader[a], one.leader[a + 1]));
        for (std::size_t b = 0; b + 1 < other.leader.size(); ++b) {
          CHECK_FALSE(touch(one.leader[a], one.leader[a + 1], other.leader[b],
                            other.leader[b + 1]));
        }
      }
    }
    for (const Placed& placed : scene.items) {
      const std::vector<Contour> outline = outline_of(placed);
      // Words stand on nothing.
      const Box words = one.box;
      const Vec corners[] = {words.min, Vec(words.max.x, words.min.y), words.max,
                             Vec(words.min.x, words.max.y)};
      for (int k = 0; k < 4; ++k) {
        CHECK_FALSE(meets(outline, FillRule::nonzero, corners[k], corners[(k + 1) % 4]));
      }
      if (placed.id == one.id || one.over) {
        continue;
      }
      for (std::size_t a = 0; a + 1 < one.leader.size(); ++a) {
        CHECK_FALSE(meets(outline, FillRule::nonzero, one.leader[a], one.leader[a + 1]));
      }
    }
    // A leader begins on its own item.
    if (!one.leader.empty()) {
      double nearest = 1e9;
      for (const Placed& placed : scene.items) {
        if (placed.id == one.id) {
          const Box box = placed.box.grown(40);
          nearest = std::min(nearest, box.contains(one.leader.front()) ? 0.0 : 1e9);
        }
      }
      CHECK(nearest == 0.0);
    }
    const auto item = std::find_if(items.begin(), items.end(),
                                   [&one](const Item& it) { return it.id == one.id; });
    CHECK((!one.over || item->state == ItemState::next || item->state == ItemState::moving ||
           item->state == ItemState::target));
  }
}

void check_window(const Scene& scene, const Viewport& viewport) {
  for (const Placed& placed : scene.items) {
    CHECK(scene.content.grown(1e-6).contains(placed.box));
  }
  for (const Callout& callout : scene.callouts) {
    CHECK(scene.content.grown(1e-6).contains(callout.box));
  }
  if (!scene.scrolls) {
    CHECK(Box::of(0, 0, viewport.width, viewport.height).grown(1e-6).contains(scene.content));
  }
  CHECK(scene.scale >= viewport.least_scale - 1e-9);
  CHECK(scene.scale <= viewport.most_scale + 1e-9);
}

/// Same direction, overlapping lanes, same assembly: the outer stays the outer.
void check_order(const Scene& scene, const std::vector<Item>& items) {
  const auto lane = [](const Placed& placed, Vec along) {
    const Vec across = kp::geom::quarter_turn(along);
    const double a = kp::geom::dot(placed.box.min, across);
    const double b = kp::geom::dot(placed.box.max, across);
    return std::make_pair(std::min(a, b), std::max(a, b));
  };
  const auto is_carrier = [&items](int id) {
    return std::any_of(items.begin(), items.end(),
                       [id](const Item& item) { return item.carrier == id; });
  };
  for (const Item& cover : items) {
    for (const Item& item : items) {
      const bool covered = std::find(item.covered_by.begin(), item.covered_by.end(), cover.id) !=
                           item.covered_by.end();
      if (!covered || item.away != cover.away || item.away == Vec(0, 0) || item.fastener ||
          cover.fastener || item.carrier != cover.carrier || is_carrier(item.id) ||
          is_carrier(cover.id) || item.id == cover.id) {
        continue;
      }
      const bool both_ways = std::find(cover.covered_by.begin(), cover.covered_by.end(),
                                       item.id) != cover.covered_by.end();
      const Placed* out = scene.find(cover.id);
      const Placed* in = scene.find(item.id);
      REQUIRE(out != nullptr);
      REQUIRE(in != nullptr);
      const auto a = lane(*out, item.away);
      const auto b = lane(*in, item.away);
      if (both_ways || a.first >= b.second || b.first >= a.second) {
        continue;
      }
      CAPTURE(cover.id);
      CAPTURE(item.id);
      CHECK(kp::geom::dot(out->box.centre() - in->box.centre(), item.away) > 0);
    }
  }
}

std::string text_of(const Scene& scene) { return dump(scene.list); }

}  // namespace

TEST_CASE("random machines come apart: nothing overlaps, covers stay outside, callouts are clean") {
  Random random(2024);
  CAPTURE(random.seed());
  int named = 0;
  int unnamed = 0;
  for (int round = 0; round < 40; ++round) {
    CAPTURE(round);
    const std::vector<Drawing> drawings = kp::test::random_drawings(random, 12);
    const std::vector<Item> items =
        kp::test::random_items(random, drawings, random.between(1, 40));
    Viewport viewport;
    viewport.width = random.between(320, 900);
    viewport.height = random.between(260, 800);
    viewport.side = static_cast<CalloutSide>(random.between(0, 3));
    const Scene scene = layout(items, 1, viewport);
    CHECK(scene.items.size() >= items.size());
    check_apart(scene);
    check_order(scene, items);
    check_callouts(scene, items);
    check_window(scene, viewport);
    if (viewport.side != CalloutSide::none) {
      named += kp::to_int(scene.callouts.size());
      unnamed += kp::to_int(scene.unlabelled.size());
    } else {
      CHECK(scene.callouts.empty());
    }
  }
  // Crowded random piles are worse than any machine; even there most items get their name.
  CHECK(named > 3 * unnamed);
}

TEST_CASE("all drawings of the machine, in random places, come apart") {
  Random random(7);
  CAPTURE(random.seed());
  const std::vector<Drawing> drawings = kp::test::part_drawings();
  REQUIRE(drawings.size() >= 32);
  for (int round = 0; round < 4; ++round) {
    CAPTURE(round);
    std::vector<Item> items = kp::test::random_items(random, drawings, kp::to_int(drawings.size()));
    for (std::size_t i = 0; i < items.size(); ++i) {
      items[i].drawing = &drawings[i];
      items[i].name = drawings[i].title;
    }
    const Viewport viewport;
    const Scene scene = layout(items, 1, viewport);
    check_apart(scene);
    check_order(scene, items);
    check_callouts(scene, items);
    check_window(scene, viewport);
  }
}

TEST_CASE("the pump module comes apart on one axis, in order, all named, within the window") {
  const std::vector<Drawing> drawings = kp::test::part_drawings();
  std::vector<Item> items = kp::test::pump_module(drawings);
  for (const double width : {320.0, 390.0, 680.0}) {
    CAPTURE(width);
    Viewport viewport;
    viewport.width = width;
    const Scene scene = layout(items, 1, viewport);
    check_apart(scene);
    check_order(scene, items);
    check_callouts(scene, items);
    check_window(scene, viewport);
    CHECK_FALSE(scene.scrolls);
    // On the smallest phone one name may find no room; on the others all do.
    CHECK(scene.unlabelled.size() <= (width < 390 ? 1U : 0U));
    // Top to bottom: hub cap, arm, screen, floor, housing, plate, chopper, sump, motor, mount.
    double last = -1e9;
    for (const int id : {0, 1, 2, 3, 5, 6, 7, 8, 9, 10}) {
      const Placed* placed = scene.find(id);
      REQUIRE(placed != nullptr);
      CHECK(placed->at.x == doctest::Approx(scene.find(0)->at.x));
      CHECK(placed->box.centre().y > last);
      last = placed->box.centre().y;
    }
    // Two springs of the three, mirrored about the axis, level with each other.
    std::vector<const Placed*> springs;
    for (const Placed& placed : scene.items) {
      if (placed.id == 4) {
        springs.push_back(&placed);
      }
    }
    REQUIRE(springs.size() == 2);
    CHECK(springs[1]->mirrored);
    CHECK(springs[0]->ring >= 25);
    CHECK(springs[0]->box.centre().y == doctest::Approx(springs[1]->box.centre().y));
    CHECK(springs[0]->box.centre().x + springs[1]->box.centre().x ==
          doctest::Approx(2 * scene.find(0)->at.x));
  }
}

TEST_CASE("same input, same output") {
  Random random(5);
  CAPTURE(random.seed());
  const std::vector<Drawing> drawings = kp::test::random_drawings(random, 8);
  const std::vector<Item> items = kp::test::random_items(random, drawings, 30);
  const Viewport viewport;
  for (const double progress : {0.0, 0.3, 1.0}) {
    CHECK(text_of(layout(items, progress, viewport)) == text_of(layout(items, progress, viewport)));
  }
}

TEST_CASE("states change the look, never the places") {
  Random random(99);
  CAPTURE(random.seed());
  const std::vector<Drawing> drawings = kp::test::random_drawings(random, 8);
  for (int round = 0; round < 20; ++round) {
    const std::vector<Item> before = kp::test::random_items(random, drawings, 20);
    std::vector<Item> after = before;
    for (Item& item : after) {
      item.state = static_cast<ItemState>(random.between(0, 4));
    }
    const Viewport viewport;
    const Scene a = layout(before, 1, viewport);
    const Scene b = layout(after, 1, viewport);
    REQUIRE(a.items.size() == b.items.size());
    for (std::size_t i = 0; i < a.items.size(); ++i) {
      CHECK(a.items[i].at == b.items[i].at);
      CHECK(a.items[i].scale == b.items[i].scale);
    }
    // Callouts that both show stand where they stood.
    for (const Callout& one : a.callouts) {
      for (const Callout& other : b.callouts) {
        if (one.id == other.id && !one.over && !other.over) {
          CHECK(one.box.min == other.box.min);
          CHECK(one.leader == other.leader);
        }
      }
    }
  }
}

TEST_CASE("at progress 0 everything is at home, then it moves on straight lines") {
  const std::vector<Drawing> drawings = kp::test::part_drawings();
  std::vector<Item> items = kp::test::pump_module(drawings);
  const Viewport viewport;
  const Scene home = layout(items, 0, viewport);
  const Scene apart = layout(items, 1, viewport);
  for (const Item& item : items) {
    if (item.fastener) {
      continue;
    }
    const Vec from_first = home.find(item.id)->at - home.find(items[0].id)->at;
    const Vec wanted = (item.home - items[0].home) * home.scale;
    CHECK(length(from_first - wanted) < 1e-6);
  }
  check_window(home, viewport);
  for (const double progress : {0.25, 0.5, 0.9}) {
    const Scene scene = layout(items, progress, viewport);
    check_window(scene, viewport);
    CHECK_FALSE(scene.scrolls);
    for (std::size_t i = 0; i < scene.items.size(); ++i) {
      const Vec on_line = home.items[i].at + (apart.items[i].at - home.items[i].at) * progress;
      CHECK(length(scene.items[i].at - on_line) < 1e-6);
    }
    // Only what is worked on is named while things lie over one another.
    CHECK(scene.callouts.size() == 1);
    CHECK(scene.callouts.front().id == 4);
  }
}

TEST_CASE("items move along their own direction of removal") {
  Random random(8);
  CAPTURE(random.seed());
  const std::vector<Drawing> drawings = kp::test::random_drawings(random, 3);
  Item still;
  still.id = 1;
  still.name = "still";
  still.drawing = &drawings[0];
  Item left = still;
  left.id = 2;
  left.away = Vec(-1, 0);
  left.home = Vec(-5, 3);
  const Viewport viewport;
  const Scene scene = layout({still, left}, 1, viewport);
  const Vec way = scene.find(2)->at - scene.find(1)->at;
  CHECK(way.x < 0);
  CHECK(way.y == doctest::Approx(3 * scene.scale));
}

TEST_CASE("odd input is placed, too") {
  Random random(12);
  CAPTURE(random.seed());
  const std::vector<Drawing> drawings = kp::test::random_drawings(random, 3);
  const Viewport viewport;
  CHECK(layout({}, 1, viewport).items.empty());
  CHECK_FALSE(layout({}, 1, viewport).scrolls);
  // Without drawing; covered by itself, by each other, by someone unknown; carried in a circle.
  std::vector<Item> items(4);
  for (int i = 0; i < 4; ++i) {
    items[static_cast<std::size_t>(i)].id = i;
    items[static_cast<std::size_t>(i)].name = "odd";
    items[static_cast<std::size_t>(i)].away = Vec(0, 1);
    items[static_cast<std::size_t>(i)].covered_by = {i, (i + 1) % 4, 77};
    items[static_cast<std::size_t>(i)].carrier = (i + 1) % 4;
  }
  items[2].drawing = &drawings[0];
  const Scene scene = layout(items, 1, viewport);
  CHECK(scene.items.size() == 4);
  check_window(scene, viewport);
  Viewport tiny;
  tiny.width = 40;
  tiny.height = 30;
  check_window(layout(items, 1, tiny), tiny);
}
