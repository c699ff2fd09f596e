#include <doctest/doctest.h>

#include <algorithm>

#include "job/codec.hpp"
#include "job/decide.hpp"
#include "job/format1_journal.hpp"
#include "job/salt.hpp"
#include "job/unit_found.hpp"

// Going on with an older job, and the question at the start of a visit. The order is that of the
// project's order of making safe, second visit: it starts live, asks "is it as you left it?" with
// the open joints listed, and differences are recorded before covers come off.

namespace kp::test {
namespace {

using job::Body;
using job::Deed;
using job::Differs;
using job::State;

/// A job of today with the golden journals' pack.
class Job {
 public:
  State state;

  job::Decision ask(const Body& intent) const {
    return job::decide(state, intent, now(), {&format1::golden_library(), &settings_});
  }
  /// Decides, and writes what is accepted. True where it is.
  bool tell(const Body& intent) {
    const job::Decision decision = ask(intent);
    for (const Body& event : decision.events) {
      write(event);
    }
    return decision.accepted();
  }
  /// Writes a record whatever decide() thinks of it.
  void write(const Body& event) {
    lines_.push_back(journal::write_entry(
        job::entry_of(now(), event, tip_, people_, test::counted_salt(salts_))));
    tip_ = journal::line_hash(lines_.back());
    job::apply(state, now(), event, {&format1::golden_library(), &settings_});
  }
  [[nodiscard]] std::string refused(const Body& intent) const {
    std::string out;
    for (const safety::Reason& one : ask(intent).reasons) {
      out += cat(out.empty() ? "" : " ", one.code);
    }
    return out;
  }
  [[nodiscard]] job::Replayed replayed() const {
    return job::replay(journal::read(journal::to_file(lines_)), format1::golden_library());
  }

