// table: the bodies of the journal's records, one struct each, and the sum of all of them.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "data/value.hpp"
#include "job/event_papers.hpp"
#include "job/event_shown.hpp"
#include "job/stage.hpp"
#include "safety/fact.hpp"

namespace kp::job {

// Each body says what happened, in the words that the journal keeps. The same bodies are what a
// person tells the tool (an intent); decide() accepts, completes or refuses them. `fields` lists
// the members once for writing and reading; the names are part of the stored format.

struct JobOpened {
  static constexpr const char* kKind = "job-opened";
  int format = 2;
  std::string job;
  Mode mode = Mode::field;
  std::string shop;
  std::string after_job = {};   ///< goes on with a job of an older format: its id ...
  std::string after_tip = {};   ///< ... and the sum of its last line
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("format", s.format), v("job", s.job), v("mode", s.mode), v("shop", s.shop),
        v("afterJob", s.after_job), v("afterTip", s.after_tip);
  }
};

/// What the facts after it are decided under, and stand on. It comes before the first of them and
/// again whenever any of it changes.
struct StandsOn {
  static constexpr const char* kKind = "stands-on";
  std::string pack, pack_version;
  std::string pack_sha;       ///< of the resolved pack's canonical print
  std::string drawings_sha;
  std::string rates_sha;
  std::string program;
  double live_from_volts = 0, nil_volts = 0, earth_ohm = 0, charge_gone_volts = 0;
  double cooled_below_celsius = 0;
  int prove_seconds = 0, pause_seconds = 0, proof_seconds = 0, look_seconds = 0, watch_seconds = 0;
  std::int64_t clock_agree_ms = 0, clock_gap_ms = 0;
  std::vector<std::string> rows;   ///< of the gate, as safety::rows_text gives them
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("pack", s.pack), v("packVersion", s.pack_version), v("packSha", s.pack_sha),
        v("drawingsSha", s.drawings_sha), v("ratesSha", s.rates_sha), v("program", s.program),
        v("liveFromVolts", s.live_from_volts), v("nilVolts", s.nil_volts),
        v("earthOhm", s.earth_ohm), v("chargeGoneVolts", s.charge_gone_volts),
        v("cooledBelowCelsius", s.cooled_below_celsius), v("proveSeconds", s.prove_seconds),
        v("pauseSeconds", s.pause_seconds), v("proofSeconds", s.proof_seconds),
        v("lookSeconds", s.look_seconds), v("watchSeconds", s.watch_seconds),
        v("clockAgreeMs", s.clock_agree_ms), v("clockGapMs", s.clock_gap_ms), v("rows", s.rows);
  }
  friend bool operator==(const StandsOn&, const StandsOn&) = default;
};

/// The program began a new life with this job open (started again, or the page was reloaded).
/// `away_ms`: how long nothing was recorded, by the wall clock. Dark, paused and closed are one
/// thing: `asks` where it was longer than the policy lets pass without a question.
struct Resumed {
  static constexpr const char* kKind = "resumed";
  std::int64_t away_ms = 0;
  bool asks = false;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("awayMs", s.away_ms), v("asks", s.asks);
  }
};

/// The screen went off or on. `away_ms`: how long it was off.
struct ScreenChanged {
  static constexpr const char* kKind = "screen";
  bool hidden = false;
  std::int64_t away_ms = 0;
  bool asks = false;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("hidden", s.hidden), v("awayMs", s.away_ms), v("asks", s.asks);
  }
};

struct MachineIdentified {
  static constexpr const char* kKind = "machine-identified";
  std::string pack;
  std::string pack_version;
  std::string plate;      ///< as typed; empty: known by its features
  std::string title = {};      ///< of the architecture, so that the record speaks without the pack
  std::string maker = {};
  std::string position = {};   ///< where the unit is found
  std::string serial = {};
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("pack", s.pack), v("packVersion", s.pack_version), v("plate", s.plate), v("title", s.title),
        v("maker", s.maker), v("position", s.position), v("serial", s.serial);
  }
};

struct CustomerNoted {
  static constexpr const char* kKind = "customer-noted";
  std::string name, address, contact;
  bool erased = false;    ///< as of every body below that has it: its personal words are gone
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("name", s.name), v("address", s.address), v("contact", s.contact);
  }
};

