// table: what happens to the energies of a machine, one struct a fact.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "safety/act.hpp"
#include "safety/state.hpp"

namespace kp::safety {

// Each fact holds what its kind has and nothing else, in codes and numbers. `fields` lists the
// members once for writing and reading; the names are part of the stored format.

/// What the worker knows before the first touch: the supply as found, the energies.
struct Prepared {
  static constexpr const char* kKind = "prepared";
  static constexpr Act kAct = Act::prepare;
  Connection connection = Connection::fixed;
  System system = System::single;
  double volts = 120;
  bool built_in = true;
  /// Tingle, trip, water below, or no protective earth found: the frame is read before it is touched.
  bool frame_first = false;
  EnergySet energies = 0;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("connection", s.connection), v("system", s.system), v("volts", s.volts),
        v("builtIn", s.built_in), v("frameFirst", s.frame_first), v("energies", s.energies);
  }
};

/// Stopped by its normal control. `ran`: it did something before.
struct Stopped {
  static constexpr const char* kKind = "stopped";
  static constexpr Act kAct = Act::stop;
  bool ran = true;
  template <class S, class V>
  static void fields(S& s, V& v) { v("ran", s.ran); }
};

/// Bare metal against a known earth, before the first touch.
struct FrameRead {
  static constexpr const char* kKind = "frame-read";
  static constexpr Act kAct = Act::read_frame;
  Shown shown;
  MeterFunction function = MeterFunction::two_pole_detector;
  std::string tester;
  Found found = Found::nil;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("noneLit", s.shown.none_lit), v("volts", s.shown.volts), v("function", s.function),
        v("tester", s.tester), v("found", s.found);
  }
};

struct Isolated {
  static constexpr const char* kKind = "isolated";
  static constexpr Act kAct = Act::isolate;
  Means means = Means::word_of_another;
  template <class S, class V>
  static void fields(S& s, V& v) { v("means", s.means); }
};

struct HeldFast {
  static constexpr const char* kKind = "held";
  static constexpr Act kAct = Act::hold;
  Control control = Control::in_hand;
  std::string lock, tag;
  std::string measure;   ///< the one more measure, where no lock fits
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("control", s.control), v("lock", s.lock), v("tag", s.tag), v("measure", s.measure);
  }
};

struct WaterShut {
  static constexpr const char* kKind = "water-shut";
  static constexpr Act kAct = Act::shut_water;
  std::string valve;     ///< the pack's words or the person's
  template <class S, class V>
  static void fields(S& s, V& v) { v("valve", s.valve); }
};

enum class Answer { nothing, answered, tells_nothing };
inline constexpr int kAnswers = 3;
[[nodiscard]] const char* words(Answer answer);

struct ControlsTried {
  static constexpr const char* kKind = "controls-tried";
  static constexpr Act kAct = Act::try_controls;
  Answer answer = Answer::nothing;
  template <class S, class V>
  static void fields(S& s, V& v) { v("answer", s.answer); }
};

/// One reading of a series. `proves`: with it everything at the place is shown.
struct ReadingTaken {
  static constexpr const char* kKind = "reading";
  static constexpr Act kAct = Act::reading;
  std::string place;
  Role role = Role::known_before;
  std::string a, b;
  Shown shown;
  MeterFunction function = MeterFunction::two_pole_detector;
  std::string tester;
  Source source = Source::outlet;   ///< for a known source
  double band_low = 0, band_high = 0;
  Found found = Found::nil;
  bool proves = false;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("place", s.place), v("role", s.role), v("a", s.a), v("b", s.b),
        v("noneLit", s.shown.none_lit), v("value", s.shown.volts), v("function", s.function),
        v("tester", s.tester), v("source", s.source), v("bandLow", s.band_low),
        v("bandHigh", s.band_high), v("found", s.found), v("proves", s.proves);
  }
};

struct SeriesRestarted {
  static constexpr const char* kKind = "series-restarted";
  static constexpr Act kAct = Act::restart_series;
  template <class S, class V>
  static void fields(S&, V&) {}
};

