#include "base/check.hpp"

#include <cstdio>
#include <cstdlib>

namespace kp {

void check_failed(const char* file, int line, const char* text) {
  std::fprintf(stderr, "%s:%d: this must hold and does not: %s\n", file, line, text);
  std::fflush(stderr);
  std::abort();
}

}  // namespace kp
