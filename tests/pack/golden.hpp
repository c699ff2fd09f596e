#pragma once
// The golden packs: their folders, the drawings they may name, and findings as text.

#include <string>
#include <vector>

#include "base/findings.hpp"
#include "base/text.hpp"
#include "pack/check.hpp"
#include "pack/load.hpp"

namespace kp::test {

/// The drawings that the golden packs know of.
inline const std::vector<std::string>& known_drawings() {
  static const std::vector<std::string> ids = {
      "chopper",  "drain-hose", "frame",         "hose-clamp",    "machine-front",
      "machine-side", "nut",    "plug-connector", "pump-module",  "saddle-spring",
      "screw",    "snap",       "toe-panel"};
  return ids;
}

/// One finding a line: severity, code, and the sentence that people see.
inline std::string as_lines(const Findings& findings) {
  static const char* const severities[] = {"note", "warning", "fault"};
  std::string out;
  for (const Finding& finding : findings.all()) {
    out += cat(severities[static_cast<int>(finding.severity)], " ", finding.code, " ",
               finding.text(), "\n");
  }
  return out;
}

/// All that reading and checking find in a pack's text.
inline std::string all_findings(const std::string& text) {
  const pack::Loaded loaded = pack::load(text);
  if (!loaded.pack.has_value()) {
    return as_lines(loaded.findings);
  }
  return as_lines(pack::check(*loaded.pack, known_drawings(), loaded.places));
}

}  // namespace kp::test
