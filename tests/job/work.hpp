#pragma once
// A technician for tests of the job: tells it what happened, and writes what it accepts, as the
// session does. It works on the machine that ships, unless another library is given.

#include <limits>
#include <string>
#include <algorithm>
#include <utility>
#include <vector>

#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_prove.hpp"
#include "job/bind_safety.hpp"
#include "job/decide.hpp"
#include "job/owed_tests.hpp"
#include "job/papers.hpp"
#include "job/salt.hpp"
#include "job/replay.hpp"
#include "journal/reader.hpp"
#include "journal/writer.hpp"
#include "job/good_answers.hpp"
#include "pack/load.hpp"
#include "safety/guide.hpp"
#include "support/files.hpp"

namespace kp::test {

inline constexpr std::int64_t kSecondMs = 1'000;
inline constexpr std::int64_t kMinuteMs = 60 * kSecondMs;
inline constexpr std::int64_t kHourMs = 60 * kMinuteMs;

/// The pack that ships, ready for use.
inline const job::Library& shipped_library() {
  static const job::Library library = [] {
    job::Library out;
    const pack::Loaded loaded =
        pack::load(file_bytes(std::string(KP_SOURCE_DIR) + "/assets/packs/pump-module/pack.json"));
    if (loaded.pack.has_value()) {
      auto model = job::make_model(loaded.pack.value());
      if (model.has_value()) {
        out.models.push_back(std::move(model.value()));
      }
    }
    return out;
  }();
  return library;
}

class Work {
 public:
  job::Settings settings;
  job::State state;
  std::vector<std::string> lines;
  std::vector<job::Stamp> stamps;  ///< of the lines
  std::string tip{journal::kNoPrev};
  Moment wall{1'793'500'000'000, -300};
  std::int64_t mono_ms = 1'000;
  std::string life = "00000000000000a1";
  std::string by = "Ada";
  const job::Library* library = &shipped_library();
  job::People people;
  int salts = 0;                   ///< given so far

  [[nodiscard]] job::Context context() const { return {library, &settings}; }
  [[nodiscard]] const job::Model& model() const { return library->models[to_size(std::max(0, state.model))]; }
  [[nodiscard]] const pack::Pack& pack() const { return model().pack; }
  [[nodiscard]] job::Stamp now() const { return {state.last_n + 1, wall, mono_ms, life, by}; }

  /// Clocks that stand at their end stay there.
  void pass(std::int64_t ms) {
    constexpr std::int64_t kEnd = std::numeric_limits<std::int64_t>::max();
    for (std::int64_t* clock : {&wall.utc_ms, &mono_ms}) {
      *clock = ms > 0 && *clock > kEnd - ms ? kEnd : *clock + ms;
    }
  }

  [[nodiscard]] job::Decision ask(const job::Body& intent) const {
    return job::decide(state, intent, now(), context());
  }

  /// Decides, and where it is accepted writes and applies.
  job::Decision tell(const job::Body& intent) {
    job::Decision decision = ask(intent);
    for (const job::Body& event : decision.events) {
      write(event);
    }
    return decision;
  }

  journal::Entry entry(const job::Body& event) {
    return job::entry_of(now(), event, tip, people, counted_salt(salts));
  }
  /// Writes a record whatever decide() thinks of it.
  void write(const job::Body& event) {
    const job::Stamp stamp = now();
    lines.push_back(journal::write_entry(entry(event)));
    stamps.push_back(stamp);
    tip = journal::line_hash(lines.back());
    job::apply(state, stamp, event, context());
    pass(5 * kSecondMs);
  }

  /// A job with a machine, a complaint and an accepted quote, at the door of Make safe.
  void arrive() {
    job::JobOpened opened;
    opened.job = "20261025-0001";
    opened.shop = "Harbour Street Repairs";
    (void)tell(opened);
    (void)tell(job::MachineIdentified{"pump-module", pack().about.version, "QN 415", {}, {}, {}, {}});
    (void)tell(job::CustomerNoted{"N. Osei", "4 Quay Lane", "555 0100"});
    (void)tell(job::ComplaintNoted{"wet-and-cold", "Plates stay cold."});
    (void)tell(quoted(9'000, 14'000));
    (void)tell(job::StageEntered{job::Stage::make_safe});
  }

