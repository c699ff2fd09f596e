// Two windows on one job: the one that reads is never greener than the one that writes, and what is
// not known is shown as live. The rule is the project's own: no public text was found for it.

#include <doctest/doctest.h>

#include <memory>

#include "app/proved.hpp"
#include "base/text.hpp"
#include "platform/memory/faulty_store.hpp"
#include "support/random.hpp"

namespace {

using kp::app::Knowledge;
using kp::app::Verb;
using kp::memory::FaultyStore;
using kp::memory::MemoryMedium;
using kp::memory::MemoryStore;
using kp::safety::Meaning;
using kp::safety::Strip;
using kp::safety::StripSide;
using kp::test::all_green;
using kp::test::green;
using kp::test::kept;
using kp::test::ready;
using kp::test::Robot;
using kp::test::Window;
using kp::test::work_until_green;
using Strings = std::vector<std::string>;

/// Live and open, with that reason first in the evidence of both.
bool live(const Window& window, Knowledge why) {
  const Strip& strip = window.seen().strip;
  const std::string reason = kp::app::reason_of(why);
  return strip.power.meaning == Meaning::danger && strip.water.meaning == Meaning::danger &&
         !strip.power.evidence.empty() && strip.power.evidence.front() == reason &&
         !strip.water.evidence.empty() && strip.water.evidence.front() == reason;
}

/// Both windows live on for so long, as two pages on one screen do.
void live_on(Window& a, Window& b, int seconds) {
  for (; seconds > 0; --seconds) {
    a.clock.pass(1'000);
    b.clock.pass(1'000);
    a.settle();
    b.settle();
  }
}

/// A store with other lines for the same job.
std::shared_ptr<MemoryMedium> medium_of(const std::string& job, const Strings& lines) {
  auto medium = std::make_shared<MemoryMedium>();
  MemoryStore store(medium);
  store.acquire(job);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    store.append(job, static_cast<std::uint32_t>(i) + 1, lines[i]);
  }
  store.release(job);
  (void)store.take_completed();
  return medium;
}

}  // namespace

TEST_CASE("the strip as known: whatever is not known is live, and says why first") {
  for (const Meaning meaning : {Meaning::danger, Meaning::not_proved, Meaning::safe}) {
    Strip strip;
    strip.power = StripSide{kp::safety::Symbol::crossed, meaning, "DEAD", "Power", {"proof"}};
    strip.water = StripSide{kp::safety::Symbol::crossed, meaning, "SHUT", "Water", {"valve"}};
    CHECK(kp::app::strip_as_known(strip, Knowledge::known).power.word == "DEAD");
    for (const Knowledge each : {Knowledge::stale, Knowledge::damaged, Knowledge::silent,
                                 Knowledge::clock_doubt, Knowledge::unsaved}) {
      const Strip shown = kp::app::strip_as_known(strip, each);
      CHECK(shown.power.meaning == Meaning::danger);
      CHECK(shown.water.meaning == Meaning::danger);
      CHECK(shown.power.evidence == Strings{kp::app::reason_of(each), "proof"});
      CHECK(shown.water.evidence == Strings{kp::app::reason_of(each), "valve"});
      CHECK(kp::test::has(shown.power.evidence.front(), "TAKEN AS LIVE: "));
      if (meaning != Meaning::danger) {
        CHECK(shown.power.word == "LIVE");
        CHECK(shown.power.symbol == kp::safety::Symbol::closed);
        CHECK(shown.water.word == "OPEN");
      }
    }
  }
}

TEST_CASE("a reader follows a whole job, and is never green where the writer is not") {
  kp::test::Random random(20'260'801);
  CAPTURE(random.seed());
  const auto medium = std::make_shared<MemoryMedium>();
  MemoryStore field1(medium);
  MemoryStore inner2(medium);
  FaultyStore field2(inner2);
  Window writer(field1);
  writer.act(Verb::new_job);
  const std::string job = writer.session->state().job;
  Window reader(field2, 1);
  reader.act(Verb::open_job, job);
  CHECK(reader.says("This job is open in another window."));
  Robot robot(*writer.session);
  ready(robot);

  int both_green = 0;
  int held_back = 0;
  int writer_lost = 0;   // sides that were green and are not any more
  Strip before;
  for (int step = 0; step < 1200 && writer.session->state().handed_over.empty(); ++step) {
    CAPTURE(step);
    const int chance = random.between(0, 39);
    if (chance < 2) {
      reader.session->set_hidden(chance == 0);
    } else if (chance < 4) {
      field2.keep_completions();
    } else if (chance < 9) {
      field2.release_completions();
    } else if (chance == 9) {
      writer.see(random.chance(0.5) ? kp::safety::Doubt::power_found_on : kp::safety::Doubt::water_found_on);
    } else if (chance == 10) {
      field2.fail(FaultyStore::Ask::load, "refused");
    } else if (chance == 11) {
      field2.fail(FaultyStore::Ask::look, "refused");
    }
    const std::int64_t passed = random.between(1, random.chance(0.1) ? 60 : 8) * 1'000LL;
    writer.clock.pass(passed);
    reader.clock.pass(passed);
    // The writer's line is durable, and the reader is drawn before and after it has looked.
    const bool did = robot.step();
    CAPTURE(robot.last);
    CAPTURE(writer.seen().card.sentence);
    CAPTURE(writer.seen().card.refusal.empty() ? std::string() : writer.seen().card.refusal.front());
    CHECK(did);
    writer.settle();
    (void)reader.session->poll();
    CHECK_FALSE((green(reader.seen().strip.power) && !green(writer.seen().strip.power)));
    CHECK_FALSE((green(reader.seen().strip.water) && !green(writer.seen().strip.water)));
    reader.settle();
    CHECK_FALSE((green(reader.seen().strip.power) && !green(writer.seen().strip.power)));
    CHECK_FALSE((green(reader.seen().strip.water) && !green(writer.seen().strip.water)));
    writer_lost += green(before.power) && !green(writer.seen().strip.power) ? 1 : 0;
    writer_lost += green(before.water) && !green(writer.seen().strip.water) ? 1 : 0;
    before = writer.seen().strip;
    both_green += green(reader) && green(writer) ? 1 : 0;
    held_back += !green(reader) && green(writer) ? 1 : 0;
  }
  CAPTURE(robot.last);
  CAPTURE(writer.seen().card.sentence);
  CAPTURE(writer.seen().card.refusal.empty() ? std::string() : writer.seen().card.refusal.front());
  CAPTURE(writer.seen().stage_title);
  CHECK_FALSE(writer.session->state().handed_over.empty());
  // The script went through all of it: proofs, their end, a reader that knew and one that did not.
  MESSAGE(both_green << " green in both, " << held_back << " in the writer alone, " << writer_lost
                     << " times lost");
  CHECK(both_green > 20);
  CHECK(held_back > 5);
  CHECK(writer_lost >= 2);
  field2.release_completions();
  reader.session->set_hidden(false);
  live_on(writer, reader, 30);
  CHECK(reader.session->lines() == writer.session->lines());
}

TEST_CASE("a reader shows what the writer records as soon as it hears of it") {
  const auto medium = std::make_shared<MemoryMedium>();
  MemoryStore field1(medium);
  MemoryStore inner2(medium);
  FaultyStore field2(inner2);
  Window writer(field1);
  work_until_green(writer);
  const std::string job = writer.session->state().job;
  Window reader(field2, 1);
  reader.clock.now = writer.clock.now;
  reader.act(Verb::open_job, job);
  // A lock alone is no sign of life: the writer must have been heard.
  CHECK(live(reader, Knowledge::silent));
  live_on(writer, reader, 12);
  CHECK(all_green(reader));

  // Power is found on while the reader's store takes its time: stale, then read, both not green.
  field2.keep_completions();
  writer.see(kp::safety::Doubt::power_found_on);
  CHECK_FALSE(green(writer.seen().strip.power));
  reader.settle();
  CHECK(live(reader, Knowledge::stale));
  field2.release_completions();
  reader.settle();
  CHECK(reader.session->lines() == writer.session->lines());
  CHECK(reader.seen().strip.power.line == writer.seen().strip.power.line);
  CHECK(green(reader.seen().strip.water) == green(writer.seen().strip.water));
}

TEST_CASE("a window that comes back catches up before it shows anything green") {
  const auto medium = std::make_shared<MemoryMedium>();
  MemoryStore field1(medium);
  MemoryStore inner2(medium);
  FaultyStore field2(inner2);
  Window writer(field1);
  work_until_green(writer);
  Window reader(field2, 1);
  reader.clock.now = writer.clock.now;
  reader.act(Verb::open_job, writer.session->state().job);
  live_on(writer, reader, 12);
  CHECK(all_green(reader));

  reader.session->set_hidden(true);
  CHECK(live(reader, Knowledge::stale));
  writer.see(kp::safety::Doubt::power_found_on);
  field2.keep_completions();
  reader.session->set_hidden(false);
  CHECK(live(reader, Knowledge::stale));
  field2.release_completions();
  reader.settle();
  CHECK_FALSE(green(reader.seen().strip.power));
  CHECK(reader.session->lines() == writer.session->lines());
}

TEST_CASE("the writer that comes back looks whether it is the writer still") {
  const auto medium = std::make_shared<MemoryMedium>();
  MemoryStore inner1(medium);
  FaultyStore field1(inner1);
  MemoryStore field2(medium);
  Window first(field1);
  work_until_green(first);
  first.session->set_hidden(true);
  first.settle();
  Window second(field2, 1);
  second.clock.now = first.clock.now;
  second.act(Verb::open_job, first.session->state().job);
  second.act(Verb::take_writer);
  second.see(kp::safety::Doubt::power_found_on);

  field1.keep_completions();
  first.session->set_hidden(false);
  CHECK_FALSE(green(first));
  first.settle();
  CHECK_FALSE(green(first));
  field1.release_completions();
  first.settle();
  CHECK(first.says("taken over in another window"));
  CHECK_FALSE(green(first.seen().strip.power));
  CHECK(first.session->lines() == second.session->lines());

  // Alone and back at once, it is green again after one look.
  Window third(field2, 2);
  third.clock.now = second.clock.now;
  work_until_green(third);
  third.session->set_hidden(true);
  third.settle();
  third.session->set_hidden(false);
  CHECK(live(third, Knowledge::stale));
  third.settle();
  CHECK(all_green(third));
}

TEST_CASE("a silent writer, and one that is gone, are live in the window that reads") {
  const auto medium = std::make_shared<MemoryMedium>();
  auto field1 = std::make_unique<MemoryStore>(medium);
  MemoryStore field2(medium);
  auto writer = std::make_unique<Window>(*field1);
  work_until_green(*writer);
  Window reader(field2, 1);
  reader.clock.now = writer->clock.now;
  reader.act(Verb::open_job, writer->session->state().job);
  live_on(*writer, reader, 12);
  CHECK(all_green(reader));

  // It hangs: the lock is still its own.
  int seconds = 0;
  for (; seconds < 60 && green(reader); ++seconds) {
    reader.clock.pass(1'000);
    reader.settle();
  }
  CHECK(seconds <= 21);
  CHECK(live(reader, Knowledge::silent));
  CHECK(reader.says("That window is silent."));
  CHECK(reader.offers("Take over here"));
  writer->clock.now = reader.clock.now;
  live_on(*writer, reader, 6);
  CHECK(all_green(reader));

  // A dark window gives no sign either: nobody looks at it.
  writer->session->set_hidden(true);
  live_on(*writer, reader, 30);
  CHECK(live(reader, Knowledge::silent));
  writer->session->set_hidden(false);
  live_on(*writer, reader, 6);
  CHECK(all_green(reader));

  // It is closed: nobody holds the job any more.
  writer.reset();
  field1.reset();
  for (seconds = 0; seconds < 6; ++seconds) {
    reader.clock.pass(1'000);
    reader.settle();
  }
  CHECK(live(reader, Knowledge::silent));
}

TEST_CASE("a journal damaged at line 40 is live, though its proof stood before and power came later") {
  const auto medium = std::make_shared<MemoryMedium>();
  MemoryStore field(medium);
  std::string job;
  {
    Window window(field);
    work_until_green(window);
    job = window.session->state().job;
    // Notes until line 40, green all the time, then power is on.
    for (int i = 0; i < 41 && window.session->lines().size() < 41; ++i) {
      window.note("all as before");
    }
    CHECK(all_green(window));
    window.see(kp::safety::Doubt::power_found_on);
    CHECK_FALSE(green(window.seen().strip.power));
  }
  Strings lines = kept(medium, job);
  lines[39].replace(lines[39].find("\"n\":40"), 6, "\"n\":4O");
  MemoryStore spoilt(medium_of(job, lines));
  Window window(spoilt, 1);
  window.clock.now.wall.utc_ms += 400'000;
  window.act(Verb::open_job, job);
  CHECK(window.says("Line 40 of this job cannot be read"));
  CHECK(window.session->lines().size() == 39);
  // The part that can be read says green: that is the trap.
  CHECK(kp::safety::supply_dead(window.session->state().safety, {window.clock.now.wall.utc_ms, window.clock.now.mono_ms}, {}));
  CHECK(live(window, Knowledge::damaged));
  for (int minute = 0; minute < 60; ++minute) {
    window.clock.pass(60'000);
    window.session->set_hidden(minute % 2 == 0);
    window.settle();
    CHECK_FALSE(green(window));
  }
}

TEST_CASE("a clock that stands before the last record is live in both windows") {
  const auto medium = std::make_shared<MemoryMedium>();
  MemoryStore field1(medium);
  MemoryStore field2(medium);
  Window writer(field1);
  work_until_green(writer);
  Window reader(field2, 1);
  reader.clock.now = writer.clock.now;
  reader.act(Verb::open_job, writer.session->state().job);
  live_on(writer, reader, 12);
  CHECK(all_green(reader));
  for (Window* window : {&writer, &reader}) {
    window->clock.now.wall.utc_ms -= 3'600'000;
    CHECK(live(*window, Knowledge::clock_doubt));
  }
}
