// The screens, drawn from made-up snapshots at every size: nothing cut, nothing on top of another,
// everything in reach, and the right actions back.
#include <algorithm>
#include <cmath>

#include <imgui.h>

#include "base/text.hpp"
#include "ui/stage.hpp"

using namespace kp;
using namespace kp::ui;
using kp::test::drawings;
using kp::test::Stage;

namespace {

const Vec kSizes[] = {{390, 844}, {320, 568}, {844, 390}, {768, 1024}, {1440, 900}};

}  // namespace

TEST_CASE("no line of words is cut at the side, at any size and text size") {
  for (const Vec size : kSizes) {
    for (const int percent : {100, 130, 170}) {
      Stage stage("open", size, percent);
      for (const std::string& name : test::gallery_names()) {
        CAPTURE(name);
        CAPTURE(size.x);
        CAPTURE(percent);
        stage.show(name);
        CHECK_FALSE(stage.runs.empty());
        for (const Ui::TextRun& run : stage.runs) {
          const bool drawing = stage.snapshot.exploded.has_value() && run.box.h < 12;
          CAPTURE(run.words);
          if (!drawing) CHECK(run.box.x >= run.clip.x - 1);
          if (!drawing) CHECK(run.box.right() <= run.clip.right() + 1);
        }
      }
    }
  }
}

TEST_CASE("no two lines of words lie on one another") {
  for (const Vec size : kSizes) {
    for (const int percent : {100, 170}) {
      Stage stage("open", size, percent);
      for (const std::string& name : test::gallery_names()) {
        stage.show(name);
        if (stage.snapshot.sheet) continue;   // it lies over the screen
        for (std::size_t i = 0; i < stage.runs.size(); ++i) {
          for (std::size_t j = i + 1; j < stage.runs.size(); ++j) {
            const Box a = stage.runs[i].box.cut(stage.runs[i].clip);
            const Box b = stage.runs[j].box.cut(stage.runs[j].clip);
            const Box both = a.cut(b);
            CAPTURE(name);
            CAPTURE(size.x);
            CAPTURE(percent);
            CAPTURE(stage.runs[i].words);
            CAPTURE(stage.runs[j].words);
            CHECK_FALSE((both.w > 1 && both.h > 1));
          }
        }
      }
    }
  }
}

TEST_CASE("what confirms is in the lower third, 56 px high or more, and wholly in sight") {
  Stage stage("open");
  for (const std::string& name : test::gallery_names()) {
    stage.show(name);
    if (!stage.snapshot.card.primary || stage.snapshot.sheet) continue;
    CAPTURE(name);
    const Semantic* main = stage.driver.find(Role::button, stage.snapshot.card.primary->label);
    REQUIRE(main != nullptr);
    CHECK(main->box.h >= 56);
    CHECK(main->box.centre().y > 844.0F * 2 / 3);
    CHECK(main->box.bottom() <= 844);
  }
}

TEST_CASE("on the smallest phone with the largest text the main button stays in sight") {
  Stage stage("open", Vec{320, 568}, 170);
  for (const std::string& name : test::gallery_names()) {
    stage.show(name);
    if (!stage.snapshot.card.primary || stage.snapshot.sheet) continue;
    CAPTURE(name);
    const Semantic* main = stage.driver.find(Role::button, stage.snapshot.card.primary->label);
    REQUIRE(main != nullptr);
    CHECK(main->visible);
    CHECK(main->box.bottom() <= 568);
  }
}

TEST_CASE("everything that is pressed is large enough for a finger") {
  for (const Vec size : {Vec{390, 844}, Vec{320, 568}, Vec{844, 390}}) {
    Stage stage("open", size);
    for (const std::string& name : test::gallery_names()) {
      stage.show(name);
      for (const Semantic& item : stage.driver.front.ui.semantics.items()) {
        if (!focusable(item) || !item.visible || item.parent != 0) continue;
        const bool callout = stage.snapshot.exploded && item.role == Role::button && item.box.h < 40;
        const bool cut = item.box.h < 40;   // scrolled half out of sight
        if (callout || cut) continue;
        CAPTURE(name);
        CAPTURE(item.name);
        CHECK(item.box.h >= 43);
        CHECK(item.box.w >= 43);
      }
    }
  }
}

TEST_CASE("names are unique enough to be found, and every item has one") {
  Stage stage("open");
  for (const std::string& name : test::gallery_names()) {
    stage.show(name);
    for (const Semantic& item : stage.driver.front.ui.semantics.items()) {
      CAPTURE(name);
      CAPTURE(role_name(item.role));
      CHECK_FALSE(item.name.empty());
      int same = 0;
      for (const Semantic& other : stage.driver.front.ui.semantics.items()) same += other.id == item.id ? 1 : 0;
      CHECK(same == 1);
    }
  }
}

