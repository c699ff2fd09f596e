#pragma once

#include <string>

#include "ui/ui.hpp"

namespace kp::web {

/// What changed in the semantics list since the last call, as JSON for web/mirror.js; empty when
/// nothing did.
[[nodiscard]] std::string mirror_changes(ui::Ui& ui);

}  // namespace kp::web
