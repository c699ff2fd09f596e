#pragma once

#include <string>
#include <vector>

namespace kp {

enum class Severity { note, warning, fault };

/// One thing a validation found. `pointer` is a JSON pointer (RFC 6901) into the checked text;
/// `line` and `column` count from 1, 0 where there is no place.
struct Finding {
  Severity severity = Severity::fault;
  std::string code;
  std::string pointer;
  int line = 0;
  int column = 0;
  std::string what;
  std::string remedy;

  /// "line 12, /parts/3/name: what. remedy"
  [[nodiscard]] std::string text() const;
};

/// Collects all findings of one run: a checker never stops at the first.
class Findings {
 public:
  void add(Finding finding);
  [[nodiscard]] const std::vector<Finding>& all() const { return all_; }
  [[nodiscard]] int faults() const;
  [[nodiscard]] bool has(const std::string& code) const;
  /// Ordered by line, then column, then text, so that a run prints the same every time.
  void sort();

 private:
  std::vector<Finding> all_;
};

}  // namespace kp
