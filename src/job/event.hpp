// table: the bodies of the journal's records, one struct each.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "data/value.hpp"
#include "job/stage.hpp"
#include "safety/state.hpp"

namespace kp::job {

// Each body says what happened, in the words that the journal keeps. The same bodies are what a
// person tells the tool (an intent); decide() accepts, completes or refuses them. `fields` lists
// the members once for writing and reading; the names are part of the stored format.

struct JobOpened {
  static constexpr const char* kKind = "job-opened";
  int format = 1;
  std::string job;
  Mode mode = Mode::field;
  std::string shop;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("format", s.format), v("job", s.job), v("mode", s.mode), v("shop", s.shop);
  }
};

/// The program began a new life with this job open (started again, or the page was reloaded).
/// `away_seconds`: how long nothing was recorded, by the wall clock.
struct Resumed {
  static constexpr const char* kKind = "resumed";
  std::int64_t away_seconds = 0;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("awaySeconds", s.away_seconds);
  }
};

/// The screen went off or on. A hint for the clock only.
struct ScreenChanged {
  static constexpr const char* kKind = "screen";
  bool hidden = false;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("hidden", s.hidden);
  }
};

struct MachineIdentified {
  static constexpr const char* kKind = "machine-identified";
  std::string pack;
  std::string pack_version;
  std::string plate;      ///< as typed; empty: known by its features
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("pack", s.pack), v("packVersion", s.pack_version), v("plate", s.plate);
  }
};

struct CustomerNoted {
  static constexpr const char* kKind = "customer-noted";
  std::string name, address, contact;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("name", s.name), v("address", s.address), v("contact", s.contact);
  }
};

struct ComplaintNoted {
  static constexpr const char* kKind = "complaint-noted";
  std::string symptom;    ///< id in the pack
  std::string words;      ///< the customer's own, may be empty
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("symptom", s.symptom), v("words", s.words);
  }
};

/// `paper` is the quote as it was given (bill/stored.hpp); it is printed from that alone.
struct QuoteGiven {
  static constexpr const char* kKind = "quote-given";
  std::int64_t low_minor = 0, high_minor = 0;
  std::string currency;
  bool accepted = false;
  data::Value paper = {};  ///< null in journals of format 1
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("lowMinor", s.low_minor), v("highMinor", s.high_minor), v("currency", s.currency),
        v("accepted", s.accepted), v("paper", s.paper);
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

/// One word to the isolation machine: what was shut, locked, read, relieved, put back. The members
/// are those of safety::Event that `act` names; the rest keep their defaults and are not stored.
struct Isolation {
  static constexpr const char* kKind = "isolation";
  safety::EventKind act = safety::EventKind::prepared;
  safety::Means means = safety::Means::word_of_another;
  std::string lock, tag;
  bool answered = false;
  safety::Station station = safety::Station::known_before;
  double volts = 0;
  safety::MeterFunction function = safety::MeterFunction::volts_ac;
  std::string meter;
  double celsius = 0;
  int people = 1;
  bool by_supervisor = false;
  std::int64_t away_seconds = 0;
  std::string note;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("act", s.act), v("means", s.means), v("lock", s.lock), v("tag", s.tag),
        v("answered", s.answered), v("station", s.station), v("volts", s.volts),
        v("function", s.function), v("meter", s.meter), v("celsius", s.celsius),
        v("people", s.people), v("bySupervisor", s.by_supervisor),
        v("awaySeconds", s.away_seconds), v("note", s.note);
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
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("test", s.test), v("openLoop", s.open_loop), v("looked", s.looked), v("good", s.good),
        v("value", s.value), v("unit", s.unit), v("standsOn", s.stands_on);
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
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("deed", s.deed), v("what", s.what), v("checks", s.checks), v("standsOn", s.stands_on);
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
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("part", s.part), v("stock", s.stock), v("priceMinor", s.price_minor), v("note", s.note),
        v("mended", s.mended), v("standsOn", s.stands_on);
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
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("test", s.test), v("passed", s.passed), v("value", s.value), v("unit", s.unit),
        v("note", s.note), v("standsOn", s.stands_on);
  }
};

struct PhaseStarted {
  static constexpr const char* kKind = "phase-started";
  Phase phase = Phase::labour;
  std::string reason;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("phase", s.phase), v("reason", s.reason);
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

struct TakenOver {
  static constexpr const char* kKind = "taken-over";
  std::string person;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("person", s.person);
  }
};

struct NoteAdded {
  static constexpr const char* kKind = "note-added";
  std::string text;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("text", s.text);
  }
};

struct Signed {
  static constexpr const char* kKind = "signed";
  std::string name;
  std::vector<double> strokes;  ///< x, y in 0..1; a negative x ends a stroke
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("name", s.name), v("strokes", s.strokes);
  }
};

/// `paper` is the invoice as it was issued (bill/stored.hpp); it is printed from that alone.
struct InvoiceIssued {
  static constexpr const char* kKind = "invoice-issued";
  std::string number;
  std::int64_t total_minor = 0;  ///< tax included, whatever was paid
  std::string currency;
  data::Value paper = {};        ///< null in journals of format 1
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("number", s.number), v("totalMinor", s.total_minor), v("currency", s.currency),
        v("paper", s.paper);
  }
};

/// A document left the program. `completed`: the platform said that it was shared or written;
/// otherwise it was offered, and whether it was kept cannot be known.
struct HandedOver {
  static constexpr const char* kKind = "handed-over";
  std::string document;
  std::string sha256;
  bool completed = false;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("document", s.document), v("sha256", s.sha256), v("completed", s.completed);
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

/// A later visit goes on with the same job: the machine is taken as live again.
struct VisitBegun {
  static constexpr const char* kKind = "visit-begun";
  int visit = 2;
  template <class S, class V>
  static void fields(S& s, V& v) {
    v("visit", s.visit);
  }
};

using Body = std::variant<JobOpened, Resumed, ScreenChanged, MachineIdentified, CustomerNoted,
                          ComplaintNoted, QuoteGiven, StageEntered, Isolation, TestRecorded,
                          TestTakenBack, TestImpossible, TargetsChosen, StepDone, StepBlocked, PartSwapped,
                          ProveRecorded, PhaseStarted, TimeCorrected, GapSettled, TakenOver,
                          NoteAdded, Signed, InvoiceIssued, HandedOver, JobEnded, VisitBegun>;

}  // namespace kp::job
