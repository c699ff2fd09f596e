#pragma once
// Words that the writer and the reader of stored papers must agree on; each list in the order of
// its enum.

#include <string>
#include <vector>

namespace kp::bill {

inline const std::vector<std::string>& unit_words() {
  static const std::vector<std::string> words = {"piece", "hour", "minute", "km", "mile"};
  return words;
}
inline const std::vector<std::string>& paper_kind_words() {
  static const std::vector<std::string> words = {"invoice", "credit"};
  return words;
}
inline const std::vector<std::string>& basis_words() {
  static const std::vector<std::string> words = {"invoice", "item"};
  return words;
}
inline const std::vector<std::string>& rounding_words() {
  static const std::vector<std::string> words = {"half-up", "half-even", "up", "down"};
  return words;
}
inline const std::vector<std::string>& page_words() {
  static const std::vector<std::string> words = {"a4", "letter"};
  return words;
}
inline const std::vector<std::string>& segment_kind_words() {
  static const std::vector<std::string> words = {"travel", "diagnosis", "labour", "waiting",
                                                 "unbilled"};
  return words;
}

}  // namespace kp::bill
