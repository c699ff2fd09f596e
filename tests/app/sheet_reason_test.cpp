// A sheet's button that the job would refuse says so before it is tried, and why.

#include <doctest/doctest.h>

#include <algorithm>
#include <memory>

#include "app/proved.hpp"

using namespace kp;

TEST_CASE("the end of a visit on a live machine is off, with the reason of the refusal") {
  const app::Content content = app::load_content(test::shipped_files(false));
  memory::MemoryStore field(std::make_shared<memory::MemoryMedium>());
  memory::MemoryStore practice;
  memory::MemoryStore spare;
  test::FakeClock clock;
  test::CountedIdentity identity;
  test::KeptPapers papers;
  app::Session session(content, {&field, &practice, &clock, &identity, &papers, &spare});
  const auto settle = [&] {
    while (session.poll()) {
    }
  };
  const auto act = [&](app::Verb verb, const char* id) {
    app::Action action;
    action.verb = verb;
    action.id = id;
    action.revision = session.snapshot().revision;
    session.act(action);
    settle();
  };
  session.start();
  settle();
  act(app::Verb::open_demo, "");
  act(app::Verb::show_sheet, "end");
  REQUIRE(session.snapshot().sheet.has_value());
  const std::size_t before = session.lines().size();
  const std::vector<app::Button> buttons = session.snapshot().sheet->buttons;
  const auto ends = [](const app::Button& one) { return one.action.verb == app::Verb::end_job; };
  CHECK(std::count_if(buttons.begin(), buttons.end(), ends) == 2);
  for (const app::Button& one : buttons) {
    if (!ends(one)) {
      continue;
    }
    CAPTURE(one.label);
    CHECK_FALSE(one.enabled);
    CHECK_FALSE(one.detail.empty());
    session.act(one.action);   // the reason that was shown is the one that is given
    settle();
    CHECK(session.lines().size() == before);
    REQUIRE_FALSE(session.snapshot().card.refusal.empty());
    CHECK(session.snapshot().card.refusal.front() == one.detail);
  }
}

TEST_CASE("an open machine is left only with something in front of what is open") {
  memory::MemoryStore field(std::make_shared<memory::MemoryMedium>());
  test::Window window(field);
  test::work_until_green(window);
  REQUIRE(test::all_green(window));
  REQUIRE_FALSE(window.session->state().unit.released.none());
  window.act(app::Verb::set_word, "note", false, "Heater ordered.");
  window.act(app::Verb::show_sheet, "end");
  const auto button = [&](auto wanted) -> app::Button {
    REQUIRE(window.seen().sheet.has_value());
    for (const app::Button& one : window.seen().sheet->buttons) {
      if (wanted(one)) return one;
    }
    return {};
  };
  const auto waits = [](const app::Button& one) { return one.action.id == "waiting-for-parts"; };
  const auto bars = [](const app::Button& one) { return test::has(one.label, "barred"); };
  CHECK_FALSE(button(waits).enabled);
  CHECK(test::has(button(waits).detail, "bar each opening"));
  const std::vector<std::string>& said = window.seen().sheet->paragraphs;
  CHECK(std::any_of(said.begin(), said.end(), [](const auto& one) { return test::has(one, "Loose: "); }));
  window.session->act(button(bars).action);
  window.settle();
  CHECK(window.session->state().safety.barred.holds());
  window.act(app::Verb::show_sheet, "end");
  CHECK(button(bars).label.empty());
  CHECK(button(waits).enabled);
  window.session->act(button(waits).action);
  window.settle();
  CHECK(window.session->state().outcome == job::Outcome::waiting_for_parts);
}
