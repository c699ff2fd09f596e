#pragma once

#include <string>
#include <vector>

namespace kp::job {

/// The words of safety's enumerators as journals store them, in the enumerators' order.
[[nodiscard]] const std::vector<std::string>& act_words();
[[nodiscard]] const std::vector<std::string>& means_words();
[[nodiscard]] const std::vector<std::string>& station_words();
[[nodiscard]] const std::vector<std::string>& function_words();

}  // namespace kp::job
