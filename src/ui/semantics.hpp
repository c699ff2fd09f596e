#pragma once
// One list a frame of what the screen shows and offers. Three use it: the page mirrors it into
// real elements, the tests find and press widgets by role and name, and the goldens are its dump.

#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "ui/types.hpp"

namespace kp::ui {

enum class Role {
  heading, text, button, checkbox, radio, textbox, slider, list, item, status, alert, image,
  progress, region
};

[[nodiscard]] const char* role_name(Role role);

/// How something is pressed: by a click, by press and hold, or by drawing on it.
enum class Pressing { click, hold, draw };

/// How a textbox is filled: by the platform's keyboard, or by the tool's own keypad.
enum class Typing { none, line, area, keypad };

struct Semantic {
  Id id = 0;
  Id parent = 0;              ///< list or region that holds it; 0: the page
  Role role = Role::text;
  std::string name;
  std::string value;
  std::string hint;           ///< longer words: what a press needs, an allowed range
  Box box;                    ///< on the screen, after clipping
  bool enabled = true;
  bool visible = true;        ///< some of it is on the screen
  bool pressed = false;
  bool busy = false;
  bool current = false;       ///< the step that is due, the chosen tab
  bool modal = false;
  std::optional<bool> checked;
  int level = 0;              ///< of a heading
  Typing typing = Typing::none;
  Pressing press = Pressing::click;
  /// How the page of text shows it: a caution as "danger", "warning", "caution" or "notice", half a
  /// strip as "live", "unproved" or "safe", a key of the keypad as "key".
  std::string tag;
  float low = 0, high = 0, now = 0;  ///< of a slider or progress

  /// Equal in everything that is spoken; the box is compared apart.
  [[nodiscard]] bool same_words(const Semantic& other) const;
};

/// Takes the keyboard focus and can be activated.
[[nodiscard]] bool focusable(const Semantic& item);

class Semantics {
 public:
  void begin();
  /// Appends; returns the index, valid until the frame's end.
  std::size_t add(Semantic item);
  [[nodiscard]] const std::vector<Semantic>& items() const { return items_; }
  [[nodiscard]] Semantic& at(std::size_t index) { return items_[index]; }

  [[nodiscard]] const Semantic* find(Id id) const;
  /// First by role and exact name; then by role and a name that starts with it.
  [[nodiscard]] const Semantic* find(Role role, std::string_view name) const;

  /// One line an item: indent, role, "name", = value, states. No boxes: for goldens.
  [[nodiscard]] std::string dump() const;

  struct Diff {
    bool order_changed = false;             ///< items came, went or moved
    std::vector<std::size_t> words;         ///< indexes whose words or states changed
    std::vector<std::size_t> boxes;         ///< indexes that only moved
    std::vector<Id> gone;
    [[nodiscard]] bool empty() const {
      return !order_changed && words.empty() && boxes.empty() && gone.empty();
    }
  };
  /// What changed since the last call of diff().
  Diff diff();

 private:
  std::vector<Semantic> items_;
  std::vector<Semantic> before_;
};

}  // namespace kp::ui
