// What a session writes beside the work, erases, and takes from outside.

#include <doctest/doctest.h>

#include "app/import.hpp"
#include "app/window.hpp"
#include "job/again.hpp"
#include "job/work.hpp"
#include "journal/judgement.hpp"
#include "platform/memory/faulty_store.hpp"

namespace kp {
namespace {

using app::Arrived;
using app::Verb;
using test::kept;
using test::Window;
using test::Work;

constexpr const char* kJob = "20261025-0001";

/// A disk that holds these entries as one job.
std::shared_ptr<memory::MemoryMedium> disk_with(const std::vector<std::string>& entries,
                                                const std::string& job = kJob) {
  auto disk = std::make_shared<memory::MemoryMedium>();
  memory::MemoryStore writer(disk);
  (void)writer.acquire(job);
  for (std::size_t i = 0; i < entries.size(); ++i) {
    (void)writer.append(job, static_cast<std::uint32_t>(i) + 1, entries[i]);
  }
  (void)writer.release(job);
  (void)writer.take_completed();
  return disk;
}

std::string all_of(const std::vector<std::string>& entries) { return journal::to_file(entries); }

/// Brings a file into a disk, through a handle of its own.
struct Brought {
  Brought(const std::shared_ptr<memory::MemoryMedium>& disk, const std::string& text)
      : store(disk), import(store, text) {
    for (int i = 0; i < 9 && import.poll() == Arrived::waiting; ++i) {
    }
  }
  memory::MemoryStore store;
  app::Import import;
};

TEST_CASE("the session erases the customer's parts in the store, and the job goes on") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  const auto disk = disk_with(work.lines);
  memory::MemoryStore field(disk);
  Window window(field);
  window.clock.now.wall = work.wall;
  window.act(Verb::set_word, "person", false, "Ada");
  window.act(Verb::open_job, kJob);
  const safety::State before = window.session->state().safety;
  CHECK(window.session->state().customer.name == "N. Osei");
  window.session->erase({"customer"});
  window.settle();
  CHECK(window.session->state().customer.erased);
  CHECK(window.session->state().customer.name.empty());
  CHECK(window.session->state().safety == before);
  const std::string file = all_of(kept(disk, kJob));
  CHECK_FALSE(test::has(file, "Osei"));
  CHECK_FALSE(test::has(file, "Quay"));
  const journal::Loaded loaded = journal::read(file);
  CHECK(std::holds_alternative<journal::Whole>(journal::judge(loaded)));
  CHECK(journal::erased_parts(loaded) == 3);
  const std::size_t lines = kept(disk, kJob).size();
  window.note("Goes on.");
  CHECK(kept(disk, kJob).size() == lines + 1);
  // What is exported holds no more than the store.
  window.act(Verb::export_journal);
  CHECK(window.papers.all.back().bytes == all_of(kept(disk, kJob)));
}

TEST_CASE("what could not be erased is said, and is still there") {
  Work work;
  work.arrive();
  const auto disk = disk_with(work.lines);
  memory::MemoryStore inner(disk);
  memory::FaultyStore field(inner);
  Window window(field);
  window.clock.now.wall = work.wall;
  window.act(Verb::open_job, kJob);
  field.fail(memory::FaultyStore::Ask::erase, "refused");
  window.session->erase({"customer"});
  window.settle();
  REQUIRE_FALSE(window.seen().card.refusal.empty());
  CHECK(window.seen().card.refusal.front() == "Not all of it is erased. Erase again.");
  CHECK(window.session->state().customer.name == "N. Osei");
  window.session->erase({"customer"});
  window.settle();
  CHECK(window.session->state().customer.erased);
}

TEST_CASE("a journal from outside: new, known, longer, and a fork that is never merged") {
  Work first;
  first.arrive();
  Work second = first;
  const std::vector<std::string> common = first.lines;
  REQUIRE(first.tell(job::NoteAdded{"In the van."}).accepted());
  REQUIRE(second.tell(job::NoteAdded{"In the hall."}).accepted());
  REQUIRE(second.tell(job::NoteAdded{"One more."}).accepted());
  const auto disk = std::make_shared<memory::MemoryMedium>();

  CHECK(Brought(disk, all_of(common)).import.state() == Arrived::new_job);
  CHECK(kept(disk, kJob) == common);
  CHECK(Brought(disk, all_of(common)).import.state() == Arrived::known);
  {
    const Brought longer(disk, all_of(first.lines));
    CHECK(longer.import.state() == Arrived::longer);
    CHECK(longer.import.parts_at() == common.size() + 1);
  }
  CHECK(kept(disk, kJob) == first.lines);
  CHECK(Brought(disk, all_of(common)).import.state() == Arrived::known);
  const std::string fork = app::fork_id(kJob, second.tip);
  {
    const Brought brought(disk, all_of(second.lines));
    CHECK(brought.import.state() == Arrived::fork);
    CHECK(brought.import.parts_at() == common.size() + 1);
    CHECK(brought.import.job() == fork);
  }
  // Both are there, whole, and neither holds a record of the other.
  CHECK(kept(disk, kJob) == first.lines);
  CHECK(kept(disk, fork) == second.lines);
  CHECK(Brought(disk, all_of(second.lines)).import.state() == Arrived::fork);
  CHECK(kept(disk, fork) == second.lines);

  // The start page shows it as one, and it is only read here.
  memory::MemoryStore field(disk);
  Window window(field);
  int forks = 0;
  for (const app::Row& row : window.seen().rows) {
    forks += row.detail == cat("Fork of job ", kJob, ": two devices went on with it") ? 1 : 0;
  }
  CHECK(forks == 1);
  window.act(Verb::set_word, "person", false, "Ada");
  window.act(Verb::open_job, fork);
  CHECK(window.says(cat("This is a fork of job ", kJob)));
  window.note("Not written.");
  CHECK(kept(disk, fork) == second.lines);
  CHECK(kept(disk, kJob) == first.lines);
}

TEST_CASE("a fork brings nothing back that was erased here") {
  Work first;
  first.arrive();
  Work second = first;
  REQUIRE(first.tell(job::NoteAdded{"In the van."}).accepted());
  REQUIRE(second.tell(job::NoteAdded{"In the hall."}).accepted());
  std::vector<std::string> bare;
  for (const std::string& entry : first.lines) {
    bare.push_back(journal::without_parts(entry, {"customer"}));
  }
  const auto disk = disk_with(bare);
  const Brought brought(disk, all_of(second.lines));
  CHECK(brought.import.state() == Arrived::fork);
  CHECK_FALSE(test::has(all_of(kept(disk, brought.import.job())), "Osei"));
  CHECK(Brought(disk, all_of(first.lines)).import.state() == Arrived::known);
  CHECK(kept(disk, kJob) == bare);
}

TEST_CASE("what is no whole journal, and a job that is open elsewhere, are not taken") {
  Work work;
  work.arrive();
  const auto disk = std::make_shared<memory::MemoryMedium>();
  const std::string file = all_of(work.lines);
  for (const std::string& text :
       {std::string(), std::string("eggs"), file.substr(0, file.size() - 9),
        std::string(file).replace(file.find("QN 415"), 6, "QN 416")}) {
    const Brought brought(disk, text);
    CHECK(brought.import.state() == Arrived::refused);
    CHECK_FALSE(brought.import.why().empty());
  }
  memory::MemoryStore holder(disk);
  (void)holder.acquire(kJob);
  const Brought brought(disk, file);
  CHECK(brought.import.state() == Arrived::refused);
  CHECK(test::has(brought.import.why(), "open in another window"));
  CHECK(kept(disk, kJob).empty());
}

TEST_CASE("a step that the gate refuses is on record once, with its rows; the ticks stay") {
  Work work;
  work.arrive();
  const auto disk = disk_with(work.lines);
  memory::MemoryStore field(disk);
  Window window(field);
  window.clock.now.wall = work.wall;
  window.act(Verb::set_word, "person", false, "Ada");
  window.act(Verb::open_job, kJob);
  const auto press = [&window, &work] {
    app::Action action;
    action.verb = Verb::steps_done;
    action.deeds = {{job::Deed::release, work.pack().joints.front().id}};
    action.revision = window.seen().revision;
    window.session->act(action);
    window.settle();
  };
  press();
  const job::State& state = window.session->state();
  REQUIRE(state.refused.size() == 1);
  CHECK(state.steps.empty());
  CHECK(state.refused.front().body.what == work.pack().joints.front().id);
  CHECK_FALSE(state.refused.front().body.rows.empty());
  CHECK_FALSE(window.seen().card.refusal.empty());
  press();
  CHECK(state.refused.size() == 1);
  CHECK_FALSE(window.seen().card.refusal.empty());
  window.note("Something else.");
  press();
  CHECK(state.refused.size() == 2);
  const job::Again again = job::decide_again(journal::read_lines(kept(disk, kJob)),
                                             test::shipped_content().library, {});
  CHECK(again.not_believable.empty());
}

TEST_CASE("the serial number goes with the machine, and Not agreed is a fact of its own") {
  memory::MemoryStore field;
  Window window(field);
  window.act(Verb::set_word, "person", false, "Ada");
  window.act(Verb::new_job);
  window.act(Verb::set_word, "serial", false, " S 4711 ");
  window.act(Verb::choose_machine, "pump-module", true);
  CHECK(window.session->state().machine.serial == "S 4711");
  window.act(Verb::choose_complaint, "wet-and-cold", true);
  window.act(Verb::note_customer, "later");
  window.act(Verb::give_quote, {}, false);
  const job::State& state = window.session->state();
  CHECK(state.quoted);
  CHECK_FALSE(state.agreed.has_value());
  REQUIRE(state.quotes_refused.size() == 1);
  CHECK(state.quotes_refused.front().body.quote == state.quote_n);
}

}  // namespace
}  // namespace kp
