#include "ui/semantics.hpp"

#include "base/text.hpp"

namespace kp::ui {

const char* role_name(Role role) {
  switch (role) {
    case Role::heading: return "heading";
    case Role::text: return "text";
    case Role::button: return "button";
    case Role::checkbox: return "checkbox";
    case Role::radio: return "radio";
    case Role::textbox: return "textbox";
    case Role::slider: return "slider";
    case Role::list: return "list";
    case Role::item: return "item";
    case Role::status: return "status";
    case Role::alert: return "alert";
    case Role::image: return "image";
    case Role::progress: return "progress";
    case Role::region: return "region";
  }
  return "text";
}

bool Semantic::same_words(const Semantic& o) const {
  return id == o.id && parent == o.parent && role == o.role && name == o.name &&
         value == o.value && hint == o.hint && enabled == o.enabled && visible == o.visible &&
         pressed == o.pressed && busy == o.busy && current == o.current && modal == o.modal &&
         checked == o.checked && level == o.level && typing == o.typing && press == o.press &&
         tag == o.tag && low == o.low && high == o.high && now == o.now;
}

bool focusable(const Semantic& item) {
  switch (item.role) {
    case Role::button:
    case Role::checkbox:
    case Role::radio:
    case Role::textbox:
    case Role::slider:
      return true;
    case Role::heading:
    case Role::text:
    case Role::list:
    case Role::item:
    case Role::status:
    case Role::alert:
    case Role::image:
    case Role::progress:
    case Role::region:
      break;
  }
  return false;
}

void Semantics::begin() { items_.clear(); }

std::size_t Semantics::add(Semantic item) {
  items_.push_back(std::move(item));
  return items_.size() - 1;
}

const Semantic* Semantics::find(Id id) const {
  for (const Semantic& item : items_) {
    if (item.id == id) return &item;
  }
  return nullptr;
}

const Semantic* Semantics::find(Role role, std::string_view name) const {
  for (const Semantic& item : items_) {
    if (item.role == role && item.name == name) return &item;
  }
  for (const Semantic& item : items_) {
    if (item.role == role && std::string_view(item.name).substr(0, name.size()) == name) {
      return &item;
    }
  }
  return nullptr;
}

std::string Semantics::dump() const {
  std::string out;
  std::unordered_map<Id, int> depth;
  for (const Semantic& item : items_) {
    const auto found = depth.find(item.parent);
    const int indent = item.parent == 0 || found == depth.end() ? 0 : found->second + 1;
    depth[item.id] = indent;
    out += std::string(to_size(indent) * 2, ' ');
    out += role_name(item.role);
    if (item.level > 0) out += cat(" ", item.level);
    if (!item.name.empty()) out += cat(" \"", item.name, "\"");
    if (!item.value.empty()) out += cat(" = ", item.value);
    if (!item.hint.empty()) out += cat(" (", item.hint, ")");
    if (!item.enabled) out += " off";
    if (item.checked) out += *item.checked ? " checked" : " unchecked";
    if (item.current) out += " current";
    if (item.pressed) out += " pressed";
    if (item.busy) out += " busy";
    if (item.modal) out += " modal";
    out += "\n";
  }
  return out;
}

Semantics::Diff Semantics::diff() {
  Diff out;
  std::unordered_map<Id, std::size_t> old;
  for (std::size_t i = 0; i < before_.size(); ++i) old[before_[i].id] = i;
  out.order_changed = items_.size() != before_.size();
  for (std::size_t i = 0; i < items_.size(); ++i) {
    const auto found = old.find(items_[i].id);
    if (found == old.end()) {
      out.order_changed = true;
      out.words.push_back(i);
      continue;
    }
    if (found->second != i) out.order_changed = true;
    const Semantic& was = before_[found->second];
    if (!items_[i].same_words(was)) {
      out.words.push_back(i);
    } else if (items_[i].box != was.box) {
      out.boxes.push_back(i);
    }
    old.erase(found);
  }
  for (const Semantic& was : before_) {
    if (old.count(was.id) != 0) out.gone.push_back(was.id);
  }
  before_ = items_;
  return out;
}

}  // namespace kp::ui
