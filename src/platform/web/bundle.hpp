#pragma once

#include <string_view>
#include <vector>

#include "app/content.hpp"

namespace kp::web {

/// Takes the site's one content file apart: lines "@ name size", each followed by that many bytes
/// and a line end. What does not fit this form ends the reading; what came before is used.
[[nodiscard]] std::vector<app::NamedBytes> read_bundle(std::string_view text);

}  // namespace kp::web
