#pragma once
// app: one session. Actions come in, effects go out (records to the store, documents to hand over),
// and what there is to see is a Snapshot: plain values, made new whenever something changed. It
// knows stages and words; it knows no pixels, no clock of its own and no store but the port.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "app/action.hpp"
#include "app/circuit_view.hpp"
#include "app/preferences.hpp"
#include "safety/energy.hpp"
#include "safety/strip.hpp"
#include "scene/layout.hpp"

namespace kp::app {

/// How a row of a list is marked.
enum class Mark { none, done, now, todo, failed, target, blocked, choice, chosen };

/// One large row: a reading, a suspect, a step, a complaint, a line of the bill.
struct Row {
  std::string id;                ///< stable for the screen's own state, unique in its list
  std::string group;             ///< a heading stands before the first row of each group
  std::string title;
  std::string detail;            ///< small, under the title
  std::string figure;            ///< right-aligned, mono: "121 V", "46 %", "114.00"
  std::string drawing;           ///< id of a drawing to show at the left, may be empty
  Mark mark = Mark::none;
  int number = 0;                ///< shown in the mark while it is still to do; 0: none
  double bar = -1;               ///< 0 to 1: drawn behind the row; below 0: none
  std::optional<Action> tap;
};

/// The exploded view: what to draw; where is the screen's business (scene::layout).
struct Exploded {
  std::vector<scene::Item> items;
  double progress = 1;
  std::string caption;           ///< over it, where there is another look to turn to
  std::string name;              ///< what a screen reader says of the picture
  Action about;                  ///< of the item touched: its number comes behind the id
};

/// One segment of the bill's bar of time.
struct TimePiece {
  std::string name;
  double share = 0;              ///< of the whole, 0 to 1
  int phase = 0;                 ///< job::Phase
};

/// A field for typed words (the phone's own keyboard).
struct TextField {
  std::string id;
  std::string label;
  std::string value;
  std::string hint;
  bool mono = false;             ///< plates and numbers
  Action changed;                ///< sent with `text` when it is left or confirmed
};

/// A number on the tool's own keypad.
struct NumberField {
  std::string id;
  std::string label;             ///< "Touch line and earth. What does it read?"
  std::string unit;              ///< "V~"
  double least = 0, most = 0;    ///< what the field takes at all
  bool open_loop = false;        ///< offers the OL key
  std::string open_word = "OL";  ///< what that key says
  std::string band;              ///< "good 13.7 to 16.0 Ω", may be empty
  double band_low = 0, band_high = 0;
  Action entered;                ///< sent with `value`
  Action entered_open_loop;
  std::string confirm;           ///< "Next reading"
};

/// Where a good reading lies between the ends of what the meter may show, as shares of the way.
struct Band {
  double from = 0, to = 0;
  std::string left;              ///< "0"
  std::string words;             ///< "good 13.7 to 16.0 Ω"
  std::string right;             ///< "OL"
};

/// What a test may show, and what that would leave.
struct Outcome {
  std::string shown;             ///< "OL or far above"
  std::string leaves;            ///< "heater 97 %"
};

struct CheckBox {
  std::string id;
  std::string title;
  std::string detail;
  bool ticked = false;
  Action tap;
};

struct Button {
  std::string label;
  std::string detail;            ///< second line, small: "slide off to cancel"
  bool hold = false;             ///< press and hold; with a two-step alternative for keys
  bool enabled = true;
  Action action;
};

/// What to do now: caution first, one sentence, one line of how, then the button.
struct Card {
  std::string id;                ///< changes when the thing to do changes
  std::vector<safety::Caution> cautions;
  std::string sentence;
  std::string how;
  std::string why;                        ///< for the sheet, where the stage knows no better
  std::vector<std::string> facts;         ///< "On the way back: each spring sits in its notch."
  std::optional<Band> band;
  std::vector<Outcome> outcomes;
  std::vector<Row> choices;               ///< answers to choose from, large
  std::vector<CheckBox> checks;
  std::vector<TextField> texts;
  std::optional<NumberField> number;
  bool signature = false;
  std::optional<Button> primary;
  std::vector<Button> secondary;          ///< beside the primary, at most two
  std::vector<Button> ways_out;           ///< at most three words at the bottom
  std::vector<std::string> refusal;       ///< why the last try was refused, what to do
  std::string saving;                     ///< "Saving", or why it is not saved; empty: saved
};

/// A panel over the lower part: why this step, the evidence behind the strip, the list of ways out.
struct Sheet {
  std::string title;
  std::vector<Row> rows;
  std::vector<std::string> paragraphs;
  std::vector<TextField> texts;
  bool rows_first = false;       ///< the rows answer the fields: they stay in sight while one types
  std::vector<Button> buttons;
};

struct BillView {
  std::vector<TimePiece> bar;
  std::vector<Row> lines;
  std::string total_label;       ///< "To pay"
  std::string total;             ///< "243.90 USD"
};

enum class Page { start, job };
enum class NoticeKind { practice, trouble, advice };
struct Notice {
  NoticeKind kind = NoticeKind::advice;
  std::string text;
  std::vector<Button> buttons;
};

struct Snapshot {
  std::uint32_t revision = 0;    ///< rises with every change; sent back in actions
  Page page = Page::start;
  std::string title;             ///< for the window and the screen reader
  Preferences preferences;
  std::vector<Notice> notices;   ///< above everything; practice has its banner here

  // A job.
  safety::Strip strip;
  int stage = 0;                 ///< job::Stage
  std::vector<double> rail;      ///< progress of each stage, 0 to 1
  std::string stage_title;       ///< "Open"
  std::string stage_where;       ///< "7 of 19"
  std::string clock;             ///< "00:31:08"
  bool clock_runs = false;
  bool paused = false;

  std::string heading;           ///< over the upper part, may be empty: "Type the model from the plate"
  std::string heading_detail;
  std::optional<TextField> field;         ///< in the upper part (plate)
  std::vector<Row> rows;                  ///< upper part as a list
  std::optional<CircuitView> circuit;     ///< under the list
  std::vector<Row> below;                 ///< a second list, under the circuit
  std::optional<ChartView> chart;         ///< under that
  std::optional<Exploded> exploded;       ///< upper part as a drawing
  std::optional<Button> other_look;       ///< turns the upper part from one to the other
  std::optional<BillView> bill;
  Card card;
  std::optional<Sheet> sheet;

  /// The whole plan, grouped by position and tool, for the shop PC's left pane and for the list
  /// that the phone opens over the drawing.
  std::string plan_title;
  std::string plan_detail;
  std::vector<Row> plan;
};

}  // namespace kp::app
