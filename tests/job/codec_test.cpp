#include <doctest/doctest.h>

#include <limits>
#include <set>
#include <utility>

#include "job/codec.hpp"
#include "job/safety_words.hpp"
#include "job/work.hpp"

// The stored words of each record. What is written is compared as text with what was read back, so
// that a member that is forgotten on one side shows.

namespace kp {
namespace {

using job::Body;

/// Gives every member a value that is not its default, each its own.
class Filler {
 public:
  void operator()(const char* name, std::string& value) { value = cat(name, "-", next()); }
  void operator()(const char*, bool& value) { value = true; }
  void operator()(const char*, int& value) { value = next(); }
  void operator()(const char*, std::uint32_t& value) {
    value = std::numeric_limits<std::uint32_t>::max() - static_cast<std::uint32_t>(next());
  }
  void operator()(const char*, std::int64_t& value) {
    value = std::numeric_limits<std::int64_t>::min() + next();
  }
  void operator()(const char*, double& value) { value = -0.1 * next(); }
  void operator()(const char* name, data::Value& value) {
    value = data::Value::object().set(name, data::Value::array().push(data::Value::of(next())));
  }
  template <class T>
  void operator()(const char* name, std::vector<T>& values) {
    values.resize(3);
    for (T& value : values) {
      (*this)(name, value);
    }
  }
  template <class E>
    requires std::is_enum_v<E>
  void operator()(const char*, E& value) {
    value = static_cast<E>(1);
  }