struct ComplaintNoted {
  static constexpr const char* kKind = "complaint-noted";
  std::string symptom;    ///< id in the pack
  std::string words;      ///< the customer's own, may be empty
  bool erased = false;
  [[nodiscard]] bool said() const { return !symptom.empty() || !words.empty() || erased; }
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("symptom", s.symptom), v("words", s.words);
  }
};

struct StageEntered {
  static constexpr const char* kKind = "stage-entered";
  Stage stage = Stage::arrive;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("stage", s.stage);
  }
};

struct TestRecorded {
  static constexpr const char* kKind = "test-recorded";
  std::string test;       ///< id in the pack
  bool open_loop = false; ///< the meter showed OL
  bool looked = false;    ///< a look: `good` says what was seen
  bool good = false;
  double value = 0;
  std::string unit;
  std::vector<std::uint32_t> stands_on;
  safety::Act act = safety::Act::look_outside;   ///< what it asked of the gate
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("test", s.test), v("openLoop", s.open_loop), v("looked", s.looked), v("good", s.good),
        v("value", s.value), v("unit", s.unit), v("standsOn", s.stands_on), v("act", s.act);
  }
};

struct TestTakenBack {
  static constexpr const char* kKind = "test-taken-back";
  std::uint32_t n = 0;    ///< number of the record taken back
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("n", s.n);
  }
};

/// This test cannot be done here (no room, no instrument, a lead that does not come off).
struct TestImpossible {
  static constexpr const char* kKind = "test-impossible";
  std::string test;       ///< id in the pack
  std::string reason;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("test", s.test), v("reason", s.reason);
  }
};

struct TargetsChosen {
  static constexpr const char* kKind = "targets-chosen";
  std::vector<std::string> parts;
  std::string fault;
  std::string mend = {};  ///< fault of the pack that is mended where it is; empty: the parts come out
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("parts", s.parts), v("fault", s.fault), v("mend", s.mend);
  }
};

/// Hands did something to the machine. `stands_on` names the records of the proof.
struct StepDone {
  static constexpr const char* kKind = "step-done";
  Deed deed = Deed::release;
  std::string what;       ///< id of a position, joint or part
  std::vector<std::string> checks;  ///< refit checks confirmed with it
  std::vector<std::uint32_t> stands_on;
  safety::Act act = safety::Act::hands_in;   ///< what it asked of the gate
  int people = 1;
  std::string tool = {};       ///< in hand after it, where the deed takes one
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("deed", s.deed), v("what", s.what), v("checks", s.checks), v("standsOn", s.stands_on),
        v("act", s.act), v("people", s.people), v("tool", s.tool);
  }
};

/// This cannot be done as planned (seized, missing, broken): plans go another way from now on.
struct StepBlocked {
  static constexpr const char* kKind = "step-blocked";
  Deed deed = Deed::release;
  std::string what;
  std::string reason;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("deed", s.deed), v("what", s.what), v("reason", s.reason);
  }
};

struct PartSwapped {
  static constexpr const char* kKind = "part-swapped";
  std::string part;
  std::string stock;
  std::int64_t price_minor = 0;
  std::string note;
  std::vector<std::uint32_t> stands_on;
  std::string mended = {};  ///< fault of the pack that was mended in the old part; empty: a new part
  std::string name = {};    ///< of the part, for bill and record without the pack
  safety::Act act = safety::Act::hands_in;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("part", s.part), v("stock", s.stock), v("priceMinor", s.price_minor), v("note", s.note),
        v("mended", s.mended), v("standsOn", s.stands_on), v("name", s.name), v("act", s.act);
  }
};

struct ProveRecorded {
  static constexpr const char* kKind = "prove-recorded";
  std::string test;
  bool passed = false;
  double value = 0;
  std::string unit;
  std::string note;
  std::vector<std::uint32_t> stands_on;
  safety::Act act = safety::Act::prove_dead_test;
  std::string left_out = {};   ///< the code why it was not done; it is not passed then
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("test", s.test), v("passed", s.passed), v("value", s.value), v("unit", s.unit),
        v("note", s.note), v("standsOn", s.stands_on), v("act", s.act), v("leftOut", s.left_out);
  }
};

