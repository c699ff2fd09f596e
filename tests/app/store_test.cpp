// What the screen says and does where the store is full, refused, damaged, or held by another
// window: a step that is not stored stays unconfirmed, and nothing that was confirmed is lost.

#include <doctest/doctest.h>

#include <memory>

#include "app/window.hpp"
#include "base/text.hpp"
#include "journal/reader.hpp"
#include "journal/verify.hpp"
#include "journal/writer.hpp"
#include "platform/memory/faulty_store.hpp"
#include "platform/memory/refused_store.hpp"

namespace {

using kp::app::Verb;
using kp::memory::MemoryMedium;
using kp::memory::MemoryStore;
using kp::test::has;
using kp::test::kept;
using kp::test::Window;
using Strings = std::vector<std::string>;

}  // namespace

TEST_CASE("a full store: the step is said not to be saved, stays unconfirmed, is done again later") {
  const auto medium = std::make_shared<MemoryMedium>();
  MemoryStore field(medium);
  const Window window(field);
  window.act(Verb::new_job);
  const std::string job = window.session->state().job;
  const Strings before = window.session->lines();
  CHECK(before.size() == 1);

  medium->set_room(medium->used());
  window.act(Verb::choose_machine, "pump-module", true);
  CHECK_FALSE(window.identified());
  CHECK(window.says("Not saved, so not confirmed: there is no room left to save."));
  CHECK(window.offers("Export"));
  CHECK(window.session->lines() == before);
  CHECK(kept(medium, job) == before);

  window.act(Verb::export_journal);
  CHECK(window.papers.all.size() == 2);
  CHECK(window.papers.all[0].bytes == kp::journal::to_file(before));
  const std::string rest = window.papers.all[1].bytes;
  CHECK(has(rest, "Lines 2 to 3 are not stored, so what they say is not confirmed."));
  CHECK(has(rest, "\"n\":2,"));
  CHECK(has(rest, "pump-module"));

  medium->set_room(-1);
  window.act(Verb::choose_machine, "pump-module", true);
  CHECK(window.identified());
  CHECK_FALSE(window.says("Not saved"));
  CHECK(kept(medium, job) == window.session->lines());
  window.act(Verb::export_journal);
  CHECK(window.papers.all.size() == 3);
}

TEST_CASE("a job whose first line is not kept is not begun") {
  const auto medium = std::make_shared<MemoryMedium>();
  MemoryStore field(medium);
  const Window window(field);
  medium->set_room(0);
  window.act(Verb::new_job);
  CHECK(window.seen().page == kp::app::Page::start);
  CHECK(window.says("The job is not saved, so it was not begun: there is no room left to save."));
  medium->set_room(-1);
  window.act(Verb::new_job);
  CHECK(window.seen().page == kp::app::Page::job);
  CHECK_FALSE(window.says("not begun"));
}

TEST_CASE("a refused store: no real job is begun, practice goes on in memory and says so") {
  const kp::Error why{"refused", "this device does not save: private", {}, "Export."};
  kp::memory::RefusedStore field(why);
  kp::memory::RefusedStore practice(why);
  const Window window(field, practice);
  CHECK(window.says("No job can be kept here: this device does not save: private."));
  CHECK(window.says("Practice works until this is closed."));
  CHECK_FALSE(window.seen().card.primary->enabled);
  for (const kp::app::Button& button : window.seen().card.ways_out) {
    CHECK(button.label != "Demo job");
  }
  for (const Verb verb : {Verb::new_job, Verb::open_demo}) {
    window.act(verb);
    CHECK(window.seen().page == kp::app::Page::start);
    CHECK(window.says("The job is not saved, so it was not begun"));
  }
  window.act(Verb::new_practice);
  CHECK(window.seen().page == kp::app::Page::job);
  CHECK(window.says("PRACTICE."));
  CHECK(window.says("Practice is not kept here."));
  CHECK(window.identified());
  window.act(Verb::leave_job);
  CHECK(window.says("No job can be kept here"));
  CHECK(window.seen().rows.size() == 1);
}

