#pragma once

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

/// A test in the Find stage. `low` and `high` bound what a good unit reads; equal: look only.
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
};

enum class ProveWhen { before_power, running, after };

/// A test after the repair. With a unit it takes a reading between low and high (at_most /
/// at_least: one bound only); without, it is looked at and confirmed.
struct ProveTest {
  std::string id;
  std::string title;
  std::string how;
  std::string source;                 ///< where the limit comes from
  ProveWhen when = ProveWhen::before_power;
  std::string unit;                   ///< empty: a look
  bool has_low = false, has_high = false;
  double low = 0, high = 0;
  double field_low = 0, field_high = 0;
  std::string caution;
};

}  // namespace kp::pack
