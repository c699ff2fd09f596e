#include "bill/pdf_flow.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "bill/pdf_glyphs.hpp"
#include "bill/pdf_types.hpp"

namespace kp::bill {
namespace {

constexpr double kSide = 54;
constexpr double kTop = 46;
constexpr double kFoot = 50;
constexpr double kSignatureWide = 230;
constexpr double kHeadingAbove = 13;
constexpr double kHeadingBelow = 2;

const Type& type_of(Tone tone) {
  switch (tone) {
    case Tone::plain:
      return kBody;
    case Tone::small:
      return kSmall;
    case Tone::strong:
    case Tone::notice:
      return kStrong;
  }
  return kBody;
}

double height_of(const Lines& lines, const Type& type) {
  return static_cast<double>(lines.size()) * type.leading;
}

}  // namespace

PdfFlow::PdfFlow(PdfPen& pen)
    : pen_(pen),
      left_(kSide),
      right_(pen.wide() - kSide),
      top_(kTop),
      bottom_(pen.high() - kFoot) {
  new_sheet();
}

void PdfFlow::new_sheet() {
  pen_.add_sheet();
  y_ = top_;
}

void PdfFlow::need(double height) {
  if (height > room() && y_ > top_ && height <= full()) {
    new_sheet();
  }
}

void PdfFlow::set_lines(double x, const Lines& lines, const Type& type) {
  const int count = to_int(lines.size());
  for (int i = 0; i < count; ++i) {
    // Never a single line at the foot of a sheet or at the head of the next.
    const bool pair = i == 0 || i == count - 2;
    need(pair && count > 1 ? 2 * type.leading : type.leading);
    if (type.leading > room()) {
      new_sheet();
    }
    pen_.text(x, y_ + rise(type), lines[to_size(i)], type);
    y_ += type.leading;
  }
}

void PdfFlow::run(const std::vector<Block>& blocks) {
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    if (std::holds_alternative<Heading>(blocks[i]) && i + 1 < blocks.size()) {
      need(kHeadingAbove + kHead.leading + kHeadingBelow + least(blocks[i + 1]));
    }
    need(before_signature(blocks, i));
    std::visit(*this, blocks[i]);
  }
}

double PdfFlow::before_signature(const std::vector<Block>& blocks, std::size_t from) {
  double high = 0;
  for (std::size_t i = from; i < blocks.size(); ++i) {
    if (std::holds_alternative<Signature>(blocks[i])) {
      return high + signature_height(std::get<Signature>(blocks[i])) + 34;
    }
    const auto* paragraph = std::get_if<Paragraph>(&blocks[i]);
    if (paragraph == nullptr || i >= from + 2) {
      return 0;
    }
    const Type& type = type_of(paragraph->tone);
    high += 4 + height_of(pen_.wrap(paragraph->text, type, inner()), type);
  }
  return 0;
}

double PdfFlow::signature_height(const Signature& block) const {
  return block.strokes.empty() ? 34 : kSignatureWide / in_range(block.ratio, 2, 8);
}

double PdfFlow::least(const Block& block) {
  if (const auto* table = std::get_if<Table>(&block); table != nullptr && !table->rows.empty()) {
    return kAboveTable + kTableHead + row_height(*table, table->rows.front());
  }
  if (const auto* sums = std::get_if<Sums>(&block)) {
    return sums_height(*sums);
  }
  if (const auto* panel = std::get_if<Panel>(&block)) {
    return panel_height(*panel);
  }
  if (std::holds_alternative<BarBlock>(block)) {
    return 44;
  }
  if (const auto* paragraph = std::get_if<Paragraph>(&block)) {
    return 3 * type_of(paragraph->tone).leading;
  }
  return 40;
}

void PdfFlow::operator()(const Letterhead& block) {
  const double half = inner() * 0.55;
  double left_y = y_;
  for (const auto& line : pen_.wrap(block.shop, kShop, half)) {
    pen_.text(left_, left_y + rise(kShop), line, kShop);
    left_y += kShop.leading;
  }
  double right_y = y_ + 2;
  for (const std::string& text : block.shop_lines) {
    for (const auto& line : pen_.wrap(text, kLabel, inner() * 0.4)) {
      pen_.text_right(right_, right_y + rise(kLabel), line, kLabel);
      right_y += kLabel.leading;
    }
  }
  y_ = std::max(left_y, right_y) + 10;
  const Lines title = pen_.wrap(block.title, kTitle, inner() * 0.62);
  for (const auto& line : title) {
    pen_.text(left_, y_ + rise(kTitle), line, kTitle);
    y_ += kTitle.leading;
  }
  const double after = left_ + pen_.width(title.back(), kTitle) + 10;
  const Lines number = pen_.wrap(block.number, kNumber, right_ - after);
  pen_.text(after, y_ - kTitle.leading + rise(kTitle), number.front(), kNumber);
  y_ += 6;
  facts_row(block.facts);
  pen_.line(left_, y_ + 4, right_, y_ + 4, 1.2, kInk);
  y_ += 10;
}

void PdfFlow::facts_row(const std::vector<Fact>& facts) {
  constexpr std::size_t kAcross = 4;
  const double step = inner() / kAcross;
  for (std::size_t first = 0; first < facts.size(); first += kAcross) {
    double deepest = 0;
    for (std::size_t i = first; i < std::min(first + kAcross, facts.size()); ++i) {
      const double x = left_ + static_cast<double>(i - first) * step;
      pen_.text(x, y_ + rise(kLabel), plain_points(facts[i].first), kLabel);
      double y = y_ + kLabel.leading;
      const Type& type = reads_as_figure(facts[i].second) ? kFigure : kBody;
      for (const auto& line : pen_.wrap(facts[i].second, type, step - kGutter)) {
        pen_.text(x, y + rise(type), line, type);
        y += type.leading;
      }
      deepest = std::max(deepest, y - y_);
    }
    y_ += deepest + 4;
  }
}

