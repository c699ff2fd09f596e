#include <doctest/doctest.h>

#include <limits>

#include "job/codec.hpp"
#include "job/state_text.hpp"
#include "job/stored_entry.hpp"
#include "job/unit_found.hpp"
#include "job/work.hpp"
#include "support/random.hpp"

// The law of the journal: what was applied live equals the fold of what was written, after every
// record. Intents are made by chance, sound ones and nonsense, on the machine that ships.

namespace kp {
namespace {

using job::Body;
using job::Deed;
using job::Stage;
using test::Random;
using test::Work;

template <class T>
const T& any_of(Random& random, const std::vector<T>& all) {
  return all[to_size(random.between(0, to_int(all.size()) - 1))];
}

/// Somebody who mostly does what is asked for and sometimes anything at all.
class Hand {
 public:
  Hand(Work& work, Random& random) : w_(work), r_(random) {}

  Body next() {
    if (r_.chance(0.6)) {
      const std::vector<Body> sound = sensible();
      if (!sound.empty()) {
        return sound.front();
      }
    }
    return anything();
  }

  void let_time_pass() {
    w_.pass(r_.between(0, 40) * test::kSecondMs);
    if (r_.chance(0.03)) {
      w_.wall.utc_ms += r_.between(-2, 30) * test::kMinuteMs;  // asleep, or the clock was set
    }
    if (r_.chance(0.02)) {
      w_.life = w_.life == "00000000000000a1" ? "00000000000000a2" : "00000000000000a3";
      w_.mono_ms = r_.between(0, 5'000);
      w_.wall.utc_ms += r_.between(0, 60) * test::kMinuteMs;
      w_.wall.offset_min = r_.chance(0.5) ? -300 : -240;
      (void)w_.tell(job::Resumed{r_.between(0, 3'600) * test::kSecondMs});
    }
  }

 private:
  /// What the tool would ask for next, or nothing.
  std::vector<Body> sensible() {
    const job::State& s = w_.state;
    const pack::Pack& pack = w_.pack();
    if (s.last_n == 0) {
      return {job::JobOpened{2, "j", job::Mode::field, "shop"}};
    }
    if (s.outcome != job::Outcome::none) {
      return {after_the_end()};
    }
    if (s.unit_unseen) {
      return {job::as_it_was_left(s)};
    }
    switch (s.stage) {
      case Stage::arrive:
        if (s.model < 0) return {job::MachineIdentified{"pump-module", "1", "QN 415"}};
        if (s.complaint.symptom.empty()) return {job::ComplaintNoted{any_of(r_, pack.symptoms).id, ""}};
        return {job::StageEntered{Stage::make_safe}};
      case Stage::make_safe:
        return gate(job::hands_demand(), job::StageEntered{Stage::find});
      case Stage::find:
        return gate(job::hands_demand(), job::TargetsChosen{{removable()}, "worn"});
      case Stage::open:
      case Stage::close: {
        const auto step = w_.next_step(s.stage == Stage::close);
        if (step.empty()) return {};
        const int subject = job::subject_index(pack, s.unit, step[0].deed, step[0].what);
        return gate(job::demand_of(w_.model(), s, step[0].deed, subject), step[0]);
      }
      case Stage::swap:
        for (const int target : s.targets) {
          const std::string& id = pack.parts[to_size(target)].id;
          if (r_.chance(0.7)) return {job::PartSwapped{id, "QP", 100, "", {}}};
        }
        return {job::StageEntered{Stage::close}};
      case Stage::prove: {
        const pack::ProveTest& test = any_of(r_, pack.prove_tests);
        if (test.when == pack::ProveWhen::before_power) {
          if (!test.leave_out.empty() && r_.chance(0.5)) return {left_out(test)};
          return gate(job::demand_of(w_.model(), s, test), test::good_result(test));
        }
        safety::Demand demand;
        demand.act = safety::Act::power_on;
        const auto todos = safety::put_back(s.safety, true, true,
                                            job::ask_of(w_.model(), s, demand, w_.by), w_.clock(),
                                            w_.law(), job::supply_place(w_.model(), s));
        if (!todos.empty()) return {w_.answer(todos.front())};
        if (r_.chance(0.2)) return {job::JobEnded{job::Outcome::repaired, ""}};
        return {test::good_result(test)};
      }
      case Stage::bill:
        break;
    }
    return {};
  }

  static job::ProveRecorded left_out(const pack::ProveTest& test) {
    job::ProveRecorded out;
    out.test = test.id;
    out.left_out = pack::leave_out_words()[to_size(static_cast<int>(test.leave_out.front()))];
    return out;
  }

  /// What the gate wants first; a step of the machine on the way to it where it wants one.
  std::vector<Body> gate(const safety::Demand& demand, Body then) {
    const job::State& s = w_.state;
    const auto todos = safety::make_safe(s.safety, job::ask_of(w_.model(), s, demand, w_.by),
                                         w_.clock(), w_.law(), job::supply_place(w_.model(), s));
    if (todos.empty()) {
      return {std::move(then)};
    }
    if (todos.front().kind == safety::TodoKind::watch) {
      w_.pass(2 * test::kMinuteMs);
    }
    for (const auto& [kind, targets] :
         {std::pair{safety::TodoKind::open_way, job::proof_targets(w_.model())},
          std::pair{safety::TodoKind::relieve, job::relieve_targets(w_.model())}}) {
      const auto step = todos.front().kind == kind ? w_.step_to(targets)
                                                   : std::vector<job::StepDone>{};
      if (!step.empty()) {
        return {step.front()};
      }
    }
    return {w_.answer(todos.front())};
  }

  Body after_the_end() {
    switch (r_.between(0, 3)) {
      case 0:
        return job::Signed{"N", {0.1, 0.2, 0.3, 0.4}};
      case 1:
        return test::issued(cat("20261-", w_.state.visit), 100);
      case 2:
        return job::HandedOver{"invoice.pdf", "00"};
      default:
        return job::VisitBegun{};
    }
  }

  std::string removable() {
    const pack::Part& part = any_of(r_, w_.pack().parts);
    return part.removable ? part.id : std::string("thermal-fuse");
  }

  Body any_fact() {
    const std::string word = r_.chance(0.5) ? "L2" : "";
    switch (r_.between(0, 11)) {
      case 0: return w_.prepared();
      case 1: return safety::Stopped{r_.chance(0.5)};
      case 2: return safety::Isolated{static_cast<safety::Means>(r_.between(0, safety::kMeans - 1))};
      case 3:
        return safety::HeldFast{static_cast<safety::Control>(r_.between(0, safety::kControls - 1)),
                                word, word, word};
      case 4:
        return safety::ControlsTried{
            static_cast<safety::Answer>(r_.between(0, safety::kAnswers - 1))};
      case 5: {
        safety::ReadingTaken body;
        body.place = r_.chance(0.8) ? std::string(safety::kSupply) : "behind:access-panel";
        body.role = static_cast<safety::Role>(r_.between(0, safety::kRoles - 1));
        body.a = r_.chance(0.5) ? "L" : "N";
        body.b = r_.chance(0.5) ? "E" : "N";
        body.shown.volts = r_.between(-5, 130);
        body.shown.none_lit = r_.chance(0.3);
        body.tester = r_.chance(0.8) ? "M1" : "";
        body.band_low = 104;
        body.band_high = 127;
        return body;
      }
      case 6: return safety::Doubted{static_cast<safety::Doubt>(r_.between(0, safety::kDoubts - 1))};
      case 7:
        return safety::GapAnswered{static_cast<safety::Stayed>(r_.between(0, safety::kStayed - 1))};
      case 8: return safety::LockOff{word};
      case 9: return safety::HelperHere{r_.between(0, 3), word};
      case 10: return safety::ForeignLock{"L9", "Eve"};
      default: return r_.chance(0.5) ? Body(safety::PowerOn{}) : Body(safety::WaterOn{r_.chance(0.5)});
    }
  }

  Body anything() {
    const pack::Pack& pack = w_.pack();
    switch (r_.between(0, 20)) {
      case 20:
        return job::TestImpossible{any_of(r_, pack.tests).id, r_.chance(0.8) ? "no room" : ""};
      case 0:
        return any_fact();
      case 1: {
        const pack::Test& test = any_of(r_, pack.tests);
        job::TestRecorded body;
        body.test = test.id;
        body.looked = test.probe == pack::Probe::look;
        body.open_loop = r_.chance(0.2);
        body.value = test.field_low + (test.field_high - test.field_low) * (r_.unit() * 1.2 - 0.1);
        return body;
      }
      case 2:
        return job::TestTakenBack{static_cast<std::uint32_t>(r_.between(0, 60))};
      case 3:
        return job::TargetsChosen{{removable()}, "guess"};
      case 4:
        return job::StepDone{static_cast<Deed>(r_.between(0, 5)), any_of(r_, pack.joints).id, {}, {}};
      case 5:
        return job::StepDone{static_cast<Deed>(r_.between(0, 5)), any_of(r_, pack.parts).id, {}, {}};
      case 6:
        return job::StepDone{Deed::turn, any_of(r_, pack.positions).id, {}, {}};
      case 7:
        return job::StepBlocked{Deed::release, any_of(r_, pack.joints).id, "seized"};
      case 8:
        return job::PartSwapped{any_of(r_, pack.parts).id, "X", r_.between(-1, 9), "", {}};
      case 9:
        return test::good_result(any_of(r_, pack.prove_tests));
      case 10:
        return job::PhaseStarted{static_cast<job::Phase>(r_.between(0, job::kPhases - 1)), "so"};
      case 11:
        return job::TimeCorrected{job::Phase::labour, r_.between(-9, 9) * test::kMinuteMs, "slip"};
      case 12:
        return job::GapSettled{static_cast<std::uint32_t>(r_.between(1, 60)), 60'000, "asked"};
      case 13:
        return job::NoteAdded{"n\xC3\xB6te \"\\ \n"};
      case 14:
        return job::StageEntered{static_cast<Stage>(r_.between(0, job::kStages - 1))};
      case 15:
        return job::JobEnded{static_cast<job::Outcome>(r_.between(0, 4)), "reason"};
      case 16:
        return job::ScreenChanged{r_.chance(0.5)};
      case 17:
        return safety::HandedOn{r_.chance(0.5) ? "Ada" : "Ben", r_.chance(0.5) ? "L2" : ""};
      case 18:
        return test::quoted(r_.between(-1, 9), r_.between(0, 9), r_.chance(0.5));
      default:
        return job::VisitBegun{};
    }
  }

  Work& w_;
  Random& r_;
};

/// Applies to `state` what the lines from `from` on say. The frames are read again by the reader
/// once a job is whole; here the stamps are the ones that were written.
void fold(job::State& state, job::RecordReader& reader, const Work& work, std::size_t from) {
  for (std::size_t i = from; i < work.lines.size(); ++i) {
    Findings notes;
    const auto record = reader.read(test::entry_of(work.lines[i]), notes);
    REQUIRE(record.has_value());
    CHECK(record.value().stamp.by == work.stamps[i].by);
    job::apply(state, work.stamps[i], record.value().body, work.context());
  }
}

TEST_CASE("replay: the state live equals the fold of the journal, after every record") {
  int accepted = 0;
  int refused = 0;
  for (std::uint64_t seed = 1; seed <= 14; ++seed) {
    Random random(seed);
    CAPTURE(seed);
    Work work;
    Hand hand(work, random);
    job::State folded;
    job::RecordReader reader;
    for (int i = 0; i < 100; ++i) {
      hand.let_time_pass();
      const std::size_t before = work.lines.size();
      const Body intent = hand.next();
      // The name on the record is the one of the person who works now.
      work.by = work.state.person.empty() ? "Ada" : work.state.person;
      const job::Decision decision = work.tell(intent);
      (decision.accepted() ? accepted : refused) += 1;
      CHECK(decision.accepted() == !decision.events.empty());
      fold(folded, reader, work, folded.last_n);
      CAPTURE(std::string(job::kind_of(intent)));
      REQUIRE(test::same(work.state, folded));
      CHECK(work.lines.size() - before == decision.events.size());
    }
    const job::Replayed whole = job::replay(journal::read_lines(work.lines), test::shipped_library());
    CHECK_FALSE(whole.damage.has_value());
    CHECK(whole.notes.all().empty());
    CHECK(test::same(work.state, whole.state));
  }
  CHECK(accepted > 500);
  CHECK(refused > 150);
}

TEST_CASE("replay: a journal cut at any byte loads to the state of the records before the cut") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.tell(job::NoteAdded{"gr\xC3\xBC\xC3\x9F Gott"}).accepted());
  // The parts beside the chain stand behind all lines of a file: tests/journal cuts those.
  std::vector<std::string> bare;
  std::vector<std::string> expected = {test::text_of(job::State{})};
  std::vector<std::size_t> ends = {0};
  std::string file;
  for (const std::string& entry : work.lines) {
    bare.push_back(journal::without_parts(entry, {}));
    expected.push_back(
        test::text_of(job::replay(journal::read_lines(bare), test::shipped_library()).state));
    file += bare.back() + "\n";
    ends.push_back(file.size());
  }
  const std::string all = journal::to_file(work.lines);
  CHECK(all.substr(0, file.size()) == file);
  CHECK(test::same(job::replay(journal::read(all), test::shipped_library()).state, work.state));
  std::size_t whole = 0;
  std::size_t checked = 0;
  for (std::size_t cut = 0; cut <= file.size(); ++cut) {
    whole += whole + 1 < ends.size() && ends[whole + 1] <= cut ? 1U : 0U;
    const journal::Loaded loaded = journal::read(std::string_view(file).substr(0, cut));
    const std::size_t kept = loaded.entries.size();
    CAPTURE(cut);
    REQUIRE(kept == whole);
    CHECK_FALSE(loaded.damage.has_value());
    CHECK(loaded.torn_tail == (cut > ends[whole]));
    if (cut == ends[whole] || cut == ends[whole] + 1 || cut % 97 == 0) {
      ++checked;
      CHECK(test::text_of(job::replay(loaded, test::shipped_library()).state) == expected[whole]);
    }
  }
  CHECK(checked > 2 * work.lines.size());
}

TEST_CASE("apply: records that no decision made crash nothing, in any order") {
  int understood = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    Random random(seed);
    CAPTURE(seed);
    Work work;
    Hand hand(work, random);
    work.write(job::JobOpened{2, "j", job::Mode::field, ""});
    work.write(job::MachineIdentified{random.chance(0.8) ? "pump-module" : "no-such-pack", "", ""});
    const bool far = random.chance(0.3);
    for (int i = 0; i < 80; ++i) {
      work.wall.utc_ms += random.between(-100'000, 100'000);
      work.mono_ms = far && random.chance(0.05) ? std::numeric_limits<std::int64_t>::max() - 10'000'000
                                         : random.between(-1'000, 1'000);
      work.write(hand.next());
      const auto gate = safety::permit(work.state.safety, {}, work.clock(), work.law());
      CHECK((gate.allowed ? gate.stands_on.size() >= 4 : gate.stands_on.empty()));
    }
    const job::Replayed whole = job::replay(journal::read_lines(work.lines), test::shipped_library());
    if (!whole.damage.has_value()) {
      CAPTURE(test::text_of(work.state));
      CAPTURE(test::text_of(whole.state));
      CHECK(work.state.safety == whole.state.safety);
      CHECK(test::text_of(work.state) == test::text_of(whole.state));
      ++understood;
    }
  }
  CHECK(understood > 30);
}

TEST_CASE("apply: numbers at the ends of their range overflow nothing") {
  Work work;
  work.arrive();
  constexpr std::int64_t kMost = std::numeric_limits<std::int64_t>::max();
  constexpr std::int64_t kLeast = std::numeric_limits<std::int64_t>::min();
  for (const std::int64_t value : {kMost, kLeast}) {
    work.write(job::Resumed{value});
    work.write(job::TimeCorrected{job::Phase::labour, value, "doctored"});
    work.write(job::GapSettled{1, value, "doctored"});
    work.write(job::VisitBegun{std::numeric_limits<int>::max()});
    work.mono_ms = value;
    work.write(job::NoteAdded{"far"});
    work.mono_ms = 0;
  }
  CHECK(job::total_ms(work.state.clock) >= 0);
  CHECK(work.state.visit == 3);
}

}  // namespace
}  // namespace kp
