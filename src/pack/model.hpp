#pragma once
// pack: the model of one machine architecture as data, its reader and its checker.
// It knows what a machine is made of; it plans nothing, draws nothing and forbids nothing.

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/money.hpp"
#include "pack/measure.hpp"
#include "pack/supply.hpp"

namespace kp::pack {

enum class JointKind {
  screw, nut, clip, hose_clamp, plug, spade, snap, quarter_turn, spring, slide, knob, tape
};

struct About {
  std::string maker;        ///< invented
  std::string title;        ///< "Pump module, fixed riser"
  std::string summary;
  std::string thumbnail;    ///< drawing id of the whole machine
  std::string basis;        ///< where the figures come from: "common practice, no source"
  std::string version;
  std::string date;
};

/// How a rating plate of this architecture reads. In a pattern '#' is one digit, '@' one letter,
/// '*' any rest; everything else stands for itself; blanks and hyphens are ignored in matching.
struct Plate {
  std::string pattern;
  std::string range;        ///< shown to people: "QN 410 to 430"
  std::string where;        ///< "Top edge of the door, with the door open"
};

/// A posture of the unit: in its place, door open, pulled out, on its back.
struct Position {
  std::string id;
  std::string title;        ///< "On its back"
  std::string drawing;
  std::string instruction;  ///< how the unit stays safe in this posture
  bool door_open = false;
  bool propped = false;     ///< the open door stands on a block, or a named helper holds it
  bool upright = true;
};

struct PositionChange {
  int from = 0;
  int to = 0;
  int seconds = 0;
  int people = 1;
  std::string instruction;            ///< one sentence
  std::string caution;                ///< may be empty
  std::vector<Contact> contacts;
  std::vector<int> needs_released;    ///< joints that hold the unit back
  std::vector<int> needs_removed;     ///< parts that would fall or roll out
};

struct Tool {
  std::string id;
  std::string title;
  int change_seconds = 0;   ///< to put the old tool down and take this one
};

/// A part comes away when every joint that holds it (holding_joints in pack/reach.hpp) is released,
/// one alternative of `behind` is away and the unit is in one of `positions`.
struct Part {
  std::string id;
  std::string name;
  std::string drawing;                ///< id of an SVG in assets/parts
  int inside = -1;                    ///< the assembly it comes away with, -1: none
  bool removable = true;              ///< tub and frame are not
  double home_x = 0, home_y = 0;      ///< where the drawing's origin stands, see pack/words.hpp
  double away_x = 0, away_y = -1;     ///< unit direction in which it comes away
  double mass_kg = 0;
  int seconds = 0;                    ///< to lift it away once free
  std::vector<int> positions;         ///< where it can come away; empty: in every one
  Access behind;
  std::vector<Contact> contacts;
  std::string remove;                 ///< "Lift the hub cap off."
  std::string refit;                  ///< "Set the hub cap on the arm."
  std::string caution;
  std::string why;                    ///< for the trainee
  std::vector<int> refit_checks;
  std::string stock;                  ///< invented stock number, empty: not sold alone
  std::int64_t price_minor = 0;
};

struct Joint {
  std::string id;
  std::string name;                   ///< "Toe panel screws"
  JointKind kind = JointKind::screw;
  std::string drawing;                ///< fastener drawing, may be empty
  std::vector<int> parts;             ///< what it fastens together, one or two parts
  int count = 1;
  int tool = 0;
  int seconds_each = 0;
  double x = 0, y = 0;                ///< in drawing units, the assembled machine
  std::vector<int> positions;         ///< where it can be reached; empty: in every one
  Access behind;
  /// Joints that must be loose before this one is released, and still when it is fastened.
  std::vector<int> needs_released;
  std::vector<Contact> contacts;
  std::string release;                ///< "Undo the two toe panel screws."
  std::string fasten;                 ///< "Fasten the two toe panel screws."
  std::string caution;
  std::string why;
  std::vector<int> refit_checks;
  bool against_tipping = false;       ///< keeps the unit from tipping when its door is open
};

/// A check that matters only on the way back: seated, snapped, lubricated, not trapped.
struct RefitCheck {
  std::string id;
  std::string title;                  ///< "Ring sits all round"
  std::string how;
};

/// One architecture. All int members that name a thing are indices into the lists here.
struct Pack {
  int format = 1;
  std::string id;
  About about;
  std::string currency = "USD";
  std::vector<Plate> plates;
  std::vector<std::string> features;  ///< what one can see when the plate cannot be read
  Supply supply;
  Water water;
  std::vector<Position> positions;    ///< the first is where the unit is found
  std::vector<PositionChange> changes;
  std::vector<Tool> tools;            ///< the first is the bare hand
  std::vector<Part> parts;
  std::vector<Joint> joints;
  std::vector<RefitCheck> refit_checks;
  Circuit circuit;
  /// A repair this likely to mend is proposed without more tests; 0.95 is ours, no source.
  double confidence = 0.95;
  std::vector<Fault> faults;
  std::vector<Symptom> symptoms;
  std::vector<Test> tests;
  std::vector<ProveTest> prove_tests;

  /// Index of the thing of that id, or -1.
  [[nodiscard]] int part(std::string_view part_id) const;
  [[nodiscard]] int joint(std::string_view joint_id) const;
  [[nodiscard]] int position(std::string_view position_id) const;
  [[nodiscard]] int tool(std::string_view tool_id) const;
  [[nodiscard]] int symptom(std::string_view symptom_id) const;
  [[nodiscard]] int fault(std::string_view fault_id) const;
  [[nodiscard]] int test(std::string_view test_id) const;
  [[nodiscard]] int prove_test(std::string_view test_id) const;
};

/// The words of an enumerator, as they stand in a pack: "stored-charge", "hose-clamp".
[[nodiscard]] const std::vector<std::string>& contact_words();
[[nodiscard]] const std::vector<std::string>& joint_kind_words();
[[nodiscard]] const std::vector<std::string>& connection_words();
[[nodiscard]] const std::vector<std::string>& system_words();
[[nodiscard]] const std::vector<std::string>& probe_words();
[[nodiscard]] const std::vector<std::string>& element_kind_words();
[[nodiscard]] const std::vector<std::string>& moved_by_words();
/// Those of Effect but for the first, which is said by leaving it out.
[[nodiscard]] const std::vector<std::string>& effect_words();
[[nodiscard]] const std::vector<std::string>& prove_when_words();
/// Those of NeedsLive and ProveItem but for the first, which is said by leaving it out.
[[nodiscard]] const std::vector<std::string>& needs_live_words();
[[nodiscard]] const std::vector<std::string>& prove_item_words();
[[nodiscard]] const std::vector<std::string>& leave_out_words();

}  // namespace kp::pack
