#include "platform/web/mirror.hpp"

#include "base/text.hpp"

namespace kp::web {
namespace {

void put_text(std::string& out, const std::string& text) {
  out += '"';
  for (const char c : text) {
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (c == '\n') {
      out += "\\n";
    } else if (static_cast<unsigned char>(c) >= 0x20) {
      out += c;
    }
  }
  out += '"';
}

void put_box(std::string& out, const ui::Box& box) {
  out += cat("[", fixed_text(static_cast<double>(box.x), 1), ",",
             fixed_text(static_cast<double>(box.y), 1), ",",
             fixed_text(static_cast<double>(box.w), 1), ",",
             fixed_text(static_cast<double>(box.h), 1), "]");
}

void put_told(std::string& out, const std::vector<ui::Announcement>& told) {
  const char* comma = "";
  out += "\"told\":[";
  for (const ui::Announcement& one : told) {
    out += cat(comma, "[", one.urgency == ui::Urgency::rest ? 0 : 1, ",");
    put_text(out, one.text);
    out += ']';
    comma = ",";
  }
  out += ']';
}

void put_flag(std::string& out, const char* name, bool on) {
  if (on) out += cat(",\"", name, "\":1");
}

void put_item(std::string& out, const ui::Semantic& item) {
  out += cat("{\"id\":", static_cast<std::int64_t>(item.id), ",\"role\":\"",
             ui::role_name(item.role), "\",\"name\":");
  put_text(out, item.name);
  if (item.parent != 0) out += cat(",\"parent\":", static_cast<std::int64_t>(item.parent));
  if (!item.value.empty() || item.role == ui::Role::textbox) {
    out += ",\"value\":";
    put_text(out, item.value);
  }
  if (!item.hint.empty()) {
    out += ",\"hint\":";
    put_text(out, item.hint);
  }
  put_flag(out, "off", !item.enabled);
  put_flag(out, "busy", item.busy);
  put_flag(out, "current", item.current);
  put_flag(out, "modal", item.modal);
  put_flag(out, "hidden", !item.visible);
  if (item.checked) out += *item.checked ? ",\"checked\":1" : ",\"checked\":0";
  if (item.level > 0) out += cat(",\"level\":", item.level);
  if (item.press != ui::Pressing::click) out += cat(",\"press\":", static_cast<int>(item.press));
  if (!item.tag.empty()) out += cat(",\"tag\":\"", item.tag, "\"");
  if (item.typing != ui::Typing::none) out += cat(",\"typing\":", static_cast<int>(item.typing));
  if (item.role == ui::Role::slider || item.role == ui::Role::progress) {
    out += cat(",\"low\":", number_text(static_cast<double>(item.low)),
               ",\"high\":", number_text(static_cast<double>(item.high)),
               ",\"now\":", number_text(static_cast<double>(item.now)));
  }
  out += ",\"box\":";
  put_box(out, item.box);
  out += '}';
}

}  // namespace

std::string mirror_changes(ui::Ui& ui) {
  const ui::Semantics::Diff diff = ui.semantics.diff();
  if (diff.empty() && ui.announced().empty()) return {};
  const std::vector<ui::Semantic>& items = ui.semantics.items();
  std::string out = "{";
  const char* comma = "";
  if (!diff.words.empty()) {
    out += "\"items\":[";
    for (const std::size_t index : diff.words) {
      out += comma;
      put_item(out, items[index]);
      comma = ",";
    }
    out += ']';
    comma = ",";
  }
  if (!diff.boxes.empty()) {
    out += cat(comma, "\"boxes\":[");
    const char* between = "";
    for (const std::size_t index : diff.boxes) {
      out += cat(between, "[", static_cast<std::int64_t>(items[index].id), ",");
      put_box(out, items[index].box);
      out += ']';
      between = ",";
    }
    out += ']';
    comma = ",";
  }
  if (diff.order_changed || !diff.gone.empty()) {
    out += cat(comma, "\"order\":[");
    const char* between = "";
    for (const ui::Semantic& item : items) {
      out += cat(between, static_cast<std::int64_t>(item.id));
      between = ",";
    }
    out += ']';
    comma = ",";
  }
  if (!ui.announced().empty()) {
    out += comma;
    put_told(out, ui.announced());
  }
  out += '}';
  return out;
}

}  // namespace kp::web
