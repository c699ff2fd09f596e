#include "scene/palette.hpp"

#include <array>

#include "base/text.hpp"

namespace kp::scene {
namespace {

struct Entry {
  Role role;
  std::string_view name;
  std::string_view colour;
};

constexpr std::array<Entry, 22> kRoles{{
    {Role::none, "none", "none"},
    {Role::white, "white", "#FFFFFF"},
    {Role::grey_1, "grey-1", "#F1EEE7"},
    {Role::grey_2, "grey-2", "#E3DFD5"},
    {Role::grey_3, "grey-3", "#D2CDC1"},
    {Role::grey_4, "grey-4", "#B9B4A8"},
    {Role::grey_5, "grey-5", "#9A968C"},
    {Role::grey_6, "grey-6", "#75726B"},
    {Role::ink, "ink", "#1B2126"},
    {Role::warm_1, "warm-1", "#E9D9BE"},
    {Role::warm_2, "warm-2", "#CDB48A"},
    {Role::rubber, "rubber", "url(#rubber)"},
    {Role::cut, "cut", "url(#cut)"},
    {Role::line, "line", ""},
    {Role::soft, "soft", ""},
    {Role::hairline, "hairline", ""},
    {Role::paper, "paper", ""},
    {Role::accent, "accent", ""},
    {Role::accent_tint, "accent-tint", ""},
    {Role::accent_deep, "accent-deep", ""},
    {Role::signal_yellow, "signal-yellow", ""},
    {Role::signal_black, "signal-black", ""},
}};

}  // namespace

std::string_view role_name(Role role) {
  for (const Entry& entry : kRoles) {
    if (entry.role == role) {
      return entry.name;
    }
  }
  return "?";
}

std::optional<Role> drawing_role(std::string_view colour) {
  std::string wanted = lower(trim(colour));
  if (wanted.size() == 4 && wanted[0] == '#') {
    wanted = {'#', wanted[1], wanted[1], wanted[2], wanted[2], wanted[3], wanted[3]};
  }
  for (const Entry& entry : kRoles) {
    if (!entry.colour.empty() && lower(entry.colour) == wanted) {
      return entry.role;
    }
  }
  return std::nullopt;
}

std::string_view drawing_colour(Role role) {
  for (const Entry& entry : kRoles) {
    if (entry.role == role) {
      return entry.colour;
    }
  }
  return {};
}

std::string drawing_colours() {
  std::string out;
  for (const Entry& entry : kRoles) {
    if (!entry.colour.empty()) {
      out += cat(out.empty() ? "" : ", ", entry.colour);
    }
  }
  return out;
}

std::optional<HatchStyle> hatch_style(Role role) {
  if (role == Role::rubber) {
    return HatchStyle{Role::grey_4, Role::ink, 4, 1.1};
  }
  if (role == Role::cut) {
    return HatchStyle{Role::grey_1, Role::grey_6, 5, 0.8};
  }
  return std::nullopt;
}

}  // namespace kp::scene
