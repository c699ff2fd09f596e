#include "job/safety_words.hpp"

#include "safety/gate.hpp"

namespace kp::job {

const std::vector<std::string>& act_words() {
  static const std::vector<std::string> words = [] {
    std::vector<std::string> out;
    for (int kind = 0; kind < safety::kEventKinds; ++kind) {
      out.emplace_back(safety::words(static_cast<safety::EventKind>(kind)));
    }
    return out;
  }();
  return words;
}

const std::vector<std::string>& means_words() {
  static const std::vector<std::string> words = {
      "unplugged-in-sight", "breaker-locked",   "fused-spur-locked",
      "door-switch",        "cycle-button",     "panel-off",
      "timer-off",          "breaker-unlocked", "wall-switch",
      "residual-current-button", "unplugged-out-of-sight", "remote-off",
      "word-of-another"};
  return words;
}

const std::vector<std::string>& station_words() {
  static const std::vector<std::string> words = {"known-before", "line-neutral", "line-earth",
                                                 "neutral-earth", "known-after"};
  return words;
}

const std::vector<std::string>& function_words() {
  static const std::vector<std::string> words = {
      "volts-ac", "volts-ac-low-impedance", "two-pole-detector", "volts-dc", "ohms",
      "diode",    "amperes",                "non-contact",       "solenoid"};
  return words;
}

}  // namespace kp::job
