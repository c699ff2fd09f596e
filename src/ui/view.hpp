#pragma once
// The screens: a snapshot of the app drawn with the kit. What the person wants comes back as the
// snapshot's own actions, filled with what was entered. What is kept here is the screen's alone:
// half-typed numbers, where the drawing is panned to.

#include <map>
#include <string>
#include <vector>

#include "app/snapshot.hpp"
#include "ui/canvas.hpp"
#include "ui/frame.hpp"

namespace kp::ui {

using Drawings = std::map<std::string, scene::Drawing, std::less<>>;
using Actions = std::vector<app::Action>;

class View {
 public:
  /// One frame. `drawings` are the content's, for thumbnails.
  void draw(Ui& ui, const app::Snapshot& snapshot, const Drawings& drawings, Actions& out);
  /// The phone's back key: closes what is open. False when nothing was.
  bool back(const app::Snapshot& snapshot, Actions& out);

 private:
  struct Entry {
    std::string text;        ///< as typed
    std::string from;        ///< the snapshot's value that it began from
  };
  // view_card.cpp
  void act(Ui& ui, const app::Snapshot& snapshot);
  void foot(Ui& ui, const app::Snapshot& snapshot);
  /// On a phone that lies on its side the keypad fills the right: the words stand at the left.
  [[nodiscard]] static bool words_beside(const Ui& ui, const app::Snapshot& snapshot);
  void card_words(Ui& ui, const app::Card& card);
  [[nodiscard]] static bool pad_pinned(const Ui& ui);
  void number_pad(Ui& ui, const app::Card& card);
  void number_act(Ui& ui, const app::Card& card, bool beside);
  void number_foot(Ui& ui, const app::Card& card, bool beside);
  bool main_button(Ui& ui, const app::Card& card, const app::Button& spec, bool primary);
  void ways(Ui& ui, const app::Card& card);
  void texts(Ui& ui, const std::vector<app::TextField>& fields);
  void text_field(Ui& ui, const app::TextField& spec);
  // view_look.cpp
  void look(Ui& ui, const app::Snapshot& snapshot);
  void rows(Ui& ui, std::string_view name, const std::vector<app::Row>& list, bool dense);
  void one_row(Ui& ui, const app::Row& spec, bool dense);
  void bill(Ui& ui, const app::BillView& view);
  void picture(Ui& ui, const app::Snapshot& snapshot);
  void look_head(Ui& ui, const std::string& caption, const app::Button* turn);
  void settle_view(const app::Exploded& exploded);
  void plan(Ui& ui, const app::Snapshot& snapshot, bool dense);
  // view_circuit.cpp
  void circuit(Ui& ui, const app::CircuitView& view, const app::Button* turn);
  void chart(Ui& ui, const app::ChartView& view);
  // view.cpp
  void bands(Ui& ui, const app::Snapshot& snapshot);
  void sheet(Ui& ui, const app::Snapshot& snapshot);
  void sheet_foot(Ui& ui, const app::Snapshot& snapshot);
  void say(const app::Action& action) { out_->push_back(action); }

  Actions* out_ = nullptr;
  const Drawings* drawings_ = nullptr;
  std::map<std::string, Entry, std::less<>> entries_;
  /// A press that began before the card had been there for a moment was meant for the one before,
  /// and one that began before its words were drawn was meant for other words.
  [[nodiscard]] double from_ms() const;
  [[nodiscard]] bool too_soon(const Ui& ui) const;
  void note_card(const Ui& ui, const app::Snapshot& snapshot);
  /// Tells readers of a strip that changed.
  void tell_strip(Ui& ui, const safety::Strip& strip);

  std::string card_;         ///< id of the card that is shown, and since when
  double card_ms_ = 0;
  std::string said_;         ///< what the card says, and since when
  double shown_ms_ = 0;
  std::string power_said_;   ///< of the strip, as it was told
  std::string water_said_;
  std::string number_;       ///< digits in the field of card `number_of_`
  std::string number_of_;
  std::vector<Vec> strokes_;
  scene::Scene scene_;
  std::uint32_t scene_revision_ = 0;
  Box scene_box_;
  int scene_text_ = 0;
  scene::View scene_view_;
  std::vector<int> scene_items_;   ///< ids of what the view was settled for
  int touched_ = -1;         ///< item of the drawing whose name is shown
  bool plan_open_ = false;
  std::string seen_title_;
};

}  // namespace kp::ui
