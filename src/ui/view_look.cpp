// The upper part: lists, the plate, the drawing, the bill, the plan.
#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "ui/kit.hpp"
#include "ui/symbols.hpp"
#include "ui/view.hpp"

namespace kp::ui {
namespace {

Mark mark_of(app::Mark mark) {
  switch (mark) {
    case app::Mark::done: return Mark::done;
    case app::Mark::now: return Mark::current;
    case app::Mark::todo: return Mark::number;
    case app::Mark::failed: return Mark::refused;
    case app::Mark::target: return Mark::target;
    case app::Mark::blocked: return Mark::refused;
    case app::Mark::choice:
    case app::Mark::chosen: return Mark::open;
    case app::Mark::none: break;
  }
  return Mark::none;
}

const scene::Item* item_of(const app::Exploded& exploded, int id) {
  const auto found = std::find_if(exploded.items.begin(), exploded.items.end(),
                                  [id](const scene::Item& one) { return one.id == id; });
  return found == exploded.items.end() ? nullptr : &*found;
}

constexpr float kTouch = 44;

Felt feel_button(Ui& ui, std::string name, const char* key, Box box) {
  Semantic item;
  item.role = Role::button;
  item.name = std::move(name);
  item.id = ui.make_id(item.role, key);
  item.box = box;
  return ui.feel(std::move(item));
}

std::string tag_words(const scene::Item& item) { return cat("About: ", item.name); }

/// The name of what was touched, and the way to what one can do with it. It lies on the drawing, so it
/// is felt before it and painted after it.
Box tag_box(const Ui& ui, const scene::Item& item, Box box) {
  const float width = std::min(ui.fonts.width(type::kRailBold, tag_words(item)) + 24, box.w - 2 * metric::kMargin);
  return Box{box.x + metric::kMargin, box.bottom() - kTouch - 8, width, kTouch};
}

void draw_tag(const Ui& ui, const scene::Item& item, const Felt& felt, Box box) {
  const Box tag = tag_box(ui, item, box);
  ui.fill(tag, felt.held ? ui.colors().touch_deep : ui.colors().touch, 8);
  ui.text(type::kRailBold, tag.x + 12, tag.centre().y + ui.fonts.ascent(type::kRailBold) / 2,
          ui.colors().on_touch, tag_words(item));
  if (felt.focused) draw_focus(ui, tag, 8);
}

bool is_choice(app::Mark mark) { return mark == app::Mark::choice || mark == app::Mark::chosen; }

}  // namespace

void View::one_row(Ui& ui, const app::Row& spec, bool dense) {
  const scene::Drawing* drawing = nullptr;
  if (!spec.drawing.empty()) {
    const auto found = drawings_->find(spec.drawing);
    if (found != drawings_->end()) drawing = &found->second;
  }
  if (spec.bar >= 0) {
    Weight weight;
    weight.label = spec.title;
    weight.under = spec.detail;
    weight.figure = spec.figure;
    weight.share = spec.bar;
    weight.key = spec.id;
    weight.chosen = spec.mark == app::Mark::chosen;
    weight.pressable = spec.tap.has_value();
    if (weight_bar(ui, weight) && spec.tap) say(*spec.tap);
    return;
  }
  if (drawing != nullptr && is_choice(spec.mark)) {
    const auto paint = [&](Ui& inner, Box box) { draw_picture(inner, *drawing, box); };
    Card card_spec;
    card_spec.title = spec.title;
    card_spec.under = spec.detail;
    card_spec.key = spec.id;
    card_spec.chosen = spec.mark == app::Mark::chosen;
    card_spec.pressable = spec.tap.has_value();
    card_spec.drawing = paint;
    if (card(ui, card_spec) && spec.tap) say(*spec.tap);
    return;
  }
  Row out;
  out.label = spec.title;
  out.under = spec.detail;
  out.figure = spec.figure;
  out.key = spec.id;
  out.mark = mark_of(spec.mark);
  out.number = spec.number;
  out.current = spec.mark == app::Mark::now;
  out.choice = is_choice(spec.mark);
  out.chosen = spec.mark == app::Mark::chosen;
  out.faint = dense ? spec.mark == app::Mark::done : spec.mark == app::Mark::todo;
  out.pressable = spec.tap.has_value();
  out.line_below = spec.mark == app::Mark::none;
  out.dense = dense;
  if (row(ui, out) && spec.tap) say(*spec.tap);
}

void View::rows(Ui& ui, std::string_view name, const std::vector<app::Row>& all, bool dense) {
  std::size_t from = 0;
  while (from < all.size()) {
    std::size_t to = from;
    while (to < all.size() && all[to].group == all[from].group) ++to;
    const std::string& group = all[from].group;
    if (!group.empty()) {
      ui.gap(dense ? 12 : from == 0 ? 2 : 14);
      heading(ui, group, Type{Face::bold, 13}, 3);
      ui.gap(2);
    }
    list(ui, group.empty() ? name : std::string_view(group), [&] {
      for (std::size_t i = from; i < to; ++i) one_row(ui, all[i], dense);
    });
    from = to;
  }
}

void View::bill(Ui& ui, const app::BillView& view) {
  std::vector<Segment> segments;
  std::string spoken;
  std::string names[3];
  for (const app::TimePiece& piece : view.bar) {
    Segment segment;
    segment.share = piece.share;
    const bool travel = piece.name.find("ravel") != std::string::npos;
    const bool waiting = piece.name.find("ait") != std::string::npos ||
                         piece.name.find("not billed") != std::string::npos ||
                         piece.name.find("nbilled") != std::string::npos;
    segment.kind = travel ? Segment::Kind::travel : waiting ? Segment::Kind::waiting
                                                            : Segment::Kind::labour;
    std::string& name = names[travel ? 0 : waiting ? 2 : 1];
    if (name.find(piece.name) == std::string::npos) name += cat(name.empty() ? "" : ", ", piece.name);
    segments.push_back(segment);
    spoken += cat(spoken.empty() ? "" : ", ", piece.name, " ", fixed_text(piece.share * 100, 0), " %");
  }
  if (!segments.empty()) {
    time_bar(ui, segments, names[0], names[1], names[2], cat("Time: ", spoken));
    ui.gap(14);
  }
  list(ui, "Lines of the invoice", [&] {
    for (const app::Row& one : view.lines) one_row(ui, one, false);
  });
  ui.gap(18);
  total(ui, view.total_label, view.total);
}

// Another set of things is shown whole where that leaves its words readable; the same set stays
// where the person put it. What is next is brought into sight in any case.
void View::settle_view(const app::Exploded& exploded) {
  constexpr double kReadable = 0.7;
  const scene::Vec window(static_cast<double>(scene_box_.w), static_cast<double>(scene_box_.h));
  std::vector<int> shown;
  for (const scene::Item& item : exploded.items) {
    if (!item.context) shown.push_back(item.id);
  }
  if (shown != scene_items_ && !scene_.content.empty()) {
    scene_items_ = std::move(shown);
    const double fit = std::min({1.0, window.x / scene_.content.width(),
                                 window.y / scene_.content.height()});
    scene_view_.zoom = std::max(fit, kReadable);
    scene_view_.shift = window * 0.5 - scene_.content.centre() * scene_view_.zoom;
  }
  scene_view_ = scene::clamped(scene_view_, scene_.content, window);
  scene::Box next;
  for (const scene::Placed& item : scene_.items) {
    if (item.state != scene::ItemState::next && item.state != scene::ItemState::moving) continue;
    next.add(scene::Box::around(item.box.centre(), std::max(item.ring, item.box.width() / 2),
                                std::max(item.ring, item.box.height() / 2)));
    for (const scene::Callout& callout : scene_.callouts) {
      if (callout.id == item.id) next.add(callout.box);
    }
  }
  if (!next.empty()) scene_view_ = scene::showing(scene_view_, next, scene_.content, window);
}

void View::picture(Ui& ui, const app::Snapshot& snapshot) {
  const Box box = ui.rest();
  if (!ui.painting() || box.empty()) return;
  const bool other = scene_revision_ != snapshot.revision || !(scene_box_ == box) ||
                     scene_text_ != ui.taste.text_percent;
  if (other) {
    scene::Viewport viewport;
    viewport.width = static_cast<double>(box.w);
    viewport.height = static_cast<double>(box.h);
    viewport.label_size = static_cast<double>(ui.fonts.scaled(13));
    viewport.measure = [&ui](std::string_view text, double size, bool strong) {
      const Type type{strong ? Face::bold : Face::regular,
                      static_cast<float>(size) / ui.fonts.scaled(1)};
      return static_cast<double>(ui.fonts.width(type, text));
    };
    scene_ = scene::layout(snapshot.exploded->items, snapshot.exploded->progress, viewport);
    scene_revision_ = snapshot.revision;
    scene_box_ = box;
    scene_text_ = ui.taste.text_percent;
    settle_view(*snapshot.exploded);
  }
  const scene::Item* named = item_of(*snapshot.exploded, touched_);
  const Felt tag = named == nullptr ? Felt{}
                                    : feel_button(ui, tag_words(*named), "about", tag_box(ui, *named, box));
  const auto touched = scene_view(ui, snapshot.exploded->name, scene_, scene_view_, box);
  if (touched && !tag.fired()) {
    touched_ = *touched;
    ui.when.now();   // its tag comes with the next frame
    const scene::Item* met = item_of(*snapshot.exploded, touched_);
    if (met != nullptr) ui.announce(met->name);
  }
  if (named == nullptr) return;
  draw_tag(ui, *named, tag, box);
  if (!tag.fired()) return;
  app::Action about = snapshot.exploded->about;
  about.id += integer_text(named->id);
  say(about);
}

// What is seen, and the way to the other look at it.
void View::look_head(Ui& ui, const std::string& caption, const app::Button* turn) {
  if (turn == nullptr) {
    ui.gap(10);
    heading(ui, caption, Type{Face::bold, 13}, 3);
    ui.gap(6);
    return;
  }
  const Box row = ui.take(kTouch);
  const float width = ui.fonts.width(type::kRailBold, turn->label);
  const Box link{row.right() - width - 12, row.y, width + 12, kTouch};
  const Type small{Face::bold, 13};
  const float down = (kTouch - ui.fonts.leading(small)) / 2;
  (void)ui.within(Box{row.x, row.y + down, link.x - row.x - 8, kTouch - down},
                  [&] { heading(ui, caption, small, 3); });
  const Felt felt = feel_button(ui, turn->label, "turn", link);
  ui.text(type::kRailBold, row.right(), row.centre().y + ui.fonts.ascent(type::kRailBold) / 2,
          felt.held ? ui.colors().touch_deep : ui.colors().touch, turn->label, 1);
  if (felt.focused) draw_focus(ui, link, 6);
  if (felt.fired()) say(turn->action);
}

void View::plan(Ui& ui, const app::Snapshot& snapshot, bool dense) {
  if (dense) {
    heading(ui, snapshot.plan_title, Type{Face::bold, 18}, 2);
    words(ui, type::kNote, ui.colors().soft, snapshot.plan_detail);
  } else {
    words(ui, type::kLine, ui.colors().soft, snapshot.plan_detail);
  }
  rows(ui, "Plan", snapshot.plan, true);
}

void View::look(Ui& ui, const app::Snapshot& snapshot) {
  const app::Button* turn = snapshot.other_look ? &*snapshot.other_look : nullptr;
  if (snapshot.exploded) {
    if (turn != nullptr) {
      // The drawing fills its part to the edges, words keep the margin.
      const Box rest = ui.rest();
      (void)ui.take(ui.within(Box{rest.x + metric::kMargin, rest.y, rest.w - 2 * metric::kMargin, kTouch},
                              [&] { look_head(ui, snapshot.exploded->caption, turn); }));
    }
    picture(ui, snapshot);
    return;
  }
  if (words_beside(ui, snapshot)) {
    card_words(ui, snapshot.card);
    ui.gap(10);
    ui.stop_reveal();
  }
  if (!snapshot.heading.empty()) {
    heading(ui, snapshot.heading, type::kAsk, 2);
    ui.gap(2);
    words(ui, type::kLine, ui.colors().soft, snapshot.heading_detail);
    ui.gap(8);
  }
  if (snapshot.field) text_field(ui, *snapshot.field);
  if (snapshot.bill) bill(ui, *snapshot.bill);
  rows(ui, snapshot.heading.empty() ? std::string_view(snapshot.stage_title)
                                    : std::string_view(snapshot.heading),
       snapshot.rows, false);
  if (snapshot.circuit) {
    circuit(ui, *snapshot.circuit, turn);
  } else if (turn != nullptr) {
    look_head(ui, "", turn);
  }
  rows(ui, "Readings", snapshot.below, false);
  if (snapshot.chart) chart(ui, *snapshot.chart);
}

}  // namespace kp::ui
