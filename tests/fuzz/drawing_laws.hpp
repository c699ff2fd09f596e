#pragma once

#include <string_view>

#include "base/check.hpp"
#include "scene/svg.hpp"

namespace kp::test {

/// For any bytes: a drawing comes only from a text without a fault, and every fault says how to
/// mend it.
inline void drawing_laws(std::string_view bytes) {
  Findings findings;
  const auto drawing = scene::read_drawing("fuzz", bytes, findings);
  KP_CHECK(drawing.has_value() == (findings.faults() == 0));
  for (const Finding& finding : findings.all()) {
    KP_CHECK(!finding.code.empty() && !finding.what.empty() && !finding.remedy.empty());
  }
}

}  // namespace kp::test