TEST_CASE("holding the step's button sends the snapshot's own action") {
  Stage stage("open");
  CHECK(stage.driver.hold("Hold: springs unhooked"));
  REQUIRE(stage.actions.size() == 1);
  CHECK(stage.actions[0].verb == app::Verb::steps_done);
  CHECK(stage.actions[0].id == "saddle");
  CHECK(stage.actions[0].revision == 7);
}

TEST_CASE("a reading goes out with its value, and the field is empty again") {
  Stage stage("make-safe");
  const Semantic* next = stage.driver.find(Role::button, "Next reading");
  REQUIRE(next != nullptr);
  CHECK_FALSE(next->enabled);
  CHECK(stage.driver.tap(Role::button, "0"));
  CHECK(stage.driver.tap(Role::button, "point"));
  CHECK(stage.driver.tap(Role::button, "4"));
  CHECK(stage.driver.tap(Role::button, "Next reading"));
  REQUIRE(stage.actions.size() == 1);
  CHECK(stage.actions[0].verb == app::Verb::fact);
  CHECK(stage.actions[0].value == doctest::Approx(0.4));
  CHECK(stage.driver.find(Role::textbox, "Touch line")->value.empty());
}

TEST_CASE("a reading that is out of range is refused at the field and cannot be sent") {
  Stage stage("make-safe");
  for (int i = 0; i < 4; ++i) CHECK(stage.driver.tap(Role::button, "9"));
  CHECK(stage.driver.has(Role::alert, "Enter 0 to 1000 V~."));
  CHECK_FALSE(stage.driver.tap(Role::button, "Next reading"));
  CHECK(stage.actions.empty());
}

TEST_CASE("the OL key sends an open loop") {
  Stage stage("test");
  CHECK(stage.driver.tap(Role::button, "OL"));
  CHECK(stage.driver.tap(Role::button, "Keep the reading"));
  CHECK(stage.sent(app::Verb::test_open_loop));
}

TEST_CASE("a tester that shows steps: its key carries its own words, wholly in sight, and they stand in the field") {
  for (const float wide : {320.0F, 390.0F, 1440.0F}) {
    Stage stage("test", ui::Vec{wide, 844});
    stage.snapshot.card.number->open_word = "No step lit";
    stage.driver.run();
    stage.driver.wait(Stage::kLooked);
    CHECK(stage.driver.tap(Role::button, "No step lit"));
    const Semantic* field = stage.driver.find(Role::textbox, stage.snapshot.card.number->label);
    REQUIRE(field != nullptr);
    CHECK(field->value == "No step lit");
    CHECK(stage.driver.tap(Role::button, "Keep the reading"));
    CHECK(stage.sent(app::Verb::test_open_loop));
    for (const ui::Ui::TextRun& run : stage.runs) {
      CAPTURE(run.words);
      CHECK(run.box.x >= run.clip.x - 0.5F);
      CHECK(run.box.right() <= run.clip.right() + 0.5F);
    }
  }
}

TEST_CASE("the strip opens its evidence, the rail the plan") {
  Stage stage("open");
  CHECK(stage.driver.tap(Role::button, "DEAD"));
  REQUIRE(stage.actions.size() == 1);
  CHECK(stage.actions[0].id == "power");
  CHECK(stage.driver.tap(Role::button, "Plan"));
  CHECK(stage.driver.has(Role::region, "Plan to the heater"));
  CHECK_FALSE(stage.driver.has(Role::button, "Hold: springs unhooked"));
  CHECK(stage.driver.tap(Role::button, "Close"));
  CHECK(stage.driver.has(Role::button, "Hold: springs unhooked"));
}

TEST_CASE("a sheet puts the rest out of reach and can be left by Escape and by the back key") {
  Stage stage("sheet");
  CHECK_FALSE(stage.driver.has(Role::button, "Hold: springs unhooked"));
  CHECK(stage.driver.tap(Role::button, "Broken"));
  CHECK(stage.sent(app::Verb::step_blocked));
  stage.driver.press_key(Key::escape);
  CHECK(stage.sent(app::Verb::close_sheet));
  stage.actions.clear();
  CHECK(stage.view.back(stage.snapshot, stage.actions));
  CHECK(stage.sent(app::Verb::close_sheet));
}

