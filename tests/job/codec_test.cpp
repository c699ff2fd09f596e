#include <doctest/doctest.h>

#include <limits>
#include <set>
#include <utility>

#include "job/codec.hpp"
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

/// Reads and writes one enumeration of the stored words by way of a fact that holds it.
template <class T, class E>
void check_words(E T::*member, int count) {
  std::set<std::string> texts;
  for (int i = 0; i < count; ++i) {
    T body;
    body.*member = static_cast<E>(i);
    const data::Value payload = job::encode(Body(body));
    const auto back = job::decode(T::kKind, payload);
    CAPTURE(std::string(T::kKind));
    CAPTURE(i);
    REQUIRE(back.has_value());
    CHECK(std::get<T>(back.value()).*member == static_cast<E>(i));
    texts.insert(data::print(payload));
  }
  CHECK(to_int(texts.size()) == count);   // no two values share a word
}

TEST_CASE("codec: every word of every enumeration comes back") {
  check_words(&safety::Isolated::means, safety::kMeans);
  check_words(&safety::HeldFast::control, safety::kControls);
  check_words(&safety::ControlsTried::answer, safety::kAnswers);
  check_words(&safety::ReadingTaken::role, safety::kRoles);
  check_words(&safety::ReadingTaken::function, safety::kMeterFunctions);
  check_words(&safety::ReadingTaken::source, safety::kSources);
  check_words(&safety::ReadingTaken::found, safety::kFounds);
  check_words(&safety::Secured::how, safety::kSupports);
  check_words(&safety::Doubted::what, safety::kDoubts);
  check_words(&safety::GapAnswered::stayed, safety::kStayed);
  check_words(&safety::Prepared::connection, 2);
  check_words(&safety::Prepared::system, 2);
  check_words(&job::StepDone::act, safety::kActs);
  check_words(&job::StageEntered::stage, job::kStages);
  check_words(&job::PhaseStarted::phase, job::kPhases);
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

TEST_CASE("codec: a member that is absent has its default, and the default is the careful one") {
  const auto read = job::decode("isolated", data::Value::object());
  REQUIRE(read.has_value());
  CHECK(std::get<safety::Isolated>(read.value()).means == safety::Means::word_of_another);
  const auto gap = job::decode("gap-answered", data::Value::object());
  REQUIRE(gap.has_value());
  CHECK(std::get<safety::GapAnswered>(gap.value()).stayed == safety::Stayed::unknown);
  const auto step = job::decode("step-done", data::Value::object());
  REQUIRE(step.has_value());
  CHECK(std::get<job::StepDone>(step.value()).act == safety::Act::hands_in);
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
      {"resumed", R"({"awayMs":1.5})", "/awayMs"},
      {"resumed", R"({"awayMs":99999999999999999999})", "/awayMs"},
      {"test-taken-back", R"({"n":-1})", "/n"},
      {"test-taken-back", R"({"n":4294967296})", "/n"},
      {"visit-begun", R"({"visit":2147483648})", "/visit"},
      {"isolated", R"({"means":"wished"})", "/means"},
      {"reading", R"({"value":null})", "/value"},
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
    const bool word = std::string_view(row.payload) == R"({"means":"wished"})";
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

TEST_CASE("codec: what is false or 0 comes back so, also where a body begins otherwise") {
  // "It seeps", "it was dead before", "not built in": each is said by a flag that is left out.
  const auto back = [](const Body& body) { return job::canonical(body).value(); };
  CHECK_FALSE(std::get<safety::Watched>(back(safety::Watched{false})).dry);
  CHECK_FALSE(std::get<safety::Stopped>(back(safety::Stopped{false})).ran);
  safety::Prepared loose;
  loose.built_in = false;
  loose.volts = 0;
  CHECK_FALSE(std::get<safety::Prepared>(back(loose)).built_in);
  CHECK(std::get<safety::Prepared>(back(loose)).volts == 0);
}

TEST_CASE("codec: what cannot be written is no record") {
  job::TestRecorded test;
  test.value = std::numeric_limits<double>::infinity();
  CHECK_FALSE(job::canonical(Body(test)).has_value());
  test.value = 0.1;
  REQUIRE(job::canonical(Body(test)).has_value());
  CHECK(std::get<job::TestRecorded>(job::canonical(Body(test)).value()).value == 0.1);
}

TEST_CASE("replay: a record of an unknown kind is passed over, and the job opens read-only") {
  test::Work work;
  work.arrive();
  const job::State before = work.state;
  journal::Entry strange = work.entry(job::NoteAdded{"x"});
  strange.kind = "moon-landed";
  work.lines.push_back(journal::write_line(strange));
  const job::Replayed replayed =
      job::replay(journal::read_lines(work.lines), test::shipped_library());
  CHECK_FALSE(replayed.damage.has_value());
  CHECK(replayed.newer);
  CHECK_FALSE(replayed.continues());
  CHECK(replayed.state.last_n == before.last_n + 1);
  REQUIRE(replayed.notes.all().size() == 1);
  CHECK(replayed.notes.all()[0].code == "unknown-kind");
  CHECK(replayed.notes.all()[0].line == to_int(work.lines.size()));
}

TEST_CASE("replay: a record that is garbled stops the reading there, with its line") {
  test::Work work;
  work.arrive();
  const job::State before = work.state;
  journal::Entry garbled = work.entry(job::NoteAdded{"x"});
  garbled.payload.set("text", data::Value::of(7));
  work.lines.push_back(journal::write_line(garbled));
  const job::Replayed replayed =
      job::replay(journal::read_lines(work.lines), test::shipped_library());
  REQUIRE(replayed.damage.has_value());
  CHECK(replayed.damage->code == "bad-payload");
  CHECK(replayed.damage_line == to_int(work.lines.size()));
  CHECK(replayed.damage->where == cat("line ", to_int(work.lines.size()), ", /text"));
  CHECK(replayed.state.last_n == before.last_n);
}

}  // namespace
}  // namespace kp