struct Discharged {
  static constexpr const char* kKind = "discharged";
  static constexpr Act kAct = Act::discharge;
  std::string place;
  double ohm = 0;
  int seconds = 0;
  double dc_volts = 0;   ///< left after it
  std::string tester;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("place", s.place), v("ohm", s.ohm), v("seconds", s.seconds), v("dcVolts", s.dc_volts),
        v("tester", s.tester);
  }
};

/// A clamp around the neutral of the house, before it is parted: current there is another line's,
/// which shares it. `quiet` is what the reading says.
struct NeutralRead {
  static constexpr const char* kKind = "neutral-read";
  static constexpr Act kAct = Act::read_neutral;
  double amperes = 0;
  MeterFunction function = MeterFunction::amperes;
  std::string tester;
  bool quiet = false;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("amperes", s.amperes), v("function", s.function), v("tester", s.tester), v("quiet", s.quiet);
  }
};

/// Pressure off and sump emptied. `joints` came loose for it.
struct Relieved {
  static constexpr const char* kKind = "relieved";
  static constexpr Act kAct = Act::relieve;
  std::vector<std::string> joints;
  template <class S, class V>
  static void fields(S& s, V& v) { v("joints", s.joints); }
};

struct Watched {
  static constexpr const char* kKind = "watched";
  static constexpr Act kAct = Act::watch;
  bool dry = true;
  template <class S, class V>
  static void fields(S& s, V& v) { v("dry", s.dry); }
};

struct Cooled {
  static constexpr const char* kKind = "cooled";
  static constexpr Act kAct = Act::cool;
  std::string place;
  double celsius = 0;
  template <class S, class V>
  static void fields(S& s, V& v) { v("place", s.place), v("celsius", s.celsius); }
};

enum class Support { block, strap, person };
inline constexpr int kSupports = 3;
[[nodiscard]] const char* words(Support support);

struct Secured {
  static constexpr const char* kKind = "secured";
  static constexpr Act kAct = Act::secure;
  std::string position;
  Support how = Support::block;
  template <class S, class V>
  static void fields(S& s, V& v) { v("position", s.position), v("how", s.how); }
};

/// The open door of a loose machine, for the next step only.
struct Propped {
  static constexpr const char* kKind = "propped";
  static constexpr Act kAct = Act::prop;
  Support how = Support::block;
  std::string helper;
  template <class S, class V>
  static void fields(S& s, V& v) { v("how", s.how), v("helper", s.helper); }
};

/// For the next step only. The worker counts.
struct HelperHere {
  static constexpr const char* kKind = "helper-here";
  static constexpr Act kAct = Act::call_helper;
  int people = 2;
  std::string name;
  template <class S, class V>
  static void fields(S& s, V& v) { v("people", s.people), v("name", s.name); }
};

struct Inspected {
  static constexpr const char* kKind = "inspected";
  static constexpr Act kAct = Act::inspect;
  template <class S, class V>
  static void fields(S&, V&) {}
};
struct Warned {
  static constexpr const char* kKind = "warned";
  static constexpr Act kAct = Act::warn;
  std::vector<std::string> people;
  template <class S, class V>
  static void fields(S& s, V& v) { v("people", s.people); }
};
struct LockOff {
  static constexpr const char* kKind = "lock-off";
  static constexpr Act kAct = Act::lock_off;
  std::string lock;      ///< empty: the plug, taken to its outlet
  template <class S, class V>
  static void fields(S& s, V& v) { v("lock", s.lock); }
};
struct LookedClear {
  static constexpr const char* kKind = "looked-clear";
  static constexpr Act kAct = Act::look_clear;
  template <class S, class V>
  static void fields(S&, V&) {}
};
struct PowerOn {
  static constexpr const char* kKind = "power-on";
  static constexpr Act kAct = Act::power_on;
  template <class S, class V>
  static void fields(S&, V&) {}
};
struct WaterOn {
  static constexpr const char* kKind = "water-on";
  static constexpr Act kAct = Act::water_on;
  bool still = false;    ///< for the static leak test, the power dead
  template <class S, class V>
  static void fields(S& s, V& v) { v("still", s.still); }
};

