#include "safety/gate.hpp"

namespace kp::safety {

const char* words(EventKind kind) {
  static const char* const names[kEventKinds] = {
      "prepared",      "stopped",        "isolated",       "controls-tried", "reading",
      "prove-restarted", "water-shut",   "water-relieved", "charge-gone",    "cooled",
      "secured",       "posture-changed", "helpers-here",  "step-done",      "inspected",
      "panels-set",    "people-clear",   "lock-removed",   "power-restored", "water-restored",
      "tag-hung",      "ended",          "power-found-on", "water-found-on", "re-energised",
      "left-alone",    "taken-over",     "resumed",        "clock-doubted",  "reopened"};
  return names[static_cast<int>(kind)];
}

const char* words(VoidCause cause) {
  switch (cause) {
    case VoidCause::none: return "";
    case VoidCause::power_back: return "power put back";
    case VoidCause::water_back: return "water put back";
    case VoidCause::found_live: return "power found on";
    case VoidCause::found_wet: return "water found on";
    case VoidCause::left_alone: return "left alone";
    case VoidCause::taken_over: return "another person took over";
    case VoidCause::paused: return "paused too long";
    case VoidCause::re_energised: return "a part put energy back";
    case VoidCause::clock_doubt: return "time in doubt";
    case VoidCause::meter_says_live: return "the meter shows live";
    case VoidCause::controls_answered: return "the machine answered";
    case VoidCause::lock_off: return "lock taken off";
    case VoidCause::unit_differs: return "supply is of another kind";
    case VoidCause::new_visit: return "new visit";
  }
  return "";
}

const char* words(Ending ending) {
  static const char* const names[] = {"not ended", "repaired", "no fault found",
                                      "waiting for parts", "not to be used"};
  return names[static_cast<int>(ending)];
}

bool is_fact(EventKind kind) { return kind >= EventKind::power_found_on; }

}  // namespace kp::safety
