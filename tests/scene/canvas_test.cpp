// View, picking, symbols, and what reaches a canvas.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "scene/drawings.hpp"
#include "scene/machine.hpp"
#include "scene/paint.hpp"
#include "scene/pick.hpp"
#include "scene/random_items.hpp"
#include "scene/symbols.hpp"
#include "scene/view.hpp"
#include "support/random.hpp"

using kp::geom::length;
using kp::scene::Box;
using kp::scene::clamped;
using kp::scene::dragged;
using kp::scene::Drawing;
using kp::scene::Isolation;
using kp::scene::Item;
using kp::scene::ItemState;
using kp::scene::Look;
using kp::scene::PartMark;
using kp::scene::pinched;
using kp::scene::Placed;
using kp::scene::Role;
using kp::scene::Scene;
using kp::scene::showing;
using kp::scene::Vec;
using kp::scene::View;
using kp::scene::Viewport;
using kp::scene::zoomed;
using kp::test::Random;

namespace {

/// Keeps what it is told to draw.
class Recorder : public kp::scene::Canvas {
 public:
  void triangles(std::span<const Vec> points, Role role) override {
    for (std::size_t i = 0; i + 2 < points.size(); i += 3) {
      const double turn =
          kp::geom::cross(points[i + 1] - points[i], points[i + 2] - points[i]);
      CHECK(turn >= 0);
      filled += turn / 2;
    }
    fills.push_back(role);
    add(points);
  }
  void polyline(std::span<const Vec> points, bool closed, Role role, double width) override {
    CHECK(points.size() >= 2);
    CHECK(width > 0);
    strokes.push_back(role);
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
      drawn += length(points[i + 1] - points[i]);
    }
    drawn += closed ? length(points.back() - points.front()) : 0;
    add(points);
  }
  void circle(Vec centre, double radius, Role, Role, double) override {
    ++circles;
    box.add(Box::around(centre, radius, radius));
  }
  void text(Vec at, kp::scene::Anchor, double, bool, Role, std::string_view text) override {
    words.emplace_back(text);
    box.add(at);
  }

  std::vector<Role> fills;
  std::vector<Role> strokes;
  std::vector<std::string> words;
  int circles = 0;
  double filled = 0;
  double drawn = 0;
  Box box;

 private:
  void add(std::span<const Vec> points) {
    for (const Vec& point : points) {
      box.add(point);
    }
  }
};

Recorder painted(const kp::scene::Mark& mark, const View& view = {}) {
  Recorder recorder;
  paint({mark}, view, recorder);
  return recorder;
}

bool has(const std::vector<Role>& roles, Role role) {
  return std::find(roles.begin(), roles.end(), role) != roles.end();
}

}  // namespace

TEST_CASE("screen and scene coordinates are each other's inverse") {
  Random random(3);
  CAPTURE(random.seed());
  for (int i = 0; i < 100; ++i) {
    View view;
    view.zoom = 0.2 + 5 * random.unit();
    view.shift = Vec(400 * random.unit() - 200, 400 * random.unit() - 200);
    const Vec point(900 * random.unit(), 900 * random.unit());
    CHECK(length(to_scene(view, to_screen(view, point)) - point) < 1e-9);
  }
}

TEST_CASE("the view stays on the content, whatever the fingers do") {
  Random random(4);
  CAPTURE(random.seed());
  for (int round = 0; round < 50; ++round) {
    const Vec window(390, 440);
    const Box content = Box::of(0, -50, 100 + 600 * random.unit(), 100 + 1500 * random.unit());
    View view = clamped({}, content, window);
    for (int move = 0; move < 30; ++move) {
      const auto spot = [&] { return Vec(390 * random.unit(), 440 * random.unit()); };
      const int kind = random.between(0, 2);
      if (kind == 0) {
        view = dragged(view, spot() - spot(), content, window);
      } else if (kind == 1) {
        view = zoomed(view, 0.2 + 2 * random.unit(), spot(), content, window);
      } else {
        view = pinched(view, spot(), spot(), spot(), spot(), content, window);
      }
      CHECK(view.zoom <= kp::scene::kMostZoom);
      const Box shown = to_screen(view, content);
      // Either the window is filled, or the content lies wholly in it, on each axis.
      CHECK((shown.width() <= window.x + 1e-6 ? shown.min.x >= -1e-6 && shown.max.x <= 390 + 1e-6
                                              : shown.min.x <= 1e-6 && shown.max.x >= 390 - 1e-6));
      CHECK((shown.height() <= window.y + 1e-6
                 ? shown.min.y >= -1e-6 && shown.max.y <= 440 + 1e-6
                 : shown.min.y <= 1e-6 && shown.max.y >= 440 - 1e-6));
      CHECK(clamped(view, content, window) == view);
    }
  }
}

