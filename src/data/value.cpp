#include "data/value.hpp"

#include <cmath>
#include <utility>

#include "base/check.hpp"
#include "base/text.hpp"

namespace kp::data {

const Value* Value::find(std::string_view name) const {
  for (const Member& member : members) {
    if (member.first == name) {
      return &member.second;
    }
  }
  return nullptr;
}

Value Value::of(std::string_view text) {
  Value value;
  value.kind = Kind::string;
  value.text = std::string(text);
  return value;
}

Value Value::of(const char* text) { return of(std::string_view(text)); }

Value Value::of(bool value) {
  Value out;
  out.kind = Kind::boolean;
  out.boolean = value;
  return out;
}

Value Value::of(std::int64_t value) {
  Value out;
  out.kind = Kind::number;
  out.number = static_cast<double>(value);
  out.text = integer_text(value);
  return out;
}

Value Value::of(int value) { return of(static_cast<std::int64_t>(value)); }

Value Value::of(std::uint32_t value) { return of(static_cast<std::int64_t>(value)); }

Value Value::of(double value) {
  Value out;
  if (std::isfinite(value)) {
    out.kind = Kind::number;
    out.number = value;
    out.text = number_text(value);
  }
  return out;
}

Value Value::array() {
  Value out;
  out.kind = Kind::array;
  return out;
}

Value Value::object() {
  Value out;
  out.kind = Kind::object;
  return out;
}

Value& Value::set(std::string name, Value value) {
  KP_CHECK(kind == Kind::object);
  for (Member& member : members) {
    if (member.first == name) {
      member.second = std::move(value);
      return *this;
    }
  }
  members.push_back(Member{std::move(name), std::move(value)});
  return *this;
}

Value& Value::push(Value value) {
  KP_CHECK(kind == Kind::array);
  items.push_back(std::move(value));
  return *this;
}

bool same(const Value& a, const Value& b) {
  if (a.kind != b.kind) {
    return false;
  }
  switch (a.kind) {
    case Kind::null:
      return true;
    case Kind::boolean:
      return a.boolean == b.boolean;
    case Kind::number:
      return print(a) == print(b);
    case Kind::string:
      return a.text == b.text;
    case Kind::array:
      if (a.items.size() != b.items.size()) {
        return false;
      }
      for (std::size_t i = 0; i < a.items.size(); ++i) {
        if (!same(a.items[i], b.items[i])) {
          return false;
        }
      }
      return true;
    case Kind::object:
      if (a.members.size() != b.members.size()) {
        return false;
      }
      for (std::size_t i = 0; i < a.members.size(); ++i) {
        if (a.members[i].first != b.members[i].first ||
            !same(a.members[i].second, b.members[i].second)) {
          return false;
        }
      }
      return true;
  }
  return false;
}

}  // namespace kp::data
