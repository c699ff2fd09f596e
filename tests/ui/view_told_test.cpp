// What a card tells to readers, and what a press of it stands on.
#include <string>
#include <vector>

#include "ui/stage.hpp"

using namespace kp;
using namespace kp::ui;
using kp::test::Stage;

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
