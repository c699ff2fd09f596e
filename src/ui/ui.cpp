#include "ui/ui.hpp"

#include <imgui.h>

#include "base/check.hpp"
#include "base/text.hpp"

namespace kp::ui {
namespace {

Id mix(Id seed, std::string_view text) {  // FNV-1a, 32 bit
  Id hash = seed ^ 2166136261U;
  for (const char c : text) {
    hash ^= static_cast<unsigned char>(c);
    hash *= 16777619U;
  }
  return hash == 0 ? 1 : hash;
}

}  // namespace

Ui::Ui() = default;
Ui::~Ui() = default;

void Ui::begin(const FrameInput& in, const std::deque<Sample>& samples,
               const Surface& surface, ImDrawList* list) {
  in_ = &in;
  samples_ = &samples;
  surface_ = surface;
  list_ = list;
  when = When{};
  ++frame_;
  area_ = Box{0, 0, surface.size.x, surface.size.y};
  y_ = 0;
  measuring_ = inert_ = 0;
  scopes_.assign(1, 0);
  groups_.assign(1, 0);
  clips_.assign(1, area_);
  names_.clear();
  scroll_ = nullptr;
  reveal_off_ = nullptr;
  scroll_id_ = 0;
  active_seen_ = false;
  announced_.clear();
  take_keys();
  semantics.begin();
}

When Ui::end() {
  KP_CHECK(scopes_.size() == 1 && groups_.size() == 1 && clips_.size() == 1 && inert_ == 0);
  if (active_ != 0 && !active_seen_) active_ = 0;
  if (!in_->down && active_ != 0) active_ = 0;
  for (auto it = slots_.begin(); it != slots_.end();) {
    it = it->second.seen + 600 < frame_ ? slots_.erase(it) : std::next(it);
  }
  for (auto it = scrolls_.begin(); it != scrolls_.end();) {
    it = it->second.seen + 600 < frame_ ? scrolls_.erase(it) : std::next(it);
  }
  for (auto it = gestures_.begin(); it != gestures_.end();) {
    it = it->second.drawn != frame_ ? gestures_.erase(it) : std::next(it);
  }
  std::stable_sort(announced_.begin(), announced_.end(),
                   [](const Announcement& a, const Announcement& b) { return a.urgency < b.urgency; });
  return when;
}

// ---------------------------------------------------------------- place

Box Ui::take(float height) {
  const Box box{area_.x, y_, area_.w, height};
  y_ += height;
  return box;
}

float Ui::within(Box box, FunctionRef<void()> content) {
  const Box area = area_;
  const float y = y_;
  area_ = box;
  y_ = box.y;
  content();
  const float height = y_ - box.y;
  area_ = area;
  y_ = y;
  return height;
}

void Ui::columns(std::initializer_list<float> shares, float between,
                 FunctionRef<void(int)> content) {
  float total = 0;
  for (const float share : shares) total += share;
  const float room = area_.w - between * static_cast<float>(shares.size() - 1);
  const Box area = area_;
  const float top = y_;
  float x = area_.x;
  float foot = top;
  int index = 0;
  for (const float share : shares) {
    const float w = room * share / total;
    area_ = Box{x, area.y, w, area.h};
    y_ = top;
    content(index++);
    foot = std::max(foot, y_);
    x += w + between;
  }
  area_ = area;
  y_ = foot;
}

float Ui::measure(float width, FunctionRef<void()> content) {
  const Box area = area_;
  const float y = y_;
  const auto names = names_;
  area_ = Box{0, 0, width, 0};
  y_ = 0;
  ++measuring_;
  content();
  --measuring_;
  const float height = y_;
  area_ = area;
  y_ = y;
  names_ = names;
  return height;
}

void Ui::scroll(std::string_view key, Box box, FunctionRef<void()> content) {
  const Id id = make_id(Role::region, key, key);
  if (!painting()) {
    content();
    return;
  }
  Scroll& state = scrolls_[id];
  state.seen = frame_;
  state.view = box.h;
  drive(state, id, box);
  Scroll* outer = scroll_;
  const Id outer_id = scroll_id_;
  const Box outer_box = scroll_box_;
  scroll_ = &state;
  scroll_id_ = id;
  scroll_box_ = box;
  clip(box);
  within(Box{box.x, box.y - state.offset, box.w, box.h + state.offset}, [&] {
    content();
    const float height = y_ - (box.y - state.offset);
    if (height != state.content) {
      state.content = height;
      when.now();
    }
  });
  unclip();
  draw_thumb(state, box);
  scroll_ = outer;
  scroll_id_ = outer_id;
  scroll_box_ = outer_box;
}

void Ui::drive(Scroll& state, Id id, Box box) {
  const float most = std::max(0.0F, state.content - box.h);
  if (!inert() && clips_.back().cut(box).contains(in_->at)) {
    if (in_->wheel.y != 0 && !in_->wheel_zooms) {
      state.offset += in_->wheel.y;
      state.glide.stop();
    }
    if (in_->pressed) {
      if (state.glide.running()) active_ = id;  // a touch that stops the glide presses nothing
      state.glide.stop();
      state.drag_y = in_->at.y;
    }
  }
  const float slop = taste.gloves ? metric::kSlopGloves : metric::kSlop;
  const bool mine = in_->down && box.contains(in_->press_at) && !inert();
  if (mine && !state.dragging && in_->travel > slop && most > 0 && scroll_ == nullptr &&
      (in_->touch || active_ == 0)) {
    state.dragging = true;
    active_ = id;
  } else if (mine && in_->touch && in_->travel > slop && active_ != id && active_ != 0 &&
             !slots_[active_].flag) {
    active_ = id;  // a drag over a list that fits still is no tap
  }
  if (active_ == id) active_seen_ = true;
  if (state.dragging) {
    state.offset -= in_->at.y - state.drag_y;
    if (!in_->down) {
      state.dragging = false;
      if (!in_->cancelled) state.glide.start(-throw_speed(*samples_, in_->release_ms), in_->ms);
    }
  }
  state.drag_y = in_->at.y;
  state.offset += state.glide.step(in_->ms);
  if (state.offset < 0 || state.offset > most) state.glide.stop();
  state.offset = std::clamp(state.offset, 0.0F, most);
  if (state.glide.running()) when.now();
}

void Ui::draw_thumb(const Scroll& state, Box box) {
  if (state.content <= box.h + 1 || box.h < 24) return;
  const float share = box.h / state.content;
  const float length = std::max(24.0F, box.h * share);
  const float most = state.content - box.h;
  const float top = box.y + (box.h - length) * (state.offset / most);
  fill(Box{box.right() - 5, top + 2, 3, length - 4}, with_alpha(colors().soft, 0x80), 1.5F);
}

void Ui::reveal(Box box, Id what) {
  if (scroll_ != reveal_off_) bring(box, what);
}

void Ui::bring(Box box, Id what) {
  if (!painting() || scroll_ == nullptr || scroll_->revealed == what) return;
  scroll_->revealed = what;
  const float top = box.y - scroll_box_.y;
  if (top < 8) scroll_->offset += top - 8;
  if (box.bottom() > scroll_box_.bottom() - 8) {
    scroll_->offset += std::min(top - 8, box.bottom() - scroll_box_.bottom() + 8);
  }
  scroll_->offset = std::max(0.0F, scroll_->offset);
  scroll_->glide.stop();
  when.now();
}

// ---------------------------------------------------------------- identity

void Ui::push(std::string_view key) { scopes_.push_back(mix(scopes_.back() * 31U + 7U, key)); }
void Ui::pop() { scopes_.pop_back(); }

Id Ui::make_id(Role role, std::string_view name, std::string_view key) {
  Id id = mix(scopes_.back() * 31U + static_cast<Id>(role) + 1U, key.empty() ? name : key);
  const int times = names_[id]++;
  if (times > 0) id = mix(id, integer_text(times));
  return id & 0x7FFFFFFFU;  // the page's side keeps ids in signed numbers
}

// ---------------------------------------------------------------- feeling

Felt Ui::feel(Semantic item) {
  Felt felt;
  if (!painting() || inert()) return felt;
  if (surface_.shown == Shown::nothing) {
    show(std::move(item));
    return felt;
  }
  const Id id = item.id;
  const Box whole = item.box;
  const bool inside = under_pointer(id, whole);
  if (item.enabled) {
    if (in_->pressed && inside && active_ == 0) {
      active_ = id;
      focus_shown_ = false;
    }
    if (active_ == id) {
      active_seen_ = true;
      felt.held = in_->down && inside;
      if (in_->released) felt.clicked = inside && !in_->cancelled;
      if (felt.clicked) fired_ = Press{in_->press_ms, in_->release_ms};
    }
    feel_assistance(felt, item);
  } else if (active_ == id) {
    active_ = 0;
  }
  felt.focused = focus_ == id && focus_shown_;
  if (focus_ == id && focus_moved_ && scroll_ != nullptr) bring(whole, id);
  item.pressed = item.pressed || felt.held;
  show(std::move(item));
  return felt;
}

// A touch of the picture counts by its place, one of a real element by whose element it is.
bool Ui::under_pointer(Id id, Box box) const {
  if (in_->press_item != 0 && (in_->down || in_->released)) return in_->press_item == id;
  return surface_.shown == Shown::picture && in_->present && clips_.back().contains(in_->at) &&
         box.contains(in_->at);
}

// Clicks of readers, and keys. What is pressed and held listens to the keys itself.
void Ui::feel_assistance(Felt& felt, const Semantic& item) {
  if (in_->activate == item.id) {
    felt.assisted = true;
    fired_ = Press{in_->activate_ms, in_->activate_ms};
  }
  if (focus_ != item.id || item.press != Pressing::click) return;
  for (const KeyPress& key : in_->keys) {
    const bool fires = key.down ? key.key == Key::enter : key.key == Key::space;
    if (!fires) continue;
    felt.assisted = true;
    fired_ = Press{key.ms, key.ms};
  }
}

void Ui::show(Semantic item) {
  if (!painting() || inert()) return;
  item.parent = groups_.back();
  const Box seen = item.box.cut(clips_.back());
  item.visible = !seen.empty();
  if (item.visible) item.box = seen;
  semantics.add(std::move(item));
}

void Ui::begin_group(Semantic item) {
  const Id id = item.id;
  show(std::move(item));
  groups_.push_back(painting() && !inert() ? id : groups_.back());
}

void Ui::end_group() { groups_.pop_back(); }

void Ui::set_focus(Id id) {
  focus_ = id;
  focus_shown_ = true;
  focus_moved_ = true;
  when.now();
}

void Ui::take_keys() {
  focus_moved_ = false;
  if (in_->focus) {
    focus_ = *in_->focus;
    focus_shown_ = focus_moved_ = focus_ != 0;
  }
  if (in_->pressed) focus_shown_ = false;
  for (const KeyPress& key : in_->keys) {
    if (!key.down) continue;
    if (key.key == Key::tab) move_focus(key.shift);
  }
}

// The list of the frame before is the order that the person saw.
void Ui::move_focus(bool backwards) {
  const std::vector<Semantic>& items = semantics.items();
  std::vector<Id> order;
  for (const Semantic& item : items) {
    if (focusable(item) && item.enabled) order.push_back(item.id);
  }
  if (order.empty()) return;
  const auto here = std::find(order.begin(), order.end(), focus_);
  std::size_t next = 0;
  if (here == order.end()) {
    next = backwards ? order.size() - 1 : 0;
  } else {
    const auto index = static_cast<std::size_t>(here - order.begin());
    next = (index + (backwards ? order.size() - 1 : 1)) % order.size();
  }
  focus_ = order[next];
  focus_shown_ = focus_moved_ = true;
}

void Ui::announce(std::string_view text, Urgency urgency) {
  if (!painting() || text.empty()) return;
  announced_.push_back(Announcement{std::string(text), urgency});
}

Gesture& Ui::gesture(Id id, const ConfirmPolicy& policy) {
  Gesture& found = gestures_.try_emplace(id, Gesture{ConfirmMachine(policy)}).first->second;
  found.drawn = frame_;
  return found;
}

const Gesture* Ui::known_gesture(Id id) const {
  const auto found = gestures_.find(id);
  return found == gestures_.end() ? nullptr : &found->second;
}

Ui::Slot& Ui::slot(Id id) {
  Slot& found = slots_[id];
  found.seen = frame_;
  return found;
}

}  // namespace kp::ui
