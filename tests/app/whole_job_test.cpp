#include <doctest/doctest.h>

#include <memory>

#include "app/robot.hpp"
#include "app/session.hpp"
#include "app/shipped.hpp"
#include "base/text.hpp"
#include "job/owed_tests.hpp"
#include "job/replay.hpp"
#include "journal/reader.hpp"
#include "journal/verify.hpp"
#include "platform/memory/memory_store.hpp"
#include "support/outside.hpp"

namespace {

using kp::app::Session;
using kp::app::Verb;
using kp::job::Stage;

/// A shop with everything that outlives a session.
struct Shop {
  std::shared_ptr<kp::memory::MemoryMedium> field_disk = std::make_shared<kp::memory::MemoryMedium>();
  kp::memory::MemoryStore practice;
  std::unique_ptr<kp::memory::MemoryStore> field =
      std::make_unique<kp::memory::MemoryStore>(field_disk);
  kp::test::FakeClock clock;
  kp::test::CountedIdentity identity;
  kp::test::KeptPapers papers;

  std::unique_ptr<Session> session() {
    return std::make_unique<Session>(
        kp::test::shipped_content(), kp::app::Outside{field.get(), &practice, &clock, &identity, &papers});
  }
};

void settle(Session& session) {
  while (session.poll()) {
  }
}

kp::app::Action action(Verb verb, std::uint32_t revision = 0, std::string id = {}) {
  kp::app::Action out;
  out.verb = verb;
  out.id = std::move(id);
  out.revision = revision;
  return out;
}

}  // namespace

TEST_CASE("the content that ships has no fault") {
  for (const auto& file : kp::test::shipped_content().faults) {
    for (const kp::Finding& finding : file.findings.all()) {
      MESSAGE(file.file << ": " << finding.text());
    }
  }
  CHECK(kp::test::shipped_content().faults.empty());
  CHECK(kp::test::shipped_content().library.models.size() == 1);
  CHECK(kp::test::shipped_content().has_rates);
}

TEST_CASE("a whole job: from the plate to the papers, one thing at a time") {
  Shop shop;
  auto session = shop.session();
  session->start();
  settle(*session);
  session->act(action(Verb::new_job));
  settle(*session);
  kp::test::Robot robot(*session);
  robot.choices = {{"pump-module", ""}, {"wet-and-cold", ""}};
  robot.fault = "heater-open";
  std::string path;
  int steps = 0;
  int idle = 0;
  Stage stage = Stage::arrive;
  while (session->state().handed_over.empty() && steps < 600) {
    ++steps;
    shop.clock.pass(20'000);
    const bool did = robot.step();
    settle(*session);
    CAPTURE(robot.last);
    // A test that takes its time is waited for: the longest takes ten minutes.
    idle = did ? 0 : idle + 1;
    if (idle > 40 || steps == 599) {
      for (const std::string& refusal : session->snapshot().card.refusal) {
        MESSAGE(refusal);
      }
      MESSAGE("stuck at " << robot.last);
      const auto& model = session->content().library.models.front();
      for (const int test : kp::job::tests_owed(model, session->state())) {
        MESSAGE("owed: " << model.pack.prove_tests[static_cast<std::size_t>(test)].id);
      }
      break;
    }
    if (session->state().stage != stage) {
      stage = session->state().stage;
      path += std::string(kp::job::stage_word(stage)) + " ";
    }
  }
  MESSAGE(steps << " things to do: " << path);
  int holds = 0;
  int readings = 0;
  for (const auto& [where, did] : robot.did) {
    MESSAGE(where << ": " << did.holds << " holds, " << did.taps << " taps, " << did.readings
                  << " readings, " << did.words << " words");
    holds += did.holds;
    readings += did.readings;
  }
  MESSAGE("together " << holds << " holds, " << readings << " readings");
  CHECK(path == "make-safe find open swap close prove bill ");
  CHECK(session->state().outcome == kp::job::Outcome::repaired);
  CHECK(session->state().swapped.size() == 1);
  CHECK(session->state().swapped.front().body.part == "heater");
  CHECK(shop.papers.all.size() == 2);
  for (const auto& paper : shop.papers.all) {
    CHECK(paper.bytes.substr(0, 5) == "%PDF-");
  }
  const kp::journal::Loaded loaded = kp::journal::read_lines(session->lines());
  CHECK_FALSE(loaded.damage.has_value());
  CHECK(kp::journal::verify(loaded).faults() == 0);
}
