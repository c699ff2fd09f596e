#pragma once
// Made-up snapshots of the screens that the look was drawn for, and of the awkward ones: long
// words, trouble, a sheet. Machines, people and figures are invented.

#include <string>
#include <vector>

#include "app/snapshot.hpp"
#include "ui/view.hpp"

namespace kp::test {

/// "arrive", "make-safe", "keypad", "find", "test", "open", "close", "prove", "bill", "start",
/// "sheet", "trouble", "paused".
[[nodiscard]] const std::vector<std::string>& gallery_names();
[[nodiscard]] app::Snapshot gallery_screen(const std::string& name, const ui::Drawings& drawings);

}  // namespace kp::test
