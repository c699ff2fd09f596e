#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/findings.hpp"
#include "pack/load.hpp"
#include "pack/model.hpp"

namespace kp::pack {

/// One rule of the checker. `code` is stable; `meaning` says what a pack must keep to.
struct Rule {
  std::string_view code;
  Severity severity;
  std::string_view meaning;
};

/// All rules, in the order in which their subjects are checked.
[[nodiscard]] const std::vector<Rule>& rules();

/// Checks the sense of a pack that loaded: every fault in one run, ordered by line.
/// `drawing_ids`: the drawings there are (names of SVG files without ending); `places` from
/// load() gives the lines. A pack with a finding of severity fault must not be worked with.
[[nodiscard]] Findings check(const Pack& pack, const std::vector<std::string>& drawing_ids,
                             const Places& places = {});

}  // namespace kp::pack
