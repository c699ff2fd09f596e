// The pack that a job stands on is kept in the job's store under its hash, so that a program with
// another pack of that name goes on under the one that the job was begun with, or says that it cannot.

#include <doctest/doctest.h>

#include <algorithm>

#include "app/pack_shelf.hpp"
#include "app/proved.hpp"
#include "base/sha256.hpp"
#include "base/text.hpp"
#include "data/value.hpp"
#include "job/again.hpp"
#include "journal/reader.hpp"
#include "platform/memory/faulty_store.hpp"

namespace {

using namespace kp;
using app::Verb;
using memory::MemoryMedium;
using memory::MemoryStore;
using test::has;
using test::kept;
using test::Window;
using Strings = std::vector<std::string>;
/// Behind all that a job of these tests recorded, so that no clock was set back.
constexpr std::int64_t kLaterMs = 7'200'000;

/// What ships, with something of the pack's text changed.
app::Content content_with(const std::string& from, const std::string& to) {
  std::vector<app::NamedBytes> files = test::shipped_files(false);
  std::string& pack = files.front().bytes;
  const std::size_t at = pack.find(from);
  REQUIRE(at != std::string::npos);
  pack.replace(at, from.size(), to);
  app::Content out = app::load_content(files);
  REQUIRE(out.library.models.size() == 1);
  return out;
}
/// The pack as it was before: another breaker.
const app::Content& older() {
  static const app::Content content = content_with("\"breaker_amperes\": 20", "\"breaker_amperes\": 16");
  return content;
}

std::string text_under(const std::shared_ptr<MemoryMedium>& medium, const std::string& key) {
  MemoryStore reader(medium);
  reader.get(key);
  return reader.take_completed().back().text;
}
void put(const std::shared_ptr<MemoryMedium>& medium, const std::string& key, const std::string& text) {
  MemoryStore writer(medium);
  writer.put(key, text);
  (void)writer.take_completed();
}
void copy_job(const std::shared_ptr<MemoryMedium>& from, const std::shared_ptr<MemoryMedium>& to,
              const std::string& job) {
  MemoryStore writer(to);
  writer.acquire(job);
  const Strings lines = kept(from, job);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    writer.append(job, static_cast<std::uint32_t>(i) + 1, lines[i]);
  }
  writer.release(job);
  (void)writer.take_completed();
}

long count_of(const Strings& asked, const std::string& what) {
  return std::count(asked.begin(), asked.end(), what);
}
long stands_on_of(const Strings& lines) {
  const journal::Loaded loaded = journal::read_lines(lines);
  return std::count_if(loaded.entries.begin(), loaded.entries.end(), [](const journal::Entry& one) {
    return one.kind == job::StandsOn::kKind;
  });
}

/// A job in the middle of being made safe, worked with the older pack.
std::string begin_with_older(const std::shared_ptr<MemoryMedium>& medium) {
  MemoryStore field(medium);
  Window window(field, older());
  test::work_until_green(window);
  REQUIRE(test::all_green(window));
  const std::string job = window.session->state().job;
  window.act(Verb::leave_job);
  return job;
}

/// It is shown in its own words and as live, and takes no record more.
void is_only_read(const Window& window, const std::shared_ptr<MemoryMedium>& medium,
                  const std::string& job) {
  const Strings lines = kept(medium, job);
  CHECK(window.seen().card.id == "kept-journal");
  CHECK_FALSE(window.seen().card.primary.has_value());
  CHECK(window.seen().strip.power.word == "LIVE");
  CHECK(window.seen().strip.water.word == "OPEN");
  CHECK(window.session->state().model == -1);
  CHECK(window.session->state().safety.supply_dead.holds());
  window.note("a word");
  CHECK(kept(medium, job) == lines);
}

}  // namespace

