#pragma once

#include <string>

#include "job/event.hpp"
#include "pack/model.hpp"

namespace kp::app {

/// "46 %"; never "100 %" or "0 %" where it is not quite so.
[[nodiscard]] std::string percent_text(double share);
/// "Heater open" in the middle of a sentence; "OL" stays.
[[nodiscard]] std::string lower_first(const std::string& title);
/// "good 13.7 to 16.0 Ω", "good: OL", "good from 2 MΩ, or OL".
[[nodiscard]] std::string band_text(const pack::Test& test);
/// What was recorded: "14.2 Ω", "OL", "Dry".
[[nodiscard]] std::string reading_text(const pack::Test& test, const job::TestRecorded& kept);
/// Whether it is what a good unit shows.
[[nodiscard]] bool is_good(const pack::Test& test, const job::TestRecorded& kept);
/// Whether the meter of this test can show OL.
[[nodiscard]] bool may_be_open(const pack::Test& test);
/// What the badge between the probes says: "Ω", "V~", "A~".
[[nodiscard]] std::string meter_text(const pack::Test& test);

}  // namespace kp::app
