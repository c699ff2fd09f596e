#include "data/reader.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/text.hpp"

namespace kp::data {
namespace {

std::string quoted(std::string_view text) { return cat("\"", text, "\""); }

/// A text of the file inside a message: cut where it is long, between code points.
std::string shown(std::string_view text) {
  constexpr std::size_t kMostShown = 40;
  if (text.size() <= kMostShown) {
    return quoted(text);
  }
  std::size_t end = 0;
  while (end < kMostShown) {
    end += to_size(std::max(1, utf8_length(text, end)));
  }
  return quoted(cat(text.substr(0, end), "…"));
}

std::string spoken(const Value& value) {
  switch (value.kind) {
    case Kind::null:
      return "null";
    case Kind::boolean:
      return value.boolean ? "true" : "false";
    case Kind::number:
      return cat("the number ", value.text);
    case Kind::string:
      return cat("the text ", shown(value.text));
    case Kind::array:
      return "a list";
    case Kind::object:
      return "an object";
  }
  return {};
}

std::string listed(const std::vector<std::string>& words) {
  std::vector<std::string> out;
  out.reserve(words.size());
  for (const std::string& word : words) {
    out.push_back(quoted(word));
  }
  return join(out, ", ");
}

std::string step(std::string_view name) {
  // RFC 6901 section 3.
  std::string out = "/";
  for (const char c : name) {
    if (c == '~') {
      out += "~0";
    } else if (c == '/') {
      out += "~1";
    } else {
      out += c;
    }
  }
  return out;
}

std::string range_text(std::string_view what, double least, double most) {
  const bool bounded_below = std::isfinite(least) && least > -1e300;
  const bool bounded_above = std::isfinite(most) && most < 1e300;
  if (bounded_below && bounded_above) {
    return cat("Write ", what, " from ", number_text(least), " to ", number_text(most), ".");
  }
  if (bounded_below) {
    return cat("Write ", what, " of at least ", number_text(least), ".");
  }
  if (bounded_above) {
    return cat("Write ", what, " of at most ", number_text(most), ".");
  }
  return cat("Write ", what, ".");
}

std::optional<std::int64_t> whole_number(const Value& value) {
  if (const auto exact = parse_integer(value.text)) {
    return exact;
  }
  constexpr double kExact = 9007199254740992.0;  // 2^53
  if (std::floor(value.number) == value.number && std::fabs(value.number) <= kExact) {
    return static_cast<std::int64_t>(value.number);
  }
  return std::nullopt;
}

constexpr std::string_view kText = "a text in quotation marks";
constexpr std::string_view kNumber = "a number";
constexpr std::string_view kWhole = "a whole number";

}  // namespace

Reader::Reader(const Value& value, Findings& findings, std::string pointer)
    : value_(&value), findings_(&findings), pointer_(std::move(pointer)) {}

bool Reader::is_object() const { return value_->kind == Kind::object; }

void Reader::report(const Value& at, std::string pointer, std::string code, std::string what,
                    std::string remedy) {
  Finding finding;
  finding.code = std::move(code);
  finding.pointer = std::move(pointer);
  finding.line = at.place.line;
  finding.column = at.place.column;
  finding.what = std::move(what);
  finding.remedy = std::move(remedy);
  findings_->add(std::move(finding));
}

const Value* Reader::look(std::string_view name, std::string_view wanted) {
  // What is no object has no members: said once, and not again for each of them.
  if (!is_object() && asked_.empty()) {
    report(*value_, pointer_, "wrong-type", cat("this is ", spoken(*value_)),
           "Write an object: members in braces.");
  }
  if (std::find(asked_.begin(), asked_.end(), name) == asked_.end()) {
    asked_.emplace_back(name);
  }
  const Value* found = value_->find(name);
  if (found == nullptr && is_object() && !wanted.empty()) {
    report(*value_, pointer_, "missing-member", cat(quoted(name), " is missing"),
           cat("Add ", quoted(name), ": ", wanted, "."));
  }
  return found;
}

bool Reader::is_a(const Value& value, std::string_view name, Kind kind, std::string_view wanted) {
  if (value.kind == kind) {
    return true;
  }
  report(value, pointer_ + step(name), "wrong-type", cat(quoted(name), " is ", spoken(value)),
         cat("Write ", wanted, "."));
  return false;
}

std::string Reader::text(std::string_view name) {
  const Value* value = look(name, kText);
  return value != nullptr && is_a(*value, name, Kind::string, kText) ? value->text : std::string();
}

std::string Reader::text_or(std::string_view name, std::string_view fallback) {
  const Value* value = look(name, {});
  return value != nullptr && is_a(*value, name, Kind::string, kText) ? value->text
                                                                     : std::string(fallback);
}

double Reader::number_in(const Value* value, std::string_view name, double fallback, double least,
                         double most) {
  if (value == nullptr || !is_a(*value, name, Kind::number, kNumber)) {
    return fallback;
  }
  if (value->number < least || value->number > most) {
    report(*value, pointer_ + step(name), "out-of-range", cat(quoted(name), " is ", value->text),
           range_text(kNumber, least, most));
    return fallback;
  }
  return value->number;
}

double Reader::number(std::string_view name, double least, double most) {
  const double near_zero = std::min(std::max(0.0, least), most);
  return number_in(look(name, kNumber), name, near_zero, least, most);
}

double Reader::number_or(std::string_view name, double fallback, double least, double most) {
  return number_in(look(name, {}), name, fallback, least, most);
}

std::int64_t Reader::integer_in(const Value* value, std::string_view name, std::int64_t fallback,
                                std::int64_t least, std::int64_t most) {
  if (value == nullptr || !is_a(*value, name, Kind::number, kWhole)) {
    return fallback;
  }
  const auto number = whole_number(*value);
  if (!number) {
    report(*value, pointer_ + step(name), "wrong-type", cat(quoted(name), " is ", value->text),
           cat("Write ", kWhole, "."));
    return fallback;
  }
  if (*number < least || *number > most) {
    report(*value, pointer_ + step(name), "out-of-range", cat(quoted(name), " is ", value->text),
           cat("Write ", kWhole, " from ", least, " to ", most, "."));
    return fallback;
  }
  return *number;
}

std::int64_t Reader::integer(std::string_view name, std::int64_t least, std::int64_t most) {
  const std::int64_t near_zero = std::min(std::max(std::int64_t{0}, least), most);
  return integer_in(look(name, kWhole), name, near_zero, least, most);
}

std::int64_t Reader::integer_or(std::string_view name, std::int64_t fallback, std::int64_t least,
                                std::int64_t most) {
  return integer_in(look(name, {}), name, fallback, least, most);
}

bool Reader::flag_or(std::string_view name, bool fallback) {
  const Value* value = look(name, {});
  return value != nullptr && is_a(*value, name, Kind::boolean, "true or false") ? value->boolean
                                                                                : fallback;
}

std::vector<std::string> Reader::texts_or_empty(std::string_view name) {
  std::vector<std::string> out;
  const Value* value = look(name, {});
  if (value == nullptr || !is_a(*value, name, Kind::array, "a list of texts")) {
    return out;
  }
  for (std::size_t i = 0; i < value->items.size(); ++i) {
    const Value& item = value->items[i];
    if (item.kind == Kind::string) {
      out.push_back(item.text);
    } else {
      report(item, cat(pointer_, step(name), "/", to_int(i)), "wrong-type",
             cat("this is ", spoken(item)), cat("Write ", kText, "."));
    }
  }
  return out;
}

int Reader::choice_in(const Value* value, std::string_view name,
                      const std::vector<std::string>& words, int fallback) {
  if (value == nullptr || !is_a(*value, name, Kind::string, cat("one of ", listed(words)))) {
    return fallback;
  }
  const auto at = std::find(words.begin(), words.end(), value->text);
  if (at == words.end()) {
    const auto hint = nearest(value->text, words);
    report(*value, pointer_ + step(name), "unknown-word",
           cat(quoted(name), " is ", shown(value->text)),
           hint ? cat("Did you mean ", quoted(*hint), "?")
                : cat("Write one of ", listed(words), "."));
    return fallback;
  }
  return static_cast<int>(at - words.begin());
}

int Reader::choice(std::string_view name, const std::vector<std::string>& words) {
  return choice_in(look(name, cat("one of ", listed(words))), name, words, 0);
}

int Reader::choice_or(std::string_view name, const std::vector<std::string>& words, int fallback) {
  return choice_in(look(name, {}), name, words, fallback);
}

bool Reader::has(std::string_view name) { return look(name, {}) != nullptr; }

std::optional<Reader> Reader::object(std::string_view name, bool required) {
  constexpr std::string_view kObject = "an object, members in braces";
  const Value* value = look(name, required ? kObject : std::string_view());
  if (value == nullptr || !is_a(*value, name, Kind::object, kObject)) {
    return std::nullopt;
  }
  return Reader(*value, *findings_, pointer_ + step(name));
}

std::vector<Reader> Reader::list(std::string_view name, bool required) {
  constexpr std::string_view kList = "a list in square brackets";
  std::vector<Reader> out;
  const Value* value = look(name, required ? kList : std::string_view());
  if (value == nullptr || !is_a(*value, name, Kind::array, kList)) {
    return out;
  }
  for (std::size_t i = 0; i < value->items.size(); ++i) {
    out.emplace_back(value->items[i], *findings_, cat(pointer_, step(name), "/", to_int(i)));
  }
  return out;
}

void Reader::done() {
  std::vector<std::string> absent;
  for (const std::string& name : asked_) {
    if (value_->find(name) == nullptr) {
      absent.push_back(name);
    }
  }
  for (const Value::Member& member : value_->members) {
    const std::string& name = member.first;
    if (std::find(asked_.begin(), asked_.end(), name) != asked_.end()) {
      continue;
    }
    const auto hint = nearest(name, absent);
    std::string remedy = "Remove it.";
    if (hint) {
      remedy = cat("Did you mean ", quoted(*hint), "?");
    } else if (!asked_.empty()) {
      remedy = cat("Remove it. Known here: ", listed(asked_), ".");
    }
    report(member.second, pointer_ + step(name), "unknown-member",
           cat(shown(name), " is not known here"), std::move(remedy));
  }
}

void Reader::fault(std::string code, std::string what, std::string remedy,
                   std::string_view member) {
  const Value* at = member.empty() ? nullptr : value_->find(member);
  report(at != nullptr ? *at : *value_, member.empty() ? pointer_ : pointer_ + step(member),
         std::move(code), std::move(what), std::move(remedy));
}

}  // namespace kp::data