TEST_CASE("what is under the finger stays under it while zooming") {
  const Box content = Box::of(0, 0, 390, 440);
  const Vec window(390, 440);
  const View view = zoomed({}, 3, Vec(200, 220), content, window);
  CHECK(view.zoom == doctest::Approx(3));
  CHECK(length(to_scene(view, Vec(200, 220)) - Vec(200, 220)) < 1e-9);
  const View pinch = pinched(view, Vec(150, 200), Vec(250, 200), Vec(140, 210), Vec(260, 210),
                             content, window);
  CHECK(pinch.zoom == doctest::Approx(3 * 1.2));
  const Vec kept = to_scene(view, Vec(200, 200));
  CHECK(length(to_screen(pinch, kept) - Vec(200, 210)) < 1e-9);
}

TEST_CASE("showing moves as little as it must") {
  const Box content = Box::of(0, 0, 390, 2000);
  const Vec window(390, 440);
  const View view = clamped({}, content, window);
  CHECK(showing(view, Box::of(100, 100, 200, 200), content, window) == view);
  const View down = showing(view, Box::of(100, 900, 200, 1000), content, window);
  CHECK(to_screen(down, Vec(0, 1000)).y == doctest::Approx(440 - 16));
  CHECK(showing(down, Box::of(100, 900, 200, 1000), content, window) == down);
}

TEST_CASE("every item is picked at a point of its own silhouette, and near it") {
  Random random(15);
  CAPTURE(random.seed());
  const std::vector<Drawing> drawings = kp::test::part_drawings();
  std::vector<Item> items = kp::test::pump_module(drawings);
  for (Item& item : items) {
    item.state = ItemState::at_rest;
  }
  const Scene scene = layout(items, 1, Viewport{});
  View view;
  view.zoom = 1.7;
  view.shift = Vec(-30, 12);
  for (const Placed& placed : scene.items) {
    int hits = 0;
    for (int i = 0; i < 200; ++i) {
      const Vec point(placed.box.min.x + placed.box.width() * random.unit(),
                      placed.box.min.y + placed.box.height() * random.unit());
      const Vec local = (point - placed.at) / placed.scale;
      if (kp::geom::contains(placed.drawing->outline, kp::geom::FillRule::nonzero,
                             placed.mirrored ? Vec(-local.x, local.y) : local)) {
        ++hits;
        CHECK(pick(scene, view, to_screen(view, point)) == placed.id);
      }
    }
    CHECK(hits > 0);
  }
  CHECK_FALSE(pick(scene, view, Vec(-500, -500)).has_value());
  // A callout stands for its item.
  for (const auto& callout : scene.callouts) {
    CHECK(pick(scene, view, to_screen(view, callout.box.centre())) == callout.id);
  }
}

TEST_CASE("a finger reaches 22 px, no matter how far in the view is zoomed") {
  const std::vector<Drawing> drawings = kp::test::part_drawings();
  Item item = kp::test::item_of(drawings, 5, {"screen", "", Vec(0, 0), Vec(0, 0)});
  const Scene scene = layout({item}, 1, Viewport{});
  const Placed& placed = scene.items.front();
  for (const double zoom : {0.5, 1.0, 4.0}) {
    View view;
    view.zoom = zoom;
    const Box silhouette = kp::geom::bounds(placed.drawing->outline).scaled(placed.scale);
    const Vec edge = to_screen(view, placed.at + Vec(0, silhouette.max.y));
    CHECK(pick(scene, view, edge + Vec(0, 20)) == 5);
    CHECK_FALSE(pick(scene, view, edge + Vec(0, 24)).has_value());
  }
}

TEST_CASE("the upper of two items is picked, a ring before both") {
  const std::vector<Drawing> drawings = kp::test::part_drawings();
  Item below = kp::test::item_of(drawings, 1, {"motor", "", Vec(0, 0), Vec(0, 0)});
  Item above = kp::test::item_of(drawings, 2, {"chopper", "", Vec(0, 0), Vec(0, 1)});
  below.layer = 0;
  above.layer = 1;
  const Scene scene = layout({below, above}, 0, Viewport{});
  CHECK(pick(scene, {}, scene.find(2)->at) == 2);
  std::swap(below.layer, above.layer);
  const Scene swapped = layout({below, above}, 0, Viewport{});
  CHECK(pick(swapped, {}, swapped.find(2)->at) == 1);
  Viewport small;
  small.most_scale = 0.6;
  above.state = ItemState::next;
  const Scene ringed = layout({below, above}, 0, small);
  REQUIRE(ringed.find(2)->ring > 0);
  CHECK(pick(ringed, {}, ringed.find(2)->at) == 2);
}

