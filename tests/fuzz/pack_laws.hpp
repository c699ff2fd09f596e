#pragma once

#include <string>
#include <string_view>

#include "base/check.hpp"
#include "pack/check.hpp"
#include "pack/load.hpp"

namespace kp::test {

/// For any bytes: a pack comes only from a text without a fault, every fault can be mended by what
/// it says, and what loads can be checked without end or crash.
inline void pack_laws(std::string_view bytes) {
  const pack::Loaded loaded = pack::load(bytes);
  KP_CHECK(loaded.pack.has_value() == (loaded.findings.faults() == 0));
  for (const Finding& finding : loaded.findings.all()) {
    KP_CHECK(!finding.code.empty() && !finding.what.empty() && !finding.remedy.empty());
  }
  if (loaded.pack) {
    const Findings findings = pack::check(*loaded.pack, {}, loaded.places);
    for (const Finding& finding : findings.all()) {
      KP_CHECK(!finding.code.empty() && !finding.what.empty());
    }
  }
}

}  // namespace kp::test
