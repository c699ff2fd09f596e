#include <doctest/doctest.h>

#include <algorithm>
#include <memory>

#include "app/robot.hpp"
#include "app/session.hpp"
#include "app/shipped.hpp"
#include "base/text.hpp"
#include "platform/memory/memory_store.hpp"
#include "support/outside.hpp"

// The Find stage as a person sees it: what the card and the picture say, and what comes of each press.

namespace kp {
namespace {

using app::Verb;
using job::Stage;

/// A session in Find on the complaint "wet and cold", made safe, with this fault in the machine.
class Search {
 public:
  explicit Search(const std::string& fault) : session_(test::shipped_content(), outside()), robot(session_) {
    robot.choices = {{"pump-module", ""}, {"wet-and-cold", ""}};
    robot.fault = fault;
    session_.start();
    settle();
    session_.act(make(Verb::new_job));
    settle();
    for (int i = 0; i < 200 && session_.state().stage != Stage::find; ++i) step();
  }

  const app::Snapshot& see() { return session_.snapshot(); }
  [[nodiscard]] const job::State& state() const { return session_.state(); }
  void step() {
    clock_.pass(20'000);
    (void)robot.step();
    settle();
  }
  void press(const app::Action& action) {
    clock_.pass(5'000);
    app::Action now = action;
    now.revision = see().revision;
    session_.act(now);
    settle();
  }
  void press(const std::string& way) {
    for (const app::Button& one : see().card.ways_out) {
      if (one.label == way) {
        press(app::Action(one.action));
        return;
      }
    }
    FAIL_CHECK("no way out " << way);
  }
  static app::Action make(Verb verb, std::string id = {}) {
    app::Action out;
    out.verb = verb;
    out.id = std::move(id);
    return out;
  }

 private:
  app::Outside outside() { return {&field_, &practice_, &clock_, &identity_, &papers_}; }
  void settle() {
    while (session_.poll()) {
    }
  }
  memory::MemoryStore field_;
  memory::MemoryStore practice_;
  test::FakeClock clock_;
  test::CountedIdentity identity_;
  test::KeptPapers papers_;
  app::Session session_;

 public:
  test::Robot robot;
};

bool among(const std::vector<std::string>& all, const std::string& part) {
  return std::any_of(all.begin(), all.end(),
                     [&](const std::string& one) { return one.find(part) != std::string::npos; });
}

}  // namespace

TEST_CASE("Find: bars, the strip with the probes, and what each answer would leave") {
  Search search("heater-open");
  REQUIRE(search.state().stage == Stage::find);
  const app::Snapshot& seen = search.see();
  REQUIRE(seen.rows.size() >= 3);
  CHECK(seen.rows.front().title == "Heater open");
  CHECK(seen.rows.front().bar > seen.rows[1].bar);
  CHECK(std::any_of(seen.rows.begin(), seen.rows.end(),
                    [](const app::Row& row) { return row.title == "Anything else"; }));
  REQUIRE(seen.circuit.has_value());
  const app::CircuitView& strip = seen.circuit.value();
  const auto probe = [&](const char* letter) {
    return std::count_if(strip.points.begin(), strip.points.end(),
                         [&](const app::CircuitPoint& one) { return one.letter == letter; });
  };
  CHECK(probe("A") == 1);
  CHECK(probe("B") == 1);
  CHECK(std::count_if(strip.symbols.begin(), strip.symbols.end(),
                      [](const app::CircuitSymbol& one) { return one.load; }) == 1);
  for (const app::CircuitSymbol& one : strip.symbols) {
    CHECK(one.along > 0);
    CHECK(one.along < strip.cells);
  }
  REQUIRE(seen.chart.has_value());
  CHECK(seen.chart->steps.size() >= 8);
  CHECK(std::any_of(seen.chart->lines.begin(), seen.chart->lines.end(),
                    [](const app::ChartView::Line& line) { return line.on_strip; }));
  CHECK(seen.card.sentence.rfind("Next: ", 0) == 0);
  CHECK(seen.card.band.has_value());
  REQUIRE(seen.card.outcomes.size() >= 2);
  for (const app::Outcome& one : seen.card.outcomes) CHECK_FALSE(one.leaves.empty());
}

TEST_CASE("Find: the way to the test is led step by step, and given up without a trace") {
  Search search("heater-open");
  const std::string advised = search.see().card.sentence;
  search.press(app::Action(search.see().card.primary->action));
  REQUIRE(search.see().exploded.has_value());
  CHECK(search.see().card.primary->hold);
  CHECK(search.see().stage_where.rfind("to: ", 0) == 0);
  search.press("Not now");
  CHECK(search.see().card.sentence == advised);
  CHECK(search.state().steps.empty());
}

TEST_CASE("Find: the reading leads to the part, the record keeps both, and it is taken back by its row") {
  Search search("heater-open");
  for (int i = 0; i < 60 && search.state().tests.empty(); ++i) search.step();
  REQUIRE(search.state().tests.size() == 1);
  CHECK(search.state().tests.front().body.open_loop);
  CHECK_FALSE(search.state().tests.front().body.stands_on.empty());
  CHECK(search.see().card.sentence == "Reach the heater.");
  REQUIRE(search.see().circuit.has_value());   // the strip through what is to be renewed
  CHECK(search.see().circuit->caption.rfind("Heat", 0) == 0);
  const auto& below = search.see().below;
  const auto kept = std::find_if(below.begin(), below.end(),
                                 [](const app::Row& row) { return row.group == "Readings"; });
  REQUIRE(kept != below.end());
  CHECK(kept->figure == "OL");
  search.press(app::Action(kept->tap.value()));
  REQUIRE(search.see().sheet.has_value());
  search.press(app::Action(search.see().sheet->buttons.front().action));
  CHECK(search.state().tests.empty());
  CHECK(search.see().card.sentence.rfind("Next: ", 0) == 0);
}

TEST_CASE("Find: a test that cannot be done here gives way to the next best") {
  Search search("heater-open");
  for (int i = 0; i < 60 && search.see().card.id.rfind("test-", 0) != 0; ++i) search.step();
  REQUIRE(search.see().card.number.has_value());
  const std::string title = search.see().card.sentence;
  search.press("Can't do it");
  REQUIRE(search.see().sheet.has_value());
  search.press(app::Action(search.see().sheet->rows.front().tap.value()));
  REQUIRE(search.state().impossible.size() == 1);
  CHECK(search.see().card.sentence.find(title) == std::string::npos);
  const auto& below = search.see().below;
  CHECK(std::any_of(below.begin(), below.end(), [](const app::Row& row) {
    return row.group == "Cannot be done here" && row.mark == app::Mark::blocked;
  }));
}

TEST_CASE("Find: a live measurement puts the panels and the power in order first, and costs the proof") {
  Search search("thermostat-open");
  search.press(Search::make(Verb::choose_test, "heater-volts"));
  bool caution = false;
  bool power_asked = false;
  for (int i = 0; i < 80 && search.state().tests.empty(); ++i) {
    const app::Card& card = search.see().card;
    const bool test_card = card.id == "test-heater-volts";
    power_asked = power_asked || card.sentence == "Put the power on, once.";
    if (test_card) {
      CHECK(search.state().safety.power == safety::Power::on);
      caution = !card.cautions.empty() && card.cautions.front().sentence.find("Live parts") == 0;
    }
    search.step();
  }
  REQUIRE(search.state().tests.size() == 1);
  CHECK(power_asked);
  CHECK(caution);
  CHECK_FALSE(search.state().tests.front().body.stands_on.empty());
  CHECK(search.see().strip.power.word == "LIVE");
  // Whatever comes next with hands in asks for the whole proof again.
  search.press(Search::make(Verb::choose_test, "fuse-volts"));
  CHECK(search.see().card.id == "test-fuse-volts");
  search.press(Search::make(Verb::choose_test, "thermal-fuse-ohms"));
  CHECK(search.see().card.id != "test-thermal-fuse-ohms");
  CHECK(search.see().card.sentence != "Put the power on, once.");
}

TEST_CASE("Find: a point of the strip is touched for its part and its tests") {
  Search search("heater-open");
  REQUIRE(search.see().circuit.has_value());
  const auto& points = search.see().circuit->points;
  const auto a = std::find_if(points.begin(), points.end(),
                              [](const app::CircuitPoint& one) { return one.letter == "A"; });
  REQUIRE(a != points.end());
  REQUIRE(a->tap.has_value());
  search.press(app::Action(a->tap.value()));
  REQUIRE(search.see().sheet.has_value());
  const auto& rows = search.see().sheet->rows;
  CHECK(rows.front().title == "heater");
  CHECK_FALSE(rows.front().drawing.empty());
  CHECK(std::any_of(rows.begin(), rows.end(),
                    [](const app::Row& row) { return row.title == "Heater, A to B, in ohms"; }));
}

TEST_CASE("a part touched in the drawing says its name and its number, and can be made the target") {
  Search search("heater-open");
  search.press(app::Action(search.see().card.primary->action));
  REQUIRE(search.see().exploded.has_value());
  const app::Exploded& drawing = search.see().exploded.value();
  const pack::Pack& pack = test::shipped_content().library.models.front().pack;
  const int panel = pack.part("toe-panel");
  CHECK(std::any_of(drawing.items.begin(), drawing.items.end(),
                    [&](const scene::Item& one) { return one.id == panel; }));
  app::Action about = drawing.about;
  about.id += std::to_string(panel);
  search.press(about);
  REQUIRE(search.see().sheet.has_value());
  CHECK(search.see().sheet->title == "toe panel");
  CHECK(search.see().sheet->rows.front().detail == pack.parts[static_cast<std::size_t>(panel)].stock);
  REQUIRE(search.see().sheet->buttons.front().label == "Reach this");
  search.press(app::Action(search.see().sheet->buttons.front().action));
  CHECK(search.state().targets == std::vector<int>{panel});
}

TEST_CASE("Find: the places of the probes are lit on the machine, and the strip comes back") {
  Search search("heater-open");
  search.press(app::Action(search.see().card.primary->action));
  for (int i = 0; i < 200 && search.see().card.id.rfind("test-", 0) != 0; ++i) search.step();
  REQUIRE(search.see().circuit.has_value());
  CHECK_FALSE(search.see().exploded.has_value());
  REQUIRE(search.see().other_look.has_value());
  CHECK(search.see().other_look->label == "Show place");
  search.press(app::Action(search.see().other_look->action));
  REQUIRE(search.see().exploded.has_value());
  CHECK_FALSE(search.see().circuit.has_value());
  std::vector<std::string> letters;
  for (const scene::Item& item : search.see().exploded->items) {
    for (const scene::Probe& probe : item.probes) letters.push_back(probe.letter);
  }
  CHECK(letters == std::vector<std::string>{"A", "B"});
  CHECK(search.see().exploded->name.find("Probe A: ") != std::string::npos);
  CHECK_FALSE(search.see().card.number.has_value());   // the machine has the keypad's room
  REQUIRE(search.see().card.primary.has_value());
  CHECK(search.see().card.primary->label == "Enter reading");
  search.press(app::Action(search.see().card.primary->action));
  CHECK(search.see().card.number.has_value());
  CHECK(search.see().circuit.has_value());
  // An answer that is kept while the machine is shown brings back what it changed.
  search.press(app::Action(search.see().other_look->action));
  REQUIRE(search.see().exploded.has_value());
  search.press(Search::make(Verb::test_open_loop, "heater-ohms"));
  REQUIRE(search.state().tests.size() == 1);
  CHECK(search.see().circuit.has_value());
  CHECK(search.see().rows.front().title == "Heater open");
  CHECK_FALSE(search.see().exploded.has_value());
}

TEST_CASE("every test point of the shipped packs has its place on its part's drawing") {
  const app::Content content = app::load_content(test::shipped_files(true));
  for (const job::Model& model : content.library.models) {
    for (const pack::TestPoint& point : model.pack.circuit.points) {
      CAPTURE(point.id);
      REQUIRE(point.at.has_value());
      const auto drawing = content.drawings.find(model.pack.parts[to_size(point.part)].drawing);
      REQUIRE(drawing != content.drawings.end());
      const scene::Vec at(point.at->first, point.at->second);
      CHECK(drawing->second.box.contains(at));
    }
  }
}

TEST_CASE("Find: what is mended in its place is not taken out, and is billed without a part") {
  Search search("supply-loose");
  search.press(Search::make(Verb::choose_part, "junction-box"));
  CHECK(search.state().mend == -1);
  app::Action mend = Search::make(Verb::choose_part, "junction-box");
  mend.text = "supply-loose";
  search.press(mend);
  REQUIRE(search.state().mend >= 0);
  for (int i = 0; i < 60 && search.state().swapped.empty(); ++i) search.step();
  REQUIRE(search.state().swapped.size() == 1);
  CHECK(search.state().swapped.front().body.mended == "supply-loose");
  CHECK(search.state().swapped.front().body.stock.empty());
  const int box = test::shipped_content().library.models.front().pack.part("junction-box");
  CHECK_FALSE(search.state().unit.removed.test(box));
}

TEST_CASE("Find: why this one, other tests with their cost, and any part when one knows better") {
  Search search("heater-open");
  search.press("Why this one");
  REQUIRE(search.see().sheet.has_value());
  CHECK(among(search.see().sheet->paragraphs, "Not first: "));
  CHECK(among(search.see().sheet->paragraphs, "you decide"));
  search.press(Search::make(Verb::close_sheet));
  search.press("Other tests");
  REQUIRE(search.see().sheet.has_value());
  CHECK(search.see().sheet->rows.size() == test::shipped_content().library.models.front().pack.tests.size());
  CHECK(search.see().sheet->rows.front().figure.find(" min") != std::string::npos);
  search.press(Search::make(Verb::close_sheet));
  search.press("I know it");
  REQUIRE(search.see().sheet.has_value());
  const auto heater = std::find_if(search.see().sheet->rows.begin(), search.see().sheet->rows.end(),
                                   [](const app::Row& row) { return row.id == "part-heater"; });
  REQUIRE(heater != search.see().sheet->rows.end());
  search.press(app::Action(heater->tap.value()));
  CHECK(search.state().stage == Stage::open);
  CHECK(search.state().fault == "Heater open");
}

}  // namespace kp
