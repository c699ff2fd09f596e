// JSON text into Values. RapidJSON's event reader knows the grammar; places, our own words for
// what is wrong, names that occur twice, and the limits are added here.

#include <algorithm>
#include <numeric>
#include <optional>
#include <utility>

#include <rapidjson/reader.h>

#include "base/text.hpp"
#include "data/value.hpp"

namespace kp::data {
namespace {

constexpr int kMostDepth = 64;
constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

/// What stopped the reading, as an offset into the text.
struct Trouble {
  std::size_t at = 0;
  std::string what;
  std::string remedy;
};

/// The text as RapidJSON wants to see it: a NUL stands for the end, and stays there.
class TextStream {
 public:
  using Ch = char;
  explicit TextStream(std::string_view text) : text_(text) {}

  [[nodiscard]] Ch Peek() const { return at_ < text_.size() ? text_[at_] : '\0'; }
  Ch Take() {
    const Ch c = Peek();
    at_ = std::min(at_ + 1, text_.size());
    return c;
  }
  [[nodiscard]] std::size_t Tell() const { return at_; }

  // Writing in place is not offered; RapidJSON only asks that the names are there.
  Ch* PutBegin() { return nullptr; }
  void Put(Ch /*c*/) {}
  void Flush() {}
  std::size_t PutEnd(Ch* /*begin*/) { return 0; }

 private:
  std::string_view text_;
  std::size_t at_ = 0;
};

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

/// Turns offsets into places. Events come in the order of the text, so each line is walked once.
class PlaceFinder {
 public:
  explicit PlaceFinder(std::string_view text) : text_(text) {}

  Place at(std::size_t offset) {
    for (; at_ < offset; ++at_) {
      if (text_[at_] == '\n') {
        ++line_;
        line_start_ = at_ + 1;
      }
    }
    return Place{line_, to_int(offset - line_start_) + 1};
  }

 private:
  std::string_view text_;
  std::size_t at_ = 0;
  std::size_t line_start_ = 0;
  int line_ = 1;
};

std::string place_text(Place place) {
  return cat("line ", place.line, ", column ", place.column);
}

/// Builds Values from RapidJSON's events. Each event ends where the stream stands; it starts at
/// the first mark after the end of the last one and the comma or colon between them.
class Builder {
 public:
  Builder(std::string_view text, const TextStream& stream)
      : text_(text), stream_(&stream), places_(text) {}

  bool Null() { return add(scalar(Kind::null)); }
  bool Bool(bool value) {
    Value out = scalar(Kind::boolean);
    out.boolean = value;
    return add(std::move(out));
  }
  bool Int(int /*value*/) { return number(); }
  bool Uint(unsigned /*value*/) { return number(); }
  bool Int64(std::int64_t /*value*/) { return number(); }
  bool Uint64(std::uint64_t /*value*/) { return number(); }
  bool Double(double /*value*/) { return number(); }
  bool RawNumber(const char* /*text*/, unsigned /*length*/, bool /*copy*/) { return number(); }

  bool String(const char* text, unsigned length, bool /*copy*/) {
    const std::size_t from = start();
    Value out = scalar(Kind::string);
    out.text.assign(text, length);
    return whole(out.text, from) && add(std::move(out));
  }
  bool Key(const char* text, unsigned length, bool /*copy*/) {
    const std::size_t from = start();
    Open& open = open_.back();
    open.names.push_back(places_.at(from));
    open.name.assign(text, length);
    last_end_ = stream_->Tell();
    return whole(open.name, from);
  }

  bool StartObject() { return begin(Kind::object); }
  bool StartArray() { return begin(Kind::array); }
  bool EndObject(unsigned /*count*/) { return names_differ() && end(); }
  bool EndArray(unsigned /*count*/) { return end(); }

  [[nodiscard]] const std::optional<Trouble>& trouble() const { return trouble_; }
  [[nodiscard]] Value take() { return std::move(root_); }

 private:
  struct Open {
    Value value;
    std::string name;           ///< of the member whose value comes next
    std::vector<Place> names;   ///< where each member's name stands
  };

  [[nodiscard]] std::size_t start() const {
    std::size_t at = last_end_;
    for (bool crossed = false; at < text_.size(); ++at) {
      const bool mark = !crossed && (text_[at] == ',' || text_[at] == ':');
      if (!mark && !is_blank(text_[at])) {
        break;
      }
      crossed = crossed || mark;
    }
    return at;
  }

  Value scalar(Kind kind) {
    Value value;
    value.kind = kind;
    value.place = places_.at(start());
    return value;
  }

