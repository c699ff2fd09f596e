#include <cmath>

#include <imgui.h>
#include <imgui_internal.h>

#include "base/text.hpp"
#include "ui/kit.hpp"
#include "ui/symbols.hpp"

namespace kp::ui {

// ---------------------------------------------------------------- readings

Reading read_entry(const ReadingSpec& spec, std::string_view text) {
  Reading out;
  const std::string_view entry = trim(text);
  if (entry.empty()) return out;
  const std::string unit = spec.unit.empty() ? std::string() : cat(" ", spec.unit);
  const std::string range =
      cat("Enter ", number_text(spec.low), " to ", number_text(spec.high), unit, ".");
  if (entry == "OL") {
    if (spec.over) {
      out.kind = Reading::Kind::over;
    } else {
      out.kind = Reading::Kind::refused;
      out.refusal = range;
    }
    return out;
  }
  std::string plain(entry);
  for (char& c : plain) {
    if (c == ',') c = '.';
  }
  if (plain.back() == '.') plain.pop_back();
  if (!plain.empty() && plain.front() == '.') plain.insert(0, "0");
  const std::optional<double> value = parse_number(plain);
  if (!value || !std::isfinite(*value) || *value < spec.low || *value > spec.high) {
    out.kind = Reading::Kind::refused;
    out.refusal = range;
    return out;
  }
  out.kind = Reading::Kind::number;
  out.value = *value;
  return out;
}

namespace {

constexpr std::size_t kMostDigits = 8;

void type_into(std::string& text, std::string_view key, const ReadingSpec& spec) {
  if (key == "OL") {
    text = spec.over ? "OL" : text;
    return;
  }
  if (key == "<") {
    if (text == "OL") {
      text.clear();
    } else if (!text.empty()) {
      text.pop_back();
    }
    return;
  }
  if (text == "OL") text.clear();
  if (text.size() >= kMostDigits) return;
  if (key == "." && text.find('.') != std::string::npos) return;
  if (key == "-" && !text.empty()) return;
  if (key == "." && text.empty()) text = "0";
  if (text == "0" && key != ".") text.clear();
  text += key;
}

void take_typed(Ui& ui, const ReadingSpec& spec, std::string& text) {
  for (const char c : ui.in().text) {
    const char key[2] = {c == ',' ? '.' : c, '\0'};
    if ((c >= '0' && c <= '9') || c == '.' || c == ',') type_into(text, key, spec);
    if (c == '-' && spec.low < 0) type_into(text, key, spec);
    if ((c == 'o' || c == 'O') && spec.over) text = "OL";
  }
  for (const KeyPress& key : ui.in().keys) {
    if (key.down && key.key == Key::backspace) type_into(text, "<", spec);
  }
}

bool pad_key(Ui& ui, Box box, std::string_view label, std::string_view spoken,
             Type type = type::kKey) {
  const Palette& c = ui.colors();
  Semantic item;
  item.role = Role::button;
  item.id = ui.make_id(Role::button, spoken);
  item.name = std::string(spoken);
  item.box = box;
  item.tag = "key";
  const Felt felt = ui.feel(std::move(item));
  ui.fill(box, felt.held ? c.touch_tint : c.paper, 8);
  ui.stroke(box, felt.held ? c.touch : c.hairline, 1, 8);
  if (label == "<") {
    draw_delete_key(ui, box.centre(), 22, c.ink);
  } else {
    ui.text(type, box.centre().x, box.centre().y + ui.fonts.ascent(type) / 2, c.ink, label, 0.5F);
  }
  if (felt.focused) draw_focus(ui, box, 8);
  return felt.fired();
}

struct PadKey {
  std::string_view label;
  std::string_view spoken;
};

constexpr PadKey kPad[] = {{"7", "7"}, {"8", "8"}, {"9", "9"}, {"4", "4"}, {"5", "5"}, {"6", "6"},
                           {"1", "1"}, {"2", "2"}, {"3", "3"}, {"0", "0"}, {".", "point"},
                           {"<", "delete"}};

constexpr PadKey kShortPad[] = {{"7", "7"}, {"8", "8"}, {"9", "9"}, {"<", "delete"},
                                {"4", "4"}, {"5", "5"}, {"6", "6"}, {".", "point"},
                                {"1", "1"}, {"2", "2"}, {"3", "3"}, {"0", "0"}};

// Short screens get three rows of lower keys, a phone on its side two flat rows.
void keypad(Ui& ui, const ReadingSpec& spec, std::string& text) {
  const float screen = ui.surface().size.y;
  const int count = to_int(std::size(kPad));
  const bool low = screen < 640;
  const bool flat = screen < 480 && ui.width() / 6 > 50;
  const int across = flat ? 6 : low ? 4 : 3;
  const int rows = count / across;
  const float height = low ? 44 : 54;
  const float gap = low ? 4 : 8;
  const float width = (ui.width() - gap * static_cast<float>(across - 1)) / static_cast<float>(across);
  const Box all = ui.take((height + gap) * static_cast<float>(rows) - gap);
  for (int i = 0; i < count; ++i) {
    const PadKey& key = low && !flat ? kShortPad[i] : kPad[i];
    const Box box{all.x + (width + gap) * static_cast<float>(i % across),
                  all.y + (height + gap) * static_cast<float>(i / across), width, height};
    if (pad_key(ui, box, key.label, key.spoken)) type_into(text, key.label, spec);
  }
}

// What is no digit stands beside the field: OL, and the sign where there is one.
float side_keys(Ui& ui, const ReadingSpec& spec, std::string& text, Box row) {
  float used = 0;
  const auto key = [&](std::string_view entry, std::string_view label, std::string_view spoken) {
    const Type type = label.size() > 2 ? type::kRowBold : type::kKey;
    const float wide = std::max(72.0F, ui.fonts.width(type, label) + 24);
    used += wide + 8;
    const Box box{row.right() - used + 8, row.y, wide, row.h};
    if (pad_key(ui, box, label, spoken, type)) type_into(text, entry, spec);
  };
  if (spec.over) key("OL", spec.over_word, spec.over_word);
  if (spec.low < 0) key("-", "-", "minus");
  return used;
}

}  // namespace

Reading reading(Ui& ui, const ReadingSpec& spec, std::string& text) {
  const Palette& c = ui.colors();
  const Id id = ui.make_id(Role::textbox, spec.label, spec.key);
  if (ui.painting() && !ui.inert()) {
    take_typed(ui, spec, text);
    if (ui.in().value && ui.in().value_id == id) {
      text = *ui.in().value == spec.over_word ? std::string("OL") : *ui.in().value;
    }
  }
  const bool low = ui.surface().size.y < 640;
  const Box whole = ui.take(low ? 46 : 56);
  const Scope scope(ui, "keypad");
  const Box box{whole.x, whole.y, whole.w - side_keys(ui, spec, text, whole), whole.h};
  Reading out = read_entry(spec, text);
  Semantic item;
  item.id = id;
  item.role = Role::textbox;
  item.name = std::string(spec.label);
  item.value = text == "OL" ? std::string(spec.over_word) : text;
  item.hint = cat(number_text(spec.low), " to ", number_text(spec.high), " ", spec.unit);
  item.box = box;
  item.typing = Typing::keypad;
  const Felt felt = ui.feel(std::move(item));
  const bool wrong = out.kind == Reading::Kind::refused;
  ui.fill(box, c.paper, 8);
  ui.stroke(box, wrong ? c.danger : c.touch, wrong ? 2.5F : 1.5F, 8);
  const Type unit{Face::mono, 20};
  const float unit_width = ui.fonts.width(unit, spec.unit);
  const float base = box.centre().y + 11;
  const bool spelled = out.kind == Reading::Kind::over && spec.over_word.size() > 2;
  const float end = box.right() - 14 - (spelled ? 0 : unit_width + 34);
  if (spelled) {
    ui.text(type::kTitle, end, box.centre().y + 7, c.ink, spec.over_word, 1);
  } else {
    ui.text(unit, box.right() - 14, base - 1, c.soft, spec.unit, 1);
    ui.text(type::kReading, end, base, c.ink, text, 1);
  }
  ui.line(Vec{end + 4, base - 27}, Vec{end + 4, base + 5}, c.touch, 2);
  if (felt.focused) draw_focus(ui, box, 8);
  if (wrong) {
    ui.gap(4);
    draw_warning(ui, Vec{ui.left(), ui.y() + 1}, 0.8F);
    ui.within(Box{ui.left() + 22, ui.y(), ui.width() - 22, 0},
              [&] { words(ui, type::kLine, c.ink, out.refusal, Role::alert); });
    ui.take(ui.fonts.leading(type::kLine));
  }
  ui.gap(low ? 8 : 12);
  keypad(ui, spec, text);
  return out;
}

// ---------------------------------------------------------------- free text

namespace {

bool edit_here(Ui& ui, const Field& spec, std::string& text, Box box, Id id, bool pressed) {
  std::vector<char> buffer(to_size(spec.most) + 1, '\0');
  std::copy_n(text.begin(), std::min(text.size(), to_size(spec.most)), buffer.begin());
  ImGui::PushStyleColor(ImGuiCol_FrameBg, 0);
  ImGui::PushStyleColor(ImGuiCol_Text, ui.colors().ink);
  ImGui::PushStyleColor(ImGuiCol_TextSelectedBg, ui.colors().touch_tint);
  ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(16, 14));
  ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, 0.0F);
  ImFont* font = ui.fonts.imgui_font(spec.mono ? type::kKey : type::kRow);
  if (font != nullptr) ImGui::PushFont(font);
  ImGui::SetCursorScreenPos(ImVec2(box.x, box.y));
  ImGui::PushID(static_cast<int>(id));
  if (pressed || (ui.focus() == id && !ImGui::IsAnyItemActive())) ImGui::SetKeyboardFocusHere();
  bool changed = false;
  if (spec.many_lines) {
    changed = ImGui::InputTextMultiline("##text", buffer.data(), buffer.size(),
                                        ImVec2(box.w, box.h));
  } else {
    ImGui::SetNextItemWidth(box.w);
    changed = ImGui::InputText("##text", buffer.data(), buffer.size());
  }
  ImGui::PopID();
  if (font != nullptr) ImGui::PopFont();
  ImGui::PopStyleVar(2);
  ImGui::PopStyleColor(3);
  if (ImGui::IsItemActive()) ui.when.at(ui.in().ms + 250);
  if (changed) text = buffer.data();
  return changed;
}

}  // namespace

