#pragma once

#include <cstdint>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "base/time.hpp"
#include "circuit/netlist.hpp"
#include "job/clock.hpp"
#include "job/event.hpp"
#include "job/format1.hpp"
#include "job/hazards.hpp"
#include "pack/model.hpp"
#include "plan/plan.hpp"
#include "safety/gate.hpp"

namespace kp::job {

/// The packs that are at hand, and for each the planner's problem and rules, the circuit's netlist
/// (empty where the pack has no circuit) and what can hurt, bound once.
struct Model {
  pack::Pack pack;
  std::string sha;              ///< of the resolved pack's canonical print; empty: not given
  circuit::Netlist netlist;
  plan::Problem problem;
  plan::Rules rules;
  Hazards hazards;
};
struct Library {
  std::vector<Model> models;
  std::string drawings_sha;     ///< of all drawings and words beside the packs
  /// Index of the pack of that id, or -1.
  [[nodiscard]] int find(std::string_view pack_id) const;
};

/// What a shop may set, and what the program is. It goes into the record as what was stood on.
struct Settings {
  safety::Policy safety;
  ClockRule clock;
  safety::Rules rows = safety::rules();
  std::string rates_sha;
  std::string program;
};

/// A record of the journal with the place where it was made.
template <class T>
struct Recorded {
  Stamp stamp;
  T body;
};

/// What an earlier visit's invoice covers: so many of each, from the first.
struct Billed {
  int segments = 0;
  int corrections = 0;
  int parts = 0;
  int visits = 0;
};

/// The unit as its records left it, in the pack's ids: true without the pack.
struct Unit {
  std::string position;
  std::string tool;
  std::set<std::string> loose;   ///< joints
  std::set<std::string> away;    ///< parts
  friend bool operator==(const Unit&, const Unit&) = default;
};

/// All that is true of a job: the fold of its journal. Nothing here is set but by fold() and bind().
struct State {
  std::string job;
  Mode mode = Mode::field;
  std::string shop;
  JobOpened opened;
  std::string person;                ///< who works now
  Stage stage = Stage::arrive;
  Outcome outcome = Outcome::none;
  int visit = 1;
  std::uint32_t last_n = 0;
  std::uint32_t stage_n = 0;         ///< record that entered the stage
  std::uint32_t visit_n = 0;         ///< record that began the visit

  StandsOn stands_on;                ///< what the records since then were decided under
  safety::Law law;                   ///< the same, ready for the gate
  bool rows_known = true;            ///< this program knows every row of it
  ClockRule clock_rule;

  MachineIdentified machine;
  CustomerNoted customer;
  ComplaintNoted complaint;
  QuoteGiven quote;                  ///< the last one, agreed or not
  std::uint32_t quote_n = 0;         ///< its record
  bool quoted = false;
  std::optional<Recorded<QuoteGiven>> agreed;  ///< the last one that the customer agreed to

  safety::State safety;
  ClockState clock;
  Stamp hidden_since;                ///< the screen went dark with this record
  Stamp paused_since;

  Unit as_left;                      ///< the unit by its records
  /// It is known from an earlier visit or job only: nobody has said yet how it was found.
  bool unit_unseen = false;
  Unit left;                         ///< as that visit left it, for the differences
  Recorded<UnitAsFound> as_found;    ///< of this visit; no record: it was not said
  std::vector<std::string> target_ids;
  std::string mend_id;
  std::uint32_t targets_n = 0;       ///< record that chose them
  std::string fault;
  std::vector<Recorded<TestRecorded>> tests;
  std::vector<Recorded<TestImpossible>> impossible;
  std::vector<Recorded<StepDone>> steps;
  std::vector<Recorded<StepBlocked>> blocked;
  std::vector<Recorded<PartSwapped>> swapped;
  std::vector<Recorded<ProveRecorded>> proved;  ///< that still hold
  std::vector<Recorded<safety::Fact>> facts;    ///< what happened to the energies
  std::vector<Recorded<format1::Said>> said;    ///< the same as a journal of format 1 said it
  std::vector<Recorded<NoteAdded>> notes;
  std::vector<Recorded<HandedOver>> handed_over;
  std::vector<Recorded<Refused>> refused;
  std::vector<Recorded<CautionShown>> cautions;
  std::vector<Recorded<PhotoTaken>> photos;
  std::vector<Recorded<TesterNamed>> testers;
  std::vector<Recorded<PartsOrdered>> ordered;
  std::vector<Recorded<QuoteRefused>> quotes_refused;
  std::vector<Recorded<PaperIssued>> papers;
  Recorded<Signed> signature;
  Recorded<InvoiceIssued> invoice;   ///< of this visit
  std::vector<Recorded<InvoiceIssued>> invoices;  ///< of all visits, this one's included
  Billed billed;                     ///< by the invoices of earlier visits
  JobEnded ending;

  // The same in the indices of a pack that is at hand, by bind(); derived, not recorded.
  int model = -1;                    ///< index into Library::models
  plan::State unit;                  ///< released, removed, position, tool
  std::vector<int> targets;          ///< parts to reach
  int mend = -1;                     ///< fault that is mended in the target, which stays in; -1: it comes out
  /// Ids of the records that the pack at hand does not know: it is another than was worked with.
  std::vector<std::string> strange;
};

}  // namespace kp::job
