#pragma once
// A job told in short words: events numbered and timed one after the other.

#include <string>
#include <vector>

#include "safety/gate.hpp"

namespace kp::test {

class Story {
 public:
  explicit Story(safety::Policy policy = {}) : policy_(policy) {}

  /// Applies the event; true when it was accepted.
  bool tell(safety::Event event) {
    event.id = ++id_;
    event.at = {now_ms, 0};
    now_ms += 1000;
    if (event.person.empty()) {
      event.person = person;
    }
    refused = safety::refusals(state, event, policy_);
    state = safety::apply(state, event, policy_);
    return refused.empty();
  }
  bool tell(safety::EventKind kind) {
    safety::Event event;
    event.kind = kind;
    return tell(event);
  }
  bool prepare(safety::Connection connection) {
    safety::Event event;
    event.kind = safety::EventKind::prepared;
    event.connection = connection;
    event.energies = (1U << safety::kEnergies) - 1;
    return tell(event);
  }
  bool isolate(safety::Means means, const std::string& lock) {
    safety::Event event;
    event.kind = safety::EventKind::isolated;
    event.means = means;
    event.lock = lock;
    return tell(event);
  }
  bool read(safety::Station station, double volts,
            safety::MeterFunction function = safety::MeterFunction::volts_ac,
            const std::string& meter = "T1") {
    safety::Event event;
    event.kind = safety::EventKind::reading;
    event.station = station;
    event.volts = volts;
    event.function = function;
    event.meter = meter;
    return tell(event);
  }
  bool prove() {
    using safety::Station;
    const bool tried = tell(safety::EventKind::controls_tried);
    return tried && read(Station::known_before, 121) && read(Station::line_neutral, 0) &&
           read(Station::line_earth, 0) && read(Station::neutral_earth, 0) &&
           read(Station::known_after, 121);
  }
  bool water_off() {
    return tell(safety::EventKind::water_shut) && tell(safety::EventKind::water_relieved);
  }
  /// From nothing to an open gate on fixed wiring.
  bool make_safe() {
    return prepare(safety::Connection::fixed) && tell(safety::EventKind::stopped) &&
           isolate(safety::Means::breaker_locked, "L1") && water_off() && prove();
  }
  [[nodiscard]] safety::Verdict may(const safety::Demand& demand) const {
    return safety::permit(state, demand, now_ms, policy_);
  }
  [[nodiscard]] bool hands_in() const { return may(safety::Demand{}).allowed; }
  [[nodiscard]] bool was_refused_for(const std::string& code) const {
    return has(refused, code);
  }
  static bool has(const std::vector<safety::Reason>& reasons, const std::string& code) {
    for (const safety::Reason& reason : reasons) {
      if (reason.code == code) {
        return true;
      }
    }
    return false;
  }
  void wait(std::int64_t seconds) { now_ms += seconds * 1000; }

  safety::State state;
  std::int64_t now_ms = 1'700'000'000'000;
  std::string person = "Ana";
  std::vector<safety::Reason> refused;

 private:
  safety::Policy policy_;
  std::int64_t id_ = 0;
};

}  // namespace kp::test