bool field(Ui& ui, const Field& spec, std::string& text) {
  const Palette& c = ui.colors();
  words(ui, type::kNote, c.soft, spec.label);
  ui.gap(4);
  const Type type = spec.mono ? type::kKey : type::kRow;
  const float height = std::max(56.0F, ui.fonts.leading(type) + 26) + (spec.many_lines ? 44 : 0);
  const Box box = ui.take(height);
  Semantic item;
  item.id = ui.make_id(Role::textbox, spec.label, spec.key);
  item.role = Role::textbox;
  item.name = std::string(spec.label);
  item.value = text;
  item.hint = std::string(spec.hint);
  item.box = box;
  item.typing = spec.many_lines ? Typing::area : Typing::line;
  const Id id = item.id;
  const Felt felt = ui.feel(std::move(item));
  bool changed = false;
  if (ui.painting() && !ui.inert() && ui.in().value && ui.in().value_id == id) {
    std::string typed = *ui.in().value;
    if (typed.size() > to_size(spec.most)) typed.resize(to_size(spec.most));
    changed = typed != text;
    text = std::move(typed);
  }
  if (felt.fired()) ui.set_focus(id);
  const bool on = ui.focus() == id;
  ui.fill(box, c.card, 8);
  ui.stroke(box, on ? c.touch : c.soft, on ? 2.0F : 1.5F, 8);
  if (ui.painting() && !ui.inert() && !ui.surface().dom_text) {
    if (text.empty() && !on) ui.text(type, box.x + 16, box.y + 36, c.soft, spec.hint);
    changed = edit_here(ui, spec, text, box, id, felt.fired()) || changed;
  } else {
    const float leading = ui.fonts.leading(type);
    float y = box.y + 14 + leading * 0.78F;
    ui.clip(box.inset(8, 4));
    for (const std::string_view line :
         ui.fonts.wrap(type, text.empty() ? spec.hint : Words(text), box.w - 32)) {
      ui.text(type, box.x + 16, y, text.empty() ? c.soft : c.ink, line);
      y += leading;
    }
    ui.unclip();
  }
  if (felt.focused) draw_focus(ui, box, 8);
  return changed;
}