struct PhaseStarted {
  static constexpr const char* kKind = "phase-started";
  Phase phase = Phase::labour;
  std::string reason;
  std::int64_t away_ms = 0;    ///< how long the pause was that it ends
  bool asks = false;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("phase", s.phase), v("reason", s.reason), v("awayMs", s.away_ms), v("asks", s.asks);
  }
};

struct TimeCorrected {
  static constexpr const char* kKind = "time-corrected";
  Phase phase = Phase::labour;
  std::int64_t delta_ms = 0;
  std::string reason;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("phase", s.phase), v("deltaMs", s.delta_ms), v("reason", s.reason);
  }
};

struct GapSettled {
  static constexpr const char* kKind = "gap-settled";
  std::uint32_t before = 0;
  std::int64_t counted_ms = 0;
  std::string reason;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("before", s.before), v("countedMs", s.counted_ms), v("reason", s.reason);
  }
};

struct NoteAdded {
  static constexpr const char* kKind = "note-added";
  std::string text;
  bool erased = false;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("text", s.text);
  }
};

struct JobEnded {
  static constexpr const char* kKind = "job-ended";
  Outcome outcome = Outcome::repaired;
  std::string note;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("outcome", s.outcome), v("note", s.note);
  }
};

/// What of a unit is open, in its pack's ids.
struct UnitOpen {
  std::string position;   ///< empty where it is said: as the records have it
  std::vector<std::string> loose;   ///< joints
  std::vector<std::string> away;    ///< parts
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("position", s.position), v("loose", s.loose), v("away", s.away);
  }
};

/// What an earlier job left, carried over from its journal: a new job that goes on with it asks
/// whether it is still so.
struct UnitAsLeft : UnitOpen {
  static constexpr const char* kKind = "unit-as-left";
};

/// How the unit was found at the start of a visit, as a person saw it.
struct UnitAsFound : UnitOpen {
  static constexpr const char* kKind = "unit-as-found";
};

/// A later visit goes on with the same job: the machine is taken as live again.
struct VisitBegun {
  static constexpr const char* kKind = "visit-begun";
  int visit = 2;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("visit", s.visit);
  }
};

using Body =
    std::variant<JobOpened, StandsOn, Resumed, ScreenChanged, MachineIdentified, CustomerNoted,
                 ComplaintNoted, QuoteGiven, StageEntered, TestRecorded, TestTakenBack,
                 TestImpossible, TargetsChosen, StepDone, StepBlocked, PartSwapped, ProveRecorded,
                 PhaseStarted, TimeCorrected, GapSettled, NoteAdded, Signed, InvoiceIssued,
                 HandedOver, JobEnded, VisitBegun, UnitAsLeft, UnitAsFound, Refused, CautionShown,
                 PhotoTaken, SerialNoted, TesterNamed, PartsOrdered, QuoteRefused, PaperIssued,
                 // what happens to the energies (safety/fact.hpp)
                 safety::Prepared, safety::Stopped, safety::FrameRead, safety::Isolated,
                 safety::HeldFast, safety::WaterShut, safety::ControlsTried, safety::ReadingTaken,
                 safety::SeriesRestarted, safety::Discharged, safety::NeutralRead, safety::Relieved, safety::Watched,
                 safety::Cooled, safety::Secured, safety::Propped, safety::HelperHere,
                 safety::Inspected, safety::Warned, safety::LockOff, safety::LookedClear,
                 safety::PowerOn, safety::WaterOn, safety::TagHung, safety::OpeningsBarred,
                 safety::HandedOn, safety::Doubted, safety::ForeignLock, safety::GapAnswered>;

/// Whether the personal words of a body are erased.
[[nodiscard]] bool is_erased(const Body& body);
/// Says so of a body that can have them.
void set_erased(Body& body, bool erased);

/// The fact of safety in a body, where it holds one.
[[nodiscard]] bool fact_of(const Body& body, safety::Fact& out);
/// The body of a fact.
[[nodiscard]] Body body_of(const safety::Fact& fact);

}  // namespace kp::job
