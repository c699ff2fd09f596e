#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "base/findings.hpp"
#include "data/value.hpp"
#include "pack/model.hpp"

namespace kp::pack {

/// The newest format of a pack that this program reads.
inline constexpr int kPackFormat = 1;

/// Where each value of a pack's text stood, by JSON pointer, so that later checks can name lines.
class Places {
 public:
  void add(std::string pointer, data::Place place);
  /// The place of that value; of the nearest value around it where the text has none of its own;
  /// line 0 where nothing is known.
  [[nodiscard]] data::Place at(std::string_view pointer) const;

 private:
  std::map<std::string, data::Place, std::less<>> places_;
};

/// What came of a text. `pack` is there only when the text had no fault. Every fault is in
/// `findings` with pointer, line, what is wrong and how to mend it.
///
/// Codes beside those of data::Reader: `bad-json`, `format-too-new`, `empty-text`, `empty-list`,
/// `bad-id`, `double-id`, `unknown-id`, `twice`, `bad-date`, `bad-pattern`, `unknown-currency`,
/// `too-many`, `bad-spread`, `bad-marks`.
struct Loaded {
  std::optional<Pack> pack;
  Findings findings;
  Places places;
};

/// Reads a pack (JSON, assets/schema/pack.schema.json). Never half-loads: with one fault in the
/// text there is no pack. What a well-formed pack still gets wrong is found by pack::check.
[[nodiscard]] Loaded load(std::string_view text);

}  // namespace kp::pack
