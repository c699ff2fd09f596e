#pragma once

#include <optional>
#include <string_view>

namespace kp::app {

/// Minutes from "90", "-90", "+15" or hours and minutes, "-11:30"; at most 24 hours either way.
[[nodiscard]] std::optional<int> minutes_of(std::string_view text);

}  // namespace kp::app
