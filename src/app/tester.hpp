#pragma once

#include <string>

#include "job/event.hpp"

namespace kp::app {

/// A tester as readings name it: "Corvo TP-2, calibrated 2026-03-02".
[[nodiscard]] std::string tester_text(const job::TesterNamed& named);

/// The tester of that text: `kept` where it says the same, else the text as all that is known of it.
[[nodiscard]] job::TesterNamed tester_of(const std::string& text, const job::TesterNamed& kept);

/// The same as a device keeps it. What cannot be read is nobody's tester.
[[nodiscard]] std::string write_tester(const job::TesterNamed& named);
[[nodiscard]] job::TesterNamed read_tester(const std::string& kept);

}  // namespace kp::app
