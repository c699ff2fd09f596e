#pragma once
// The part of JSON Schema 2020-12 that pack.schema.json uses, to hold reader and schema against
// each other on many texts. A keyword or pattern it does not know fails the test. The same schema
// is held against the same golden files by a full validator in tests/pack/schema.mjs.

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "base/text.hpp"
#include "data/value.hpp"

namespace kp::test {

class SchemaSubset {
 public:
  explicit SchemaSubset(const data::Value& root) : root_(&root) {}

  /// True when the value fits; `unknown` then and after holds what could not be judged.
  bool accepts(const data::Value& value) { return fits(*root_, value); }
  [[nodiscard]] const std::vector<std::string>& unknown() const { return unknown_; }

 private:
  using Value = data::Value;

  bool fits(const Value& schema, const Value& value) {
    bool good = true;
    for (const Value::Member& keyword : schema.members) {
      good = keyword_fits(schema, keyword.first, keyword.second, value) && good;
    }
    return good;
  }

  bool keyword_fits(const Value& schema, const std::string& name, const Value& wants,
                    const Value& value) {
    if (name == "$schema" || name == "$id" || name == "$defs" || name == "title" ||
        name == "description" || name == "else") {
      return true;
    }
    if (name == "$ref") {
      return fits(target(wants.text), value);
    }
    if (name == "if") {
      const Value* other = schema.find("else");
      return fits(wants, value) || other == nullptr || fits(*other, value);
    }
    if (name == "type") {
      return has_type(wants.text, value);
    }
    if (name == "const") {
      return data::same(wants, value);
    }
    if (name == "enum") {
      return std::any_of(wants.items.begin(), wants.items.end(),
                         [&value](const Value& one) { return data::same(one, value); });
    }
    if (name == "anyOf") {
      return std::any_of(wants.items.begin(), wants.items.end(),
                         [&](const Value& one) { return fits(one, value); });
    }
    if (name == "allOf") {
      return std::all_of(wants.items.begin(), wants.items.end(),
                         [&](const Value& one) { return fits(one, value); });
    }
    for (const char* known : {"minimum", "maximum", "pattern", "items", "minItems", "maxItems",
                              "uniqueItems", "properties", "required", "additionalProperties"}) {
      if (name == known) {
        return plain_fits(schema, name, wants, value);
      }
    }
    unknown_.push_back(name);
    return true;
  }

  bool plain_fits(const Value& schema, const std::string& name, const Value& wants,
                  const Value& value) {
    return number_fits(name, wants, value) && text_fits(name, wants, value) &&
           list_fits(name, wants, value) && object_fits(schema, name, wants, value);
  }

  const Value& target(const std::string& reference) {
    const std::string prefix = "#/$defs/";
    const Value* defs = root_->find("$defs");
    const Value* found = reference.rfind(prefix, 0) == 0 && defs != nullptr
                             ? defs->find(reference.substr(prefix.size()))
                             : nullptr;
    if (found == nullptr) {
      unknown_.push_back(reference);
      return *root_;
    }
    return *found;
  }

  bool has_type(const std::string& type, const Value& value) {
    const bool number = value.kind == data::Kind::number;
    if (type == "integer") {
      return number && std::floor(value.number) == value.number;
    }
    return (type == "number" && number) ||
           (type == "string" && value.kind == data::Kind::string) ||
           (type == "boolean" && value.kind == data::Kind::boolean) ||
           (type == "array" && value.kind == data::Kind::array) ||
           (type == "object" && value.kind == data::Kind::object);
  }

  bool number_fits(const std::string& name, const Value& wants, const Value& value) {
    if (value.kind != data::Kind::number) {
      return true;
    }
    return name == "minimum" ? value.number >= wants.number
                             : name != "maximum" || value.number <= wants.number;
  }

  bool text_fits(const std::string& name, const Value& wants, const Value& value) {
    return name != "pattern" || value.kind != data::Kind::string ||
           pattern_fits(wants.text, value.text);
  }

  bool list_fits(const std::string& name, const Value& wants, const Value& value) {
    if (value.kind != data::Kind::array) {
      return true;
    }
    const double count = static_cast<double>(value.items.size());
    if (name == "items") {
      return std::all_of(value.items.begin(), value.items.end(),
                         [&](const Value& item) { return fits(wants, item); });
    }
    if (name == "uniqueItems") {
      for (std::size_t i = 0; i < value.items.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
          if (data::same(value.items[i], value.items[j])) {
            return false;
          }
        }
      }
    }
    return (name != "minItems" || count >= wants.number) &&
           (name != "maxItems" || count <= wants.number);
  }

  bool object_fits(const Value& schema, const std::string& name, const Value& wants,
                   const Value& value) {
    if (name != "properties" && name != "required" && name != "additionalProperties") {
      return true;
    }
    if (value.kind != data::Kind::object) {
      return true;
    }
    if (name == "properties") {
      return std::all_of(wants.members.begin(), wants.members.end(), [&](const auto& member) {
        const Value* found = value.find(member.first);
        return found == nullptr || fits(member.second, *found);
      });
    }
    if (name == "required") {
      return std::all_of(wants.items.begin(), wants.items.end(), [&value](const Value& member) {
        return value.find(member.text) != nullptr;
      });
    }
    const Value* properties = schema.find("properties");
    return std::all_of(value.members.begin(), value.members.end(), [&](const auto& member) {
      return wants.boolean || (properties != nullptr && properties->find(member.first) != nullptr);
    });
  }

  bool pattern_fits(const std::string& pattern, const std::string& text) {
    if (pattern == "\\S") {
      return !trim(text).empty();
    }
    if (pattern == "^[a-z][a-z0-9-]*$") {
      return !text.empty() && text[0] >= 'a' && text[0] <= 'z' &&
             text.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-") == std::string::npos;
    }
    if (pattern == "^[x.]+$") {
      return !text.empty() && text.find_first_not_of("x.") == std::string::npos;
    }
    if (pattern == "^[A-Z]{3}$") {
      return text.size() == 3 &&
             text.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZ") == std::string::npos;
    }
    if (pattern == "^[^*]*\\*?$") {
      return text.find('*') == std::string::npos || text.find('*') + 1 == text.size();
    }
    if (pattern == "^[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$") {
      return is_date(text);
    }
    unknown_.push_back(pattern);
    return false;
  }

  static bool is_date(const std::string& text) {
    const std::vector<std::string> parts = split(text, '-');
    if (parts.size() != 3 || parts[0].size() != 4 || parts[1].size() != 2 ||
        parts[2].size() != 2 || text.find_first_not_of("0123456789-") != std::string::npos) {
      return false;
    }
    const auto month = parse_integer(parts[1]);
    const auto day = parse_integer(parts[2]);
    return month && day && *month >= 1 && *month <= 12 && *day >= 1 && *day <= 31;
  }

  const Value* root_;
  std::vector<std::string> unknown_;
};

}  // namespace kp::test
