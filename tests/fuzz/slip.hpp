#pragma once

#include <string>

#include "support/random.hpp"

namespace kp::test {

/// Somebody's slip with a text editor: a piece gone, a piece twice, a byte changed, another number.
inline std::string slip(Random& random, const std::string& text) {
  std::string out = text;
  const int size = static_cast<int>(out.size());
  const auto from = static_cast<std::size_t>(random.between(0, size - 1));
  const auto count = static_cast<std::size_t>(random.between(1, 60));
  switch (random.between(0, 3)) {
    case 0:
      return out.erase(from, count);
    case 1:
      return out.insert(from, text.substr(from, count));
    case 2:
      out[from] = static_cast<char>(random.between(32, 126));
      return out;
    default:
      break;
  }
  const std::size_t digit = out.find_first_of("0123456789", from);
  if (digit != std::string::npos) {
    const char* const kNumbers[] = {"-1", "0", "1e9", "99999999999999999999", "0.5", "null", "[]"};
    out.replace(digit, 1, kNumbers[random.between(0, 6)]);
  }
  return out;
}

}  // namespace kp::test
