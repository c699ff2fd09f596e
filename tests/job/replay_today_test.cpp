// A journal says the same on every later day (R1): the pack may be another, or away, the shop's policy
// stricter, the words changed. What is folded and printed comes from the records; the pack at hand
// gives names and no facts.

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "job/bind_bill.hpp"
#include "job/state_text.hpp"
#include "job/work.hpp"

namespace kp {
namespace {

using test::Work;

/// In the middle of a repair, then closed, proved, ended: journals with parts off and without.
const Work& open_job() {
  static const Work work = [] {
    Work made;
    made.arrive();
    REQUIRE(made.open_gate());
    REQUIRE(made.tell(job::TargetsChosen{{"thermal-fuse"}, "worn out"}).accepted());
    REQUIRE(made.work_through(job::Stage::open));
    REQUIRE(made.swap("thermal-fuse"));
    return made;
  }();
  return work;
}
const Work& whole_job() {
  static const Work work = [] {
    Work made = open_job();
    REQUIRE(made.work_through(job::Stage::close));
    REQUIRE(made.prove_all());
    REQUIRE(made.tell(job::JobEnded{job::Outcome::repaired, ""}).accepted());
    return made;
  }();
  return work;
}

/// The shipped pack with something of it changed.
template <class Change>
job::Library library_with(Change change) {
  pack::Pack pack = test::shipped_library().models.front().pack;
  change(pack);
  job::Library out;
  auto model = job::make_model(std::move(pack));
  REQUIRE(model.has_value());
  out.models.push_back(std::move(model.value()));
  return out;
}

/// What the records say, without the indices of whatever pack is at hand.
std::string facts(job::State state) {
  state.model = state.mend = -1;
  state.unit = {};
  state.targets.clear();
  state.strange.clear();
  return test::text_of(state);
}

job::State replayed(const Work& work, const job::Library& library) {
  const job::Replayed out = job::replay(journal::read_lines(work.lines), library);
  CHECK_FALSE(out.damage.has_value());
  CHECK(out.notes.all().empty());
  CHECK(out.continues());
  return out.state;
}

void same_state(const Work& work, const job::Library& library) {
  const job::State state = replayed(work, library);
  CHECK(state.safety == work.state.safety);
  CHECK(facts(state) == facts(work.state));
}

bill::ServiceRecord record(const job::State& state, const job::Library& library,
                           const job::Settings& settings = {}) {
  return job::bind_record(state, job::Context{&library, &settings}, bill::RateCard{}, "tip",
                          Moment{1'793'600'000'000, -300});
}

std::string line_of(const std::string& name, const std::string& rest) { return cat(name, " | ", rest, "\n"); }
std::string when(const std::optional<Moment>& at) { return at ? clock_text(*at) : "-"; }

/// The record as lines; with `names` empty only what is no word of the pack.
std::string printed(const bill::ServiceRecord& one, bool names) {
  const auto name = [names](const std::string& text) { return names ? text : std::string("-"); };
  std::string out;
  for (const bill::IsolationTaken& isolation : one.isolations) {
    out += line_of(isolation.title, cat(isolation.how, " ", isolation.by, " ", when(isolation.isolated), " ",
                                        when(isolation.proved), " ", when(isolation.restored), " ", isolation.voided));
    for (const bill::ReadingTaken& reading : isolation.evidence) {
      out += line_of(reading.title, cat(reading.value, " ", reading.limit, reading.pass ? " pass" : " fail"));
    }
  }
  for (const bill::Handled& handled : one.handled) {
    out += line_of(name(handled.name), cat(names ? handled.count : 1, " ", when(handled.removed), " ", when(handled.refitted), " ",
                                           to_int(handled.checks.size()), handled.replaced ? " new" : ""));
  }
  for (const bill::ReadingTaken& reading : one.tests) {
    out += line_of(name(reading.title), cat(reading.value, names ? reading.limit : "", reading.pass ? " pass" : " fail"));
  }
  for (const std::string& remark : one.remarks) {
    out += line_of("remark", names ? remark : "-");
  }
  for (const bill::PartUsed& part : one.work.parts) {
    out += line_of(part.name, cat(part.stock, " ", integer_text(part.cost_minor)));
  }
  return cat(out, one.work.machine.maker, " ", one.work.machine.title, " ", one.work.machine.model, "\n");
}

TEST_CASE("today: the state does not depend on the pack, its words or the library") {
  const job::Library renamed = library_with([](pack::Pack& pack) {
    pack.joints[to_size(pack.joint("fuse-leads"))].id = "fuse-tabs";
  });
  const job::Library reworded = library_with([](pack::Pack& pack) {
    for (pack::Part& part : pack.parts) part.name = cat("The ", part.name);
    for (pack::Joint& joint : pack.joints) joint.name = cat("The ", joint.name);
    for (pack::ProveTest& test : pack.prove_tests) test.title = cat("The ", test.title);
    pack.about.title = "Another title";
  });
  const job::Library tagged = library_with([](pack::Pack& pack) {
    for (pack::Part& part : pack.parts) part.contacts.push_back(pack::Contact::sprung);
  });
  const job::Library none;
  for (const Work* work : {&open_job(), &whole_job()}) {
    for (const job::Library* library : {&renamed, &reworded, &tagged, &none}) {
      same_state(*work, *library);
    }
  }
  // 33 records, 3 parts off, 9 joints loose became 0 and 1 by one renamed joint: it is told now.
  const job::State open = replayed(open_job(), renamed);
  CHECK(open.as_left == open_job().state.as_left);
  CHECK(open.as_left.loose.count("fuse-leads") == 1);
  CHECK(open.strange == std::vector<std::string>{"fuse-leads"});
  CHECK(replayed(open_job(), none).model == -1);
}

TEST_CASE("today: a stricter policy changes neither the state nor the record") {
  job::Settings strict;
  strict.safety.proof_seconds = 60;
  strict.safety.nil_volts = 0.5;
  strict.safety.pause_seconds = 10;
  const job::Library& library = test::shipped_library();
  const job::State state = replayed(whole_job(), library);
  CHECK(printed(record(state, library, strict), true) ==
        printed(record(whole_job().state, library), true));
}

TEST_CASE("today: the record prints every fact, whatever pack is at hand") {
  const job::Library& shipped = test::shipped_library();
  const job::Library renamed = library_with([](pack::Pack& pack) {
    pack.joints[to_size(pack.joint("fuse-leads"))].id = "fuse-tabs";
    pack.parts[to_size(pack.part("thermal-fuse"))].id = "fuse";
    pack.prove_tests[to_size(pack.prove_test("earth"))].id = "earth-path";
  });
  const job::Library reworded = library_with([](pack::Pack& pack) {
    for (pack::Part& part : pack.parts) part.name = cat("The ", part.name);
    for (pack::Joint& joint : pack.joints) joint.name = cat("The ", joint.name);
    for (pack::ProveTest& test : pack.prove_tests) test.title = cat("The ", test.title);
    pack.about.title = "Another title";
    pack.about.maker = "Another maker";
  });
  const job::Library none;
  for (const Work* work : {&open_job(), &whole_job()}) {
    const bill::ServiceRecord then = record(work->state, shipped);
    CHECK(then.handled.size() >= 5);
    for (const job::Library* library : {&renamed, &reworded, &none}) {
      const bill::ServiceRecord now = record(replayed(*work, *library), *library);
      CHECK(printed(now, false) == printed(then, false));
    }
    // What the pack does not know is said by its id.
    const std::string unknown = printed(record(replayed(*work, renamed), renamed), true);
    CHECK(unknown.find("fuse-leads | ") != std::string::npos);
    CHECK(unknown.find("thermal-fuse | ") != std::string::npos);
    const std::string bare = printed(record(replayed(*work, none), none), true);
    CHECK(bare.find("fuse-leads | ") != std::string::npos);
    // Part, machine and maker by the words that were recorded.
    CHECK(bare.find(cat(work->model().pack.about.maker, " ", work->model().pack.about.title)) != std::string::npos);
  }
}

}  // namespace
}  // namespace kp
