// The lower part of the screen where it is tight: one panel a danger, and a reading's field and keys in
// sight however many words stand over them. The figures' marks take half a cell. (Seen on the tool at
// 320 by 568 and on the clock; no source but the eye.)
#include <doctest/doctest.h>

#include "ui/stage.hpp"

using namespace kp;
using test::Stage;
using ui::Role;

namespace {

safety::Caution danger(const char* sentence, const char* sign) {
  safety::Caution out;
  out.word = safety::SignalWord::danger;
  out.sentence = sentence;
  out.sign = sign;
  return out;
}

void probe(Stage& stage) {
  stage.snapshot.card.cautions = {danger("Treat it as live until it is proved dead.", "W012"),
                                  danger("Keep your fingers behind the guards of the probes.", "W012")};
  stage.snapshot.card.facts = {"Place: Junction box behind the toe panel and the access panel"};
  stage.snapshot.card.how = "Two-pole tester, CAT III, tips bared 4 mm at most. Earth or neutral first.";
  stage.snapshot.card.number->band = "dead: no step lit, or at most 3 V";
  stage.snapshot.card.number->open_loop = true;
  stage.snapshot.card.number->open_word = "No step lit";
  stage.driver.run();
  stage.driver.wait(Stage::kLooked);
}

int alerts(const Stage& stage) {
  int count = 0;
  for (const ui::Semantic& item : stage.driver.front.ui.semantics.items()) {
    count += item.role == Role::alert ? 1 : 0;
  }
  return count;
}

}  // namespace

TEST_CASE("dangers of one sign stand in one panel, of two signs in two") {
  Stage stage("make-safe");
  probe(stage);
  CHECK(alerts(stage) == 1);
  CHECK(stage.driver.has(Role::alert,
                         "DANGER. Treat it as live until it is proved dead. Keep your fingers behind the "
                         "guards of the probes."));
  stage.snapshot.card.cautions.push_back(danger("Hot water.", "W017"));
  stage.driver.run();
  CHECK(alerts(stage) == 2);
}

TEST_CASE("on a short screen the field, every key and the button of a reading are wholly in sight") {
  for (const ui::Vec size : {ui::Vec{320, 568}, ui::Vec{360, 620}, ui::Vec{844, 390}, ui::Vec{667, 375}}) {
    Stage stage("make-safe", size);
    probe(stage);
    CAPTURE(size.x);
    const auto whole = [&](Role role, std::string_view name, float least) {
      CAPTURE(std::string(name));
      const ui::Semantic* item = stage.driver.find(role, name);
      REQUIRE(item != nullptr);
      CHECK(item->visible);
      CHECK(item->box.h >= least);   // cut by nothing
      CHECK(item->box.bottom() <= size.y);
    };
    whole(Role::textbox, stage.snapshot.card.number->label, 46);
    for (const char* key : {"0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "point", "delete"}) {
      whole(Role::button, key, 44);
    }
    whole(Role::button, "No step lit", 46);
    whole(Role::heading, stage.snapshot.card.number->label, 18);
    CHECK(stage.driver.tap(Role::button, "0"));
    whole(Role::button, "Next reading", 52);
    CHECK(stage.driver.tap(Role::button, "Next reading"));
    CHECK(stage.sent(app::Verb::fact));
  }
}

TEST_CASE("a colon and a point take half a cell, every digit a whole one") {
  Stage stage("make-safe");
  const ui::Fonts& fonts = stage.driver.front.ui.fonts;
  const ui::Type mono{ui::Face::mono, 17};
  const float cell = fonts.width(mono, "0");
  for (const char* digit : {"1", "4", "7", "9", "V"}) CHECK(fonts.width(mono, digit) == doctest::Approx(cell));
  CHECK(fonts.width(mono, "00:31:08") == doctest::Approx(7 * cell));
  CHECK(fonts.width(mono, "65.00") == doctest::Approx(4.5F * cell));
  const ui::Type text{ui::Face::regular, 17};   // words keep the face's own widths
  CHECK(fonts.width(text, "a:b") == doctest::Approx(fonts.width(text, "a") + fonts.width(text, ":") + fonts.width(text, "b")));
}
