#pragma once

#include <optional>
#include <set>
#include <string>
#include <vector>

#include "app/content.hpp"
#include "app/finder.hpp"
#include "app/known.hpp"
#include "app/reckon.hpp"
#include "app/snapshot.hpp"
#include "job/apply.hpp"
#include "plan/plan.hpp"
#include "safety/guide.hpp"

namespace kp::app {

/// What the person is in the middle of and what is no fact yet: chosen but not confirmed. It is
/// lost with the program, and nothing else is.
struct Local {
  std::string plate, serial;
  std::string machine;              ///< pack chosen on the list
  std::string symptom;
  std::string words;
  std::string name, address, contact;
  std::optional<safety::Connection> connection;   ///< as found; none: as the pack says
  bool built_in = true;
  bool frame_first = false;
  std::optional<safety::Means> means;
  std::optional<safety::Control> control;
  safety::Support support = safety::Support::block;
  safety::Source source = safety::Source::outlet;
  safety::MeterFunction function = safety::MeterFunction::two_pole_detector;
  std::string lock;
  std::string tag;
  std::string measure;
  std::string helper;
  std::string new_person;
  std::string tester_make, tester_number, tester_date;   ///< until they are one name
  std::string test;                 ///< test of the Find stage being done
  bool place = false;               ///< Find: where the probes go on the machine, not in the circuit
  std::string prove;                ///< prove test taken out of its order
  std::string sheet;                ///< open sheet: "why", "cannot", "pause", "end", "power", "water"...
  std::string note;
  std::string price;
  std::string stock;
  std::string minutes, reason;      ///< of a correction of the time, or of what a gap counts
  ReckonWords reckon;
  bool customer_skipped = false;
  std::set<std::string> ticks;
  std::vector<std::string> refusal; ///< why the last try was refused
};

/// All that a stage may look at when it fills a snapshot.
struct Desk {
  const job::State* state = nullptr;
  const Content* content = nullptr;
  const job::Settings* settings = nullptr;
  const Local* local = nullptr;
  std::string tester;                    ///< number of the tester, kept per device; empty: not said
  std::string person;                    ///< who works; empty: not said
  job::Stamp now;
  const plan::Plan* way_in = nullptr;    ///< to the targets, from the unit as it stands
  const plan::Plan* way_back = nullptr;
  const plan::Plan* way_to_test = nullptr;  ///< to where the chosen test is made
  Finder* finder = nullptr;              ///< null: the pack has no faults, or it is not sought now
  std::uint32_t revision = 0;
  const Preferences* preferences = nullptr;
  Knowledge knowledge = Knowledge::known;

  [[nodiscard]] const job::Model* model() const;
  [[nodiscard]] const pack::Pack* pack() const;
  [[nodiscard]] job::Context context() const;
  [[nodiscard]] bool practice() const;
  /// An action that carries this snapshot's revision.
  [[nodiscard]] Action action(Verb verb, std::string id = {}, std::string text = {}) const;
  /// The same for what is said of the energies.
  [[nodiscard]] Action fact(safety::Fact said) const;
  /// The gate's question for a demand, and what it answers now.
  [[nodiscard]] safety::Ask ask(const safety::Demand& demand) const;
  [[nodiscard]] safety::Now clock() const { return job::now_of(now); }
  [[nodiscard]] safety::Law law() const { return {settings->safety, settings->rows}; }
  /// The order of work that gives power and water back; empty when they are on.
  [[nodiscard]] std::vector<safety::Todo> put_back(bool power, bool water) const;
  /// What has been shown where hands would go for this demand.
  [[nodiscard]] safety::Situation situation(const safety::Demand& demand) const;
};

/// A tap or hold button of that action.
[[nodiscard]] Button tap_button(std::string label, Action action);
[[nodiscard]] Button hold_button(std::string label, Action action);
[[nodiscard]] Row row_of(std::string id, std::string title, Mark mark);

// One function a stage, each in its own file: fills the upper part, the card and the ways out.
void fill_start(Snapshot& out, const Content& content, const std::vector<Row>& jobs,
                std::uint32_t revision);
void fill_arrive(Snapshot& out, const Desk& desk);
void fill_make_safe(Snapshot& out, const Desk& desk);
void fill_find(Snapshot& out, const Desk& desk);
void fill_advice(Snapshot& out, const Desk& desk);   ///< Find: the next step, where the pack knows faults
void fill_circuit(Snapshot& out, const Desk& desk, int test);  ///< the strip of a test, -1: of the advice
void fill_hands(Snapshot& out, const Desk& desk);    ///< Open and Close: the plan's next step
void fill_swap(Snapshot& out, const Desk& desk);
void fill_prove(Snapshot& out, const Desk& desk);
void fill_bill(Snapshot& out, const Desk& desk);

/// The isolation strip, the rail, the clock and the practice banner: the same in every stage.
void fill_frame(Snapshot& out, const Desk& desk);
/// The plan as a list, grouped by position and tool, what is done included.
void fill_plan(Snapshot& out, const Desk& desk);
/// Sheets of the Find stage by their name: tests, parts, advice, a reading, a test given up.
void fill_find_sheet(Sheet& sheet, const Desk& desk);
/// The sheet behind a side of the strip; for power with every series of readings by place.
void fill_evidence_sheet(Sheet& sheet, const Desk& desk, const safety::StripSide& side, bool power);
/// The sheets of the time: a correction, and how much of a gap was work.
void fill_time_sheet(Sheet& sheet, const Desk& desk);
void fill_gap_sheet(Sheet& sheet, const Desk& desk);
/// The open sheet, if any.
void fill_sheet(Snapshot& out, const Desk& desk);

/// The cautions of an act that apply now, the gravest first, and the pack's own beside them.
void add_cautions(Card& card, const Desk& desk, const std::string& own,
                  const safety::Demand& demand);
/// The next step of a plan: the gate's card, or the step's. False: no step is left. `approaching`:
/// the way leads to where the supply is proved or the water relieved, so it cannot want them.
bool fill_next_step(Snapshot& out, const Desk& desk, const plan::Plan& way,
                    bool approaching = false);
/// The card that opens the gate for this demand, first thing first. False: the gate is open.
bool fill_gate_card(Snapshot& out, const Desk& desk, const safety::Demand& demand);
/// The state of safety before anything was done at the machine: only how it was found.
[[nodiscard]] safety::State as_found(const safety::State& now);
/// The card for one thing of safety's lists, with the field or the choice it asks for.
void fill_todo_card(Snapshot& out, const Desk& desk, const safety::Todo& todo);
/// The card of a test before power that is owed now: because power is wanted, or because the next
/// step of the way back would close its place (`closing`). False: none is.
bool fill_owed_test(Snapshot& out, const Desk& desk, const plan::Plan* closing);
/// There is no way on from here, and why.
void fill_no_way(Snapshot& out, const Desk& desk, const plan::Plan* way);

}  // namespace kp::app