struct TagHung {
  static constexpr const char* kKind = "tag-hung";
  static constexpr Act kAct = Act::tag;
  std::string tag;
  template <class S, class V>
  static void fields(S& s, V& v) { v("tag", s.tag); }
};

/// An open machine before it is left: a cover or bar in front, ends capped where they are proved dead.
struct OpeningsBarred {
  static constexpr const char* kKind = "openings-barred";
  static constexpr Act kAct = Act::bar_openings;
  std::vector<std::string> loose, away;   ///< joints and parts, by the pack's ids
  template <class S, class V>
  static void fields(S& s, V& v) { v("loose", s.loose), v("away", s.away); }
};

/// A new lock is on before the old one comes off; the new person proves again.
struct HandedOn {
  static constexpr const char* kKind = "handed-on";
  static constexpr Act kAct = Act::hand_over;
  std::string person;
  std::string lock;      ///< of the new person, may be empty where no lock held it
  template <class S, class V>
  static void fields(S& s, V& v) { v("person", s.person), v("lock", s.lock); }
};

// What has happened is never refused.

enum class Doubt {
  power_found_on, water_found_on, lock_found_off, sight_lost, left, clock_doubted, device_opened
};
inline constexpr int kDoubts = 7;
[[nodiscard]] const char* words(Doubt doubt);   ///< "power-found-on"

struct Doubted {
  static constexpr const char* kKind = "doubted";
  Doubt what = Doubt::clock_doubted;
  template <class S, class V>
  static void fields(S& s, V& v) { v("what", s.what); }
};

struct ForeignLock {
  static constexpr const char* kKind = "foreign-lock";
  std::string lock, owner;
  template <class S, class V>
  static void fields(S& s, V& v) { v("lock", s.lock), v("owner", s.owner); }
};

enum class Stayed { here, left_locked, unknown };
inline constexpr int kStayed = 3;
[[nodiscard]] const char* words(Stayed stayed);

/// What happened in a gap: dark, paused and closed are one thing.
struct GapAnswered {
  static constexpr const char* kKind = "gap-answered";
  Stayed stayed = Stayed::unknown;
  template <class S, class V>
  static void fields(S& s, V& v) { v("stayed", s.stayed); }
};

using Fact = std::variant<Prepared, Stopped, FrameRead, Isolated, HeldFast, WaterShut,
                          ControlsTried, ReadingTaken, SeriesRestarted, Discharged, NeutralRead, Relieved,
                          Watched, Cooled, Secured, Propped, HelperHere, Inspected, Warned, LockOff,
                          LookedClear, PowerOn, WaterOn, TagHung, OpeningsBarred, HandedOn, Doubted, ForeignLock,
                          GapAnswered>;

/// The act that a fact reports; none for what has happened and is never refused.
[[nodiscard]] bool act_of(const Fact& fact, Act& out);

// What other records mean for the energies.

/// Work was done; what it touched, as the demand said.
struct Worked {
  Act act = Act::hands_in;
  bool turned = false;        ///< the unit stands in another position now
  std::string position;
  bool dry = false;           ///< a static leak test, and no drop came
};
/// Nothing was recorded for so long: by the greater of both clocks.
struct Away {
  std::int64_t ms = 0;
  bool asks = false;          ///< longer than the policy allows without a question
};
struct VisitEnded {
  Ending ending = Ending::none;
};
struct VisitReopened {};

using Change = std::variant<Fact, Worked, Away, VisitEnded, VisitReopened>;

/// The state after it. Total: it judges nothing, reads no policy and refuses nothing, so that a
/// journal gives the same state on every day and machine.
void apply(State& state, const Change& change, const Stamp& stamp);

}  // namespace kp::safety
