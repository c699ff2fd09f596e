#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "base/time.hpp"
#include "safety/energy.hpp"
#include "safety/means.hpp"
#include "safety/reading.hpp"

namespace kp::safety {

/// Electricity of the supply. `live` is where everything begins and where every doubt leads.
/// Approach is no value of its own: it is `held`, tried, with the water shut, still treated as live.
enum class Power { live, isolated, held, supply_dead, on };
enum class Water { open, shut, relieved, holding, static_on, run };

/// How a visit ends.
enum class Ending { none, repaired, no_fault, waiting_for_parts, not_to_be_used };

/// Why a proof no longer holds.
enum class Loss {
  none, power_back, water_back, found_live, found_wet, left, handed_over, gap, clock_doubt,
  meter_says_live, controls_answered, lock_off, lock_found_off, unit_differs, new_visit, seeps,
  device_opened, series_failed
};
inline constexpr int kLosses = 18;
[[nodiscard]] const char* words(Loss loss);    ///< "lock-off", as journals say it
[[nodiscard]] const char* title(Loss loss);    ///< "lock taken off", for people

/// When, by whom and in which record something was shown. No record: it is not shown.
struct Stamp {
  std::int64_t event = 0;
  Moment at;
  std::int64_t mono_ms = 0;
  std::string person;
  [[nodiscard]] bool holds() const { return event != 0; }
  friend bool operator==(const Stamp&, const Stamp&) = default;
};

/// Now, by both clocks: the wall's and one that nobody can set.
struct Now {
  std::int64_t utc_ms = 0;
  std::int64_t mono_ms = 0;
};
/// The age of a proof: the greater of both clocks.
[[nodiscard]] std::int64_t age_ms(const Stamp& stamp, Now now);

struct Lock {
  std::string id;
  std::string owner;
  Stamp put_on;
  bool foreign = false;   ///< found here, not put on in this job
  friend bool operator==(const Lock&, const Lock&) = default;
};

/// What was shown of one group of conductors since power was last live.
struct GroupProof {
  std::string id;
  Stamp dead;
  Stamp discharged;
  double dc_volts = 0;
  friend bool operator==(const GroupProof&, const GroupProof&) = default;
};

/// What the try of the controls told. A machine that did nothing before tells nothing now.
enum class Tried { no, still, tells_nothing };

/// Something that went wrong and hurt nobody. It stands in the record for ever.
struct NearMiss {
  std::string code;       ///< "live-on-isolated", "controls-answered"
  Stamp stamp;
  friend bool operator==(const NearMiss&, const NearMiss&) = default;
};

/// All that the gate stands on: the fold of the facts, starting from State{}. Nothing here knows a
/// part: what a machine has open is told to the gate with each question (ask.hpp).
struct State {
  Stamp prepared;
  Connection connection = Connection::fixed;
  System system = System::single;
  double volts = 120;              ///< line to neutral
  bool built_in = true;
  bool frame_first = false;        ///< bare metal is read before it is touched
  EnergySet energies = 0;
  std::string worker;              ///< whose proofs these are
  Stamp stopped;
  bool ran = true;                 ///< the machine did something before it was stopped
  Stamp frame_nil;                 ///< bare metal was read before it was touched
  bool frame_live = false;         ///< it was read, was not nil, and was not read nil since

  Power power = Power::live;
  bool exposed = false;            ///< found live with covers off
  Means means = Means::word_of_another;
  Stamp isolated;
  Control control = Control::in_hand;
  std::string lock;                ///< the one that holds this isolation
  Stamp held;
  std::vector<Lock> locks;         ///< still hanging, whoever put them on
  Tried tried = Tried::no;
  std::int64_t walk_ms = 0;        ///< from the isolating means to the machine, as timed once
  Stamp tried_at;
  Series series;                   ///< that runs or ran last
  Stamp supply_dead;
  std::vector<GroupProof> groups;
  Stamp neutral_quiet;             ///< no current in the house's neutral: no other line shares it
  Stamp barred;                    ///< a cover or bar in front of what is open
  Stamp power_back;
  bool device_opened = false;      ///< a protective device opened, and nothing was read since

  Water water = Water::open;
  std::string valve;
  Stamp shut;
  Stamp relieved;
  Stamp tight;                     ///< under pressure no joint dripped, none was opened since
  Stamp holding;
  Stamp water_back;

  std::vector<std::string> cooled_places;
  Stamp cooled;
  double celsius = 0;
  std::string secured_position;    ///< the unit's position for which it was secured
  Stamp secured;
  Stamp propped;                   ///< for this step only
  int people = 1;                  ///< for this step only, the worker counted
  std::vector<std::string> helpers;   ///< named in this job

  // Giving back: 29 CFR 1910.333(b)(2)(v), in this order.
  Stamp inspected;
  Stamp warned;
  Stamp locks_off;                 ///< the first lock went, or the plug was taken to its outlet
  Stamp looked;
  Stamp last_hands_in;

  bool gap_open = false;           ///< nobody has said yet what happened while the screen was dark
  std::int64_t gap_ms = 0;
  Stamp gap_at;

  std::string tag;
  Stamp tagged;
  Ending ending = Ending::none;
  Stamp ended;

  std::vector<NearMiss> near_misses;
  Loss lost = Loss::none;          ///< why the last proof was lost
  Stamp lost_at;
  Moment newest;
  std::int64_t newest_event = 0;

  [[nodiscard]] const GroupProof* group(const std::string& id) const;
  friend bool operator==(const State&, const State&) = default;
};

[[nodiscard]] bool is_held(const State& state);
[[nodiscard]] bool is_shut(const State& state);

/// Held, tried, water shut, and not proved: covers on the way to a point of proof may come off.
[[nodiscard]] bool in_approach(const State& state);

/// The isolation stays held when this lock goes: it is another's, giving back has not begun, and
/// the worker's own hangs on. 29 CFR 1910.147(f)(3)(ii)(D), (f)(4).
[[nodiscard]] bool stays_held(const State& state, const std::string& lock);

}  // namespace kp::safety