void PdfFlow::operator()(const Heading& block) {
  if (y_ > top_) {
    y_ += kHeadingAbove;
  }
  set_lines(left_, pen_.wrap(block.text, kHead, inner()), kHead);
  y_ += kHeadingBelow;
}

void PdfFlow::operator()(const Paragraph& block) {
  const Type& type = type_of(block.tone);
  if (block.tone != Tone::notice) {
    y_ += 4;
    set_lines(left_, pen_.wrap(block.text, type, inner()), type);
    return;
  }
  y_ += 8;
  const Lines lines = pen_.wrap(block.text, type, inner() - 28);
  const double high = height_of(lines, type) + 14;
  need(high);
  if (high <= room()) {
    pen_.frame(left_, y_, inner(), high, 0.8, kInk);
    pen_.fill(left_, y_, 4, high, kInk);
  }
  y_ += 7;
  set_lines(left_ + 14, lines, type);
  y_ += 7;
}

void PdfFlow::operator()(const Columns& block) {
  y_ += 8;
  const double step = inner() / static_cast<double>(std::max<std::size_t>(1, block.columns.size()));
  std::vector<std::vector<Lines>> texts;
  double deepest = 0;
  for (const Columns::Column& column : block.columns) {
    std::vector<Lines> wrapped;
    double deep = kLabel.leading + 2;
    for (std::size_t i = 0; i < column.lines.size(); ++i) {
      wrapped.push_back(pen_.wrap(column.lines[i], i == 0 ? kStrong : kBody, step - kGutter));
      deep += height_of(wrapped.back(), kBody);
    }
    texts.push_back(std::move(wrapped));
    deepest = std::max(deepest, deep);
  }
  need(deepest);
  const double from = y_;
  for (std::size_t c = 0; c < texts.size(); ++c) {
    const double x = left_ + static_cast<double>(c) * step;
    double y = from;
    pen_.text(x, y + rise(kLabel), plain_points(block.columns[c].title), kLabel);
    y += kLabel.leading + 2;
    for (std::size_t i = 0; i < texts[c].size(); ++i) {
      for (const auto& line : texts[c][i]) {
        pen_.text(x, y + rise(kBody), line, i == 0 ? kStrong : kBody);
        y += kBody.leading;
      }
    }
  }
  y_ = from + deepest + 4;
}

double PdfFlow::legend(const BarBlock& block, bool draw) {
  double x = left_;
  double y = y_;
  for (const BarLabel& label : block.bar.labels) {
    const std::u32string text = plain_points(label.text);
    const double wide = 12 + pen_.width(text, kSmall);
    if (x + wide > right_ && x > left_) {
      x = left_;
      y += kSmall.leading;
    }
    if (draw) {
      pen_.fill(x, y + 2.5, 7, 7, ink_of(label.kind));
      if (label.kind == SegmentKind::unbilled) {
        pen_.frame(x, y + 2.5, 7, 7, 0.5, kHairline);
      }
      pen_.text(x + 12, y + rise(kSmall), text, kSmall);
    }
    x += wide + 16;
  }
  return y + kSmall.leading - y_;
}

void PdfFlow::operator()(const BarBlock& block) {
  constexpr double kHigh = 16;
  constexpr double kGap = 1.6;
  need(kHigh + 10 + legend(block, false));
  y_ += 4;
  double x = left_;
  const double gaps = kGap * static_cast<double>(block.bar.cells.size());
  for (const BarCell& cell : block.bar.cells) {
    const double wide = std::max(0.8, cell.fraction * (inner() + kGap - gaps));
    pen_.fill(x, y_, wide, kHigh, ink_of(cell.kind));
    if (cell.kind == SegmentKind::unbilled) {
      pen_.frame(x, y_, wide, kHigh, 0.5, kHairline);
    }
    x += wide + kGap;
  }
  y_ += kHigh + 4;
  y_ += legend(block, true) + 2;
}

void PdfFlow::operator()(const Signature& block) {
  constexpr double kWide = kSignatureWide;
  const double high = signature_height(block);
  need(14 + high + 20);
  y_ += 14;
  for (const Stroke& stroke : block.strokes) {
    std::vector<std::pair<double, double>> points;
    for (const auto& [x, y] : stroke.points) {
      points.emplace_back(left_ + in_range(x, 0, 1) * kWide, y_ + in_range(y, 0, 1) * high);
    }
    pen_.path(points, 1.3, kInk);
  }
  y_ += high;
  pen_.line(left_, y_, left_ + kWide, y_, 0.8, kInk);
  y_ += 3;
  const std::u32string caption = plain_points(block.caption);
  pen_.text_right(left_ + kWide, y_ + rise(kBody), caption, kSmall);
  const double most = kWide - pen_.width(caption, kSmall) - kGutter;
  set_lines(left_, pen_.wrap(block.name, kStrong, most), kStrong);
}

void PdfFlow::footers(const std::string& text) {
  for (int sheet = 0; sheet < pen_.sheets(); ++sheet) {
    pen_.turn_to(sheet);
    const double y = pen_.high() - 37;
    pen_.line(left_, y, right_, y, 0.5, kHairline);
    const std::u32string count = plain_points(cat("page ", sheet + 1, " of ", pen_.sheets()));
    pen_.text_right(right_, y + 13, count, kLabel);
    const double most = inner() - pen_.width(count, kLabel) - kGutter;
    pen_.text(left_, y + 13, pen_.wrap(text, kLabel, most).front(), kLabel);
  }
}

}  // namespace kp::bill
