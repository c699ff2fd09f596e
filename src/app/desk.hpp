#pragma once

#include <set>
#include <string>
#include <vector>

#include "app/content.hpp"
#include "app/finder.hpp"
#include "app/reckon.hpp"
#include "app/snapshot.hpp"
#include "job/apply.hpp"
#include "plan/plan.hpp"
#include "safety/guide.hpp"

namespace kp::app {

/// What the person is in the middle of and what is no fact yet: chosen but not confirmed. It is
/// lost with the program, and nothing else is.
struct Local {
  std::string plate;
  std::string machine;              ///< pack chosen on the list
  std::string symptom;
  std::string words;
  std::string name, address, contact;
  safety::Means means = safety::Means::breaker_locked;
  bool means_chosen = false;
  safety::MeterFunction function = safety::MeterFunction::volts_ac;
  std::string meter = "A";
  std::string lock;
  std::string tag;
  std::string test;                 ///< test of the Find stage being done
  bool place = false;               ///< Find: where the probes go on the machine, not in the circuit
  std::string prove;                ///< prove test taken out of its order
  std::string sheet;                ///< open sheet: "why", "cannot", "pause", "end", "power", "water"...
  std::string note;
  std::string price;
  std::string stock;
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
  job::Stamp now;
  const plan::Plan* way_in = nullptr;    ///< to the targets, from the unit as it stands
  const plan::Plan* way_back = nullptr;
  const plan::Plan* way_to_test = nullptr;  ///< to where the chosen test is made
  Finder* finder = nullptr;              ///< null: the pack has no faults, or it is not sought now
  std::uint32_t revision = 0;
  const Preferences* preferences = nullptr;

  [[nodiscard]] const job::Model* model() const;
  [[nodiscard]] const pack::Pack* pack() const;
  [[nodiscard]] job::Context context() const;
  [[nodiscard]] bool practice() const;
  /// An action that carries this snapshot's revision.
  [[nodiscard]] Action action(Verb verb, std::string id = {}, std::string text = {}) const;
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
/// The prove test whose place the next step of the way back shuts. False: none.
bool fill_due_test(Snapshot& out, const Desk& desk, const plan::Plan& back);
void fill_bill(Snapshot& out, const Desk& desk);

/// The isolation strip, the rail, the clock and the practice banner: the same in every stage.
void fill_frame(Snapshot& out, const Desk& desk);
/// The plan as a list, grouped by position and tool, what is done included.
void fill_plan(Snapshot& out, const Desk& desk);
/// Sheets of the Find stage by their name: tests, parts, advice, a reading, a test given up.
void fill_find_sheet(Sheet& sheet, const Desk& desk);
/// The open sheet, if any.
void fill_sheet(Snapshot& out, const Desk& desk);

/// The pack's own caution under the gravest signal word of what hands meet; without one, what the
/// gravest tag itself says.
void add_cautions(Card& card, const std::string& own, const std::vector<safety::Contact>& contacts,
                  bool power_dead);
/// The next step of a plan: the gate's card, or the step's. False: no step is left.
bool fill_next_step(Snapshot& out, const Desk& desk, const plan::Plan& way);
/// The card that opens the gate for this demand, first thing first. False: the gate is open.
bool fill_gate_card(Snapshot& out, const Desk& desk, const safety::Demand& demand);
/// The card for one thing of safety's lists, with the field or the choice it asks for.
void fill_todo_card(Snapshot& out, const Desk& desk, const safety::Todo& todo);

}  // namespace kp::app