TEST_CASE("the pack that a job stands on is put in its store under its hash, once") {
  const auto medium = std::make_shared<MemoryMedium>();
  MemoryStore inner(medium);
  memory::FaultyStore field(inner);
  const Window window(field);
  window.act(Verb::new_job);
  window.act(Verb::choose_machine, "pump-module", true);
  const std::string sha = window.session->state().stands_on.pack_sha;
  REQUIRE(sha.size() == 64);
  // The sum of what stands there is what its key says, and it is the shipped text in canonical print.
  const std::string text = text_under(medium, "pack-" + sha);
  CHECK(sha256_hex(text) == sha);
  CHECK(text == data::print(data::parse(test::shipped_files(false).front().bytes).value()));
  CHECK(count_of(field.asked(), "put pack-" + sha) == 1);
  window.act(Verb::leave_job);
  window.act(Verb::new_job);
  window.act(Verb::choose_machine, "pump-module", true);
  CHECK(window.identified());
  CHECK(count_of(field.asked(), "get pack-" + sha) == 1);

  // Another run of the program looks, and does not write it again.
  memory::FaultyStore again(inner);
  const Window next(again, 1);
  next.act(Verb::new_job);
  next.act(Verb::choose_machine, "pump-module", true);
  CHECK(count_of(again.asked(), "get pack-" + sha) == 1);
  CHECK(count_of(again.asked(), "put pack-" + sha) == 0);
}

TEST_CASE("a pack that was not kept keeps nothing from being confirmed, and is put there later") {
  const auto medium = std::make_shared<MemoryMedium>();
  MemoryStore inner(medium);
  memory::FaultyStore field(inner);
  field.fail(memory::FaultyStore::Ask::put, "full");
  const Window window(field);
  window.act(Verb::new_job);
  const std::string job = window.session->state().job;
  window.act(Verb::choose_machine, "pump-module", true);
  CHECK(window.identified());
  CHECK_FALSE(window.says("Not saved"));
  const std::string key = "pack-" + window.session->state().stands_on.pack_sha;
  CHECK(text_under(medium, key).empty());
  window.act(Verb::leave_job);
  window.act(Verb::open_job, job);
  CHECK_FALSE(text_under(medium, key).empty());
}

TEST_CASE("a job goes on under the pack that it was begun with, while another ships") {
  const auto medium = std::make_shared<MemoryMedium>();
  const std::string job = begin_with_older(medium);
  const std::string shipped = test::shipped_content().library.models.front().sha;
  REQUIRE(older().library.models.front().sha != shipped);

  const long stood = stands_on_of(kept(medium, job));
  MemoryStore field(medium);
  Window window(field, 7);
  window.clock.pass(kLaterMs);
  window.act(Verb::open_job, job);
  CHECK(window.seen().page == app::Page::job);
  CHECK_FALSE(window.says("is not here"));
  const auto& models = window.session->content().library.models;
  REQUIRE(models.size() == 1);
  CHECK(window.session->state().model == 0);
  CHECK(models.front().sha == older().library.models.front().sha);
  CHECK(models.front().pack.supply.breaker_amperes == 16);
  const std::size_t before = window.session->lines().size();
  window.note("a word");
  CHECK(window.session->lines().size() == before + 1);
  CHECK(stands_on_of(window.session->lines()) == stood);   // it stands on nothing else since
  const job::Again again = job::decide_again(journal::read_lines(window.session->lines()),
                                             older().library, job::Settings{});
  CHECK(again.decided);
  CHECK(again.not_believable.empty());

  // Left, the next job stands on what ships.
  window.act(Verb::leave_job);
  CHECK(window.session->content().library.models.front().sha == shipped);
  window.act(Verb::new_job);
  window.act(Verb::choose_machine, "pump-module", true);
  CHECK(window.session->state().stands_on.pack_sha == shipped);
}

