#pragma once

#include <span>
#include <string>
#include <string_view>

namespace kp::app {

/// How this person wants the screen; empty: as the device has it, or the usual. Kept beside the
/// jobs on this device, never in a job.
struct Preferences {
  std::string look;      ///< "day", "night", "sun"
  std::string text;      ///< "130", "170": percent of the usual size
  std::string confirm;   ///< "two-step": press, then press again, instead of press and hold
  std::string touch;     ///< "gloves": a finger may wander further before a press becomes a drag
};

/// One value that a preference can have, with its words on the sheet.
struct PreferenceChoice {
  const char* group;
  const char* key;
  const char* value;
  const char* title;
};
[[nodiscard]] std::span<const PreferenceChoice> preference_choices();

/// The value of the preference `key`; empty for a key that there is not.
[[nodiscard]] std::string_view preference(const Preferences& all, std::string_view key);

/// Sets it where `value` is one of its choices; false, and nothing changed, where it is not.
bool set_preference(Preferences& all, std::string_view key, std::string_view value);

}  // namespace kp::app
