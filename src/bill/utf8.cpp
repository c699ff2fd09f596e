#include "bill/utf8.hpp"

namespace kp::bill {
namespace {

constexpr char32_t kReplacement = 0xFFFD;

struct Lead {
  int more;          ///< bytes that follow, -1: no lead byte
  char32_t bits;     ///< its part of the code point
  char32_t smallest; ///< below this the form is longer than it must be
};

Lead lead_of(unsigned char byte) {
  if (byte < 0x80) {
    return {0, byte, 0};
  }
  if (byte >= 0xC2 && byte < 0xE0) {
    return {1, static_cast<char32_t>(byte & 0x1FU), 0x80};
  }
  if (byte >= 0xE0 && byte < 0xF0) {
    return {2, static_cast<char32_t>(byte & 0x0FU), 0x800};
  }
  if (byte >= 0xF0 && byte < 0xF5) {
    return {3, static_cast<char32_t>(byte & 0x07U), 0x10000};
  }
  return {-1, 0, 0};
}

bool scalar(char32_t point) {
  return point <= 0x10FFFF && !(point >= 0xD800 && point <= 0xDFFF);
}

}  // namespace

std::u32string code_points_of(std::string_view utf8) {
  std::u32string out;
  std::size_t i = 0;
  while (i < utf8.size()) {
    const Lead lead = lead_of(static_cast<unsigned char>(utf8[i]));
    char32_t point = lead.bits;
    int read = 0;
    while (read < lead.more && i + 1 + static_cast<std::size_t>(read) < utf8.size()) {
      const auto next = static_cast<unsigned char>(utf8[i + 1 + static_cast<std::size_t>(read)]);
      if ((next & 0xC0U) != 0x80U) {
        break;
      }
      point = (point << 6U) | (next & 0x3FU);
      ++read;
    }
    if (lead.more < 0 || read < lead.more || point < lead.smallest || !scalar(point)) {
      out.push_back(kReplacement);
      ++i;
    } else {
      out.push_back(point);
      i += 1 + static_cast<std::size_t>(lead.more);
    }
  }
  return out;
}

void append_utf8(std::string& out, char32_t point) {
  const char32_t c = scalar(point) ? point : kReplacement;
  const auto put = [&out](char32_t byte) { out.push_back(static_cast<char>(byte)); };
  if (c < 0x80) {
    put(c);
  } else if (c < 0x800) {
    put(0xC0U | (c >> 6U));
    put(0x80U | (c & 0x3FU));
  } else if (c < 0x10000) {
    put(0xE0U | (c >> 12U));
    put(0x80U | ((c >> 6U) & 0x3FU));
    put(0x80U | (c & 0x3FU));
  } else {
    put(0xF0U | (c >> 18U));
    put(0x80U | ((c >> 12U) & 0x3FU));
    put(0x80U | ((c >> 6U) & 0x3FU));
    put(0x80U | (c & 0x3FU));
  }
}

}  // namespace kp::bill