TEST_CASE("a second window follows and takes over a job with the pack that it stands on") {
  const auto medium = std::make_shared<MemoryMedium>();
  MemoryStore field1(medium);
  MemoryStore field2(medium);
  const Window first(field1, older());
  first.act(Verb::new_job);
  const std::string job = first.session->state().job;
  first.act(Verb::choose_machine, "pump-module", true);
  const Window second(field2, 1);
  second.act(Verb::open_job, job);
  CHECK(second.says("This job is open in another window. Here it can only be read."));
  CHECK(second.identified());
  second.act(Verb::take_writer);
  second.act(Verb::choose_complaint, "wet-and-cold", true);
  CHECK(second.session->state().complaint.symptom == "wet-and-cold");
  CHECK(second.session->state().stands_on.pack_sha == older().library.models.front().sha);
}

TEST_CASE("without its pack a job is shown in its own words and as live, and only read") {
  const auto medium = std::make_shared<MemoryMedium>();
  const std::string job = begin_with_older(medium);
  const auto elsewhere = std::make_shared<MemoryMedium>();
  copy_job(medium, elsewhere, job);
  MemoryStore field(elsewhere);
  const Window window(field, 7);
  window.act(Verb::open_job, job);
  CHECK(window.says("that this job stands on"));
  CHECK(window.says("is not here. Another of that name is. Go on where it was begun."));
  is_only_read(window, elsewhere, job);
  // With the pack that it stands on the same journal opens.
  put(elsewhere, app::pack_key(older().library.models.front().sha),
      older().prints.begin()->second);
  window.act(Verb::leave_job);
  window.act(Verb::open_job, job);
  CHECK(window.session->state().model == 0);
  CHECK_FALSE(window.says("is not here"));
}

TEST_CASE("a kept pack is believed only if its sum is what its key says") {
  const auto medium = std::make_shared<MemoryMedium>();
  const std::string job = begin_with_older(medium);
  const std::string key = app::pack_key(older().library.models.front().sha);
  const std::string whole = text_under(medium, key);
  const std::string shipped = test::shipped_content().prints.begin()->second;
  for (const std::string& damaged : {whole.substr(0, whole.size() / 2), shipped, std::string("{}")}) {
    put(medium, key, damaged);
    MemoryStore field(medium);
    const Window window(field, 7);
    window.act(Verb::open_job, job);
    CHECK(window.says("has another sum: it is damaged."));
    is_only_read(window, medium, job);
  }
  // A program that ships this pack itself mends what is kept.
  MemoryStore field(medium);
  const Window window(field, older(), 8);
  window.act(Verb::open_job, job);
  CHECK(window.identified());
  CHECK(text_under(medium, key) == whole);
}

TEST_CASE("a kept pack that this program cannot read is told, with what is wrong") {
  const auto medium = std::make_shared<MemoryMedium>();
  app::Content odd = older();
  std::string print = odd.prints.begin()->second;
  const std::size_t at = print.find("\"format\":1");
  REQUIRE(at != std::string::npos);
  print.replace(at, 10, "\"format\":9");
  odd.library.models.front().sha = sha256_hex(print);
  odd.prints = {{sha256_hex(print), print}};
  std::string job;
  {
    MemoryStore field(medium);
    Window window(field, odd);
    test::work_until_green(window);
    job = window.session->state().job;
    window.act(Verb::leave_job);
  }
  MemoryStore field(medium);
  const Window window(field, 7);
  window.act(Verb::open_job, job);
  CHECK(window.says("cannot be read here"));
  CHECK(window.says("this pack has format 9"));
  is_only_read(window, medium, job);
}

TEST_CASE("a job whose machine no longer ships goes on with the pack that is kept") {
  const auto medium = std::make_shared<MemoryMedium>();
  const std::string job = begin_with_older(medium);
  app::Content none = test::shipped_content();
  none.library.models.clear();
  none.prints.clear();
  MemoryStore field(medium);
  Window window(field, none, 7);
  window.clock.pass(kLaterMs);
  window.act(Verb::open_job, job);
  CHECK(window.identified());
  window.note("a word");
  CHECK(window.session->state().notes.size() == 1);
  window.act(Verb::leave_job);
  CHECK(window.session->content().library.models.empty());
}
