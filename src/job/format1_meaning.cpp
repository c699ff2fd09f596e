// What a record of format 1 meant, in the facts of today.
#include <algorithm>
#include <cmath>
#include <iterator>

#include "job/apply.hpp"
#include "job/format1_read.hpp"

namespace kp::job::format1 {

namespace {

// The published limits of format 1; a shop's own were not recorded.
constexpr double kLiveFromVolts = 50;
constexpr double kDeadBelowVolts = 10;
constexpr safety::Range kKnown = {90, 700};
constexpr std::int64_t kProveMs = 600'000;

using Facts = std::vector<safety::Fact>;

struct Kept {
  Means old;
  safety::Means means;
  bool locked;    ///< its words say that a lock held it
  bool in_sight;  ///< or that the plug was held or seen
};
constexpr Kept kKept[] = {
    {Means::unplugged_in_sight, safety::Means::plug_out, false, true},
    {Means::breaker_locked, safety::Means::breaker_off, true, false},
    {Means::fused_spur_locked, safety::Means::spur_fuse_out, true, false},
    {Means::door_switch, safety::Means::door_switch, false, false},
    {Means::cycle_button, safety::Means::cycle_button, false, false},
    {Means::panel_off, safety::Means::panel_off, false, false},
    {Means::timer_off, safety::Means::timer_off, false, false},
    {Means::breaker_unlocked, safety::Means::breaker_off, false, false},
    {Means::wall_switch, safety::Means::wall_switch, false, false},
    {Means::residual_current_button, safety::Means::residual_current_button, false, false},
    {Means::unplugged_out_of_sight, safety::Means::plug_out, false, false},
    {Means::remote_off, safety::Means::remote_off, false, false},
    {Means::word_of_another, safety::Means::word_of_another, false, false},
};

Facts isolated(const Said& said) {
  const Kept& kept = kKept[static_cast<int>(said.means)];
  Facts out = {safety::Isolated{kept.means}};
  if (kept.locked && !said.lock.empty()) {
    out.emplace_back(safety::HeldFast{safety::Control::locked, said.lock, said.tag, {}});
  } else if (kept.in_sight) {
    out.emplace_back(safety::HeldFast{safety::Control::sight_only, {}, said.tag, {}});
  }
  return out;
}

bool is_known(Station station) {
  return station == Station::known_before || station == Station::known_after;
}

safety::Pair pair_of(Station station) {
  switch (station) {
    case Station::line_neutral: return {"L", "N"};
    case Station::line_earth: return {"L", "E"};
    case Station::neutral_earth: return {"N", "E"};
    case Station::known_before:
    case Station::known_after: return {};
  }
  return {};
}

safety::Role role_of(Station station) {
  switch (station) {
    case Station::known_before: return safety::Role::known_before;
    case Station::known_after: return safety::Role::known_after;
    case Station::line_neutral:
    case Station::line_earth:
    case Station::neutral_earth: return safety::Role::pair;
  }
  return safety::Role::pair;
}

/// Its number is volts, though it may prove nothing.
bool shows_volts(safety::MeterFunction function) {
  return safety::can_prove(function) || function == safety::MeterFunction::volts_dc ||
         function == safety::MeterFunction::non_contact ||
         function == safety::MeterFunction::solenoid;
}

safety::Found found_of(const Said& said) {
  const double volts = std::fabs(said.volts);
  if (is_known(said.station)) {
    return volts >= kKnown.low && volts <= kKnown.high ? safety::Found::source_good
                                                       : safety::Found::source_out;
  }
  if (volts >= kLiveFromVolts) {
    return safety::Found::live;
  }
  return volts < kDeadBelowVolts ? safety::Found::nil : safety::Found::ghost;
}

/// What began the proving anew in format 1, so that readings before it did not count.
bool begins_anew(const Said& said) {
  constexpr Act kAnew[] = {Act::isolated,       Act::prove_restarted, Act::power_restored,
                           Act::power_found_on, Act::re_energised,    Act::left_alone,
                           Act::clock_doubted};
  return std::find(std::begin(kAnew), std::end(kAnew), said.act) != std::end(kAnew) ||
         (said.act == Act::controls_tried && said.answered);
}

/// The readings of the series that this one ends, from its first proof of the tester on; none where
/// it began without one.
std::vector<Recorded<Said>> series_of(const State& before, const Recorded<Said>& last) {
  std::vector<Recorded<Said>> out = {last};
  for (auto one = before.said.rbegin(); one != before.said.rend(); ++one) {
    if (out.back().body.station == Station::known_before || begins_anew(one->body)) {
      break;
    }
    if (one->body.act == Act::reading) {
      out.push_back(*one);
    }
  }
  std::reverse(out.begin(), out.end());
  return out.front().body.station == Station::known_before ? out : std::vector<Recorded<Said>>{};
}

/// Whether format 1 took the supply as proved dead with this reading: the tester good on a known
/// source before and after, all three pairs between, one instrument, inside ten minutes.
bool proves(const State& before, const Recorded<Said>& last) {
  const std::vector<Recorded<Said>> series = series_of(before, last);
  if (series.empty() || last.body.station != Station::known_after) {
    return false;
  }
  const Stamp& start = series.front().stamp;
  const auto since = static_cast<std::int64_t>(start.n);
  if (before.safety.lost_at.event > since || before.safety.gap_at.event > since) {
    return false;
  }
  bool read[5] = {};
  for (const auto& [stamp, one] : series) {
    const safety::Found found = found_of(one);
    const std::int64_t age = stamp.at.utc_ms - start.at.utc_ms;
    const bool good = found == (is_known(one.station) ? safety::Found::source_good
                                                      : safety::Found::nil);
    if (!good || !safety::can_prove(one.function) || one.meter != series.front().body.meter ||
        age < 0 || age > kProveMs) {
      return false;
    }
    read[static_cast<int>(one.station)] = true;
  }
  return std::all_of(std::begin(read), std::end(read), [](bool one) { return one; });
}

Facts reading(const Said& said, const State& before, const Stamp& stamp) {
  const safety::Found found = found_of(said);
  const bool live = found == safety::Found::live && shows_volts(said.function);
  if (!live && !safety::can_prove(said.function)) {
    return {};   // a wrong range shows nothing, and no fact of today holds one
  }
  safety::ReadingTaken out;
  const safety::Pair pair = pair_of(said.station);
  out.place = safety::kSupply;
  out.role = role_of(said.station);
  out.a = pair.a;
  out.b = pair.b;
  out.shown.volts = said.volts;
  out.function = said.function;
  out.tester = said.meter;
  if (is_known(said.station)) {
    out.band_low = kKnown.low;
    out.band_high = kKnown.high;
  }
  out.found = found;
  out.proves = proves(before, {stamp, said});
  return {out};
}

/// What hands did: format 1 took from the pack what it asked of the gate, and wrote down only the
/// proofs that it stood on.
safety::Act act_of_test(const State& before, const std::vector<std::uint32_t>& stands_on,
                        safety::Act while_dead, safety::Act while_on) {
  if (stands_on.empty()) {
    return safety::Act::look_outside;
  }
  return before.safety.power == safety::Power::on ? while_on : while_dead;
}

void complete(Body& body, const State& before) {
  if (auto* test = std::get_if<TestRecorded>(&body)) {
    test->act = act_of_test(before, test->stands_on, safety::Act::measure_dead,
                            safety::Act::live_reading);
  } else if (auto* prove = std::get_if<ProveRecorded>(&body)) {
    prove->act = act_of_test(before, prove->stands_on, safety::Act::prove_dead_test,
                             safety::Act::run);
  }
}

}  // namespace

std::vector<safety::Fact> facts_of(const Said& said, const State& before, const Stamp& stamp) {
  switch (said.act) {
    case Act::isolated: return isolated(said);
    case Act::controls_tried:
      return {safety::ControlsTried{said.answered ? safety::Answer::answered
                                                  : safety::Answer::nothing}};
    case Act::reading: return reading(said, before, stamp);
    case Act::prove_restarted: return {safety::SeriesRestarted{}};
    case Act::water_shut: return {safety::WaterShut{said.note}};
    case Act::water_relieved: return {safety::Relieved{}};
    case Act::cooled: return {safety::Cooled{{}, said.celsius}};
    case Act::helpers_here: return {safety::HelperHere{said.people, {}}};
    case Act::inspected: return {safety::Inspected{}};
    case Act::people_clear: return {safety::Warned{}, safety::LookedClear{}};
    case Act::lock_removed: return {safety::LockOff{said.lock}};
    case Act::power_restored: return {safety::PowerOn{}};
    case Act::water_restored: return {safety::WaterOn{}};
    case Act::tag_hung: return {safety::TagHung{said.tag}};
    case Act::power_found_on:
    case Act::re_energised: return {safety::Doubted{safety::Doubt::power_found_on}};
    case Act::water_found_on: return {safety::Doubted{safety::Doubt::water_found_on}};
    case Act::left_alone: return {safety::Doubted{safety::Doubt::left}};
    case Act::clock_doubted: return {safety::Doubted{safety::Doubt::clock_doubted}};
    // No fact of today says as little: the supply as found, whether the machine did anything before
    // it was stopped, where and through what was discharged, by what it was held, which panels.
    case Act::prepared:
    case Act::stopped:
    case Act::charge_gone:
    case Act::secured:
    case Act::panels_set:
    // Recorded by kinds of their own; as words about isolation they never came.
    case Act::posture_changed:
    case Act::step_done:
    case Act::ended:
    case Act::taken_over:
    case Act::resumed:
    case Act::reopened: return {};
  }
  return {};
}

void fold(State& state, const Stamp& stamp, const Record& record) {
  if (const auto* kept = std::get_if<Body>(&record)) {
    Body body = *kept;
    complete(body, state);
    kp::job::fold(state, stamp, body);
    if (std::holds_alternative<StepDone>(body)) {
      state.proved.clear();   // every step took the proofs away then, also on the way back
    }
    return;
  }
  const Said& said = std::get<Said>(record);
  advance(state.clock, stamp, state.clock_rule);
  for (const safety::Fact& fact : facts_of(said, state, stamp)) {
    kp::job::fold(state, stamp, body_of(fact));
  }
  state.said.push_back({stamp, said});
  state.last_n = stamp.n;
}

}  // namespace kp::job::format1