 private:
  [[nodiscard]] job::Stamp now() const {
    const std::int64_t ms = 5'000 * std::int64_t{state.last_n};
    return {state.last_n + 1, Moment{1'793'900'000'000 + ms, -300}, 1'000 + ms,
            "00000000000000a1", "Ada"};
  }
  job::Settings settings_;
  job::People people_;
  int salts_ = 0;
  std::vector<std::string> lines_;
  std::string tip_{journal::kNoPrev};
};

struct Old {
  State state;
  std::string tip;
};
Old old_job(const char* name) {
  const journal::Loaded loaded = journal::read(format1::golden(cat(name, ".jsonl")));
  return {job::replay(loaded, format1::golden_library()).state, loaded.tip_hash};
}

/// A new job that goes on with the open golden journal.
Job gone_on() {
  Job out;
  const Old old = old_job("open");
  const auto intents = job::going_on(old.state, old.tip, "20270101-0001");
  for (const Body& intent : intents.has_value() ? intents.value() : std::vector<Body>{}) {
    CHECK(out.tell(intent));
  }
  return out;
}

job::UnitAsFound found(std::vector<std::string> loose, std::vector<std::string> away,
                       std::string position = {}) {
  job::UnitAsFound out;
  out.position = std::move(position);
  out.loose = std::move(loose);
  out.away = std::move(away);
  return out;
}

Job fresh() {
  Job out;
  job::JobOpened opened;
  opened.job = "20270101-0002";
  CHECK(out.tell(opened));
  job::MachineIdentified machine;
  machine.pack = "pump-module";
  CHECK(out.tell(machine));
  return out;
}

job::StepDone step(Deed deed, const char* what) {
  job::StepDone out;
  out.deed = deed;
  out.what = what;
  return out;
}

}  // namespace

TEST_CASE("a new job names the old one and its last line, and carries over who and what") {
  const Job job = gone_on();
  const Old old = old_job("open");
  CHECK(job.state.opened.format == journal::kFormat);
  CHECK(job.state.opened.after_job == old.state.job);
  CHECK(job.state.opened.after_tip == old.tip);
  CHECK(old.tip == journal::line_hash([] {
          const std::string text = format1::golden("open.jsonl");
          const std::size_t from = text.rfind('\n', text.size() - 2) + 1;
          return text.substr(from, text.size() - from - 1);
        }()));
  CHECK(job.state.job == "20270101-0001");
  CHECK(job.state.shop == old.state.shop);
  CHECK(job.state.machine.pack == "pump-module");
  CHECK(job.state.machine.plate == old.state.machine.plate);
  CHECK(job.state.customer.name == old.state.customer.name);
  CHECK(job.state.complaint.symptom == old.state.complaint.symptom);
  CHECK(old.state.quoted);
  CHECK_FALSE(job.state.quoted);   // format 1 kept no paper of it: it is given anew
  // Nothing that was done or proved there is carried over.
  CHECK(job.state.safety.power == safety::Power::live);
  CHECK(job.state.safety.water == safety::Water::open);
  CHECK(job.state.steps.empty());
  CHECK(job.state.swapped.empty());
  CHECK(job.state.target_ids.empty());
  CHECK(job.replayed().continues());
}

TEST_CASE("a practice job goes on as one, and one without a machine with what it has") {
  const Old practice = old_job("practice");
  const auto intents = job::going_on(practice.state, practice.tip, "20270101-0003");
  CHECK(intents.has_value());
  CHECK(std::get<job::JobOpened>(intents.value().front()).mode == job::Mode::practice);
  State bare;
  bare.job = "x";
  bare.last_n = 1;
  CHECK(job::going_on(bare, practice.tip, "y").value().size() == 1);
  CHECK(job::going_on(State{}, practice.tip, "y").error().code == "damaged");
  CHECK(job::going_on(practice.state, "", "y").error().code == "damaged");
}

TEST_CASE("nobody works on a unit that is known from an earlier job before it was seen") {
  Job job = gone_on();
  const Old old = old_job("open");
  CHECK(job.state.unit_unseen);
  CHECK(job.state.as_left.loose == old.state.as_left.loose);
  CHECK(job.state.as_left.away == old.state.as_left.away);
  CHECK_FALSE(old.state.as_left.loose.empty());
  job::JobEnded repaired;
  job::JobEnded waiting;
  waiting.outcome = job::Outcome::waiting_for_parts;
  waiting.note = "A heater.";
  safety::ReadingTaken reading;
  reading.place = safety::kSupply;
  const Body unseen[] = {step(Deed::release, "toe-screws"),
                         job::PartSwapped{},
                         job::TestRecorded{},
                         job::ProveRecorded{},
                         reading,
                         safety::Discharged{},
                         safety::Relieved{},
                         safety::PowerOn{},
                         safety::WaterOn{},
                         repaired};
  for (const Body& one : unseen) {
    CAPTURE(std::string(job::kind_of(one)));
    CHECK(job.refused(one) == "unit-unseen");
  }
  CHECK(job.refused(waiting).find("unit-unseen") == std::string::npos);
  CHECK(job.refused(job::StageEntered{job::Stage::make_safe}).empty());
  CHECK(job.refused(safety::Doubted{safety::Doubt::power_found_on}).empty());

  CHECK(job.tell(job::as_it_was_left(job.state)));
  CHECK_FALSE(job.state.unit_unseen);
  CHECK(job.state.as_left == old.state.as_left);
  CHECK(job::differences(job.state.left, job.state.as_left).empty());
  for (const Body& one : unseen) {
    CAPTURE(std::string(job::kind_of(one)));
    CHECK(job.refused(one).find("unit-unseen") == std::string::npos);
    CHECK_FALSE(job.refused(one).empty());   // and live it is all the same
  }
}

TEST_CASE("what differs from how it was left is recorded, named, and true from then on") {
  Job job = gone_on();
  const job::Unit left = job.state.as_left;
  // Somebody put everything back.
  CHECK(job.tell(found({}, {}, "in-place")));
  CHECK(job.state.as_left.loose.empty());
  CHECK(job.state.as_left.position == "in-place");
  CHECK(job.state.unit.released.none());
  const auto changed = job::differences(job.state.left, job.state.as_left);
  const auto count = [&](Differs how) {
    return std::count_if(changed.begin(), changed.end(),
                         [&](const job::Difference& one) { return one.how == how; });
  };
  CHECK(count(Differs::made_fast) == static_cast<std::ptrdiff_t>(left.loose.size()));
  CHECK(count(Differs::put_in) == static_cast<std::ptrdiff_t>(left.away.size()));
  CHECK(count(Differs::came_loose) + count(Differs::taken_away) == 0);
  // Said again before work begins, the later word counts.
  CHECK(job.tell(found({"toe-screws"}, {"toe-panel"})));
  CHECK(job.state.as_left.away == std::set<std::string>{"toe-panel"});
  CHECK(job.state.as_left.position == "in-place");
  // It is the same after a restart.
  const job::Replayed again = job.replayed();
  CHECK(again.continues());
  CHECK(again.state.as_left == job.state.as_left);
  CHECK(again.state.left == job.state.left);
  CHECK(again.state.as_found.stamp.n == job.state.as_found.stamp.n);
  CHECK_FALSE(again.state.unit_unseen);
}

TEST_CASE("differences are listed in one order, each once") {
  const job::Unit left{"in-place", {}, {"a", "b"}, {"p"}};
  const job::Unit seen{"on-back", "bit", {"b", "c"}, {"q"}};
  const std::vector<job::Difference> wanted = {{Differs::position, "on-back"},
                                               {Differs::came_loose, "c"},
                                               {Differs::made_fast, "a"},
                                               {Differs::taken_away, "q"},
                                               {Differs::put_in, "p"}};
  CHECK(job::differences(left, seen) == wanted);
  CHECK(job::differences(left, left).empty());
  CHECK(job::differences(job::Unit{}, seen).size() == 3);   // no position was recorded there
}

TEST_CASE("how it was found is said of this machine, before work, and as it can be") {
  Job job = fresh();
  CHECK_FALSE(job.state.unit_unseen);   // a first visit finds it whole unless somebody says otherwise
  CHECK(job.refused(found({"no-such-joint"}, {})) == "other-pack");
  CHECK(job.refused(found({}, {"no-such-part"})) == "other-pack");
  CHECK(job.refused(found({}, {}, "on-the-roof")) == "other-pack");
  CHECK(job.refused(found({}, {"toe-panel"})) == "still-held");
  CHECK(job.refused(found({"toe-screws"}, {"toe-panel"})).empty());
  CHECK(job.tell(found({"toe-screws", "toe-screws"}, {})));
  CHECK(job.state.as_found.body.loose == std::vector<std::string>{"toe-screws"});
  CHECK(job.state.unit.released.test(
      format1::golden_library().models.front().pack.joint("toe-screws")));
  job.write(step(Deed::remove, "toe-panel"));
  CHECK(job.refused(found({}, {})) == "work-begun");
  Job none;
  CHECK(none.tell(job::JobOpened{}));
  CHECK(none.refused(found({}, {})) == "no-machine");
}

TEST_CASE("a second visit asks how the unit was found, and takes the word until work begins") {
  Job job = fresh();
  job.write(step(Deed::release, "toe-screws"));
  job.write(job::JobEnded{job::Outcome::waiting_for_parts, "A heater."});
  CHECK(job.tell(job::VisitBegun{}));
  CHECK(job.state.unit_unseen);
  CHECK(job.state.left.loose == std::set<std::string>{"toe-screws"});
  CHECK(job.refused(step(Deed::remove, "toe-panel")) == "unit-unseen");
  CHECK(job.refused(found({"toe-screws"}, {})).empty());   // the steps of the first visit do not count
  CHECK(job.tell(job::as_it_was_left(job.state)));
  CHECK_FALSE(job.state.unit_unseen);
  job.write(safety::Relieved{});
  CHECK(job.refused(found({}, {})) == "work-begun");
  // A further visit asks anew.
  job.write(job::JobEnded{job::Outcome::waiting_for_parts, "A heater."});
  CHECK(job.tell(job::VisitBegun{}));
  CHECK(job.state.unit_unseen);
  CHECK(job.state.as_found.stamp.n == 0);
}

TEST_CASE("how an earlier job left it is carried over into a job that names it, and before it was seen") {
  job::UnitAsLeft left;
  left.loose = {"toe-screws"};
  CHECK(fresh().refused(left) == "no-job-before");
  Job job = gone_on();
  CHECK(job.refused(left).empty());
  left.loose = {"no-such-joint"};
  CHECK(job.refused(left) == "other-pack");
  CHECK(job.tell(job::as_it_was_left(job.state)));
  left.loose = {"toe-screws"};
  CHECK(job.refused(left) == "seen");
}

TEST_CASE("a job that goes on names both the old job and its mark, or neither") {
  Job job;
  job::JobOpened opened;
  opened.after_job = "20261031-96c6";
  CHECK(job.refused(opened) == "no-tip");
  opened.after_job.clear();
  opened.after_tip = std::string(64, 'a');
  CHECK(job.refused(opened) == "no-tip");
  opened.after_job = "20261031-96c6";
  CHECK(job.refused(opened).empty());
  opened.format = 1;
  CHECK(std::get<job::JobOpened>(job.ask(opened).events.front()).format == journal::kFormat);
}

TEST_CASE("both kinds are written and read back as they are") {
  job::UnitAsLeft left;
  left.position = "on-back";
  left.loose = {"a", "b"};
  left.away = {"c"};
  const std::string text = data::print(job::encode(left));
  CHECK(text == R"({"position":"on-back","loose":["a","b"],"away":["c"]})");
  for (const char* kind : {"unit-as-left", "unit-as-found"}) {
    CAPTURE(kind);
    const auto back = job::decode(kind, data::parse(text).value());
    CHECK(back.has_value());
    CHECK(job::kind_of(back.value()) == kind);
    CHECK(data::print(job::encode(back.value())) == text);
    CHECK(job::decode(kind, data::parse(R"({"loose":"a"})").value()).error().where == "/loose");
  }
}

}  // namespace kp::test
