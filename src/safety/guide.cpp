#include "safety/guide.hpp"

#include "base/text.hpp"

namespace kp::safety {

namespace {

struct TodoWords {
  EventKind kind;
  const char* sentence;
  const char* how;
  const char* why;
};

constexpr TodoWords kTodoWords[] = {
    {EventKind::reopened, "Open the job again.", "Nothing of the last visit counts as proof.",
     "Anyone may have been at the machine since. Rule of this tool."},
    {EventKind::clock_doubted, "Set the clock right.", "The proofs so far are given up.",
     "A proof without a sure time has no age. Rule of this tool."},
    {EventKind::prepared, "List the energies of this machine.",
     "Mains, water pressure and heat; springs, charge, weight and edges where present.",
     "You control only what you know. 29 CFR 1910.147(d)(1)."},
    {EventKind::stopped, "Stop the machine by its normal control.", "Wait until nothing turns.",
     "An orderly stop leaves no part half-way. 29 CFR 1910.147(d)(2)."},
    {EventKind::isolated, "Isolate the power at the supply.",
     "Pull the plug and keep it in sight, or lock the breaker or spur off.",
     "Switches of the machine leave wires in front of them live. 29 CFR 1910.147(d)(3), (4)."},
    {EventKind::water_shut, "Shut the water at its valve.", "Turn the handle to its stop.",
     "Water pressure is an energy like any other. 29 CFR 1910.147(d)(3)."},
    {EventKind::water_relieved, "Relieve the pressure and empty the sump.",
     "Catch the water of the hose in a tray.",
     "A closed valve keeps the pressure behind it. 29 CFR 1910.147(d)(5)."},
    {EventKind::controls_tried, "Press start and see that nothing happens.",
     "Set the controls back to off after that.",
     "A machine that answers is not isolated. 29 CFR 1910.333(b)(2)(iv)(A)."},
    {EventKind::prove_restarted, "Start the five readings again.",
     "Too much time has passed since the tester was proved.",
     "The tester may have failed in between. Rule of this tool."},
    {EventKind::charge_gone, "Discharge the capacitor and measure it.",
     "Use a resistor with insulated leads, and the DC range.",
     "Treat it as live while you do. 29 CFR 1910.333(b)(2)(ii)(C)."},
    {EventKind::cooled, "Let the hot parts cool and measure them.",
     "Take the hottest surface that hands will meet.",
     "Burns come from parts that look cold. 29 CFR 1910.147(d)(5)."},
    {EventKind::secured, "Secure the unit or the load.",
     "Use blocks, a strap or a second person.",
     "Weight is stored energy. 29 CFR 1910.333(b)(2)(ii)(D)."},
    {EventKind::helpers_here, "Get a second person.", "Agree who gives the word.",
     "Two people lift what injures one. Common practice, no source."},
    {EventKind::inspected, "Inspect the area and count the tools.",
     "See that the machine is whole and nothing lies in it.",
     "A tool left inside is thrown or shorts. 29 CFR 1910.147(e)(1), from memory."},
    {EventKind::panels_set, "Set the panels as the step says.",
     "Fit each panel that is not named open.",
     "A running machine has live and turning parts. Common practice, no source."},
    {EventKind::people_clear, "Keep people and hands clear.",
     "Tell each person that the machine comes on.",
     "The one who is not told gets hurt. 29 CFR 1910.147(e)(2), from memory."},
    {EventKind::lock_removed, "Take your lock off.", "The owner of a lock takes it off.",
     "Nobody else knows whether your hands are out. 29 CFR 1910.147(e)(3), from memory."},
    {EventKind::water_restored, "Open the water slowly.", "Watch each joint while it fills.",
     "A leak shows while the power is still dead. Common practice, no source."},
    {EventKind::power_restored, "Put the power back on.", "Stand clear and use one hand.",
     "Every proof is void from here. 29 CFR 1910.147(f)(1), from memory."},
    {EventKind::tag_hung, "Hang the tag on the isolation point.",
     "Write your name, the time and the reason.",
     "The next person must know why it is off. 29 CFR 1910.147(d)(4)."},
    {EventKind::ended, "End the visit.", "Tell the customer how the machine is left.",
     "A machine is safe to use or safely off. Rule of this tool."},
};

Todo todo(EventKind kind, const State& state) {
  Todo out;
  out.kind = kind;
  for (const TodoWords& row : kTodoWords) {
    if (row.kind == kind) {
      out.sentence = row.sentence;
      out.how = row.how;
      out.why = row.why;
    }
  }
  const bool dead = state.power == PowerState::proved_dead;
  const auto warn = [&](Contact contact) { out.caution = cautions_of({contact}, dead).front(); };
  if (kind == EventKind::water_relieved) {
    warn(Contact::wet);
  } else if (kind == EventKind::charge_gone) {
    warn(Contact::stored_charge);
  } else if (kind == EventKind::cooled) {
    warn(Contact::hot);
  } else if (kind == EventKind::secured) {
    warn(Contact::heavy);
  }
  return out;
}

Todo reading(Station station) {
  Todo out;
  out.kind = EventKind::reading;
  out.station = station;
  out.sentence = words_of(station).ask;
  out.how = "Use a two-pole tester rated CAT III, with probe tips bared 4 mm at most.";
  out.why = words_of(station).why;
  out.caution = Caution{SignalWord::danger, "Keep your fingers behind the guards of the probes.",
                        "insulated tools", "W012"};
  return out;
}

void isolate(const State& state, std::vector<Todo>& out) {
  if (!state.stopped.holds()) {
    out.push_back(todo(EventKind::stopped, state));
  }
  out.push_back(todo(EventKind::isolated, state));
}

// More time has passed since the tester was proved than one sequence may take.
bool sequence_late(const State& state, std::int64_t now_ms, const Policy& policy) {
  const std::int64_t limit = static_cast<std::int64_t>(policy.prove_seconds) * 1000;
  return !state.readings.empty() && now_ms - state.readings.front().at.utc_ms > limit;
}

void prove(const State& state, std::int64_t now_ms, const Policy& policy, std::vector<Todo>& out) {
  const bool off = state.power == PowerState::isolated || state.power == PowerState::proved_dead;
  if (!off || !state.controls_tried.holds()) {
    out.push_back(todo(EventKind::controls_tried, state));
  }
  int first = 0;
  if (state.power == PowerState::isolated && state.verdict == ProveVerdict::unfinished) {
    const std::optional<Station> next = next_reading(state.readings, policy);
    first = next.has_value() ? static_cast<int>(*next) : 0;
    if (first > 0 && sequence_late(state, now_ms, policy)) {
      out.push_back(todo(EventKind::prove_restarted, state));
      first = 0;
    }
  }
  for (int i = first; i < kStations; ++i) {
    out.push_back(reading(static_cast<Station>(i)));
  }
}

bool off_the_supply(const State& state) {
  return state.power == PowerState::isolated || state.power == PowerState::proved_dead;
}

// Writes down the facts that must come first, and gives the state after them.
State settle(const State& given, std::int64_t now_ms, const Policy& policy,
             std::vector<Todo>& out) {
  State state = given;
  Event fact;
  fact.id = given.newest_event + 1;
  fact.at.utc_ms = now_ms;
  fact.person = given.worker;
  if (now_ms < state.newest.utc_ms) {
    out.push_back(todo(EventKind::clock_doubted, state));
    fact.kind = EventKind::clock_doubted;
    state = apply(state, fact, policy);
  }
  if (state.ending != Ending::none) {
    out.push_back(todo(EventKind::reopened, state));
    fact.kind = EventKind::reopened;
    state = apply(state, fact, policy);
  }
  return state;
}

void prepare(const State& state, EnergySet energies, std::vector<Todo>& out) {
  if (!state.prepared.holds() || (energies & ~state.energies) != 0) {
    out.push_back(todo(EventKind::prepared, state));
  }
}

bool refused_for(const Verdict& verdict, const char* code) {
  for (const Reason& reason : verdict.reasons) {
    if (reason.code == code) {
      return true;
    }
  }
  return false;
}

void own_needs(const State& state, const Verdict& verdict, std::vector<Todo>& out) {
  if (refused_for(verdict, "charge-not-gone")) {
    out.push_back(todo(EventKind::charge_gone, state));
  }
  if (refused_for(verdict, "not-cooled")) {
    out.push_back(todo(EventKind::cooled, state));
  }
  if (refused_for(verdict, "not-secured")) {
    out.push_back(todo(EventKind::secured, state));
  }
  if (refused_for(verdict, "helper-missing")) {
    out.push_back(todo(EventKind::helpers_here, state));
  }
}

}  // namespace

std::vector<Todo> make_safe(const State& given, const Demand& demand, std::int64_t now_ms,
                            const Policy& shop) {
  const Policy policy = bounded(shop);
  std::vector<Todo> out;
  const Demand rest{demand.contacts, demand.hands_in, false, demand.people};
  if (permit(given, rest, now_ms, policy).allowed) {
    return out;
  }
  const State state = settle(given, now_ms, policy, out);
  prepare(state, energies_of(demand.contacts), out);
  const Verdict verdict = permit(state, rest, now_ms, policy);
  const NeedSet needs = needs_of(rest.contacts, rest.hands_in);
  const bool power = in_set(needs, Need::power_dead) && !power_dead(state, now_ms, policy);
  const bool supply = power || refused_for(verdict, "charge-not-gone") ||
                      refused_for(verdict, "not-cooled");
  if (supply && !off_the_supply(state)) {
    isolate(state, out);
  }
  if (in_set(needs, Need::water_off) && !water_off(state, now_ms, policy)) {
    if (state.water != WaterState::shut && state.water != WaterState::relieved) {
      out.push_back(todo(EventKind::water_shut, state));
    }
    out.push_back(todo(EventKind::water_relieved, state));
  }
  if (power) {
    prove(state, now_ms, policy, out);
  }
  own_needs(state, verdict, out);
  return out;
}

std::vector<Todo> put_back(const State& state, bool power, bool water) {
  std::vector<Todo> out;
  const bool power_due = power && state.power != PowerState::live_for_test;
  const bool water_due = water && state.water != WaterState::on_for_test;
  if (!power_due && !water_due) {
    return out;
  }
  if (!state.inspected.holds()) {
    out.push_back(todo(EventKind::inspected, state));
  }
  if (!state.panels_set.holds()) {
    out.push_back(todo(EventKind::panels_set, state));
  }
  if (!state.people_clear.holds()) {
    out.push_back(todo(EventKind::people_clear, state));
  }
  if (water_due) {
    out.push_back(todo(EventKind::water_restored, state));
  }
  if (power_due) {
    for (const Lock& lock : state.locks) {
      Todo step = todo(EventKind::lock_removed, state);
      step.lock = lock.id;
      if (lock.owner != state.worker) {
        step.sentence = cat("Let ", lock.owner, " take lock ", lock.id, " off.");
      }
      out.push_back(step);
    }
    out.push_back(todo(EventKind::power_restored, state));
  }
  return out;
}

std::vector<Todo> wind_up(const State& given, Ending ending, std::int64_t now_ms,
                          const Policy& policy) {
  std::vector<Todo> out;
  if (given.ending != Ending::none || ending == Ending::none) {
    return out;
  }
  const State state = settle(given, now_ms, policy, out);
  if (!may_end(state, ending, now_ms, policy).allowed) {
    const bool serve = ending == Ending::repaired || ending == Ending::no_fault;
    prepare(state, 0, out);
    if (serve) {
      const std::vector<Todo> back = put_back(state, true, true);
      out.insert(out.end(), back.begin(), back.end());
    } else {
      if (!off_the_supply(state)) {
        isolate(state, out);
      }
      if (state.water != WaterState::shut && state.water != WaterState::relieved) {
        out.push_back(todo(EventKind::water_shut, state));
      }
      if (!off_the_supply(state) || !state.tagged.holds()) {
        out.push_back(todo(EventKind::tag_hung, state));
      }
    }
  }
  out.push_back(todo(EventKind::ended, state));
  return out;
}

}  // namespace kp::safety
