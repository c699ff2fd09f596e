#include "base/text.hpp"

#include <algorithm>
#include <charconv>

namespace kp {
namespace {

constexpr bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; }

constexpr unsigned byte_at(std::string_view text, std::size_t at) {
  return static_cast<unsigned char>(text[at]);
}

}  // namespace

std::string integer_text(std::int64_t value) {
  char buffer[24];
  const auto end = std::to_chars(buffer, buffer + sizeof buffer, value).ptr;
  return std::string(buffer, end);
}

std::optional<std::int64_t> parse_integer(std::string_view text) {
  std::int64_t value = 0;
  const char* end = text.data() + text.size();
  const auto result = std::from_chars(text.data(), end, value);
  if (text.empty() || result.ec != std::errc{} || result.ptr != end) {
    return std::nullopt;
  }
  return value;
}

std::vector<std::string> split(std::string_view text, char separator) {
  std::vector<std::string> parts;
  for (;;) {
    const std::size_t at = text.find(separator);
    parts.emplace_back(text.substr(0, at));
    if (at == std::string_view::npos) {
      return parts;
    }
    text.remove_prefix(at + 1);
  }
}

std::string join(const std::vector<std::string>& parts, std::string_view separator) {
  std::string out;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (i > 0) {
      out += separator;
    }
    out += parts[i];
  }
  return out;
}

std::string_view trim(std::string_view text) {
  while (!text.empty() && is_blank(text.front())) {
    text.remove_prefix(1);
  }
  while (!text.empty() && is_blank(text.back())) {
    text.remove_suffix(1);
  }
  return text;
}

std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out) {
    if (c >= 'A' && c <= 'Z') {
      c = static_cast<char>(c - 'A' + 'a');
    }
  }
  return out;
}

int utf8_length(std::string_view text, std::size_t at) {
  // The well-formed sequences of RFC 3629 section 4, by first byte and range of the second.
  const unsigned first = byte_at(text, at);
  if (first < 0x80U) {
    return 1;
  }
  int length = 0;
  unsigned low = 0x80U;
  unsigned high = 0xBFU;
  if (first >= 0xC2U && first <= 0xDFU) {
    length = 2;
  } else if (first >= 0xE0U && first <= 0xEFU) {
    length = 3;
    low = first == 0xE0U ? 0xA0U : low;
    high = first == 0xEDU ? 0x9FU : high;
  } else if (first >= 0xF0U && first <= 0xF4U) {
    length = 4;
    low = first == 0xF0U ? 0x90U : low;
    high = first == 0xF4U ? 0x8FU : high;
  }
  if (length == 0 || text.size() - at < to_size(length)) {
    return 0;
  }
  for (int i = 1; i < length; ++i) {
    const unsigned next = byte_at(text, at + to_size(i));
    if (next < low || next > high) {
      return 0;
    }
    low = 0x80U;
    high = 0xBFU;
  }
  return length;
}

std::string without_direction(std::string_view utf8) {
  std::string out;
  for (std::size_t at = 0; at < utf8.size();) {
    // All of them are three bytes that begin with E2.
    const auto byte = [&](std::size_t ahead) {
      return at + ahead < utf8.size()
                 ? static_cast<char32_t>(static_cast<unsigned char>(utf8[at + ahead]))
                 : char32_t{0};
    };
    const char32_t point = ((byte(0) & 0x0FU) << 12U) | ((byte(1) & 0x3FU) << 6U) | (byte(2) & 0x3FU);
    const bool is_three = byte(0) == 0xE2 && (byte(1) & 0xC0U) == 0x80 && (byte(2) & 0xC0U) == 0x80;
    if (is_three && turns_direction(point)) {
      at += 3;
    } else {
      out += utf8[at++];
    }
  }
  return out;
}

int code_points(std::string_view utf8) {
  int count = 0;
  for (std::size_t at = 0; at < utf8.size(); ++count) {
    at += to_size(std::max(1, utf8_length(utf8, at)));
  }
  return count;
}

int edit_distance(std::string_view a, std::string_view b) {
  // Three rows of the optimal string alignment table: two back, the last, and the one being made.
  const std::size_t width = b.size() + 1;
  std::vector<int> before(width);
  std::vector<int> last(width);
  std::vector<int> row(width);
  for (std::size_t j = 0; j < width; ++j) {
    row[j] = to_int(j);
  }
  for (std::size_t i = 1; i <= a.size(); ++i) {
    before.swap(last);
    last.swap(row);
    row[0] = to_int(i);
    for (std::size_t j = 1; j < width; ++j) {
      const int replace = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, replace});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        row[j] = std::min(row[j], before[j - 2] + 1);
      }
    }
  }
  return row[b.size()];
}

std::optional<std::string> nearest(std::string_view word,
                                   const std::vector<std::string>& candidates) {
  int best = std::max(1, to_int(word.size()) / 3) + 1;
  const std::string* found = nullptr;
  for (const std::string& candidate : candidates) {
    const int distance = edit_distance(word, candidate);
    // A candidate that shares no letter with the word is no hint, however short both are.
    const bool shares = distance < to_int(std::max(word.size(), candidate.size()));
    if (distance < best && shares) {
      best = distance;
      found = &candidate;
    }
  }
  if (found == nullptr) {
    return std::nullopt;
  }
  return *found;
}

}  // namespace kp
