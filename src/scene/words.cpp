#include "scene/words.hpp"

#include <algorithm>
#include <array>

#include "base/text.hpp"

namespace kp::scene {
namespace {

constexpr std::size_t kMostLines = 3;
constexpr int kWide = 15;
constexpr std::string_view kNoBreak = "\xC2\xA0";

// Advance widths of the characters 32 to 126 in twentieths of the size.
constexpr std::array<signed char, 95> kAdvance{
    7,  7,  8,  17, 11, 18, 14, 4,  9,  9,  11, 12, 5,  9,  6,  11, 13, 13, 13, 13, 13, 13, 13, 13,
    13, 13, 6,  5,  13, 10, 13, 11, 20, 13, 13, 12, 13, 12, 11, 13, 14, 6,  9,  12, 11, 18, 15, 16,
    12, 16, 13, 11, 12, 14, 13, 19, 13, 12, 12, 9,  11, 10, 15, 11, 11, 11, 12, 10, 12, 11, 8,  12,
    12, 6,  6,  11, 7,  18, 12, 12, 12, 12, 8,  9,  8,  12, 11, 15, 11, 11, 10, 13, 4,  12, 15};

constexpr bool continues(char byte) { return (static_cast<unsigned char>(byte) & 0xC0U) == 0x80U; }

}  // namespace

double words_width(std::string_view text, double size) {
  int units = 0;
  for (const char byte : text) {
    const int code = static_cast<unsigned char>(byte);
    if (code >= 32 && code < 127) {
      units += kAdvance[to_size(code - 32)];
    } else if (!continues(byte)) {
      units += kWide;
    }
  }
  return units * size / 20;
}

std::string shortened(std::string_view text, double width, const LineWidth& measure) {
  if (measure(text) <= width) {
    return std::string(text);
  }
  std::string_view rest = text;
  while (!rest.empty()) {
    do {
      rest.remove_suffix(1);
    } while (!rest.empty() && continues(text[rest.size()]));
    const std::string cut = cat(trim(rest), "\xE2\x80\xA6");
    if (measure(cut) <= width || rest.size() <= 1) {
      return cut;
    }
  }
  return std::string(text);
}

std::vector<std::string> wrapped(std::string_view text, double width, const LineWidth& measure) {
  std::vector<std::string> lines;
  const std::vector<std::string> parts = split(trim(text), ' ');
  std::string line;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const std::string longer = line.empty() ? parts[i] : cat(line, " ", parts[i]);
    if (line.empty() || measure(longer) <= width) {
      line = longer;
      continue;
    }
    if (lines.size() + 1 == kMostLines) {
      for (; i < parts.size(); ++i) {
        line += cat(" ", parts[i]);
      }
      break;
    }
    lines.push_back(line);
    line = parts[i];
  }
  lines.push_back(line);
  for (std::string& one : lines) {
    for (std::size_t at = one.find(kNoBreak); at != std::string::npos; at = one.find(kNoBreak)) {
      one.replace(at, kNoBreak.size(), " ");
    }
    one = shortened(one, width, measure);
  }
  return lines;
}

}  // namespace kp::scene