TEST_CASE("a second window only reads; it takes over, and then the first one only reads") {
  const auto medium = std::make_shared<MemoryMedium>();
  MemoryStore field1(medium);
  MemoryStore field2(medium);
  const Window first(field1);
  first.act(Verb::new_job);
  const std::string job = first.session->state().job;

  const Window second(field2, 1);
  second.act(Verb::open_job, job);
  CHECK(second.says("This job is open in another window. Here it can only be read."));
  CHECK(second.offers("Take over here"));
  second.act(Verb::choose_machine, "pump-module", true);
  CHECK_FALSE(second.identified());
  CHECK(kept(medium, job).size() == 1);
  CHECK_FALSE(first.says("window"));

  second.act(Verb::take_writer);
  CHECK_FALSE(second.says("window"));
  first.settle();
  CHECK(first.says("This job was taken over in another window. Here it can only be read."));
  CHECK(first.offers("Take over here"));
  first.act(Verb::choose_machine, "pump-module", true);
  CHECK_FALSE(first.identified());
  second.act(Verb::choose_machine, "pump-module", true);
  CHECK(second.identified());

  // Taken back, the first one has what the second one wrote.
  first.act(Verb::take_writer);
  CHECK(first.identified());
  CHECK_FALSE(first.says("window"));
  second.settle();
  CHECK(second.says("taken over in another window"));
  first.act(Verb::choose_complaint, "wet-and-cold", true);
  CHECK(first.session->state().complaint.symptom == "wet-and-cold");
  const kp::journal::Loaded loaded = kp::journal::read_lines(kept(medium, job));
  CHECK_FALSE(loaded.damage.has_value());
  CHECK(kp::journal::verify(loaded).faults() == 0);
  CHECK(kept(medium, job) == first.session->lines());

  // Left in the first window, the job is free for the second one.
  first.act(Verb::leave_job);
  second.act(Verb::leave_job);
  second.act(Verb::open_job, job);
  CHECK_FALSE(second.says("window"));
}

TEST_CASE("a step that was on its way when the job was taken over is not confirmed") {
  const auto medium = std::make_shared<MemoryMedium>();
  MemoryStore field1(medium);
  MemoryStore field2(medium);
  const Window first(field1);
  first.act(Verb::new_job);
  const std::string job = first.session->state().job;
  field2.take_over(job);
  // The first window has not looked yet.
  kp::app::Action action;
  action.verb = Verb::choose_machine;
  action.id = "pump-module";
  action.flag = true;
  action.revision = first.seen().revision;
  first.session->act(action);
  first.settle();
  CHECK_FALSE(first.identified());
  CHECK(first.says("Not saved, so not confirmed"));
  CHECK(first.says("taken over in another window"));
  CHECK(kept(medium, job).size() == 1);
}

TEST_CASE("a damaged journal is opened up to the damage, read-only, and exported whole") {
  const auto medium = std::make_shared<MemoryMedium>();
  MemoryStore field(medium);
  std::string job;
  {
    const Window window(field);
    window.act(Verb::new_job);
    window.act(Verb::choose_machine, "pump-module", true);
    window.act(Verb::choose_complaint, "wet-and-cold", true);
    job = window.session->state().job;
  }
  Strings lines = kept(medium, job);
  CHECK(lines.size() >= 3);
  // The sum in line 3 is not the one of line 2 any more, so neither is believed.
  const std::size_t at = lines[1].find("pump-module");
  CHECK(at != std::string::npos);
  lines[1].replace(at, 4, "bump");

  const auto spoilt = std::make_shared<MemoryMedium>();
  MemoryStore other(spoilt);
  other.acquire(job);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    other.append(job, static_cast<std::uint32_t>(i) + 1, lines[i]);
  }
  other.release(job);
  (void)other.take_completed();
  const Window window(other);
  window.act(Verb::open_job, job);
  CHECK(window.says("cannot be read"));
  CHECK(window.says("What stands before it is shown, read-only."));
  CHECK_FALSE(window.offers("Take over here"));
  CHECK(window.session->lines() == Strings{lines[0]});
  window.act(Verb::choose_machine, "pump-module", true);
  CHECK(kept(spoilt, job) == lines);

  window.act(Verb::export_journal);
  CHECK(window.papers.all.size() == 2);
  CHECK(window.papers.all[0].bytes == lines[0] + "\n");
  const std::string rest = window.papers.all[1].bytes;
  CHECK(has(rest, kp::cat("Lines 2 to ", kp::to_int(lines.size()),
                          " are stored and cannot be believed.")));
  CHECK(has(rest, kp::journal::to_file(Strings(lines.begin() + 1, lines.end()))));
}

TEST_CASE("the start page says what is known of the keeping, and nothing where all is well") {
  MemoryStore inner;
  kp::memory::FaultyStore field(inner);
  const Window window(field);
  const std::size_t quiet = window.seen().notices.size();
  kp::port::Keeping keeping;
  keeping.persisted = false;
  keeping.free_bytes = 5'400'000;
  keeping.copies = 1;
  keeping.lost = "The browser lost what was kept here.";
  field.tell_keeping(keeping);
  window.settle();
  CHECK(window.says("Little room is left: 5 MB."));
  CHECK(window.says("The browser lost what was kept here. Jobs may be missing."));
  CHECK(window.seen().card.facts.empty());
  window.act(Verb::new_job);
  window.act(Verb::leave_job);
  CHECK(window.seen().card.facts ==
        Strings{"This browser may clear jobs when it needs room. Export each finished job.",
                "Jobs are kept once: the second copy could not be written."});
  keeping = {};
  keeping.persisted = true;
  keeping.free_bytes = 1e9;
  keeping.copies = 2;
  field.tell_keeping(keeping);
  window.settle();
  CHECK(window.seen().notices.size() == quiet);
  CHECK(window.seen().card.facts.empty());
}
