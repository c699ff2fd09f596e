// Records whose end is not known, stores that lost what they kept, and lives that recorded nothing:
// what is durable is confirmed, what is not is said, and the next press works.

#include <doctest/doctest.h>

#include <algorithm>
#include <memory>

#include "app/proved.hpp"
#include "base/text.hpp"
#include "journal/reader.hpp"
#include "journal/verify.hpp"
#include "journal/writer.hpp"
#include "platform/memory/faulty_store.hpp"

namespace {

using kp::app::Verb;
using kp::memory::FaultyStore;
using kp::memory::MemoryMedium;
using kp::memory::MemoryStore;
using kp::test::has;
using kp::test::kept;
using kp::test::Window;
using Strings = std::vector<std::string>;

struct OneWindow {
  std::shared_ptr<MemoryMedium> medium = std::make_shared<MemoryMedium>();
  MemoryStore inner{medium};
  FaultyStore field{inner};
  Window window{field};
  std::string job;

  OneWindow() {
    window.act(Verb::new_job);
    job = window.session->state().job;
  }
  /// The store and the window hold the same lines, and nothing can be said against them.
  void is_whole() const {
    CHECK(kept(medium, job) == window.session->lines());
    const kp::journal::Loaded loaded = kp::journal::read_lines(window.session->lines());
    CHECK_FALSE(loaded.damage.has_value());
    CHECK(kp::journal::verify(loaded).faults() == 0);
  }
  [[nodiscard]] int count(const char* kind) const {
    const Strings lines = kept(medium, job);
    return static_cast<int>(std::count_if(lines.begin(), lines.end(), [&](const std::string& line) {
      return has(line, kp::cat("\"", kind, "\""));
    }));
  }
  [[nodiscard]] bool refuses(const std::string& words) const {
    const auto& refusal = window.seen().card.refusal;
    return std::any_of(refusal.begin(), refusal.end(),
                       [&](const std::string& each) { return has(each, words); });
  }
};

}  // namespace

TEST_CASE("a line that is kept though the store did not say so is confirmed") {
  OneWindow one;
  one.field.fail_after(FaultyStore::Ask::append, "refused");
  one.window.act(Verb::choose_machine, "pump-module", true);
  CHECK(one.window.identified());
  CHECK_FALSE(one.window.says("saved"));
  one.is_whole();
  one.window.act(Verb::choose_complaint, "wet-and-cold", true);
  CHECK(one.window.session->state().complaint.symptom == "wet-and-cold");
  one.is_whole();
}

TEST_CASE("a line that is not kept is said not to be, and the next press works") {
  OneWindow one;
  one.field.fail(FaultyStore::Ask::append, "refused");
  one.window.act(Verb::choose_machine, "pump-module", true);
  CHECK_FALSE(one.window.identified());
  CHECK(one.window.says("Not saved, so not confirmed"));
  one.window.act(Verb::choose_machine, "pump-module", true);
  CHECK(one.window.identified());
  CHECK_FALSE(one.window.says("saved"));
  one.is_whole();
}

TEST_CASE("where the store does not say what it holds, that is said, and the next press asks again") {
  for (const bool happened : {true, false}) {
    OneWindow one;
    CAPTURE(happened);
    (happened ? one.field.fail_after(FaultyStore::Ask::append, "refused")
              : one.field.fail(FaultyStore::Ask::append, "refused"));
    one.field.fail(FaultyStore::Ask::load, "refused");
    one.window.act(Verb::choose_machine, "pump-module", true);
    CHECK_FALSE(one.window.identified());
    CHECK(one.window.says("It is not known yet whether this is saved"));
    CHECK(one.window.offers("Export"));
    CHECK(one.window.seen().card.saving.empty());
    one.window.act(Verb::choose_machine, "pump-module", true);
    CHECK(one.window.identified());
    CHECK_FALSE(one.window.says("saved"));
    CHECK(one.count("machine-identified") == 1);
    one.is_whole();
  }
}

TEST_CASE("a line that is kept after it was said not to be is found by the next press") {
  OneWindow one;
  one.field.fail(FaultyStore::Ask::append, "refused");
  one.window.act(Verb::choose_machine, "pump-module", true);
  CHECK(one.window.says("Not saved, so not confirmed"));
  // What the store held back comes through after all.
  one.window.act(Verb::export_journal);
  const std::string rest = one.window.papers.all.back().bytes;
  const std::size_t at = rest.find("{\"n\":2");
  CHECK(at != std::string::npos);
  one.inner.append(one.job, 2, rest.substr(at, rest.find('\n', at) - at));
  one.window.act(Verb::choose_complaint, "wet-and-cold", true);
  one.window.act(Verb::choose_machine, "pump-module", true);
  CHECK(one.window.identified());
  CHECK_FALSE(one.window.says("saved"));
  one.is_whole();
}

TEST_CASE("cleared site data: the next press writes all of it again") {
  OneWindow one;
  one.window.act(Verb::choose_machine, "pump-module", true);
  const Strings before = one.window.session->lines();
  one.medium->forget_all();
  one.window.act(Verb::choose_complaint, "wet-and-cold", true);
  CHECK(one.window.session->state().complaint.symptom == "wet-and-cold");
  CHECK(one.window.says("This device had lost the job. It is written again from this window."));
  CHECK_FALSE(one.window.says("Open the job again"));
  CHECK(one.window.session->lines().size() > before.size());
  one.is_whole();

  // Also without a press, when the page comes back.
  one.medium->forget_all();
  one.window.session->set_hidden(true);
  one.window.session->set_hidden(false);
  one.window.settle();
  one.is_whole();
}