  [[nodiscard]] safety::Law law() const { return {settings.safety, settings.rows}; }
  [[nodiscard]] safety::Now clock() const { return {wall.utc_ms, mono_ms}; }

  /// The record that answers one thing of safety's lists as it should be.
  [[nodiscard]] job::Body answer(const safety::Todo& todo) const {
    using safety::TodoKind;
    switch (todo.kind) {
      case TodoKind::answer_gap: return safety::GapAnswered{safety::Stayed::here};
      case TodoKind::doubt_clock: return safety::Doubted{safety::Doubt::clock_doubted};
      case TodoKind::reopen: return job::VisitBegun{};
      case TodoKind::prepare: return prepared();
      case TodoKind::read_frame: return safety::FrameRead{{true, 0}, safety::MeterFunction::two_pole_detector, "M1", safety::Found::nil};
      case TodoKind::stop:
      case TodoKind::put_away: return safety::Stopped{true};
      case TodoKind::isolate:
        return safety::Isolated{state.safety.connection == safety::Connection::cord && !state.safety.frame_live
                                    ? safety::Means::plug_out
                                    : safety::Means::breaker_off};
      case TodoKind::shut_water: return safety::WaterShut{"stop valve"};
      case TodoKind::hold: return safety::HeldFast{safety::Control::locked, cat("L-", by), "T1", {}};
      case TodoKind::try_controls: return safety::ControlsTried{safety::Answer::nothing};
      case TodoKind::take_reading: return good_reading(todo);
      case TodoKind::restart_series: return safety::SeriesRestarted{};
      case TodoKind::discharge: return safety::Discharged{todo.place.id, 20'000, 10, 0.4, "M1"};
      case TodoKind::read_neutral: return safety::NeutralRead{0, safety::MeterFunction::amperes, "C1", false};
      case TodoKind::relieve: return safety::Relieved{};
      case TodoKind::watch: return safety::Watched{true};
      case TodoKind::cool: return safety::Cooled{todo.place.id, 25};
      case TodoKind::secure: return safety::Secured{todo.place.id, safety::Support::block};
      case TodoKind::prop: return safety::Propped{safety::Support::block, {}};
      case TodoKind::helper: return safety::HelperHere{2, "Bo"};
      case TodoKind::inspect: return safety::Inspected{};
      case TodoKind::warn: return safety::Warned{};
      case TodoKind::water_on: return safety::WaterOn{false};
      case TodoKind::water_static: return safety::WaterOn{true};
      case TodoKind::lock_off: return safety::LockOff{todo.lock};
      case TodoKind::look_clear: return safety::LookedClear{};
      case TodoKind::power_on: return safety::PowerOn{};
      case TodoKind::tag: return safety::TagHung{"T1"};
      case TodoKind::bar_openings: return safety::OpeningsBarred{};
      case TodoKind::open_way:
      case TodoKind::end: return job::NoteAdded{};   // no record of its own
    }
    return job::NoteAdded{};
  }

  [[nodiscard]] safety::Prepared prepared() const {
    safety::Prepared fact;
    fact.connection = job::connection_of(pack());
    return fact;
  }

  /// The first step of the cheapest way to these places; none where they are open.
  [[nodiscard]] std::vector<job::StepDone> step_to(const plan::Targets& targets) const {
    const plan::Plan way = plan::reach(model().rules, state.unit, targets);
    for (const plan::Step& step : way.steps) {
      if (step.kind != plan::Kind::take_tool) {
        return {done(step)};
      }
    }
    return {};
  }

  /// Takes one step of a way, with what the gate wants for it first. False: it is refused.
  bool take(const job::StepDone& step) {
    const int subject = job::subject_index(pack(), state.unit, step.deed, step.what);
    return subject >= 0 && open_gate(job::demand_of(model(), state, step.deed, subject)) &&
           tell(step).accepted();
  }

  /// Does the first thing of the gate's list for this; false where it is refused.
  bool do_first(const std::vector<safety::Todo>& todos) {
    const safety::Todo& todo = todos.front();
    if (todo.kind == safety::TodoKind::open_way) {
      const auto step = step_to(job::proof_targets(model()));
      return !step.empty() && take(step.front());
    }
    if (todo.kind == safety::TodoKind::relieve) {
      const auto step = step_to(job::relieve_targets(model()));
      if (!step.empty()) {
        return take(step.front());
      }
      const auto before = safety::make_safe(
          state.safety, job::ask_of(model(), state, job::relieve_demand(model(), state), by),
          clock(), law(), job::supply_place(model(), state));
      if (!before.empty()) {
        return tell(answer(before.front())).accepted();
      }
    }
    if (todo.kind == safety::TodoKind::watch) {
      pass(std::int64_t{settings.safety.watch_seconds} * kSecondMs);
    }
    return tell(answer(todo)).accepted();
  }

  /// A job in Find with this complaint, made safe. False where it does not come there.
  bool seek(const std::string& complaint) {
    arrive();
    state.complaint.symptom = complaint;
    return open_gate() && state.stage == job::Stage::find;
  }

  /// Does what the gate wants for this; false where the list does not come to its end.
  bool open_gate(const safety::Demand& demand = job::hands_demand()) {
    for (int i = 0; i < 80; ++i) {
      const auto todos = safety::make_safe(state.safety, job::ask_of(model(), state, demand, by),
                                           clock(), law(), job::supply_place(model(), state));
      if (todos.empty()) {
        return true;
      }
      if (!do_first(todos)) {
        return false;
      }
    }
    return false;
  }

  bool put_back(bool water = true) {
    for (int i = 0; i < 20; ++i) {
      safety::Demand demand;
      demand.act = safety::Act::power_on;
      const auto todos = safety::put_back(state.safety, true, water,
                                          job::ask_of(model(), state, demand, by), clock(), law(),
                                          job::supply_place(model(), state));
      if (todos.empty()) {
        return true;
      }
      if (!tell(answer(todos.front())).accepted()) {
        return false;
      }
    }
    return false;
  }

  /// What leads to this end, without the end itself.
  bool wind_up(job::Outcome outcome) {
    for (int i = 0; i < 20; ++i) {
      const auto todos =
          safety::wind_up(state.safety, job::ending_of(outcome),
                          job::ask_of(model(), state, {}, by), clock(), law(),
                          job::supply_place(model(), state));
      if (todos.empty() || todos.front().kind == safety::TodoKind::end) {
        return true;
      }
      if (!tell(answer(todos.front())).accepted()) {
        return false;
      }
    }
    return false;
  }

  /// The next step of the way in or back, with all its checks; none where nothing is left to do.
  [[nodiscard]] std::vector<job::StepDone> next_step(bool back) const {
    const plan::Plan way =
        back ? job::plan_back(model(), state) : job::plan_in(model(), state);
    for (const plan::Step& step : way.steps) {
      if (step.kind != plan::Kind::take_tool) {
        return {done(step)};
      }
    }
    return {};
  }

  [[nodiscard]] job::StepDone done(const plan::Step& step) const {
    const std::size_t at = to_size(step.subject);
    job::StepDone body;
    switch (step.kind) {
      case plan::Kind::turn:
      case plan::Kind::take_tool:
        body.deed = job::Deed::turn;
        body.what = pack().positions[to_size(pack().changes[at].to)].id;
        break;
      case plan::Kind::release:
      case plan::Kind::fasten:
        body.deed = step.kind == plan::Kind::release ? job::Deed::release : job::Deed::fasten;
        body.what = pack().joints[at].id;
        break;
      case plan::Kind::remove:
      case plan::Kind::set:
        body.deed = step.kind == plan::Kind::remove ? job::Deed::remove : job::Deed::set;
        body.what = pack().parts[at].id;
        break;
    }
    for (const pack::RefitCheck& check : pack().refit_checks) {
      body.checks.push_back(check.id);
    }
    return body;
  }

  bool prove(const pack::ProveTest& test) {
    const std::vector<std::string> codes = job::left_out_for(model(), state, test);
    if (test.when == pack::ProveWhen::before_power &&
        !job::place_open(model(), state.unit, test) && !codes.empty()) {
      job::ProveRecorded out;
      out.test = test.id;
      out.left_out = codes.front();
      return tell(out).accepted();
    }
    if (!open_gate(job::demand_of(model(), state, test))) {
      return false;
    }
    pass(std::int64_t{test.wait_seconds} * kSecondMs);   // what it takes begins when all is ready
    return tell(good_result(test)).accepted();
  }

  /// Works step by step while the stage is this one, with the tests that are due on the way back;
  /// false where a step is refused.
  bool work_through(job::Stage stage) {
    for (int i = 0; i < 300 && state.stage == stage; ++i) {
      const auto step = next_step(stage == job::Stage::close);
      if (step.empty() || (stage == job::Stage::close && !prove_due())) {
        return false;
      }
      // What the gate wants may change the unit (the nut that is undone to relieve the water), and
      // with it what comes next.
      const int subject =
          job::subject_index(pack(), state.unit, step.front().deed, step.front().what);
      if (subject < 0 || !open_gate(job::demand_of(model(), state, step.front().deed, subject))) {
        return false;
      }
      const auto now = next_step(stage == job::Stage::close);
      const bool same = !now.empty() && now.front().what == step.front().what &&
                        now.front().deed == step.front().deed;
      if (same && !tell(step.front()).accepted()) {
        return false;
      }
    }
    return state.stage != stage;
  }

  /// The prove tests whose place the next step of the way back shuts.
  bool prove_due() {
    std::vector<int> done;
    for (const auto& one : state.proved) {
      done.push_back(pack().prove_test(one.body.test));
    }
    const plan::Plan back = job::plan_back(model(), state);
    int first = 0;
    while (first < to_int(back.steps.size()) &&
           back.steps[to_size(first)].kind == plan::Kind::take_tool) {
      ++first;
    }
    for (const job::Placing& one : job::prove_schedule(model(), state.unit, back, done)) {
      const pack::ProveTest& test = pack().prove_tests[to_size(one.test)];
      if (one.before >= 0 && one.before <= first && !prove(test)) {
        return false;
      }
    }
    return true;
  }

  bool swap(const char* part) {
    const int index = pack().part(part);
    return open_gate(job::demand_of(model(), state, job::Deed::swap, index)) &&
           tell(job::PartSwapped{part, "QP 1", 2'350, "", {}, {}, {}, {}}).accepted();
  }

  /// From the door of Make safe to Prove with this part new.
  bool repair(const char* part) {
    return open_gate() && tell(job::TargetsChosen{{part}, "worn out"}).accepted() &&
           work_through(job::Stage::open) && swap(part) && work_through(job::Stage::close);
  }

  bool prove(pack::ProveWhen when) {
    for (const pack::ProveTest& test : pack().prove_tests) {
      const bool done = std::any_of(state.proved.begin(), state.proved.end(), [&](const auto& one) {
        return one.body.test == test.id && (one.body.passed || !one.body.left_out.empty());
      });
      if (test.when == when && !done && !prove(test)) {
        return false;
      }
    }
    return true;
  }

  /// All tests in their order, with power and water back in between.
  bool prove_all() {
    return prove(pack::ProveWhen::before_power) && put_back() &&
           prove(pack::ProveWhen::running) && prove(pack::ProveWhen::after);
  }
};

}  // namespace kp::test