  bool number() {
    const std::size_t from = start();
    Value out = scalar(Kind::number);
    out.text = std::string(text_.substr(from, stream_->Tell() - from));
    const auto value = parse_number(out.text);
    if (!value) {
      trouble_ = Trouble{from, cat("the number ", out.text, " is too large"),
                         "Expected a number below 1.8e308."};
      return false;
    }
    out.number = *value;
    return add(std::move(out));
  }

  /// An escape may have made half of a surrogate pair, which no UTF-8 text can hold.
  bool whole(std::string_view text, std::size_t from) {
    for (std::size_t at = 0; at < text.size();) {
      const int length = utf8_length(text, at);
      if (length == 0) {
        trouble_ = Trouble{from, "the string holds half of a surrogate pair",
                           "Expected both halves, or the character itself."};
        return false;
      }
      at += to_size(length);
    }
    return true;
  }

  bool begin(Kind kind) {
    const std::size_t from = stream_->Tell() - 1;
    if (to_int(open_.size()) == kMostDepth) {
      trouble_ = Trouble{from, cat("more than ", kMostDepth, " levels inside each other"),
                         "Expected fewer brackets inside each other."};
      return false;
    }
    Open open;
    open.value.kind = kind;
    open.value.place = places_.at(from);
    open_.push_back(std::move(open));
    last_end_ = stream_->Tell();
    return true;
  }

  bool end() {
    Value value = std::move(open_.back().value);
    open_.pop_back();
    return add(std::move(value));
  }

  bool add(Value value) {
    last_end_ = stream_->Tell();
    if (open_.empty()) {
      root_ = std::move(value);
      return true;
    }
    Open& open = open_.back();
    if (open.value.kind == Kind::array) {
      open.value.items.push_back(std::move(value));
    } else {
      open.value.members.push_back(Value::Member{std::move(open.name), std::move(value)});
      open.name.clear();
    }
    return true;
  }

  bool names_differ() {
    const Open& open = open_.back();
    const auto& members = open.value.members;
    std::vector<std::size_t> order(members.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&members](std::size_t a, std::size_t b) {
      return members[a].first != members[b].first ? members[a].first < members[b].first : a < b;
    });
    for (std::size_t i = 1; i < order.size(); ++i) {
      const std::size_t first = order[i - 1];
      const std::size_t second = order[i];
      if (members[first].first == members[second].first) {
        twice_ = open.names[second];
        trouble_ = Trouble{0, cat("the name \"", members[second].first, "\" occurs twice"),
                           cat("Expected each name once; the other stands at ",
                               place_text(open.names[first]), ".")};
        return false;
      }
    }
    return true;
  }

 public:
  /// Where a trouble stands that was only found after the text had gone on.
  [[nodiscard]] std::optional<Place> told_place() const { return twice_; }

