#include "app/preferences.hpp"

namespace kp::app {
namespace {

constexpr PreferenceChoice kChoices[] = {
    {"Look", "look", "", "As the device"},
    {"Look", "look", "day", "Day"},
    {"Look", "look", "night", "Night"},
    {"Look", "look", "sun", "Sun, most contrast"},
    {"Text", "text", "", "Usual"},
    {"Text", "text", "130", "Large"},
    {"Text", "text", "170", "Largest"},
    {"To confirm", "confirm", "", "Press and hold"},
    {"To confirm", "confirm", "two-step", "Press, then press again"},
    {"Hands", "touch", "", "Bare hands"},
    {"Hands", "touch", "gloves", "Gloves"},
};

std::string* find(Preferences& all, std::string_view key) {
  if (key == "look") return &all.look;
  if (key == "text") return &all.text;
  if (key == "confirm") return &all.confirm;
  if (key == "touch") return &all.touch;
  return nullptr;
}

}  // namespace

std::span<const PreferenceChoice> preference_choices() { return kChoices; }

std::string_view preference(const Preferences& all, std::string_view key) {
  if (key == "look") return all.look;
  if (key == "text") return all.text;
  if (key == "confirm") return all.confirm;
  if (key == "touch") return all.touch;
  return {};
}

bool set_preference(Preferences& all, std::string_view key, std::string_view value) {
  for (const PreferenceChoice& one : kChoices) {
    if (key == one.key && value == one.value) {
      *find(all, key) = std::string(value);
      return true;
    }
  }
  return false;
}

}  // namespace kp::app
