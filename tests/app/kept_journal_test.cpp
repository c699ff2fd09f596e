// Journals that are only read here: of format 1, damaged, of a newer program. They are shown in their
// own words and as live, and one of format 1 is gone on with in a new job that names its tip.

#include <doctest/doctest.h>

#include <algorithm>

#include "app/proved.hpp"
#include "base/text.hpp"
#include "job/format1.hpp"
#include "job/replay.hpp"
#include "journal/reader.hpp"
#include "journal/writer.hpp"
#include "support/files.hpp"

namespace {

using namespace kp;
using app::Verb;
using memory::MemoryMedium;
using memory::MemoryStore;
using test::has;
using test::Window;
using Strings = std::vector<std::string>;

Strings golden(const std::string& name) {
  Strings out;
  std::string bytes = test::file_bytes(cat(KP_SOURCE_DIR, "/tests/golden/journals/format-1/", name));
  for (std::size_t at = 0; at < bytes.size();) {
    const std::size_t end = std::min(bytes.find('\n', at), bytes.size());
    out.push_back(bytes.substr(at, end - at));
    at = end + 1;
  }
  return out;
}

struct Shelf {
  std::shared_ptr<MemoryMedium> medium = std::make_shared<MemoryMedium>();

  void put(const std::string& job, const Strings& lines) const {
    MemoryStore writer(medium);
    writer.acquire(job);
    for (std::size_t i = 0; i < lines.size(); ++i) {
      writer.append(job, static_cast<std::uint32_t>(i) + 1, lines[i]);
    }
    writer.release(job);
    (void)writer.take_completed();
  }
};

bool is_live(const Window& window) {
  return window.seen().strip.power.word == "LIVE" && window.seen().strip.water.word == "OPEN" &&
         has(window.seen().strip.power.evidence.front(), "TAKEN AS LIVE");
}
bool shows(const Window& window, const std::string& words) {
  const auto& rows = window.seen().rows;
  return std::any_of(rows.begin(), rows.end(), [&](const app::Row& row) { return row.title == words; });
}

}  // namespace

TEST_CASE("a job of format 1 is shown in its words and as live, and gone on with in a new job") {
  const Shelf shelf;
  const Strings lines = golden("open.jsonl");
  const std::string old_job = "20261031-96c6";
  shelf.put(old_job, lines);
  MemoryStore field(shelf.medium);
  const Window window(field, 7);
  window.act(Verb::open_job, old_job);
  CHECK(is_live(window));
  CHECK(window.says("older format"));
  const job::State& old = window.session->state();
  REQUIRE(old.said.size() > 5);
  for (const auto& one : old.said) CHECK(shows(window, job::format1::words_of(one.body)));
  // Nothing can be added to it.
  window.note("a word");
  CHECK(test::kept(shelf.medium, old_job) == lines);
  REQUIRE(window.seen().card.primary.has_value());
  const app::Button go_on = window.seen().card.primary.value();
  CHECK(go_on.label == "Go on in a new job");
  const job::Unit left = old.as_left;
  window.session->act(go_on.action);
  window.session->act(go_on.action);   // a second delivery of the tap
  window.settle();
  const job::State& next = window.session->state();
  CHECK(next.job != old_job);
  CHECK(next.opened.after_job == old_job);
  CHECK(next.opened.after_tip == journal::read_lines(lines).tip_hash);
  CHECK(next.machine.pack == "pump-module");
  CHECK(next.customer.name == "N. Osei");
  CHECK(next.as_left.loose == left.loose);
  CHECK(next.as_left.away == left.away);
  CHECK_FALSE(next.safety.prepared.holds());
  CHECK(window.seen().strip.power.word == "LIVE");
  CHECK_FALSE(test::green(window));
  CHECK(test::kept(shelf.medium, old_job) == lines);
  // Before anything else at the machine somebody says how it was found.
  test::Robot robot(*window.session);
  test::ready(robot);
  bool asked = false;
  for (int step = 0; step < 40 && !asked; ++step) {
    asked = window.seen().card.id == "as-left";
    if (!asked) {
      CHECK(robot.step());
      window.settle();
    }
  }
  CHECK(asked);
}

TEST_CASE("a damaged journal is shown to its damage, as live, and nothing goes on from it") {
  for (const char* name : {"damaged.jsonl"}) {
    const Shelf shelf;
    shelf.put("20261031-0001", golden(name));
    MemoryStore field(shelf.medium);
    const Window window(field, 7);
    window.act(Verb::open_job, "20261031-0001");
    CHECK(is_live(window));
    CHECK(window.says("cannot be read"));
    CHECK(window.seen().card.id == "kept-journal");
    CHECK_FALSE(window.seen().card.primary.has_value());
    CHECK_FALSE(window.seen().rows.empty());
  }
}

TEST_CASE("a journal with a kind of a newer program is shown as live and only read") {
  const Shelf shelf;
  std::string job;
  {
    MemoryStore field(shelf.medium);
    Window window(field);
    test::work_until_green(window);
    REQUIRE(test::all_green(window));
    job = window.session->state().job;
    window.act(Verb::leave_job);
  }
  Strings lines = test::kept(shelf.medium, job);
  const journal::Loaded loaded = journal::read_lines(lines);
  journal::Entry newer = loaded.entries.back();
  newer.seq += 1;
  newer.kind = "level-measured";
  newer.prev = loaded.tip_hash;
  lines.push_back(journal::write_line(newer));
  const Shelf other;
  other.put(job, lines);
  MemoryStore field(other.medium);
  const Window window(field, 7);
  window.act(Verb::open_job, job);
  CHECK(window.says("newer program"));
  CHECK(is_live(window));
  CHECK_FALSE(window.seen().card.primary.has_value());
  CHECK(shows(window, "Electricity"));
  CHECK(test::kept(other.medium, job) == lines);
}
