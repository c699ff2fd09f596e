#pragma once

namespace kp {

/// Ends the program with the place and the text: for our own mistakes, never for outside data.
[[noreturn]] void check_failed(const char* file, int line, const char* text);

}  // namespace kp

/// On in every build, release included: a wrong state must not go on to say "safe".
#define KP_CHECK(condition)                                  \
  do {                                                       \
    if (!(condition)) {                                      \
      ::kp::check_failed(__FILE__, __LINE__, #condition);    \
    }                                                        \
  } while (false)
