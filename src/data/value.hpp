#pragma once
// data: JSON text with source positions, reading with findings, canonical printing.
// It knows text and values, and nothing of what they describe.

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace kp::data {

/// A place in a text: line and column count from 1, in bytes.
struct Place {
  int line = 0;
  int column = 0;
};

enum class Kind { null, boolean, number, string, array, object };

/// A JSON value that remembers where it stood. Objects keep the order of their members; a member
/// that occurs twice is a fault of parse().
struct Value {
  struct Member;  ///< `first` is the name, `second` the value

  Kind kind = Kind::null;
  Place place;
  bool boolean = false;
  double number = 0;
  std::string text;  ///< a string's characters (UTF-8), or a number as it was written
  std::vector<Value> items;
  std::vector<Member> members;

  /// The member of that name, or nullptr. Linear: our objects are small.
  [[nodiscard]] const Value* find(std::string_view name) const;

  static Value of(std::string_view text);
  static Value of(const char* text);
  static Value of(bool value);
  static Value of(std::int64_t value);
  static Value of(int value);
  static Value of(std::uint32_t value);
  /// What is not finite becomes null: JSON has no word for it.
  static Value of(double value);
  static Value array();
  static Value object();
  /// Adds or replaces a member, adds an item; both return *this for chains.
  Value& set(std::string name, Value value);
  Value& push(Value value);
};

/// Its own type and not a std::pair, which needs Value whole before it can be named.
struct Value::Member {
  std::string first;
  Value second;
};

/// Equal but for places; the order of members counts, numbers are compared as they are printed.
[[nodiscard]] bool same(const Value& a, const Value& b);

/// Reads one JSON text (RFC 8259, UTF-8, depth at most 64; a byte order mark is passed over). Error code `bad-json`, `where` is
/// "line L, column C", `what` shows the offending text, `remedy` says what was expected.
Result<Value> parse(std::string_view text);

/// Canonical JSON on one line: members in their order, no blanks, shortest numbers, and only the
/// escapes that RFC 8259 demands. parse(print(v)) equals v but for places. Bytes of a string that
/// are not UTF-8 come out as U+FFFD, so that what was written can always be read.
[[nodiscard]] std::string print(const Value& value);
/// The same, indented by two blanks a level and ended by a line break, for files people edit.
[[nodiscard]] std::string print_pretty(const Value& value);

}  // namespace kp::data