TEST_CASE("a part is painted at its place, filled as large as it is") {
  const Drawing square = kp::scene::drawing_of(
      "square", {{Vec(0, 0), Vec(10, 0), Vec(10, 10), Vec(0, 10)}}, Role::cut);
  View view;
  view.zoom = 2;
  view.shift = Vec(5, 5);
  const Recorder plain = painted(PartMark{&square, Vec(20, 30), 1.5, Look::plain, false}, view);
  CHECK(plain.filled == doctest::Approx(900));
  CHECK(plain.box.min == Vec(45, 65));
  CHECK(plain.box.max == Vec(75, 95));
  CHECK(has(plain.fills, Role::grey_1));
  const Recorder mirrored = painted(PartMark{&square, Vec(20, 30), 1.5, Look::plain, true}, view);
  CHECK(mirrored.filled == doctest::Approx(900));
  CHECK(mirrored.box.min == Vec(15, 65));
}

TEST_CASE("each look is its own") {
  const std::vector<Drawing> drawings = kp::test::part_drawings();
  for (const Drawing& drawing : drawings) {
    CAPTURE(drawing.name);
    const auto look = [&drawing](Look one) {
      return painted(PartMark{&drawing, Vec(0, 0), 1, one, false});
    };
    const Recorder plain = look(Look::plain);
    CHECK_FALSE(plain.fills.empty());
    CHECK_FALSE(has(plain.strokes, Role::accent));
    const Recorder ghost = look(Look::ghost);
    CHECK(ghost.fills.empty());
    CHECK(ghost.strokes.size() > 4);  // dashes
    const Recorder next = look(Look::next);
    CHECK(has(next.strokes, Role::accent));
    CHECK(next.fills == plain.fills);
    const Recorder target = look(Look::target);
    CHECK(has(target.strokes, Role::accent));
    CHECK((has(target.fills, Role::accent_tint) || has(target.fills, Role::accent_deep)));
    const Recorder context = look(Look::context);
    CHECK(context.fills.empty());
    CHECK(has(context.strokes, Role::hairline));
  }
}

TEST_CASE("parts outside the window cost nothing") {
  const Drawing square = kp::scene::drawing_of(
      "square", {{Vec(0, 0), Vec(10, 0), Vec(10, 10), Vec(0, 10)}});
  const kp::scene::DisplayList list{PartMark{&square, Vec(500, 0), 1, Look::plain, false}};
  Recorder recorder;
  paint(list, {}, recorder, Box::of(0, 0, 390, 440));
  CHECK(recorder.fills.empty());
  paint(list, {}, recorder);
  CHECK_FALSE(recorder.fills.empty());
}

TEST_CASE("a whole scene stays within its content when painted") {
  const std::vector<Drawing> drawings = kp::test::part_drawings();
  const Scene scene = layout(kp::test::pump_module(drawings), 1, Viewport{});
  Recorder recorder;
  paint(scene.list, {}, recorder);
  CHECK(scene.content.grown(4).contains(recorder.box));
  CHECK(recorder.words.size() >= 9);
}

// IEC 60617: a make contact is drawn closed or open; ISO 14617: a valve of two triangles, filled
// when shut. The states must be told apart by shape alone (ISO 3864: never by colour alone).
TEST_CASE("the isolation symbols differ in shape") {
  const auto shape = [](auto symbol, Isolation state) {
    kp::scene::DisplayList list;
    symbol(list, Vec(0, 0), 68, state, Role::line);
    return dump(list);
  };
  for (const auto symbol : {kp::scene::switch_symbol, kp::scene::valve_symbol}) {
    const std::string passing = shape(symbol, Isolation::passing);
    const std::string cut_off = shape(symbol, Isolation::cut_off);
    const std::string proved = shape(symbol, Isolation::proved);
    CHECK(passing != cut_off);
    CHECK(cut_off != proved);
    CHECK(proved.rfind(cut_off, 0) == 0);  // crossed, else the same
  }
  kp::scene::DisplayList closed;
  switch_symbol(closed, Vec(0, 0), 68, Isolation::passing);
  // Closed, the blade bridges the contacts; open, its tip is clear of the other contact.
  const auto blade = [](const kp::scene::DisplayList& list) {
    return std::get<kp::scene::LineMark>(list[2]).points.back();
  };
  CHECK(blade(closed) == Vec(11, 0));
  kp::scene::DisplayList open;
  switch_symbol(open, Vec(0, 0), 68, Isolation::cut_off);
  CHECK(length(blade(open) - Vec(11, 0)) > 10);
}

// ISO 7010 W001: an equilateral triangle, yellow with a black border.
TEST_CASE("the warning sign is yellow, bordered and as high as asked") {
  kp::scene::DisplayList list;
  warning_sign(list, Vec(50, 10), 35);
  Recorder recorder;
  paint(list, {}, recorder);
  CHECK(has(recorder.fills, Role::signal_yellow));
  CHECK(has(recorder.strokes, Role::signal_black));
  CHECK(recorder.box.min.y == doctest::Approx(10));
  CHECK(recorder.box.max.y == doctest::Approx(45));
  CHECK(recorder.box.width() / recorder.box.height() ==
        doctest::Approx(2 / std::sqrt(3.0)).epsilon(0.02));
}
