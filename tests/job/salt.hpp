#pragma once
// Salts without chance: counted.

#include <string>

#include "base/text.hpp"
#include "job/personal.hpp"

namespace kp::test {

/// 32 digits that count up with `given`, which outlives it.
inline job::Salt counted_salt(int& given) {
  return [&given] {
    const std::string number = integer_text(++given);
    return std::string(32 - number.size(), '0') + number;
  };
}

}  // namespace kp::test
