#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/time.hpp"
#include "circuit/netlist.hpp"
#include "job/clock.hpp"
#include "job/event.hpp"
#include "pack/model.hpp"
#include "plan/plan.hpp"
#include "safety/gate.hpp"

namespace kp::job {

/// The packs that are at hand, and for each the planner's problem and rules and the circuit's
/// netlist (empty where the pack has no circuit), bound once.
struct Model {
  pack::Pack pack;
  circuit::Netlist netlist;
  plan::Problem problem;
  plan::Rules rules;
};
struct Library {
  std::vector<Model> models;
  /// Index of the pack of that id, or -1.
  [[nodiscard]] int find(std::string_view pack_id) const;
};

/// What a shop may set; it travels with the program, not with the job.
struct Settings {
  safety::Policy safety;
  ClockRule clock;
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

/// All that is true of a job: the fold of its journal. Nothing here is set but by apply().
struct State {
  std::string job;
  Mode mode = Mode::field;
  std::string shop;
  std::string person;                ///< who works now
  Stage stage = Stage::arrive;
  Outcome outcome = Outcome::none;
  int visit = 1;
  std::uint32_t last_n = 0;
  std::uint32_t stage_n = 0;         ///< record that entered the stage

  int model = -1;                    ///< index into Library::models
  MachineIdentified machine;
  CustomerNoted customer;
  ComplaintNoted complaint;
  QuoteGiven quote;                  ///< the last one, agreed or not
  bool quoted = false;
  std::optional<Recorded<QuoteGiven>> agreed;  ///< the last one that the customer agreed to

  safety::State safety;
  ClockState clock;

  plan::State unit;                  ///< released, removed, position, tool
  std::vector<int> targets;          ///< parts to reach
  int mend = -1;                     ///< fault that is mended in the target, which stays in; -1: it comes out
  std::uint32_t targets_n = 0;       ///< record that chose them
  std::string fault;
  std::vector<Recorded<TestRecorded>> tests;
  std::vector<Recorded<TestImpossible>> impossible;
  std::vector<Recorded<StepDone>> steps;
  std::vector<Recorded<StepBlocked>> blocked;
  std::vector<Recorded<PartSwapped>> swapped;
  std::vector<Recorded<ProveRecorded>> proved;  ///< since hands were last in the machine
  std::vector<Recorded<Isolation>> isolations;
  std::vector<Recorded<NoteAdded>> notes;
  std::vector<Recorded<HandedOver>> handed_over;
  Recorded<Signed> signature;
  Recorded<InvoiceIssued> invoice;   ///< of this visit
  std::vector<Recorded<InvoiceIssued>> invoices;  ///< of all visits, this one's included
  Billed billed;                     ///< by the invoices of earlier visits
  JobEnded ending;
};

}  // namespace kp::job
