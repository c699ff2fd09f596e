// The screens, drawn from made-up snapshots at every size: nothing cut, nothing on top of another,
// everything in reach, and the right actions back.
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>

#include <imgui.h>

#include "scene/svg.hpp"
#include "ui/driver.hpp"
#include "ui/gallery/screens.hpp"
#include "ui/view.hpp"

using namespace kp;
using namespace kp::ui;
using kp::test::Driver;

namespace {

const Drawings& drawings() {
  static const Drawings all = [] {
    Drawings out;
    for (const auto& file : std::filesystem::directory_iterator(KP_SOURCE_DIR "/assets/parts")) {
      if (file.path().extension() != ".svg") continue;
      std::ifstream in(file.path(), std::ios::binary);
      const std::string text((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
      Findings findings;
      auto drawing = scene::read_drawing(file.path().stem().string(), text, findings);
      if (drawing.has_value()) out.emplace(file.path().stem().string(), std::move(drawing.value()));
    }
    return out;
  }();
  return all;
}

struct Stage {
  app::Snapshot snapshot;
  View view;
  Actions actions;
  std::vector<Ui::TextRun> runs;
  Driver driver;

  explicit Stage(const std::string& name, Vec size = Vec{390, 844}, int percent = 100)
      : snapshot(test::gallery_screen(name, drawings())),
        driver([this, percent](Ui& ui) {
          ui.taste.text_percent = percent;
          runs.clear();
          ui.runs = &runs;
          view.draw(ui, snapshot, drawings(), actions);
        }, size) {
    driver.run();
    driver.wait(kLooked);
  }
  /// Another screen in the same window: the fonts are baked once.
  void show(const std::string& name) {
    snapshot = test::gallery_screen(name, drawings());
    snapshot.revision = ++shown;
    driver.run();
    driver.wait(kLooked);
  }
  /// A person looks before pressing: a press right after a card came belongs to the card before.
  static constexpr double kLooked = 400;
  std::uint32_t shown = 100;
  [[nodiscard]] bool sent(app::Verb verb) const {
    return std::any_of(actions.begin(), actions.end(),
                       [&](const app::Action& one) { return one.verb == verb; });
  }
};

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
  CHECK(stage.actions[0].verb == app::Verb::step_done);
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
  CHECK(stage.actions[0].verb == app::Verb::reading);
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

TEST_CASE("what is told to a reader: the graver first, each once, and none pushes another out") {
  Stage stage("open");
  app::Snapshot& now = stage.snapshot;
  const auto told = [&] {
    std::vector<std::string> out;
    stage.driver.ms += 16;
    stage.driver.frame();
    for (const Announcement& one : stage.driver.front.ui.announced()) {
      out.push_back((one.urgency == Urgency::rest ? "" : "! ") + one.text);
    }
    return out;
  };
  using Words = std::vector<std::string>;
  const auto caution = [](safety::SignalWord word, const char* sentence) {
    safety::Caution out;
    out.word = word;
    out.sentence = sentence;
    return out;
  };
  now.card.id = "next";
  now.card.sentence = "Take the lower panel off.";
  now.card.cautions = {caution(safety::SignalWord::caution, "Wear gloves."),
                       caution(safety::SignalWord::danger, "Keep hands out."),
                       caution(safety::SignalWord::warning, "Let it cool.")};
  now.strip.water.word = "OPEN";
  now.strip.water.line = "Water, taken as on";
  now.strip.water.meaning = safety::Meaning::danger;
  now.strip.power.line = "Power, proved 10:58";
  CHECK(told() == Words{"! OPEN. Water, taken as on", "! DANGER. Keep hands out.",
                        "! WARNING. Let it cool.", "DEAD. Power, proved 10:58",
                        "CAUTION. Wear gloves.", "Take the lower panel off."});
  CHECK(told().empty());
  now.card.cautions.erase(now.card.cautions.begin());   // what stays is not told again
  CHECK(told().empty());
  now.card.cautions.push_back(caution(safety::SignalWord::danger, "Hot water in the sump."));
  CHECK(told() == Words{"! DANGER. Hot water in the sump."});
  now.strip.water.word = "SHUT";
  now.strip.water.line = "Water, relieved 11:02";
  now.strip.water.meaning = safety::Meaning::safe;
  CHECK(told() == Words{"SHUT. Water, relieved 11:02"});
  now.sheet = app::Sheet{};
  now.sheet->title = "Why";
  now.strip.power.word = "LIVE";
  now.strip.power.line = "Power, taken as live";
  now.strip.power.meaning = safety::Meaning::danger;
  CHECK(told() == Words{"! LIVE. Power, taken as live"});   // a sheet does not cover the strip
}

TEST_CASE("a card whose words changed under the finger is not confirmed") {
  Stage stage("open");
  const Vec at = stage.driver.find(Role::button, "Hold: springs unhooked")->box.centre();
  stage.driver.send(EventKind::down, at);
  stage.driver.wait(600);
  SUBCASE("the strip") { stage.snapshot.strip.power.word = "NOT PROVED"; }
  SUBCASE("a record from elsewhere") { stage.snapshot.revision += 1; }
  SUBCASE("a caution") { stage.snapshot.card.cautions.emplace_back().sentence = "Live."; }
  stage.driver.wait(600);
  stage.driver.send(EventKind::up, at);
  stage.driver.run();
  CHECK(stage.actions.empty());
  CHECK(stage.driver.hold("Hold: springs unhooked"));
  CHECK(stage.actions.size() == 1);
}

TEST_CASE("a window that was not drawn since the card changed confirms nothing") {
  Stage stage("open");
  const Vec at = stage.driver.find(Role::button, "Hold: springs unhooked")->box.centre();
  stage.snapshot.revision += 1;   // no frame shows it yet
  stage.driver.send(EventKind::down, at);
  stage.driver.ms += 900;
  stage.driver.send(EventKind::up, at);
  stage.driver.ms += 20;
  stage.driver.frame();
  stage.driver.settle();
  CHECK(stage.actions.empty());
}

TEST_CASE("a press by key or reader right after a card came was meant for the one before") {
  Stage stage("find");
  stage.snapshot.card.id = "another";
  stage.driver.frame();
  CHECK(stage.driver.assist(Role::button, "Do this test"));
  CHECK(stage.actions.empty());
  stage.driver.wait(Stage::kLooked);
  CHECK(stage.driver.assist(Role::button, "Do this test"));
  CHECK(stage.actions.size() == 1);
}

TEST_CASE("a button of a sheet that would be refused says why, and so does a refusal under it") {
  Stage stage("sheet");
  app::Button& broken = stage.snapshot.sheet->buttons.front();
  broken.hold = true;
  broken.enabled = false;
  broken.detail = "Prove the power dead first.";
  stage.snapshot.card.refusal = {"The tag does not hang yet."};
  stage.driver.run();
  CHECK(stage.driver.has(Role::status, "Prove the power dead first."));
  CHECK(stage.driver.has(Role::status, "The tag does not hang yet."));
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