TEST_CASE("a sheet's buttons never lie over its own words, however many they are") {
  for (const Vec size : {Vec{390, 844}, Vec{320, 568}, Vec{844, 390}, Vec{1440, 900}}) {
    CAPTURE(size.x);
    Stage stage("sheet", size);
    app::Sheet& sheet = stage.snapshot.sheet.value();
    sheet.paragraphs.assign(3, "Left isolated: lock and tag stay, the water stays shut, and the papers say so.");
    for (int i = 0; i < 4; ++i) {
      app::Button one = sheet.buttons.front();
      one.label = cat("end ", i);
      one.hold = true;
      one.enabled = false;
      one.detail = "Write what is missing or what is dangerous.";
      sheet.buttons.push_back(one);
    }
    stage.driver.run();
    const Semantic* words = stage.driver.find(Role::text, sheet.paragraphs.front());
    REQUIRE(words != nullptr);
    int seen = 0;
    for (int i = 0; i < 4; ++i) {
      const Semantic* one = stage.driver.find(Role::button, cat("end ", i));
      seen += one != nullptr ? 1 : 0;
      CHECK((one == nullptr || one->box.y >= words->box.bottom()));
    }
    CHECK(seen > 0);
  }
}

TEST_CASE("a signature is asked for before it is handed over, and goes out from 0 to 1") {
  Stage stage("bill");
  CHECK_FALSE(stage.driver.tap(Role::button, "Hand over invoice"));
  const Box pad = stage.driver.find(Role::button, "Signature")->box;
  stage.driver.drag(Vec{pad.x + 30, pad.y + 50}, Vec{pad.x + 200, pad.y + 20});
  CHECK(stage.driver.tap(Role::button, "Hand over invoice"));
  REQUIRE(stage.actions.size() == 1);
  const auto& strokes = stage.actions[0].strokes;
  CHECK(strokes.size() >= 8);
  for (const double value : strokes) CHECK((value == -1 || (value >= 0 && value <= 1)));
  // Ten moves, a step of the driver's clock each, behind the press: times are those of the events.
  const auto& times = stage.actions[0].times;
  REQUIRE(times.size() == strokes.size() / 2);
  CHECK(times.front() == 0);
  CHECK(std::is_sorted(times.begin(), times.end()));
  const double step = stage.driver.step_ms;
  CHECK(times.back() >= static_cast<std::uint32_t>(10 * step));
  CHECK(times.back() <= static_cast<std::uint32_t>(14 * step));
}

TEST_CASE("typing on the page goes to the field by its id") {
  Stage stage("arrive");
  stage.driver.surface.dom_text = true;
  Event event;
  event.kind = EventKind::value;
  event.id = stage.driver.find(Role::textbox, "Model")->id;
  event.text = "CB 430";
  stage.driver.front.push(event);
  stage.driver.run();
  REQUIRE(stage.sent(app::Verb::plate_typed));
  CHECK(stage.actions.back().text == "CB 430");
}

TEST_CASE("a callout of the drawing can be reached by the keyboard, and a touch names the part") {
  Stage stage("open");
  CHECK(stage.driver.has(Role::button, "motor"));
  CHECK(stage.driver.assist(Role::button, "motor"));
  CHECK(stage.driver.front.ui.list() != nullptr);
  const bool named = std::any_of(stage.runs.begin(), stage.runs.end(), [](const Ui::TextRun& run) {
    return run.words == "About: motor" && run.box.h > 10.5F;
  });
  CHECK(named);
  stage.driver.wait(Stage::kLooked);
  CHECK(stage.driver.tap(Role::button, "About: motor"));
  REQUIRE(stage.sent(app::Verb::show_sheet));
  CHECK(stage.actions.back().id.rfind("item-", 0) == 0);
}

TEST_CASE("a list of every drawing costs what is in sight, and no more points than a frame can count") {
  Stage stage("parts");
  const ImDrawList* list = stage.driver.front.ui.list();
  REQUIRE(list != nullptr);
  CHECK(list->VtxBuffer.Size > 1000);
  CHECK(list->VtxBuffer.Size < 65'536);
  std::size_t most = 0;
  for (const ImDrawIdx index : list->IdxBuffer) most = std::max(most, static_cast<std::size_t>(index));
  CHECK(most < static_cast<std::size_t>(list->VtxBuffer.Size));
}

TEST_CASE("a still screen asks for no frame") {
  Stage stage("open");
  for (const std::string& name : test::gallery_names()) {
    CAPTURE(name);
    stage.show(name);
    CHECK(stage.driver.when.kind == When::Kind::on_event);
  }
}
