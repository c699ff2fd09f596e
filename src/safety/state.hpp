#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/time.hpp"
#include "safety/energy.hpp"
#include "safety/means.hpp"
#include "safety/prove_dead.hpp"

namespace kp::safety {

enum class PowerState { taken_as_live, isolated, proved_dead, live_for_test };
enum class WaterState { taken_as_on, shut, relieved, on_for_test };

/// How a visit ends.
enum class Ending { none, repaired, no_fault, waiting_for_parts, not_to_be_used };

/// Why a proof no longer holds.
enum class VoidCause {
  none, power_back, water_back, found_live, found_wet, left_alone, taken_over, paused,
  re_energised, clock_doubt, meter_says_live, controls_answered, lock_off, unit_differs, new_visit
};

/// When, by whom and in which event something was shown. No event: it is not shown.
struct Stamp {
  std::int64_t event = 0;
  Moment at;
  std::string person;
  [[nodiscard]] bool holds() const { return event != 0; }
  friend bool operator==(const Stamp&, const Stamp&) = default;
};

struct Lock {
  std::string id;
  std::string owner;
  Stamp put_on;
  friend bool operator==(const Lock&, const Lock&) = default;
};

enum class EventKind {
  prepared,          ///< connection, energies: the worker knows what is there (1.1 step 1)
  stopped,           ///< the machine stands idle, stopped by its normal control (step 2)
  isolated,          ///< means, lock, tag (steps 3 and 4)
  controls_tried,    ///< answered: whether the machine did anything
  reading,           ///< station, volts, function, meter
  prove_restarted,   ///< the sequence starts again at K1
  water_shut,        ///< note: which valve
  water_relieved,    ///< pressure off and sump emptied
  charge_gone,       ///< volts (DC), meter
  cooled,            ///< celsius of the hottest surface that hands meet
  secured,           ///< note: how the unit or load is held; people
  posture_changed,   ///< note: the new posture
  helpers_here,      ///< people: how many, the worker counted
  step_done,         ///< contacts, hands_in, running, people: a step was confirmed
  inspected,         ///< tools out, machine whole (release step 1)
  panels_set,        ///< panels as the pack says for a run
  people_clear,      ///< hands clear, people told (release step 2)
  lock_removed,      ///< lock, by_supervisor (release step 3)
  power_restored,    ///< power back for a run, for live measuring or for good
  water_restored,
  tag_hung,          ///< tag: left isolated for another visit
  ended,             ///< ending
  // Facts: never refused, because they have happened.
  power_found_on,
  water_found_on,
  re_energised,      ///< a refitted part put energy back
  left_alone,
  taken_over,        ///< person: the new worker
  resumed,           ///< away_seconds: how long the tool was closed or paused
  clock_doubted,
  reopened           ///< a further visit of an ended job
};
inline constexpr int kEventKinds = 30;

/// One thing that happened. Fields that its kind does not name are ignored.
struct Event {
  EventKind kind = EventKind::clock_doubted;
  std::int64_t id = 0;       ///< number in the journal, from 1, never falling
  Moment at;                 ///< as the job's clock decided
  std::string person;
  Connection connection = Connection::fixed;
  EnergySet energies = 0;
  Means means = Means::word_of_another;
  std::string lock;
  std::string tag;
  bool answered = false;
  Station station = Station::known_before;
  double volts = 0;
  MeterFunction function = MeterFunction::volts_ac;
  std::string meter;
  double celsius = 0;
  int people = 1;
  std::vector<Contact> contacts;
  bool hands_in = true;
  bool running = false;
  bool by_supervisor = false;
  std::int64_t away_seconds = 0;
  Ending ending = Ending::none;
  std::string note;
};

/// All that the gate stands on: the fold of the events, starting from State{}.
struct State {
  Stamp prepared;
  Connection connection = Connection::fixed;
  EnergySet energies = 0;
  std::string worker;              ///< whose proofs these are
  Stamp stopped;

  PowerState power = PowerState::taken_as_live;
  Means means = Means::word_of_another;
  std::string lock;                ///< the one that holds this isolation, empty for a plug
  Stamp isolated;
  std::vector<Lock> locks;         ///< still hanging, whoever put them on
  Stamp controls_tried;
  std::vector<Reading> readings;   ///< of the sequence that runs or that was last
  ProveVerdict verdict = ProveVerdict::unfinished;
  Stamp proved;
  Stamp power_back;                ///< last time power was put or found on

  WaterState water = WaterState::taken_as_on;
  std::string valve;
  Stamp shut;
  Stamp relieved;
  Stamp water_back;

  Stamp charge_gone;
  double charge_volts = 0;
  Stamp cooled;
  double celsius = 0;
  Stamp secured;
  std::string posture;
  int people = 1;

  Stamp inspected;
  Stamp panels_set;
  Stamp people_clear;
  Stamp last_hands_in;             ///< last hands-in step, for the inspection that must follow
  std::vector<std::int64_t> stood_on;  ///< proofs of the last accepted step

  std::string tag;
  Stamp tagged;
  Ending ending = Ending::none;
  Stamp ended;

  VoidCause lost = VoidCause::none;  ///< why the last proof was lost
  Stamp lost_at;
  Moment newest;                     ///< time of the newest event
  std::int64_t newest_event = 0;
  friend bool operator==(const State&, const State&) = default;
};

}  // namespace kp::safety
