#include "safety/strip.hpp"

#include "base/text.hpp"

namespace kp::safety {

namespace {

std::string by(const Stamp& stamp) { return cat(stamp.person, ", ", clock_text(stamp.at)); }

void tell_isolation(const State& state, StripSide& side) {
  if (!state.isolated.holds()) {
    return;
  }
  std::string line = rule_of(state.means).title;
  if (!state.lock.empty()) {
    line += cat(", lock ", state.lock);
  }
  side.evidence.push_back(cat(line, ", ", by(state.isolated)));
  if (state.controls_tried.holds()) {
    side.evidence.push_back(cat("Start pressed, no answer, ", by(state.controls_tried)));
  }
}

void tell_readings(const State& state, StripSide& side) {
  for (const Reading& reading : state.readings) {
    side.evidence.push_back(cat(words_of(reading.station).title, ": ",
                                fixed_text(reading.volts, 1), " ", words(reading.function),
                                ", tester ", reading.meter, ", ", clock_text(reading.at)));
  }
  if (state.verdict != ProveVerdict::unfinished) {
    side.evidence.push_back(words_of(state.verdict).title);
  }
}

void tell_rest(const State& state, StripSide& side) {
  if (state.charge_gone.holds()) {
    side.evidence.push_back(cat("Capacitor ", fixed_text(state.charge_volts, 1), " V DC, ",
                                by(state.charge_gone)));
  }
  if (state.tagged.holds()) {
    side.evidence.push_back(cat("Tag ", state.tag, ", ", by(state.tagged)));
  }
  for (const Lock& lock : state.locks) {
    if (lock.id != state.lock) {
      side.evidence.push_back(cat("Lock ", lock.id, " of ", lock.owner, " still hangs"));
    }
  }
}

void tell_loss(const State& state, StripSide& side) {
  if (state.lost != VoidCause::none) {
    side.evidence.push_back(
        cat("Proof given up ", clock_text(state.lost_at.at), ": ", words(state.lost)));
  }
}

StripSide power_side(const State& state, std::int64_t now_ms, const Policy& policy) {
  StripSide side;
  side.word = "LIVE";
  side.line = "Power, taken as live";
  if (state.power == PowerState::live_for_test) {
    side.line = cat("Power, back on ", clock_text(state.power_back.at));
  } else if (state.power == PowerState::isolated) {
    side.symbol = Symbol::open;
    side.meaning = Meaning::not_proved;
    side.word = "NOT PROVED";
    side.line = cat("Power, isolated ", clock_text(state.isolated.at));
  } else if (state.power == PowerState::proved_dead) {
    const bool holds = power_dead(state, now_ms, policy);
    side.symbol = holds ? Symbol::crossed : Symbol::open;
    side.meaning = holds ? Meaning::safe : Meaning::not_proved;
    side.word = holds ? "DEAD" : "NOT PROVED";
    side.line = cat(holds ? "Power, proved " : "Power, proof too old: ",
                    clock_text(state.proved.at));
  }
  tell_isolation(state, side);
  tell_readings(state, side);
  tell_rest(state, side);
  tell_loss(state, side);
  return side;
}

StripSide water_side(const State& state, std::int64_t now_ms, const Policy& policy) {
  StripSide side;
  side.word = "OPEN";
  side.line = "Water, taken as on";
  if (state.water == WaterState::on_for_test) {
    side.line = cat("Water, back on ", clock_text(state.water_back.at));
  } else if (state.water == WaterState::shut) {
    side.symbol = Symbol::open;
    side.meaning = Meaning::not_proved;
    side.word = "SHUT";
    side.line = cat("Water, not relieved, shut ", clock_text(state.shut.at));
  } else if (state.water == WaterState::relieved) {
    const bool holds = water_off(state, now_ms, policy);
    side.symbol = holds ? Symbol::crossed : Symbol::open;
    side.meaning = holds ? Meaning::safe : Meaning::not_proved;
    side.word = "SHUT";
    side.line = cat(holds ? "Water, relieved " : "Water, proof too old: ",
                    clock_text(state.relieved.at));
  }
  if (state.shut.holds()) {
    const std::string valve = state.valve.empty() ? std::string("Valve") : state.valve;
    side.evidence.push_back(cat(valve, " shut, ", by(state.shut)));
  }
  if (state.relieved.holds()) {
    side.evidence.push_back(cat("Pressure off, sump empty, ", by(state.relieved)));
  }
  tell_loss(state, side);
  return side;
}

}  // namespace

Strip summarise(const State& state, std::int64_t now_ms, const Policy& policy) {
  return Strip{power_side(state, now_ms, policy), water_side(state, now_ms, policy)};
}

}  // namespace kp::safety