// ---------------------------------------------------------------- dragging

bool slider(Ui& ui, std::string_view name, float& value, std::string_view spoken, int steps) {
  const Palette& c = ui.colors();
  const Box box = ui.take(metric::kRowMin);
  Semantic item;
  item.id = ui.make_id(Role::slider, name);
  item.role = Role::slider;
  item.name = std::string(name);
  item.value = std::string(spoken);
  item.box = box;
  item.low = 0;
  item.high = static_cast<float>(steps);
  item.now = std::floor(value * static_cast<float>(steps) + 0.5F);
  const Id id = item.id;
  ui.slot(id).flag = true;
  const Felt felt = ui.feel(std::move(item));
  const float track = box.w - 22;
  bool moved = false;
  if (ui.painting() && ui.active() == id && ui.in().down) {
    const float wanted = std::clamp((ui.in().at.x - box.x - 11) / track, 0.0F, 1.0F);
    moved = wanted != value;
    value = wanted;
  }
  if (ui.painting() && ui.focus() == id) {
    for (const KeyPress& key : ui.in().keys) {
      const float step = key.key == Key::right || key.key == Key::up     ? 1.0F
                         : key.key == Key::left || key.key == Key::down ? -1.0F
                                                                       : 0.0F;
      if (!key.down || step == 0) continue;
      value = std::clamp(value + step / static_cast<float>(steps), 0.0F, 1.0F);
      moved = true;
    }
  }
  const float y = box.centre().y;
  const float knob = box.x + 11 + track * value;
  ui.fill(Box{box.x, y - 4, box.w, 8}, c.hairline, 4);
  ui.fill(Box{box.x, y - 4, knob - box.x, 8}, c.touch, 4);
  ui.disc(Vec{knob, y}, 11, c.card);
  ui.ring(Vec{knob, y}, 11, c.touch, 3);
  if (felt.focused) draw_focus(ui, box, 8);
  return moved;
}

