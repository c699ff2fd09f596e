#include "bill/pdf_pen.hpp"

#include "base/text.hpp"
#include "base/time.hpp"
#include "bill/pdf_glyphs.hpp"

namespace kp::bill {
namespace {

constexpr int kSymbol = 4;
constexpr std::array<const char*, 4> kLatin = {"WinAnsiEncoding", "CP1250", "CP1254", "CP1257"};
constexpr std::array<const char*, 4> kFaces = {"Helvetica", "Helvetica-Bold", "Courier",
                                               "Courier-Bold"};

HPDF_REAL real(double value) { return static_cast<HPDF_REAL>(value); }
HPDF_REAL part(int value) { return static_cast<HPDF_REAL>(value) / 255.0F; }

/// A number that stands in a date text.
int digits_at(const std::string& text, std::size_t at, std::size_t count) {
  return static_cast<int>(parse_integer(text.substr(at, count)).value_or(0));
}

std::string ascii(const std::string& text) {
  std::string out;
  for (const char c : text) {
    out += (c >= ' ' && c <= '~') ? c : '?';
  }
  return out;
}

}  // namespace

PdfPen::PdfPen(PageSize size) {
  wide_ = size == PageSize::a4 ? 595.276 : 612;
  high_ = size == PageSize::a4 ? 841.89 : 792;
  doc_ = HPDF_New(nullptr, nullptr);
  for (std::size_t i = 0; i < kLatin.size(); ++i) {
    HPDF_Encoder encoder = HPDF_GetEncoder(doc_, kLatin[i]);
    for (unsigned code = 32; encoder != nullptr && code < 256; ++code) {
      unicode_[i][code] = HPDF_Encoder_GetUnicode(encoder, static_cast<HPDF_UINT16>(code));
    }
  }
}

PdfPen::~PdfPen() { HPDF_Free(doc_); }

int PdfPen::sheets() const { return to_int(pages_.size()); }

void PdfPen::add_sheet() {
  page_ = HPDF_AddPage(doc_);
  HPDF_Page_SetWidth(page_, real(wide_));
  HPDF_Page_SetHeight(page_, real(high_));
  pages_.push_back(page_);
}

void PdfPen::turn_to(int sheet) { page_ = pages_[to_size(sheet)]; }

PdfPen::Glyph PdfPen::find(char32_t point) const {
  for (std::size_t i = 0; i < kLatin.size(); ++i) {
    for (unsigned code = 32; code < 256; ++code) {
      if (unicode_[i][code] == point) {
        return {static_cast<int>(i), static_cast<unsigned char>(code)};
      }
    }
  }
  const unsigned char code = symbol_code(point);
  return code == 0 ? Glyph{} : Glyph{kSymbol, code};
}

PdfPen::Glyph PdfPen::glyph_or_mark(char32_t point) {
  const Glyph glyph = find(point);
  if (glyph.encoding >= 0) {
    return glyph;
  }
  lost_ = true;
  return {0, '?'};
}

HPDF_Font PdfPen::font(Face face, int encoding) {
  const auto f = static_cast<std::size_t>(face);
  HPDF_Font& held = fonts_[f][to_size(encoding)];
  if (held == nullptr) {
    held = encoding == kSymbol ? HPDF_GetFont(doc_, "Symbol", nullptr)
                               : HPDF_GetFont(doc_, kFaces[f], kLatin[to_size(encoding)]);
  }
  return held;
}

double PdfPen::width(std::u32string_view points, const Type& type) {
  double sum = 0;
  for (const char32_t point : points) {
    const Glyph glyph = glyph_or_mark(point);
    const HPDF_UNICODE unicode =
        glyph.encoding == kSymbol
            ? glyph.code
            : static_cast<HPDF_UNICODE>(unicode_[to_size(glyph.encoding)][glyph.code]);
    sum += HPDF_Font_GetUnicodeWidth(font(type.face, glyph.encoding), unicode);
  }
  return sum * type.size / 1000;
}

std::vector<std::u32string> PdfPen::wrap(std::string_view utf8, const Type& type, double most) {
  std::vector<std::u32string> lines;
  std::u32string line;
  double used = 0;
  std::size_t blank = std::u32string::npos;  // the last place in `line` where it may break
  const auto end_line = [&] {
    while (!line.empty() && line.back() == ' ') {
      line.pop_back();
    }
    lines.push_back(line);
    line.clear();
    used = 0;
    blank = std::u32string::npos;
  };
  for (const char32_t point : plain_points(utf8)) {
    if (point == '\n') {
      end_line();
      continue;
    }
    const double step = width(std::u32string_view(&point, 1), type);
    if (point != ' ' && used + step > most && !line.empty()) {
      std::u32string rest;
      if (blank != std::u32string::npos) {
        rest = line.substr(blank + 1);
        line.resize(blank);
      }
      end_line();
      line = rest;
      used = width(line, type);
    }
    if (point == ' ') {
      blank = line.size();
    }
    line.push_back(point);
    used += step;
  }
  end_line();
  return lines;
}

void PdfPen::text(double x, double y, std::u32string_view points, const Type& type) {
  std::size_t at = 0;
  while (at < points.size()) {
    const int encoding = glyph_or_mark(points[at]).encoding;
    const std::size_t start = at;
    std::string bytes;
    while (at < points.size() && glyph_or_mark(points[at]).encoding == encoding) {
      bytes.push_back(static_cast<char>(glyph_or_mark(points[at]).code));
      ++at;
    }
    HPDF_Page_BeginText(page_);
    ink(type.ink);
    HPDF_Page_SetFontAndSize(page_, font(type.face, encoding), real(type.size));
    HPDF_Page_TextOut(page_, real(x), real(high_ - y), bytes.c_str());
    HPDF_Page_EndText(page_);
    x += width(points.substr(start, at - start), type);
  }
}

void PdfPen::text_right(double x, double y, std::u32string_view points, const Type& type) {
  text(x - width(points, type), y, points, type);
}

void PdfPen::ink(Ink ink) {
  HPDF_Page_SetRGBFill(page_, part(ink.red), part(ink.green), part(ink.blue));
}

void PdfPen::stroke(double thick, Ink ink) {
  HPDF_Page_SetRGBStroke(page_, part(ink.red), part(ink.green), part(ink.blue));
  HPDF_Page_SetLineWidth(page_, real(thick));
}

void PdfPen::line(double x1, double y1, double x2, double y2, double thick, Ink ink) {
  path({{x1, y1}, {x2, y2}}, thick, ink);
}

void PdfPen::path(const std::vector<std::pair<double, double>>& points, double thick, Ink ink) {
  if (points.empty()) {
    return;
  }
  stroke(thick, ink);
  HPDF_Page_SetLineCap(page_, HPDF_ROUND_END);
  HPDF_Page_SetLineJoin(page_, HPDF_ROUND_JOIN);
  HPDF_Page_MoveTo(page_, real(points[0].first), real(high_ - points[0].second));
  for (const auto& [x, y] : points) {
    HPDF_Page_LineTo(page_, real(x), real(high_ - y));
  }
  HPDF_Page_Stroke(page_);
  HPDF_Page_SetLineCap(page_, HPDF_BUTT_END);
  HPDF_Page_SetLineJoin(page_, HPDF_MITER_JOIN);
}

void PdfPen::shape(const std::vector<std::pair<double, double>>& points, Ink colour) {
  if (points.empty()) {
    return;
  }
  ink(colour);
  HPDF_Page_MoveTo(page_, real(points[0].first), real(high_ - points[0].second));
  for (const auto& [x, y] : points) {
    HPDF_Page_LineTo(page_, real(x), real(high_ - y));
  }
  HPDF_Page_Fill(page_);
}

void PdfPen::frame(double x, double y, double wide, double high, double thick, Ink ink) {
  stroke(thick, ink);
  HPDF_Page_Rectangle(page_, real(x), real(high_ - y - high), real(wide), real(high));
  HPDF_Page_Stroke(page_);
}

void PdfPen::dashed_frame(double x, double y, double wide, double high, double thick, Ink ink) {
  const HPDF_UINT16 dashes[] = {5, 4};
  HPDF_Page_SetDash(page_, dashes, 2, 0);
  frame(x, y, wide, high, thick, ink);
  HPDF_Page_SetDash(page_, nullptr, 0, 0);
}

void PdfPen::fill(double x, double y, double wide, double high, Ink colour) {
  ink(colour);
  HPDF_Page_Rectangle(page_, real(x), real(high_ - y - high), real(wide), real(high));
  HPDF_Page_Fill(page_);
}

void PdfPen::ring(double x, double y, double radius, double thick, Ink ink) {
  stroke(thick, ink);
  HPDF_Page_Circle(page_, real(x), real(high_ - y), real(radius));
  HPDF_Page_Stroke(page_);
}

void PdfPen::disc(double x, double y, double radius, Ink colour) {
  ink(colour);
  HPDF_Page_Circle(page_, real(x), real(high_ - y), real(radius));
  HPDF_Page_Fill(page_);
}

void PdfPen::describe(const std::string& title, Moment made) {
  HPDF_SetInfoAttr(doc_, HPDF_INFO_TITLE, ascii(title).c_str());
  const std::string text = rfc3339(Moment{made.utc_ms / 1000 * 1000, made.offset_min});
  HPDF_Date date{};
  date.year = digits_at(text, 0, 4);
  date.month = digits_at(text, 5, 2);
  date.day = digits_at(text, 8, 2);
  date.hour = digits_at(text, 11, 2);
  date.minutes = digits_at(text, 14, 2);
  date.seconds = digits_at(text, 17, 2);
  const int offset = made.offset_min < 0 ? -made.offset_min : made.offset_min;
  date.ind = made.offset_min < 0 ? '-' : '+';
  date.off_hour = offset / 60;
  date.off_minutes = offset % 60;
  HPDF_SetInfoDateAttr(doc_, HPDF_INFO_CREATION_DATE, date);
}

Result<std::string> PdfPen::bytes() {
  std::string out;
  bool good = doc_ != nullptr && HPDF_GetError(doc_) == HPDF_OK &&
              HPDF_SaveToStream(doc_) == HPDF_OK;
  if (good) {
    HPDF_UINT32 size = HPDF_GetStreamSize(doc_);
    std::vector<HPDF_BYTE> buffer(size);
    HPDF_ReadFromStream(doc_, buffer.data(), &size);
    out.assign(buffer.begin(), buffer.begin() + static_cast<std::ptrdiff_t>(size));
    good = size == buffer.size() && HPDF_GetError(doc_) == HPDF_OK;
  }
  if (!good) {
    return fail("pdf-failed", "the PDF could not be made", {}, "Hand over the HTML page.");
  }
  return out;
}

}  // namespace kp::bill
