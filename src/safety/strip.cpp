#include "safety/strip_words.hpp"

#include "base/text.hpp"

namespace kp::safety {

namespace {

std::string by(const Stamp& stamp) { return cat(stamp.person, ", ", clock_text(stamp.at)); }

std::string shown_text(const Reading& reading) {
  if (reading.shown.none_lit) {
    return "no step lit";
  }
  return cat(fixed_text(reading.shown.volts, 1),
             reading.function == MeterFunction::ohms ? " Ω" : " V");
}

std::string called(const Named& named, const std::string& id) { return named ? named(id) : id; }

std::string place_of(const Reading& reading, const Named& named) {
  switch (reading.role) {
    case Role::known_before:
      return "Known source before";
    case Role::known_after:
      return "Known source after";
    case Role::earth_shown:
      return "Earth to a second earth";
    case Role::pair:
    case Role::pair_dc:
      return cat(called(named, reading.pair.a), " to ",
                 reading.pair.b.empty() ? "E" : called(named, reading.pair.b),
                 reading.role == Role::pair_dc ? ", DC" : "");
  }
  return {};
}

void tell_isolation(const State& state, StripSide& side) {
  if (state.isolated.holds()) {
    side.evidence.push_back(cat(rule_of(state.means).title, ", ", by(state.isolated)));
  }
  if (state.held.holds()) {
    side.evidence.push_back(cat(title(state.control), state.lock.empty() ? "" : ", lock ",
                                state.lock, ", ", by(state.held)));
  }
  if (state.tried_at.holds()) {
    side.evidence.push_back(cat(state.tried == Tried::still
                                    ? "Start pressed, nothing happened, "
                                    : "Start pressed: tells nothing, it did not run before, ",
                                by(state.tried_at)));
  }
}

void tell_readings(const State& state, const Named& named, StripSide& side) {
  for (const Reading& reading : state.series.readings) {
    side.readings.push_back(cat(called(named, state.series.place), ": ", place_of(reading, named), ": ",
                                shown_text(reading), ", tester ", reading.tester, ", ",
                                clock_text(reading.at)));
  }
  for (const GroupProof& group : state.groups) {
    if (group.discharged.holds()) {
      side.evidence.push_back(cat(called(named, group.id), ": discharged, ", fixed_text(group.dc_volts, 1),
                                  " V DC left, ", by(group.discharged)));
    }
    if (group.dead.holds()) {
      side.evidence.push_back(cat(called(named, group.id), ": proved dead, ", by(group.dead)));
    }
  }
}

void tell_locks(const State& state, StripSide& side) {
  if (state.tagged.holds()) {
    side.evidence.push_back(cat("Tag ", state.tag, ", ", by(state.tagged)));
  }
  if (state.barred.holds()) {
    side.evidence.push_back(cat("Openings barred, ", by(state.barred)));
  }
  for (const Lock& lock : state.locks) {
    if (lock.id != state.lock) {
      side.evidence.push_back(cat("Lock ", lock.id, " of ", lock.owner, " hangs"));
    }
  }
}

void tell_loss(const State& state, StripSide& side) {
  if (state.lost != Loss::none) {
    side.evidence.push_back(
        cat("Proof given up ", clock_text(state.lost_at.at), ": ", title(state.lost)));
  }
}

void set(StripSide& side, Symbol symbol, Meaning meaning, const char* word, std::string line) {
  side.symbol = symbol;
  side.meaning = meaning;
  side.word = word;
  side.line = std::move(line);
}

StripSide power_side(const State& state, Now now, const Policy& policy, const Named& named) {
  StripSide side;
  set(side, Symbol::closed, Meaning::danger, "LIVE", "Power, taken as live");
  switch (state.power) {
    case Power::live:
      if (state.exposed) {
        side.line = "Power, found live: hands back";
      }
      break;
    case Power::on:
      side.line = cat("Power, back on ", clock_text(state.power_back.at));
      break;
    case Power::isolated:
      set(side, Symbol::open, Meaning::not_proved, "NOT HELD",
          cat("Power, parted ", clock_text(state.isolated.at)));
      break;
    case Power::held:
      set(side, Symbol::open, Meaning::not_proved, "NOT PROVED",
          cat(in_approach(state) ? "Approach: treat as live, held " : "Power, held ",
              clock_text(state.held.at)));
      break;
    case Power::supply_dead:
      if (supply_dead(state, now, policy)) {
        set(side, Symbol::crossed, Meaning::safe, "DEAD",
            cat("Supply, proved ", clock_text(state.supply_dead.at)));
      } else {
        set(side, Symbol::open, Meaning::not_proved, "NOT PROVED",
            state.gap_open ? std::string("Power: nobody looked for a while")
                           : cat("Power, proof too old: ", clock_text(state.supply_dead.at)));
      }
      break;
  }
  tell_isolation(state, side);
  tell_readings(state, named, side);
  tell_locks(state, side);
  tell_loss(state, side);
  return side;
}

StripSide water_side(const State& state, Now now, const Policy& policy) {
  StripSide side;
  set(side, Symbol::closed, Meaning::danger, "OPEN", "Water, taken as on");
  switch (state.water) {
    case Water::open:
      break;
    case Water::run:
    case Water::static_on:
      side.line = cat("Water, back on ", clock_text(state.water_back.at));
      break;
    case Water::shut: {
      const bool tight = water_tight(state, now, policy);
      set(side, tight ? Symbol::crossed : Symbol::open,
          tight ? Meaning::safe : Meaning::not_proved, "SHUT",
          cat(tight ? "Water, joints tight, shut " : "Water, not relieved, shut ",
              clock_text(state.shut.at)));
      break;
    }
    case Water::relieved:
    case Water::holding: {
      const bool holds = water_off(state, now, policy);
      set(side, holds ? Symbol::crossed : Symbol::open,
          holds ? Meaning::safe : Meaning::not_proved, "SHUT",
          cat(holds ? "Water, relieved " : "Water, proof too old: ",
              clock_text(state.relieved.at)));
      break;
    }
  }
  if (state.shut.holds()) {
    side.evidence.push_back(cat(state.valve, " ", by(state.shut)));
  }
  if (state.relieved.holds()) {
    side.evidence.push_back(cat("Pressure off, sump empty, ", by(state.relieved)));
  }
  if (state.tight.holds()) {
    side.evidence.push_back(cat("Under pressure, no drop at a joint, ", by(state.tight)));
  }
  if (state.holding.holds()) {
    side.evidence.push_back(cat("Watched, the valve holds, ", by(state.holding)));
  }
  tell_loss(state, side);
  return side;
}

}  // namespace

Strip summarise(const State& state, Now now, const Policy& policy) {
  return summarise_named(state, now, policy, {});
}

Strip summarise_named(const State& state, Now now, const Policy& policy, const Named& named) {
  return Strip{power_side(state, now, policy, named), water_side(state, now, policy)};
}

Strip unknown(const std::string& reason) {
  Strip strip;
  for (StripSide* side : {&strip.power, &strip.water}) {
    side->evidence.push_back(reason);
  }
  set(strip.power, Symbol::closed, Meaning::danger, "LIVE", "Power, taken as live");
  set(strip.water, Symbol::closed, Meaning::danger, "OPEN", "Water, taken as on");
  return strip;
}

}  // namespace kp::safety
