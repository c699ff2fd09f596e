#pragma once
// platform/native: the shop's PC. A GLFW window, clocks of the system, documents as files. Only
// this room waits, and only in the call that waits for events.

#include <memory>
#include <string>

#include "base/result.hpp"
#include "port/outside.hpp"
#include "ui/program.hpp"
#include "ui/theme.hpp"

namespace kp::native {

struct WindowOptions {
  int width = 1440;
  int height = 900;
  double density = 0;        ///< device px a CSS px; 0: what the screen says
  std::string picture;       ///< writes the screen there (PPM) once it is still, and ends
};

/// Opens the window and runs the program until it is closed. Errors: `no-window`.
Result<int> run_window(ui::Program& program, const ui::Taste& taste, const WindowOptions& options);

/// CLOCK_REALTIME with the local offset, and CLOCK_BOOTTIME, which counts sleep too.
[[nodiscard]] std::unique_ptr<port::Clock> make_clock();
/// 64 bits of getrandom.
[[nodiscard]] std::unique_ptr<port::Identity> make_identity();
/// Writes documents into the folder (made when missing) and prints where they are.
[[nodiscard]] std::unique_ptr<port::Share> make_share(const std::string& folder);

}  // namespace kp::native