namespace {

/// When the pointer was where this frame sees it, by the device where that is known.
double drawn_at(const FrameInput& in) {
  if (!in.moves.empty()) return in.moves.back().ms;
  return in.pressed ? in.press_ms : in.ms;
}

}  // namespace

bool signature(Ui& ui, std::string_view name, Signature& drawn) {
  std::vector<Vec>& strokes = drawn.strokes;
  const Palette& c = ui.colors();
  constexpr float kHigh = 92;
  words(ui, type::kLine, c.soft, name);
  ui.gap(6);
  const Box box = ui.take(kHigh);
  Semantic item;
  item.id = ui.make_id(Role::button, name);
  item.role = Role::button;
  item.name = std::string(name);
  item.value = strokes.empty() ? "empty" : "signed";
  item.hint = "Draw with a finger or a mouse.";
  item.press = Pressing::draw;
  item.box = box;
  const Id id = item.id;
  ui.slot(id).flag = true;
  (void)ui.feel(std::move(item));
  ui.fill(box, c.paper, 8);
  ui.stroke(box, c.hairline, 1.2F, 8);
  ui.line(Vec{box.x + 24, box.y + 76}, Vec{box.right() - 24, box.y + 76}, c.hairline, 1);
  bool changed = false;
  if (ui.painting() && ui.active() == id) {
    const Vec here{(std::clamp(ui.in().at.x, box.x + 3, box.right() - 3) - box.x) / box.w,
                   (std::clamp(ui.in().at.y, box.y + 3, box.bottom() - 3) - box.y) / box.h};
    if (ui.in().down && (strokes.empty() || strokes.back() != here)) {
      strokes.push_back(here);
      drawn.ms.push_back(drawn_at(ui.in()));
      changed = true;
    }
    if (ui.in().released && !strokes.empty()) {
      strokes.push_back(Vec{-1, -1});
      drawn.ms.push_back(ui.in().release_ms);
    }
  }
  for (std::size_t i = 1; i < strokes.size(); ++i) {
    if (strokes[i].x < 0 || strokes[i - 1].x < 0) continue;
    draw_round_line(ui, Vec{box.x + strokes[i - 1].x * box.w, box.y + strokes[i - 1].y * box.h},
                    Vec{box.x + strokes[i].x * box.w, box.y + strokes[i].y * box.h}, c.ink, 2.6F);
  }
  return changed;
}

}  // namespace kp::ui
