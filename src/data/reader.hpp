#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/findings.hpp"
#include "data/value.hpp"

namespace kp::data {

/// Walks a Value and reports every fault to Findings with pointer, line, remedy and a hint at the
/// nearest known name, so that one run lists them all. Getters return a sane default on a fault.
class Reader {
 public:
  Reader(const Value& value, Findings& findings, std::string pointer = {});

  [[nodiscard]] const Value& value() const { return *value_; }
  [[nodiscard]] const std::string& pointer() const { return pointer_; }
  [[nodiscard]] bool is_object() const;
  /// Where it reports to, for readers of values that are no members.
  [[nodiscard]] Findings* findings() const { return findings_; }

  /// Required members: a fault (`missing-member`, `wrong-type`, `out-of-range`) when absent or
  /// of another type.
  [[nodiscard]] std::string text(std::string_view name);
  [[nodiscard]] double number(std::string_view name, double least, double most);
  [[nodiscard]] std::int64_t integer(std::string_view name, std::int64_t least, std::int64_t most);

  /// Optional members: a fault only when present and of another type.
  [[nodiscard]] std::string text_or(std::string_view name, std::string_view fallback);
  [[nodiscard]] double number_or(std::string_view name, double fallback, double least, double most);
  [[nodiscard]] std::int64_t integer_or(std::string_view name, std::int64_t fallback,
                                        std::int64_t least, std::int64_t most);
  [[nodiscard]] bool flag_or(std::string_view name, bool fallback);
  [[nodiscard]] std::vector<std::string> texts_or_empty(std::string_view name);

  /// One of the given words (fault `unknown-word` with nearest hint); returns its index.
  [[nodiscard]] int choice(std::string_view name, const std::vector<std::string>& words);
  [[nodiscard]] int choice_or(std::string_view name, const std::vector<std::string>& words,
                              int fallback);

  [[nodiscard]] bool has(std::string_view name);
  /// A member object / the elements of a member array. An absent one gives an empty reader / list,
  /// and a fault when required.
  [[nodiscard]] std::optional<Reader> object(std::string_view name, bool required = true);
  [[nodiscard]] std::vector<Reader> list(std::string_view name, bool required = true);

  /// Reports every member that was never asked for (`unknown-member`, nearest hint). Call last.
  void done();

  /// Reports a fault of the caller's own at this value or at a member of it.
  void fault(std::string code, std::string what, std::string remedy, std::string_view member = {});

 private:
  void report(const Value& at, std::string pointer, std::string code, std::string what,
              std::string remedy);
  /// The member, or nullptr; absence is a fault where `wanted` says what should be there.
  const Value* look(std::string_view name, std::string_view wanted);
  bool is_a(const Value& value, std::string_view name, Kind kind, std::string_view wanted);
  double number_in(const Value* value, std::string_view name, double fallback, double least,
                   double most);
  std::int64_t integer_in(const Value* value, std::string_view name, std::int64_t fallback,
                          std::int64_t least, std::int64_t most);
  int choice_in(const Value* value, std::string_view name, const std::vector<std::string>& words,
                int fallback);

  const Value* value_;
  Findings* findings_;
  std::string pointer_;
  std::vector<std::string> asked_;
};

}  // namespace kp::data
