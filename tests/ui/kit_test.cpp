// Widgets, pressed as a person presses them.
#include <string>
#include <vector>

#include <imgui.h>

#include "ui/driver.hpp"
#include "ui/frame.hpp"
#include "ui/kit.hpp"

using namespace kp;
using namespace kp::ui;
using kp::test::Driver;

namespace {

struct Bench {
  int plain = 0;
  int held = 0;
  int rows = 0;
  int ways = -1;
  bool ticked = false;
  bool enabled = true;
  std::string step = "step-1";
  std::string number;
  Driver driver;

  explicit Bench(Vec size = Vec{390, 844})
      : driver([this](Ui& ui) { draw(ui); }, size) {}

  void draw(Ui& ui) {
    const auto look = [&] {
      list(ui, "Rows", [&] {
        for (int i = 0; i < 30; ++i) {
          const std::string label = "Row " + std::to_string(i);
          Row spec;
          spec.label = label;
          spec.pressable = true;
          if (row(ui, spec)) ++rows;
        }
      });
    };
    const auto act = [&] {
      caution(ui, Caution{.text = "Sharp rim. Wear gloves.", .sign = "W022"});
      sentence(ui, "Unhook the springs.");
      (void)checkbox(ui, "Ring sits all round", ticked);
      if (button(ui, Button{.label = "Plain"})) ++plain;
    };
    const auto foot = [&] {
      Hold spec;
      spec.label = "Hold: springs unhooked";
      spec.key = step;
      spec.enabled = enabled;
      if (hold(ui, spec)) {
        ++held;
        step = "step-" + std::to_string(held + 1);
      }
      const int pressed = ways_out(ui, {"Why this step", "Can't do it", "Pause"});
      if (pressed >= 0) ways = pressed;
    };
    Screen spec;
    spec.name = "bench";
    spec.strip.power.word = "LIVE";
    spec.strip.power.under = "Power, taken as live";
    spec.strip.water.word = "OPEN";
    spec.strip.water.under = "Water, taken as on";
    spec.rail.stages = {"Arrive", "Open"};
    spec.rail.clock = "00:00:01";
    spec.look = look;
    spec.act = act;
    spec.foot = foot;
    (void)screen(ui, spec);
  }
};

}  // namespace

TEST_CASE("one tap on each kind of widget is one activation") {
  Bench bench;
  CHECK(bench.driver.tap(Role::button, "Plain"));
  CHECK(bench.plain == 1);
  CHECK(bench.driver.tap(Role::checkbox, "Ring sits all round"));
  CHECK(bench.ticked);
  CHECK(bench.driver.tap(Role::button, "Row 2"));
  CHECK(bench.rows == 1);
  CHECK(bench.driver.tap(Role::button, "Can't do it"));
  CHECK(bench.ways == 1);
}

TEST_CASE("a swipe over rows scrolls and presses none") {
  Bench bench;
  CHECK_FALSE(bench.driver.find(Role::button, "Row 20")->visible);
  const Vec at = bench.driver.find(Role::button, "Row 3")->box.centre();
  bench.driver.drag(at, Vec{at.x, at.y - 200});
  CHECK(bench.rows == 0);
  CHECK_FALSE(bench.driver.find(Role::button, "Row 0")->visible);
  CHECK_FALSE(bench.driver.tap(Role::button, "Row 0"));
  std::string in_sight;   // the throw decides which rows are there now
  for (int i = 4; i < 30; ++i) {
    const std::string row = "Row " + std::to_string(i);
    if (bench.driver.find(Role::button, row)->visible) in_sight = row;
  }
  CHECK(bench.driver.tap(Role::button, in_sight));
  CHECK(bench.rows == 1);
}

TEST_CASE("a thumb that moves a little still taps; one that moves more does not") {
  for (const float travel : {0.0F, 4.0F, 8.0F, 11.0F}) {
    CAPTURE(travel);
    Bench bench;
    const Vec at = bench.driver.find(Role::button, "Row 2")->box.centre();
    bench.driver.drag(at, Vec{at.x, at.y + travel}, 3);
    CHECK(bench.rows == 1);
  }
  for (const float dpr : {1.0F, 2.0F, 3.0F}) {
    CAPTURE(dpr);
    Bench bench;
    bench.driver.surface.dpr = dpr;
    bench.driver.run();
    const Vec at = bench.driver.find(Role::button, "Row 2")->box.centre();
    bench.driver.drag(at, Vec{at.x, at.y + 14}, 3);
    CHECK(bench.rows == 0);
  }
}

TEST_CASE("nothing asks for a frame when nothing happens") {
  Bench bench;
  bench.driver.tap(Role::button, "Plain");
  CHECK(bench.driver.when.kind == When::Kind::on_event);
}

TEST_CASE("the screen after a tap is the screen before it") {
  Bench bench;
  const int before = bench.driver.front.ui.list()->VtxBuffer.Size;
  bench.driver.tap(Role::button, "Row 2");
  CHECK(bench.driver.front.ui.list()->VtxBuffer.Size == before);
}

TEST_CASE("an entry is read, refused with its range, or an open loop") {
  ReadingSpec spec;
  spec.unit = "V";
  spec.low = 0;
  spec.high = 300;
  CHECK(read_entry(spec, "").kind == Reading::Kind::empty);
  CHECK(read_entry(spec, "121").value == doctest::Approx(121));
  CHECK(read_entry(spec, "0.").value == doctest::Approx(0));
  CHECK(read_entry(spec, "0,5").value == doctest::Approx(0.5));
  CHECK(read_entry(spec, "301").refusal == "Enter 0 to 300 V.");
  CHECK(read_entry(spec, "1e9").kind == Reading::Kind::refused);
  CHECK(read_entry(spec, "nan").kind == Reading::Kind::refused);
  CHECK(read_entry(spec, "OL").kind == Reading::Kind::refused);
  spec.over = true;
  CHECK(read_entry(spec, "OL").kind == Reading::Kind::over);
}

TEST_CASE("the keypad types, deletes and refuses at the field") {
  std::string text;
  ReadingSpec spec;
  spec.label = "Touch line and earth. What does it read?";
  spec.unit = "V~";
  spec.high = 300;
  Reading got;
  Driver driver([&](Ui& ui) {
    ui.within(Box{16, 16, 358, 800}, [&] { got = reading(ui, spec, text); });
  });
  for (const char* digit : {"1", "2", "1"}) CHECK(driver.tap(Role::button, digit));
  CHECK(got.value == doctest::Approx(121));
  CHECK(driver.tap(Role::button, "point"));
  CHECK(driver.tap(Role::button, "point"));
  CHECK(text == "121.");
  CHECK(driver.tap(Role::button, "delete"));
  CHECK(driver.tap(Role::button, "9"));
  CHECK(text == "1219");
  CHECK(got.kind == Reading::Kind::refused);
  CHECK(driver.has(Role::alert, "Enter 0 to 300 V~."));
  driver.press_key(Key::backspace);
  driver.type("x");
  CHECK(text == "121");
}
