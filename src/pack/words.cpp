#include "pack/words.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "pack/model.hpp"

namespace kp::pack {
namespace {

template <class Thing>
int index_of(const std::vector<Thing>& things, std::string_view id) {
  const auto at = std::find_if(things.begin(), things.end(),
                               [id](const Thing& thing) { return thing.id == id; });
  return at == things.end() ? -1 : static_cast<int>(at - things.begin());
}

}  // namespace

// Each list stands in the order of its enumeration: the place of a word is its value.

const std::vector<std::string>& contact_words() {
  static const std::vector<std::string> words = {"live", "stored-charge", "wet",   "hot",
                                                 "sharp", "sprung",       "heavy", "fragile"};
  return words;
}

const std::vector<std::string>& joint_kind_words() {
  static const std::vector<std::string> words = {
      "screw", "nut",          "clip",   "hose-clamp", "plug", "spade",
      "snap",  "quarter-turn", "spring", "slide",      "knob", "tape"};
  return words;
}

const std::vector<std::string>& connection_words() {
  static const std::vector<std::string> words = {"cord", "fixed"};
  return words;
}

const std::vector<std::string>& system_words() {
  static const std::vector<std::string> words = {"single", "split"};
  return words;
}

const std::vector<std::string>& probe_words() {
  static const std::vector<std::string> words = {"look",           "ohm",         "continuity", "volt-live",
                                                 "volt-low-live", "ampere-live", "other"};
  return words;
}

const std::vector<std::string>& element_kind_words() {
  static const std::vector<std::string> words = {
      "resistor",   "heater", "coil",   "capacitor",   "winding",     "fuse",          "thermostat",
      "ntc",        "ptc",    "switch", "push-button", "cam-contact", "relay-contact", "triac",
      "connector",  "wire"};
  return words;
}

const std::vector<std::string>& moved_by_words() {
  static const std::vector<std::string> words = {"hand", "door-shut", "float-up"};
  return words;
}

const std::vector<std::string>& effect_words() {
  static const std::vector<std::string> words = {"open",         "shorted", "high-joint", "stuck-open",
                                                 "stuck-closed", "drifted", "earth-leak"};
  return words;
}

const std::vector<std::string>& prove_when_words() {
  static const std::vector<std::string> words = {"before-power", "running", "after"};
  return words;
}

const std::vector<std::string>& needs_live_words() {
  static const std::vector<std::string> words = {"supply-itself", "voltage-only-in-motion",
                                                 "current-under-load", "movement",
                                                 "not-seen-dead"};
  return words;
}

const std::vector<std::string>& prove_item_words() {
  static const std::vector<std::string> words = {
      "B1", "B2", "B3", "B4", "B5", "B6", "B7", "B8",  "B9",  "B10", "A1", "A2",
      "A3", "A4", "A5", "A6", "A7", "A8", "A9", "A10", "A11", "A12", "A13"};
  return words;
}

const std::vector<std::string>& leave_out_words() {
  static const std::vector<std::string> words = {
      "untouched",     "cord",            "no-wet-joint", "board-forbids",
      "no-safe-place", "nobody-licensed", "not-fitted",   "part-measured"};
  return words;
}

const std::vector<AwayWord>& away_directions() {
  static const std::vector<AwayWord> words = {{"up", 0, -1},  {"down", 0, 1},
                                              {"left", -1, 0}, {"right", 1, 0},
                                              {"forward", -1, 0}, {"back", 1, 0}};
  return words;
}

const std::vector<std::string>& away_words() {
  static const std::vector<std::string> words = {"up", "down", "left", "right", "forward", "back"};
  return words;
}

std::string quoted_list(const std::vector<std::string>& words) {
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) {
      out += i + 1 == words.size() ? " and " : ", ";
    }
    out += cat("\"", words[i], "\"");
  }
  return out;
}

int Pack::part(std::string_view part_id) const { return index_of(parts, part_id); }
int Pack::joint(std::string_view joint_id) const { return index_of(joints, joint_id); }
int Pack::position(std::string_view position_id) const { return index_of(positions, position_id); }
int Pack::tool(std::string_view tool_id) const { return index_of(tools, tool_id); }
int Pack::symptom(std::string_view symptom_id) const { return index_of(symptoms, symptom_id); }
int Pack::fault(std::string_view fault_id) const { return index_of(faults, fault_id); }
int Pack::test(std::string_view test_id) const { return index_of(tests, test_id); }
int Pack::prove_test(std::string_view test_id) const { return index_of(prove_tests, test_id); }

int Circuit::node(std::string_view node_id) const {
  const auto at = std::find(nodes.begin(), nodes.end(), node_id);
  return at == nodes.end() ? -1 : static_cast<int>(at - nodes.begin());
}
int Circuit::element(std::string_view element_id) const { return index_of(elements, element_id); }
int Circuit::point(std::string_view point_id) const { return index_of(points, point_id); }
int Circuit::step(std::string_view step_id) const { return index_of(programme.steps, step_id); }

int Circuit::terminal(int part, std::string_view terminal) const {
  const auto at = std::find_if(elements.begin(), elements.end(), [&](const Element& element) {
    return element.part == part && element.terminal == terminal && !terminal.empty();
  });
  return at == elements.end() ? -1 : static_cast<int>(at - elements.begin());
}

}  // namespace kp::pack
