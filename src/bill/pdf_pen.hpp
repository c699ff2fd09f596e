#pragma once

#include <array>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include <hpdf.h>

#include "bill/ink.hpp"
#include "bill/page.hpp"

// The PDF library behind a pen that draws on one sheet after another; for the renderer only.

namespace kp::bill {

enum class Face { regular, bold, mono, mono_bold };

/// A kind of text: face, size and line height in points, colour.
struct Type {
  Face face = Face::regular;
  double size = 10;
  double leading = 14;
  Ink ink = kInk;
};

/// Lengths are points, x to the right and y down from the sheet's upper left corner.
class PdfPen {
 public:
  explicit PdfPen(PageSize size);
  ~PdfPen();
  PdfPen(const PdfPen&) = delete;
  PdfPen& operator=(const PdfPen&) = delete;

  [[nodiscard]] double wide() const { return wide_; }
  [[nodiscard]] double high() const { return high_; }
  [[nodiscard]] int sheets() const;
  /// True once a character had to be printed as "?".
  [[nodiscard]] bool lost() const { return lost_; }

  void add_sheet();
  /// Draws on an earlier sheet again, counted from 0.
  void turn_to(int sheet);

  [[nodiscard]] double width(std::u32string_view points, const Type& type);
  /// Breaks at blanks and line breaks; a word that is too long is cut. Never empty.
  [[nodiscard]] std::vector<std::u32string> wrap(std::string_view utf8, const Type& type,
                                                 double most);
  /// Sets one line with its baseline at y.
  void text(double x, double y, std::u32string_view points, const Type& type);
  void text_right(double x, double y, std::u32string_view points, const Type& type);

  void line(double x1, double y1, double x2, double y2, double thick, Ink ink);
  void dashed_frame(double x, double y, double wide, double high, double thick, Ink ink);
  void frame(double x, double y, double wide, double high, double thick, Ink ink);
  void fill(double x, double y, double wide, double high, Ink ink);
  void ring(double x, double y, double radius, double thick, Ink ink);
  void disc(double x, double y, double radius, Ink ink);
  void path(const std::vector<std::pair<double, double>>& points, double thick, Ink ink);
  void shape(const std::vector<std::pair<double, double>>& points, Ink ink);

  void describe(const std::string& title, Moment made);
  /// The whole file. Error code `pdf-failed`.
  Result<std::string> bytes();

 private:
  static constexpr int kEncodings = 5;  ///< four of Latin, one for signs
  struct Glyph {
    int encoding = -1;
    unsigned char code = 0;
  };

  [[nodiscard]] Glyph find(char32_t point) const;
  HPDF_Font font(Face face, int encoding);
  Glyph glyph_or_mark(char32_t point);
  void ink(Ink ink);
  void stroke(double thick, Ink ink);

  HPDF_Doc doc_ = nullptr;
  HPDF_Page page_ = nullptr;
  std::vector<HPDF_Page> pages_;
  std::array<std::array<char32_t, 256>, kEncodings> unicode_{};
  std::array<std::array<HPDF_Font, kEncodings>, 4> fonts_{};
  double wide_ = 0;
  double high_ = 0;
  bool lost_ = false;
};

}  // namespace kp::bill
