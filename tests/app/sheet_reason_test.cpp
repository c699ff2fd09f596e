// A sheet's button that the job would refuse says so before it is tried, and why.

#include <doctest/doctest.h>

#include <algorithm>
#include <memory>

#include "app/session.hpp"
#include "app/shipped.hpp"
#include "platform/memory/memory_store.hpp"
#include "support/outside.hpp"

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
