// The screen goes away and comes back: the job knows it, also when it comes back before the first
// record of it was stored. Otherwise the clock would count a machine in front of the person as away.

#include <doctest/doctest.h>

#include <algorithm>
#include <memory>

#include "app/proved.hpp"
#include "app/session.hpp"
#include "app/shipped.hpp"
#include "platform/memory/memory_store.hpp"
#include "support/outside.hpp"

TEST_CASE("the screen comes back while the record of its going is on its way: both are kept") {
  const kp::app::Content content = kp::app::load_content(kp::test::shipped_files(false));
  kp::memory::MemoryStore field(std::make_shared<kp::memory::MemoryMedium>());
  kp::memory::MemoryStore practice;
  kp::memory::MemoryStore spare;
  kp::test::FakeClock clock;
  kp::test::CountedIdentity identity;
  kp::test::KeptPapers papers;
  kp::app::Session session(content, {&field, &practice, &clock, &identity, &papers, &spare});
  const auto settle = [&] {
    while (session.poll()) {
    }
  };
  session.start();
  settle();
  kp::app::Action begin;
  begin.verb = kp::app::Verb::new_job;
  begin.revision = session.snapshot().revision;
  session.act(begin);
  settle();
  const std::size_t before = session.lines().size();

  session.set_hidden(true);
  CHECK(session.saving());
  session.set_hidden(false);
  settle();
  CHECK_FALSE(session.state().clock.hidden);
  CHECK(session.lines().size() == before + 3);   // what it stands on, gone, back

  session.set_hidden(true);
  settle();
  CHECK(session.state().clock.hidden);
}

TEST_CASE("with the clock set back nothing of Make safe stands as done") {
  kp::memory::MemoryStore field(std::make_shared<kp::memory::MemoryMedium>());
  kp::test::Window window(field);
  window.act(kp::app::Verb::new_job);
  kp::test::Robot robot(*window.session);
  kp::test::ready(robot);
  for (int step = 0; step < 120 && !kp::test::green(window); ++step) {
    window.clock.pass(5'000);
    REQUIRE(robot.step());
    window.settle();
  }
  REQUIRE(kp::test::green(window));
  const auto done = [&] {
    const auto& rows = window.seen().rows;
    return std::count_if(rows.begin(), rows.end(),
                         [](const kp::app::Row& row) { return row.mark == kp::app::Mark::done; });
  };
  REQUIRE(window.session->state().stage == kp::job::Stage::make_safe);
  CHECK(done() > 0);
  window.clock.now.wall.utc_ms -= 225 * 60'000;
  window.act(kp::app::Verb::close_sheet);
  CHECK(window.seen().card.id == "todo-doubt-clock");
  CHECK(done() == 0);
}
