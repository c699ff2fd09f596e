#pragma once
// The widgets. Each takes its place in the column of `ui`, paints itself, registers itself and
// returns what the person did. Descriptions are structs with zero defaults. A text that is empty
// leaves its part out. Texts are borrowed for the call.

#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ui/ui.hpp"

namespace kp::ui {

// ---------------------------------------------------------------- words (kit_text.cpp)

/// Wrapped text; `level` > 0 makes it a heading. Returns the box it took.
Box words(Ui& ui, Type type, Color color, std::string_view text, Role role = Role::text,
          int level = 0);
Box heading(Ui& ui, std::string_view text, Type type = type::kTitle, int level = 2);
/// The one thing to do now: 23 px bold (27 on the shop PC), heading level 1, spoken when it changes.
Box sentence(Ui& ui, std::string_view text);
/// The line of how under the sentence.
Box how(Ui& ui, std::string_view text);
enum class Signal { notice, caution, warning, danger };
struct Caution {
  Signal signal = Signal::caution;
  Words text{};
  Words sign{};      ///< ISO 7010 code: W0xx a triangle, M0xx a disc; empty: the word alone
  /// What the text consists of, each told by itself; empty: the text is told.
  const std::vector<std::string>* told = nullptr;
};
/// The signal word on its panel, the sign and the words (kit_caution.cpp). Told to readers once
/// when it appears. Panels differ in shape, not in colour alone.
void caution(Ui& ui, const Caution& spec);
/// A small title and its text, under a hairline: the shop PC's reasons.
void reason(Ui& ui, std::string_view title, std::string_view text);
void hairline(Ui& ui);

enum class NoticeKind { info, good, warn, danger };
/// A band across the column: what is not saved, not proved, not reachable. Danger is announced
/// first. With an `action` it ends in a button; true when that was pressed.
bool notice(Ui& ui, NoticeKind kind, std::string_view text, std::string_view action = {});

// ---------------------------------------------------------------- presses (kit_button.cpp)

struct Button {
  Words label{};
  Words hint{};      ///< a small second line
  Words key{};       ///< identity, where the label may change
  enum class Look { primary, outline, quiet } look = Look::primary;
  bool enabled = true;
  bool busy = false;
  bool mono = false;
  float height = metric::kButton;
};
bool button(Ui& ui, const Button& spec);

struct Hold {
  Words label{};     ///< "Hold: springs unhooked"
  Words key{};       ///< the step and its revision: a press never passes to another step
  Words hint{};      ///< empty: "slide off to cancel", or how to hold it here
  Words done{};      ///< what the second step asks for; empty: from the label
  bool enabled = true;
  bool busy = false;          ///< confirmed, not yet durable
  Words why_not{};   ///< shown and spoken while not enabled
  double from_ms = 0;         ///< a press that began earlier was meant for what stood here then
};
/// Press, hold and lift (confirm.hpp), by pointer, Space or Enter. A short key, an assistive click
/// (and a tap, where the person wants it so) offer a second button at another place instead. True
/// once when confirmed. (kit_hold.cpp)
bool hold(Ui& ui, const Hold& spec);

/// The words of way out along the foot. Index of the one pressed, or -1.
int ways_out(Ui& ui, std::initializer_list<std::string_view> labels);
int ways_out(Ui& ui, const std::vector<std::string_view>& labels);

bool checkbox(Ui& ui, std::string_view label, bool& value, std::string_view key = {});
/// One of few, as large rows with a round mark. True when the choice changed.
bool choose(Ui& ui, std::string_view name, const std::vector<std::string_view>& labels, int& chosen);

// ---------------------------------------------------------------- lists (kit_list.cpp)

/// A named list around rows, for readers.
void list(Ui& ui, std::string_view name, FunctionRef<void()> rows);

enum class Mark { none, done, current, open, number, target, refused };
struct Row {
  Words label{};
  Words under{};     ///< a small second line
  Words figure{};    ///< right, mono
  Words side{};      ///< right, small words
  Words key{};
  Mark mark = Mark::none;
  int number = 0;             ///< shown in the circle (Mark::number, and current when > 0)
  bool current = false;       ///< the one that is due: framed and kept in view
  bool faint = false;
  bool pressable = false;
  bool line_below = false;
  bool strong = false;
  bool choice = false;        ///< one of few: a round mark, filled when `chosen`
  bool chosen = false;
  bool dense = false;         ///< the plan's rows on the shop PC, 38 px
};
/// True when a pressable row was pressed.
bool row(Ui& ui, const Row& spec);

struct Card {
  Words title{};
  Words under{};
  Words key{};
  bool chosen = false;
  bool pressable = true;       ///< false: it only shows
  float height = 112;
  FunctionRef<void(Ui&, Box)> drawing{};   ///< fills the given box at the left
};
bool card(Ui& ui, const Card& spec);

struct Weight {
  Words label{};
  Words under{};
  Words figure{};
  Words key{};
  double share = 0;           ///< 0 to 1
  bool chosen = false;
  bool pressable = false;
};
/// A suspect with its weight as a bar behind it. True when pressed.
bool weight_bar(Ui& ui, const Weight& spec);

/// The sum under a bill, in large figures.
void total(Ui& ui, std::string_view label, std::string_view figure);

struct Segment {
  enum class Kind { travel, labour, waiting } kind = Kind::labour;
  double share = 0;
};
/// The job's time as segments, with up to three words under it.
void time_bar(Ui& ui, const std::vector<Segment>& segments, std::string_view left,
              std::string_view middle, std::string_view right, std::string_view spoken);

/// Where a good reading lies between `left` and `right`: two shares in [0, 1].
void band(Ui& ui, double from, double to, std::string_view left, std::string_view middle,
          std::string_view right);

/// A line of two columns: an outcome and what it leaves.
void outcome(Ui& ui, std::string_view label, std::string_view leaves);

// ---------------------------------------------------------------- entering (kit_entry.cpp)

/// What a reading may be. Bounds are in the unit shown.
struct ReadingSpec {
  Words label{};
  Words unit{};
  double low = 0;
  double high = 0;
  bool over = false;        ///< the meter may show no digits
  Words over_word = "OL";   ///< what it shows then: "OL", "No step lit"
  Words key{};
};
struct Reading {
  enum class Kind { empty, number, over, refused } kind = Kind::empty;
  double value = 0;
  std::string refusal;      ///< "Enter 0 to 300 V." when refused
  [[nodiscard]] bool usable() const { return kind == Kind::number || kind == Kind::over; }
};
[[nodiscard]] Reading read_entry(const ReadingSpec& spec, std::string_view text);

/// The field, its refusal beneath, and the keypad under it; typed digits work too. `text` is the
/// screen's own.
Reading reading(Ui& ui, const ReadingSpec& spec, std::string& text);

struct Field {
  Words label{};
  Words hint{};          ///< shown while empty
  Words key{};
  bool mono = false;
  bool many_lines = false;
  int most = 4000;                ///< bytes; the session refuses what is too long, in words
};
/// Free text. Where the platform has its own fields (the web), the mirror lays one over this
/// place; elsewhere ImGui's editor works inside our frame. True when the text changed.
bool field(Ui& ui, const Field& spec, std::string& text);

/// A scrubber in [0, 1]. True while it is moved.
bool slider(Ui& ui, std::string_view name, float& value, std::string_view spoken = {},
            int steps = 20);

/// A field to draw in. True when something was added.
bool signature(Ui& ui, std::string_view name, Signature& drawn);

}  // namespace kp::ui