 private:
  int next() { return ++count_; }
  int count_ = 0;
};

/// One body of each kind: as made, and filled.
template <class... T>
std::vector<Body> all_bodies(bool filled, const std::variant<T...>*) {
  std::vector<Body> out;
  const auto add = [&](auto body) {
    if (filled) {
      Filler filler;
      decltype(body)::fields(body, filler);
    }
    out.emplace_back(std::move(body));
  };
  (add(T{}), ...);
  return out;
}

std::vector<Body> all_bodies(bool filled) {
  return all_bodies(filled, static_cast<const Body*>(nullptr));
}

TEST_CASE("codec: every kind of record comes back as it was written, empty and full") {
  std::set<std::string> kinds;
  for (const bool filled : {false, true}) {
    for (const Body& body : all_bodies(filled)) {
      const std::string kind(job::kind_of(body));
      CAPTURE(kind);
      kinds.insert(kind);
      const std::string text = data::print(job::encode(body));
      const auto parsed = data::parse(text);
      REQUIRE(parsed.has_value());
      Findings notes;
      const auto read = job::decode(kind, parsed.value(), notes);
      REQUIRE(read.has_value());
      CHECK(read.value().index() == body.index());
      CHECK(data::print(job::encode(read.value())) == text);
      CHECK(notes.all().empty());
      if (filled) {
        // Nothing was left out on the way: each member stands in the text.
        const auto count = [](const Body& one) {
          return std::visit(
              [](auto copy) {
                int members = 0;
                const auto counter = [&members](const char*, auto&) { ++members; };
                decltype(copy)::fields(copy, counter);
                return members;
              },
              one);
        };
        CHECK(to_int(job::encode(body).members.size()) == count(body));
      }
    }
  }
  CHECK(kinds.size() == std::variant_size_v<Body>);
}

TEST_CASE("codec: every word of every enumeration comes back") {
  for (std::size_t act = 0; act < job::act_words().size(); ++act) {
    job::Isolation body;
    body.act = static_cast<safety::EventKind>(act);
    body.means = static_cast<safety::Means>(act % job::means_words().size());
    body.station = static_cast<safety::Station>(act % job::station_words().size());
    body.function = static_cast<safety::MeterFunction>(act % job::function_words().size());
    const auto back = job::decode(job::Isolation::kKind, job::encode(Body(body)));
    REQUIRE(back.has_value());
    const auto& read = std::get<job::Isolation>(back.value());
    CHECK(read.act == body.act);
    CHECK(read.means == body.means);
    CHECK(read.station == body.station);
    CHECK(read.function == body.function);
  }
  CHECK(to_int(job::act_words().size()) == safety::kEventKinds);
  CHECK(to_int(job::station_words().size()) == safety::kStations);
  CHECK(to_int(job::function_words().size()) == safety::kMeterFunctions);
  std::set<std::string> means(job::means_words().begin(), job::means_words().end());
  CHECK(means.size() == job::means_words().size());
}

TEST_CASE("codec: an unknown kind is told, with what to do") {
  const auto read = job::decode("moon-landed", data::Value::object());
  REQUIRE_FALSE(read.has_value());
  CHECK(read.error().code == "unknown-kind");
  CHECK(read.error().text().find("moon-landed") != std::string::npos);
  CHECK_FALSE(read.error().remedy.empty());
}

TEST_CASE("codec: a member that is not known is passed over and told with its place") {
  data::Value payload = job::encode(Body(job::NoteAdded{"hose kinked"}));
  payload.set("colour", data::Value::of("red"));
  Findings notes;
  const auto read = job::decode("note-added", payload, notes);
  REQUIRE(read.has_value());
  CHECK(std::get<job::NoteAdded>(read.value()).text == "hose kinked");
  REQUIRE(notes.all().size() == 1);
  CHECK(notes.all()[0].code == "unknown-member");
  CHECK(notes.all()[0].pointer == "/colour");
  CHECK(notes.all()[0].severity == Severity::note);
}

TEST_CASE("codec: a member that is absent has its default") {
  const auto read = job::decode("isolation", data::Value::object().set("act", data::Value::of("secured")));
  REQUIRE(read.has_value());
  CHECK(std::get<job::Isolation>(read.value()).people == 1);
  CHECK(std::get<job::Isolation>(read.value()).means == safety::Means::word_of_another);
}

TEST_CASE("codec: garbled values are faults with their place") {
  struct Row {
    const char* kind;
    const char* payload;
    const char* place;
  };
  const Row rows[] = {
      {"note-added", R"({"text":7})", "/text"},
      {"screen", R"({"hidden":"yes"})", "/hidden"},
      {"resumed", R"({"awaySeconds":1.5})", "/awaySeconds"},
      {"resumed", R"({"awaySeconds":99999999999999999999})", "/awaySeconds"},
      {"test-taken-back", R"({"n":-1})", "/n"},
      {"test-taken-back", R"({"n":4294967296})", "/n"},
      {"visit-begun", R"({"visit":2147483648})", "/visit"},
      {"isolation", R"({"act":"wished"})", "/act"},
      {"isolation", R"({"volts":null})", "/volts"},
      {"stage-entered", R"({"stage":3})", "/stage"},
      {"targets-chosen", R"({"parts":"heater"})", "/parts"},
      {"targets-chosen", R"({"parts":["heater",5]})", "/parts"},
      {"signed", R"({"strokes":[0.5,"x"]})", "/strokes"},
      {"step-done", R"({"standsOn":[1,[]]})", "/standsOn"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.payload);
    const auto parsed = data::parse(row.payload);
    REQUIRE(parsed.has_value());
    const auto read = job::decode(row.kind, parsed.value());
    REQUIRE_FALSE(read.has_value());
    // A word that is not known may be a newer program's; a value of the wrong type is none at all.
    const bool word = std::string_view(row.payload) == R"({"act":"wished"})";
    CHECK(read.error().code == (word ? "unknown-word" : "bad-payload"));
    CHECK(read.error().where == row.place);
    CHECK(read.error().what.find(row.kind) != std::string::npos);
  }
  CHECK_FALSE(job::decode("note-added", data::Value::array()).has_value());
  CHECK_FALSE(job::decode("note-added", data::Value{}).has_value());
}

TEST_CASE("codec: no change of a payload crashes, and what is read is written back the same") {
  const data::Value strange[] = {data::Value{},
                                 data::Value::of(true),
                                 data::Value::of(-1),
                                 data::Value::of(1e300),
                                 data::Value::of("wished"),
                                 data::Value::array().push(data::Value::of(1e-300)),
                                 data::Value::array().push(data::Value::of("x")),
                                 data::Value::object()};
  int refused = 0;
  int read_well = 0;
  for (const Body& body : all_bodies(true)) {
    const data::Value payload = job::encode(body);
    for (const data::Value::Member& member : payload.members) {
      for (const data::Value& value : strange) {
        data::Value changed = payload;
        changed.set(member.first, value);
        const auto read = job::decode(job::kind_of(body), changed);
        if (!read.has_value()) {
          ++refused;
          CHECK(read.error().where == "/" + member.first);
          continue;
        }
        ++read_well;
        const std::string text = data::print(job::encode(read.value()));
        const auto again = job::decode(job::kind_of(body), data::parse(text).value());
        REQUIRE(again.has_value());
        CHECK(data::print(job::encode(again.value())) == text);
      }
    }
  }
  CHECK(refused > 500);
  CHECK(read_well > 50);
}

TEST_CASE("codec: what cannot be written is no record") {
  job::TestRecorded test;
  test.value = std::numeric_limits<double>::infinity();
  CHECK_FALSE(job::canonical(Body(test)).has_value());
  test.value = 0.1;
  REQUIRE(job::canonical(Body(test)).has_value());
  CHECK(std::get<job::TestRecorded>(job::canonical(Body(test)).value()).value == 0.1);
}

TEST_CASE("replay: a record that is not understood stops the reading there, with its line") {
  test::Work work;
  work.arrive();
  const job::State before = work.state;
  journal::Entry strange = job::entry_of(work.now(), job::NoteAdded{"x"}, work.tip);
  strange.kind = "moon-landed";
  work.lines.push_back(journal::write_line(strange));
  const job::Replayed replayed = job::replay(journal::read_lines(work.lines), work.context());
  REQUIRE(replayed.damage.has_value());
  CHECK(replayed.damage->code == "unknown-kind");
  CHECK(replayed.damage_line == to_int(work.lines.size()));
  CHECK(replayed.damage->where == cat("line ", to_int(work.lines.size())));
  CHECK(replayed.state.last_n == before.last_n);
}

TEST_CASE("replay: a machine whose pack is not at hand is told, not taken for none") {
  test::Work work;
  work.arrive();
  const job::Library empty;
  const job::Replayed replayed =
      job::replay(journal::read_lines(work.lines), job::Context{&empty, &work.settings});
  REQUIRE(replayed.damage.has_value());
  CHECK(replayed.damage->code == "unknown-pack");
  CHECK(replayed.damage_line == 2);
  CHECK(replayed.state.job == work.state.job);
}

}  // namespace
}  // namespace kp
