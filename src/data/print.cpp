#include <cstddef>

#include "base/text.hpp"
#include "data/value.hpp"

namespace kp::data {
namespace {

constexpr std::string_view kReplacement = "\xEF\xBF\xBD";

void print_escape(std::string& out, unsigned code) {
  constexpr std::string_view kDigits = "0123456789abcdef";
  switch (code) {
    case 0x08:
      out += "\\b";
      return;
    case 0x09:
      out += "\\t";
      return;
    case 0x0A:
      out += "\\n";
      return;
    case 0x0C:
      out += "\\f";
      return;
    case 0x0D:
      out += "\\r";
      return;
    default:
      out += "\\u00";
      out += kDigits[code >> 4U];
      out += kDigits[code & 15U];
  }
}

void print_string(std::string& out, std::string_view text) {
  out += '"';
  for (std::size_t at = 0; at < text.size();) {
    const int length = utf8_length(text, at);
    const unsigned code = static_cast<unsigned char>(text[at]);
    if (length == 0) {
      out += kReplacement;
    } else if (code < 0x20U) {
      print_escape(out, code);
    } else {
      if (code == '"' || code == '\\') {
        out += '\\';
      }
      out += text.substr(at, to_size(length));
    }
    at += to_size(length == 0 ? 1 : length);
  }
  out += '"';
}

std::string number_of(const Value& value) {
  // A whole number beyond 2^53 is told by its text alone.
  if (const auto whole = parse_integer(value.text)) {
    return integer_text(*whole);
  }
  return number_text(value.number);
}

class Printer {
 public:
  explicit Printer(bool pretty) : pretty_(pretty) {}

  void value(const Value& value, int level) {
    switch (value.kind) {
      case Kind::null:
        out_ += "null";
        return;
      case Kind::boolean:
        out_ += value.boolean ? "true" : "false";
        return;
      case Kind::number:
        out_ += number_of(value);
        return;
      case Kind::string:
        print_string(out_, value.text);
        return;
      case Kind::array:
        array(value, level);
        return;
      case Kind::object:
        object(value, level);
        return;
    }
  }

  [[nodiscard]] std::string take() { return std::move(out_); }

 private:
  void array(const Value& value, int level) {
    out_ += '[';
    for (std::size_t i = 0; i < value.items.size(); ++i) {
      separate(i, level + 1);
      this->value(value.items[i], level + 1);
    }
    close(value.items.empty(), ']', level);
  }

  void object(const Value& value, int level) {
    out_ += '{';
    for (std::size_t i = 0; i < value.members.size(); ++i) {
      separate(i, level + 1);
      print_string(out_, value.members[i].first);
      out_ += pretty_ ? ": " : ":";
      this->value(value.members[i].second, level + 1);
    }
    close(value.members.empty(), '}', level);
  }

  void separate(std::size_t index, int level) {
    if (index > 0) {
      out_ += ',';
    }
    line(level);
  }

  void close(bool empty, char bracket, int level) {
    if (!empty) {
      line(level);
    }
    out_ += bracket;
  }

  void line(int level) {
    if (pretty_) {
      out_ += '\n';
      out_.append(2 * to_size(level), ' ');
    }
  }

  std::string out_;
  bool pretty_;
};

}  // namespace

std::string print(const Value& value) {
  Printer printer(false);
  printer.value(value, 0);
  return printer.take();
}

std::string print_pretty(const Value& value) {
  Printer printer(true);
  printer.value(value, 0);
  return printer.take() + "\n";
}

}  // namespace kp::data