TEST_CASE("cleared site data and no room: export comes before the job is left") {
  OneWindow one;
  one.window.act(Verb::choose_machine, "pump-module", true);
  const Strings held = one.window.session->lines();
  one.medium->forget_all();
  one.medium->set_room(10);
  one.window.act(Verb::choose_complaint, "wet-and-cold", true);
  CHECK(one.window.says("only this window holds it. Export it now."));
  CHECK_FALSE(one.window.says("Open the job again"));
  CHECK(one.window.session->lines() == held);
  one.window.act(Verb::leave_job);
  CHECK(one.window.seen().page == kp::app::Page::job);
  CHECK(one.refuses("Export the job first"));
  one.window.act(Verb::export_journal);
  CHECK(has(one.window.papers.all.front().bytes, kp::journal::to_file(held)));

  // With room again the next press keeps it all.
  one.medium->set_room(-1);
  one.window.act(Verb::choose_complaint, "wet-and-cold", true);
  CHECK(one.window.session->state().complaint.symptom == "wet-and-cold");
  CHECK_FALSE(one.window.says("only this window holds it"));
  one.is_whole();
  one.window.act(Verb::leave_job);
  CHECK(one.window.seen().page == kp::app::Page::start);
}

TEST_CASE("cleared site data in a window that reads: taken over, it writes what it has read") {
  const auto medium = std::make_shared<MemoryMedium>();
  auto field1 = std::make_unique<MemoryStore>(medium);
  MemoryStore field2(medium);
  auto first = std::make_unique<Window>(*field1);
  first->act(Verb::new_job);
  first->act(Verb::choose_machine, "pump-module", true);
  const std::string job = first->session->state().job;
  Window second(field2, 1);
  second.act(Verb::open_job, job);
  const Strings held = second.session->lines();
  CHECK(held.size() == 2);
  first.reset();
  field1.reset();
  medium->forget_all();
  second.clock.pass(6'000);
  second.settle();
  CHECK(second.session->lines() == held);
  second.act(Verb::take_writer);
  CHECK(second.says("It is written again from this window."));
  second.act(Verb::choose_complaint, "wet-and-cold", true);
  CHECK(second.session->state().complaint.symptom == "wet-and-cold");
  CHECK(kept(medium, job) == second.session->lines());
}

TEST_CASE("what ends a proof and cannot be kept is live, and is recorded before anything else") {
  OneWindow one;
  one.window.act(Verb::leave_job);
  kp::test::work_until_green(one.window);
  one.job = one.window.session->state().job;
  const auto power_green = [&one]() { return kp::test::green(one.window.seen().strip.power); };
  REQUIRE(power_green());
  one.medium->set_room(one.medium->used());
  one.window.see(kp::safety::Doubt::power_found_on);
  CHECK(one.window.says("Not saved, so not confirmed"));
  CHECK_FALSE(power_green());
  CHECK(one.window.seen().strip.power.evidence.front() ==
        kp::app::reason_of(kp::app::Knowledge::unsaved));
  one.medium->set_room(-1);
  one.window.note("power was on");
  CHECK_FALSE(power_green());
  CHECK(one.count("power-found-on") == 1);
  CHECK(one.count("note-added") == 1);
  one.is_whole();
}

TEST_CASE("killed again and again, the journal holds one record a gap, and no gap is lost") {
  const auto medium = std::make_shared<MemoryMedium>();
  std::string job;
  std::int64_t now = 0;
  {
    MemoryStore field(medium);
    Window window(field);
    window.act(Verb::new_job);
    window.act(Verb::choose_machine, "pump-module", true);
    job = window.session->state().job;
    now = window.clock.now.wall.utc_ms;
  }
  const auto count = [&](const char* kind) {
    int found = 0;
    for (const std::string& line : kept(medium, job)) {
      found += has(line, kp::cat("\"", kind, "\"")) ? 1 : 0;
    }
    return found;
  };
  const auto reopen = [&](int number, std::int64_t after_ms, bool works) {
    now += after_ms;
    MemoryStore field(medium);
    Window window(field, static_cast<std::uint64_t>(number));
    window.clock.now.wall.utc_ms = now;
    window.act(Verb::open_job, job);
    window.clock.pass(2'000);
    if (works) {
      window.note("alive");
    }
    now = window.clock.now.wall.utc_ms;
    medium->crash(MemoryMedium::Unconfirmed::kept);
  };
  for (int kill = 1; kill <= 30; ++kill) {
    reopen(kill, 1'000, false);
  }
  CHECK(count("resumed") == 1);
  reopen(31, 1'000, true);
  CHECK(count("resumed") == 2);
  const Strings lines = kept(medium, job);
  // 30 lives of 2 s and 30 gaps of 1 s lie between the first one's record and the last one's.
  CHECK(has(lines[lines.size() - 2], "\"awaySeconds\":90"));
  // A gap over the policy's pause is recorded at once, whatever went before: it ends proofs.
  reopen(32, 1'000, false);
  CHECK(count("resumed") == 3);
  reopen(33, 301'000, false);
  CHECK(count("resumed") == 4);
  const kp::journal::Loaded loaded = kp::journal::read_lines(kept(medium, job));
  CHECK_FALSE(loaded.damage.has_value());
  CHECK(kp::journal::verify(loaded).faults() == 0);
}
