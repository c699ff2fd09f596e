#include "bill/pdf_glyphs.hpp"

#include <array>

#include "bill/utf8.hpp"

namespace kp::bill {
namespace {

/// Letters under one combining mark (Unicode, chapter on canonical composition).
struct Mark {
  char32_t mark;
  std::u32string_view letters;
  std::u32string_view joined;
};

constexpr std::array<Mark, 12> kMarks = {{
    {0x0300, U"AEIOUaeiou", U"ÀÈÌÒÙàèìòù"},
    {0x0301, U"AEIOUYaeiouyCcLlNnRrSsZz", U"ÁÉÍÓÚÝáéíóúýĆćĹĺŃńŔŕŚśŹź"},
    {0x0302, U"AEIOUaeiou", U"ÂÊÎÔÛâêîôû"},
    {0x0303, U"ANOano", U"ÃÑÕãñõ"},
    {0x0304, U"AEIOUaeiou", U"ĀĒĪŌŪāēīōū"},
    {0x0306, U"AGag", U"ĂĞăğ"},
    {0x0307, U"IZEze", U"İŻĖżė"},
    {0x0308, U"AEIOUYaeiouy", U"ÄËÏÖÜŸäëïöüÿ"},
    {0x030A, U"AUau", U"ÅŮåů"},
    {0x030B, U"OUou", U"ŐŰőű"},
    {0x030C, U"CDENRSTZcdenrstz", U"ČĎĚŇŘŠŤŽčďěňřšťž"},
    {0x0327, U"CSTcst", U"ÇŞŢçşţ"},
}};

/// The letter with its mark, or 0.
char32_t join_mark(char32_t letter, char32_t mark) {
  for (const Mark& known : kMarks) {
    const auto at = known.letters.find(letter);
    if (known.mark == mark && at != std::u32string_view::npos) {
      return known.joined[at];
    }
  }
  return 0;
}

bool is_dropped(char32_t point) {
  return point == 0x00AD || (point >= 0x200B && point <= 0x200F) ||
         (point >= 0x202A && point <= 0x202E) || (point >= 0x2060 && point <= 0x2069) ||
         (point >= 0xFE00 && point <= 0xFE0F) || point == 0xFEFF || point == '\r';
}

char32_t made_plain(char32_t point) {
  const bool blank = point == '\t' || point == 0x00A0 || (point >= 0x2000 && point <= 0x200A) ||
                     point == 0x202F || point == 0x205F || point == 0x3000;
  if (blank) {
    return ' ';
  }
  if (point == 0x2010 || point == 0x2011 || point == 0x2212) {
    return '-';
  }
  if (point == 0x2126) {
    return 0x03A9;  // the ohm sign is the letter omega
  }
  if (point == 0x03BC) {
    return 0x00B5;  // the micro sign is in every Latin encoding
  }
  if (point == 0x0218 || point == 0x0219) {
    return point == 0x0218 ? 0x015E : 0x015F;  // comma below: the older letter with cedilla
  }
  if (point == 0x021A || point == 0x021B) {
    return point == 0x021A ? 0x0162 : 0x0163;
  }
  return point;
}

/// Greek letters in the order of the codes 0x41.. and 0x61.. of the Symbol face; a blank stands
/// where that code is no letter of its own.
constexpr std::u32string_view kGreekCapitals = U"ΑΒΧΔΕΦΓΗΙ ΚΛΜΝΟΠΘΡΣΤΥςΩΞΨΖ";
constexpr std::u32string_view kGreekSmall = U"αβχδεφγηιϕκλμνοπθρστυ ωξψζ";

struct Sign {
  char32_t point;
  unsigned char code;
};

constexpr std::array<Sign, 18> kSigns = {{
    {0x2032, 0xA2}, {0x2264, 0xA3}, {0x221E, 0xA5}, {0x2194, 0xAB}, {0x2190, 0xAC},
    {0x2191, 0xAD}, {0x2192, 0xAE}, {0x2193, 0xAF}, {0x2033, 0xB2}, {0x2265, 0xB3},
    {0x2202, 0xB6}, {0x2260, 0xB9}, {0x2261, 0xBA}, {0x2248, 0xBB}, {0x2205, 0xC6},
    {0x221A, 0xD6}, {0x2220, 0xD0}, {0x2211, 0xE5},
}};

}  // namespace

std::u32string plain_points(std::string_view utf8) {
  std::u32string out;
  for (const char32_t point : code_points_of(utf8)) {
    if (is_dropped(point)) {
      continue;
    }
    const char32_t joined = out.empty() ? 0 : join_mark(out.back(), point);
    if (joined != 0) {
      out.back() = joined;
    } else {
      out.push_back(made_plain(point));
    }
  }
  return out;
}

unsigned char symbol_code(char32_t point) {
  if (point == ' ') {
    return 0;
  }
  for (const Sign& sign : kSigns) {
    if (sign.point == point) {
      return sign.code;
    }
  }
  const auto capital = kGreekCapitals.find(point);
  if (capital != std::u32string_view::npos) {
    return static_cast<unsigned char>(0x41 + capital);
  }
  const auto small = kGreekSmall.find(point);
  if (small != std::u32string_view::npos) {
    return static_cast<unsigned char>(0x61 + small);
  }
  return 0;
}

}  // namespace kp::bill