 private:
  std::string_view text_;
  const TextStream* stream_;
  PlaceFinder places_;
  std::vector<Open> open_;
  Value root_;
  std::size_t last_end_ = 0;
  std::optional<Trouble> trouble_;
  std::optional<Place> twice_;
};

/// What stands at the offset, short enough for a message.
std::string found(std::string_view text, std::size_t at) {
  if (at >= text.size()) {
    return "found the end of the text";
  }
  const char first = text[at];
  if (first == '\n' || first == '\r') {
    return "found the end of the line";
  }
  if (static_cast<unsigned char>(first) < 0x20U || first == 0x7F) {
    return cat("found the control character ", static_cast<int>(first));
  }
  const auto is_word = [](char c) {
    return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
           c == '_' || c == '.' || c == '+' || c == '-';
  };
  constexpr std::size_t kMostShown = 24;
  std::size_t length = to_size(std::max(1, utf8_length(text, at)));
  if (is_word(first)) {
    while (at + length < text.size() && length < kMostShown && is_word(text[at + length])) {
      ++length;
    }
  }
  return cat("found '", text.substr(at, length), "'");
}

std::string expected(rapidjson::ParseErrorCode code) {
  switch (code) {
    case rapidjson::kParseErrorDocumentEmpty:
      return "Expected a JSON value.";
    case rapidjson::kParseErrorDocumentRootNotSingular:
      return "Expected nothing after the value.";
    case rapidjson::kParseErrorValueInvalid:
      return "Expected a value: a string, a number, true, false, null, '[' or '{'.";
    case rapidjson::kParseErrorObjectMissName:
      return "Expected a name in double quotation marks.";
    case rapidjson::kParseErrorObjectMissColon:
      return "Expected ':' after the name.";
    case rapidjson::kParseErrorObjectMissCommaOrCurlyBracket:
      return "Expected ',' or '}'.";
    case rapidjson::kParseErrorArrayMissCommaOrSquareBracket:
      return "Expected ',' or ']'.";
    case rapidjson::kParseErrorStringUnicodeEscapeInvalidHex:
      return "Expected four hexadecimal digits after '\\u'.";
    case rapidjson::kParseErrorStringUnicodeSurrogateInvalid:
      return "Expected the second half of a surrogate pair.";
    case rapidjson::kParseErrorStringEscapeInvalid:
      return "Expected an escape: one of \" \\ / b f n r t u after a backslash.";
    case rapidjson::kParseErrorStringMissQuotationMark:
      return "Expected a closing quotation mark.";
    case rapidjson::kParseErrorNumberTooBig:
      return "Expected a number below 1.8e308.";
    case rapidjson::kParseErrorNumberMissFraction:
      return "Expected a digit after the point.";
    case rapidjson::kParseErrorNumberMissExponent:
      return "Expected a digit in the exponent.";
    case rapidjson::kParseErrorNone:
    case rapidjson::kParseErrorStringInvalidEncoding:
    case rapidjson::kParseErrorTermination:
    case rapidjson::kParseErrorUnspecificSyntaxError:
      break;
  }
  return "Expected JSON.";
}

tl::unexpected<Error> bad(Place place, std::string what, std::string remedy) {
  return fail("bad-json", std::move(what), place_text(place), std::move(remedy));
}

/// The words for a fault of the grammar, with the cases that people meet most told apart.
Trouble in_words(std::string_view text, rapidjson::ParseErrorCode code, std::size_t at) {
  const char here = at < text.size() ? text[at] : ' ';
  if (code == rapidjson::kParseErrorStringEscapeInvalid && here != '\\') {
    return Trouble{at, cat(found(text, at), " inside a string"),
                   "Expected a closing quotation mark, or an escape such as \\n."};
  }
  if (code == rapidjson::kParseErrorStringMissQuotationMark && at < text.size()) {
    return Trouble{at, cat(found(text, at), " inside a string"), "Expected the escape \\u0000."};
  }
  if (here == '\\' && at + 1 < text.size()) {
    const std::size_t length = to_size(std::max(1, utf8_length(text, at + 1)));
    return Trouble{at, cat("found '", text.substr(at, 1 + length), "'"), expected(code)};
  }
  if (here == '\'') {
    return Trouble{at, found(text, at), "Expected double quotation marks around strings and names."};
  }
  if (here == '/') {
    return Trouble{at, found(text, at), "Expected no comment: JSON has none."};
  }
  return Trouble{at, found(text, at), expected(code)};
}

}  // namespace

Result<Value> parse(std::string_view text) {
  if (text.substr(0, kByteOrderMark.size()) == kByteOrderMark) {
    text.remove_prefix(kByteOrderMark.size());
  }
  for (std::size_t at = 0; at < text.size();) {
    const int length = utf8_length(text, at);
    if (length == 0) {
      return bad(PlaceFinder(text).at(at),
                 cat("found the byte ", static_cast<int>(static_cast<unsigned char>(text[at])),
                     ", which is not UTF-8 here"),
                 "Expected text in UTF-8. Save the file as UTF-8.");
    }
    at += to_size(length);
  }

  TextStream stream(text);
  Builder builder(text, stream);
  rapidjson::GenericReader<rapidjson::UTF8<>, rapidjson::UTF8<>> reader;
  reader.Parse<rapidjson::kParseNoFlags>(stream, builder);
  if (!reader.HasParseError() && stream.Tell() == text.size()) {
    return builder.take();
  }
  if (builder.trouble()) {
    const Trouble& trouble = *builder.trouble();
    const auto place = builder.told_place();
    return bad(place ? *place : PlaceFinder(text).at(trouble.at), trouble.what, trouble.remedy);
  }
  // A NUL outside of strings looks like the end to the reader below; it is not.
  const bool ended_early = !reader.HasParseError();
  const auto trouble = in_words(
      text, ended_early ? rapidjson::kParseErrorDocumentRootNotSingular : reader.GetParseErrorCode(),
      ended_early ? stream.Tell() : reader.GetErrorOffset());
  return bad(PlaceFinder(text).at(std::min(trouble.at, text.size())), trouble.what, trouble.remedy);
}

}  // namespace kp::data
