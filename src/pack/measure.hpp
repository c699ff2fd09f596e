#pragma once

#include <optional>
#include <string>
#include <vector>

#include "pack/access.hpp"
#include "pack/circuit.hpp"

namespace kp::pack {

// What leads to the faulty part, and what proves the repair. All int members that name a thing are
// indices into the lists of the Pack.

struct Suspect {
  int part = 0;
  double weight = 0;                  ///< relative, > 0
  std::string fault;                  ///< "Heater open"
};

/// A complaint. Its chance with some faults in the machine is a noisy OR,
///   1 - (1 - leak) Π (1 - chance);  leak: it is heard without any of them.
struct Symptom {
  std::string id;
  std::string title;                  ///< the customer's words: "Dishes wet and cold"
  /// The likeliest first. Of a pack with faults they follow from `causes` when it is read: one a
  /// part, its weight in percent, by prior and chance, the words of its likeliest fault.
  std::vector<Suspect> suspects;
  double leak = 0;
  std::vector<Shows> causes;
};

/// How a test is made: by eye and ear, by a meter's setting, or with another instrument. Volts and
/// amperes are read with the power on.
enum class Probe { look, ohm, continuity, volt_live, volt_low_live, ampere_live, other };

/// Whether the power is on while it measures.
[[nodiscard]] inline bool is_live(Probe probe) {
  return probe == Probe::volt_live || probe == Probe::volt_low_live || probe == Probe::ampere_live;
}

/// Why a test is made with the power on, when dead would be safer.
enum class NeedsLive {
  none,
  supply_itself,          ///< whether the house supplies anything at all
  voltage_only_in_motion, ///< the voltage is there only while the programme runs
  current_under_load,     ///< amperes flow only while it runs
  movement,               ///< what moves is seen, heard or timed
  not_seen_dead           ///< a dead measurement reads good with this fault
};

/// A test in the Find stage. `low` and `high` bound what a good unit reads; equal: look only. A pack
/// that writes no `high` beside `low` has an infinite one: more is better, an open loop is good.
/// It can be made when the unit is in one of `positions` (empty: any), one alternative of `behind`
/// is away and all joints of `needs_released` are released.
///
/// A test on the circuit names two points, or what a clamp goes round. Then its unit, field,
/// positions and covers come from there when the pack is read, and its band from circuit::expect
/// (job::fill_bands); an infinite `high` means that an open loop is good.
/// Other tests give a sign, bad look or reading out of the band, with the chance of a noisy OR.
struct Test {
  std::string id;
  std::string title;                  ///< "Heater, A to B, in ohms"
  std::string how;
  int part = 0;
  Probe probe = Probe::look;
  std::string unit;
  double low = 0, high = 0;
  double field_low = 0, field_high = 0;  ///< what the field accepts at all
  int seconds = 0;
  std::vector<int> positions;
  Access behind;
  std::vector<int> needs_released;
  std::string caution;
  std::string source;                 ///< where the band comes from

  bool eyes = false;                  ///< a look that touches nothing; else hands touch the part
  std::optional<double> hot_at;       ///< °C: measured on purpose while the part is this hot
  NeedsLive needs_live = NeedsLive::none;
  bool static_water = false;          ///< looked at with the power dead and the water on

  int point_a = -1, point_b = -1;     ///< test points, -1: not on the circuit
  std::vector<int> clamped;           ///< elements that a clamp goes round
  bool running = false;               ///< the machine has power and runs meanwhile
  int step = -1;                      ///< of the programme, -1: off
  bool door_open = false;
  bool float_up = false;
  std::vector<int> buttons_out;       ///< push-buttons that are not pressed; all others are
  std::vector<int> off;               ///< elements parted for this test, beside released joints
  double celsius = 20;                ///< of the machine

  std::string good, bad;              ///< what is seen: "Dry", "It drips"
  double leak = 0;                    ///< chance of the bad sign without any of these faults
  std::vector<Shows> shows;

  [[nodiscard]] bool on_circuit() const { return point_a >= 0 || !clamped.empty(); }
  /// Made with the power on.
  [[nodiscard]] bool live() const { return running || is_live(probe); }
};

enum class ProveWhen { before_power, running, after };

/// Which test of a careful technician it is: B before power, A after it, numbered in the order of
/// the trade. What each asks: assets/schema/pack.schema.json.
enum class ProveItem {
  none,
  b1, b2, b3, b4, b5, b6, b7, b8, b9, b10,
  a1, a2, a3, a4, a5, a6, a7, a8, a9, a10, a11, a12, a13
};

/// Why a prove test may be left out of a job.
enum class LeaveOut {
  untouched,       ///< nothing of what it proves was opened, parted or exchanged
  cord,            ///< the machine has a plug
  no_wet_joint,    ///< no wet joint was opened, and the complaint is no leak
  board_forbids,   ///< the maker's board does not bear the test voltage
  no_safe_place,   ///< no place to measure without a live part being bare
  nobody_licensed, ///< it wants a licensed person
  not_fitted,      ///< the house or machine has no such device
  part_measured    ///< the part alone was measured with its leads off
};

/// A test after the repair. With a unit it takes a reading between low and high (at_most /
/// at_least: one bound only); without, it is looked at and confirmed.
struct ProveTest {
  std::string id;
  std::string title;
  std::string how;
  std::string source;                 ///< where the limit comes from
  ProveWhen when = ProveWhen::before_power;
  ProveItem item = ProveItem::none;
  std::vector<int> positions;         ///< where it can be made; empty: in every one
  Access behind;                      ///< what must be away for it; empty: made from outside
  std::vector<int> needs_released;    ///< joints that must be loose
  std::vector<int> needs_fastened;    ///< joints that must be fast
  int part = -1;                      ///< what it is made at, -1: the whole machine
  std::vector<int> points;            ///< test points that it is made at
  int wait_seconds = 0;               ///< the least time that it takes, by the clock
  std::vector<LeaveOut> leave_out;    ///< for what it may be left out; empty: never
  bool static_water = false;          ///< made with the power dead and the water on
  std::string unit;                   ///< empty: a look
  bool has_low = false, has_high = false;
  double low = 0, high = 0;
  double field_low = 0, field_high = 0;
  std::string caution;
};

}  // namespace kp::pack
