// table: the words of format 1, stored and for people.
#include "base/text.hpp"
#include "job/format1.hpp"

namespace kp::job::format1 {

namespace {

constexpr const char* kActTitles[] = {
    "Energies known", "Stopped by its control", "Isolated", "Controls tried", "Reading",
    "Proving begun again", "Water shut", "Pressure off and sump emptied", "Charge gone", "Cooled",
    "Secured", "Position changed", "Helpers", "Step done", "Area inspected, tools counted",
    "Panels set for the run", "Hands clear, people told", "Lock taken off", "Power put back",
    "Water put back", "Tag hung", "Ended", "Power found on", "Water found on",
    "A part put energy back", "Left alone", "Taken over", "Gone on", "Time in doubt",
    "Opened again"};

constexpr const char* kMeansTitles[] = {
    "plug out, in sight", "breaker off and locked", "fused spur off and locked", "door open",
    "cycle cancelled", "off at the console", "timer at off", "breaker off, no lock",
    "wall switch off", "test button pressed", "plug out, not in sight", "off by remote control",
    "somebody says it is off"};

constexpr const char* kStationTitles[] = {"Known live point", "Line to neutral", "Line to earth",
                                          "Neutral to earth", "Known live point again"};

std::string about(const char* word, const std::string& text) {
  return text.empty() ? std::string() : cat(", ", word, " ", text);
}

std::string read_with(const Said& said) {
  return cat(number_text(said.volts), " V, ", safety::words(said.function),
             said.meter.empty() ? "" : " ", said.meter);
}

std::string title(Act act) { return kActTitles[static_cast<int>(act)]; }

}  // namespace

const std::vector<std::string>& act_words() {
  static const std::vector<std::string> words = {
      "prepared",        "stopped",         "isolated",       "controls-tried", "reading",
      "prove-restarted", "water-shut",      "water-relieved", "charge-gone",    "cooled",
      "secured",         "posture-changed", "helpers-here",   "step-done",      "inspected",
      "panels-set",      "people-clear",    "lock-removed",   "power-restored", "water-restored",
      "tag-hung",        "ended",           "power-found-on", "water-found-on", "re-energised",
      "left-alone",      "taken-over",      "resumed",        "clock-doubted",  "reopened"};
  return words;
}

const std::vector<std::string>& means_words() {
  static const std::vector<std::string> words = {
      "unplugged-in-sight",      "breaker-locked",         "fused-spur-locked",
      "door-switch",             "cycle-button",           "panel-off",
      "timer-off",               "breaker-unlocked",       "wall-switch",
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

std::string words_of(const Said& said) {
  const std::string note = about("note:", said.note);
  switch (said.act) {
    case Act::isolated:
      return cat(title(said.act), ": ", kMeansTitles[static_cast<int>(said.means)],
                 about("lock", said.lock), about("tag", said.tag));
    case Act::controls_tried:
      return cat(title(said.act), ": ", said.answered ? "it answered" : "nothing happened");
    case Act::reading:
      return cat(kStationTitles[static_cast<int>(said.station)], ": ", read_with(said));
    case Act::charge_gone:
      return cat(title(said.act), ": ", read_with(said));
    case Act::cooled:
      return cat(title(said.act), ": ", number_text(said.celsius), " °C");
    case Act::helpers_here:
    case Act::secured:
      return cat(title(said.act), ": ", said.people, said.people == 1 ? " person" : " people", note);
    case Act::lock_removed:
      return cat(title(said.act), about("lock", said.lock),
                 said.by_supervisor ? ", by the supervisor" : "");
    case Act::tag_hung:
      return cat(title(said.act), about("tag", said.tag));
    case Act::prepared:
    case Act::stopped:
    case Act::prove_restarted:
    case Act::water_shut:
    case Act::water_relieved:
    case Act::posture_changed:
    case Act::step_done:
    case Act::inspected:
    case Act::panels_set:
    case Act::people_clear:
    case Act::power_restored:
    case Act::water_restored:
    case Act::ended:
    case Act::power_found_on:
    case Act::water_found_on:
    case Act::re_energised:
    case Act::left_alone:
    case Act::taken_over:
    case Act::resumed:
    case Act::clock_doubted:
    case Act::reopened:
      return cat(title(said.act), note);
  }
  return {};
}

}  // namespace kp::job::format1
