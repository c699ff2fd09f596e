#include <algorithm>

#include "base/text.hpp"
#include "bill/pdf_flow.hpp"
#include "bill/pdf_glyphs.hpp"
#include "bill/pdf_types.hpp"

namespace kp::bill {
namespace {

constexpr double kSumsWide = 270;
constexpr double kPanelPad = 16;
constexpr double kSignSize = 74;
constexpr double kHoleRoom = 34;
constexpr double kFactTitle = 74;

const Type& type_of(const Table::Column& column) { return column.figures ? kFigure : kBody; }

int shares_of(const Table& block) {
  int shares = 0;
  for (const Table::Column& column : block.columns) {
    shares += column.share;
  }
  return std::max(1, shares);
}

double pad_of(const Table& block) { return block.dense ? 2.5 : 5; }

const Type& value_type(const Sums::Row& row) { return row.strong ? kDueFigure : kFigure; }

}  // namespace

double PdfFlow::column_left(const Table& block, std::size_t column) const {
  double before = 0;
  for (std::size_t i = 0; i < column; ++i) {
    before += block.columns[i].share;
  }
  return left_ + inner() * before / shares_of(block);
}

double PdfFlow::column_wide(const Table& block, std::size_t column) const {
  const double whole = inner() * block.columns[column].share / shares_of(block);
  return column + 1 < block.columns.size() ? whole - kGutter : whole;
}

void PdfFlow::table_head(const Table& block) {
  std::vector<Lines> titles;
  std::size_t most = 1;
  for (std::size_t i = 0; i < block.columns.size(); ++i) {
    titles.push_back(pen_.wrap(block.columns[i].title, kLabel, column_wide(block, i)));
    most = std::max(most, titles.back().size());
  }
  for (std::size_t i = 0; i < titles.size(); ++i) {
    double y = y_;
    for (const auto& line : titles[i]) {
      if (block.columns[i].align == Align::right) {
        pen_.text_right(column_left(block, i) + column_wide(block, i), y + rise(kLabel), line,
                        kLabel);
      } else {
        pen_.text(column_left(block, i), y + rise(kLabel), line, kLabel);
      }
      y += kLabel.leading;
    }
  }
  y_ += static_cast<double>(most) * kLabel.leading + 3;
  pen_.line(left_, y_, right_, y_, 0.8, kInk);
}

std::vector<Lines> PdfFlow::wrap_cells(const Table& block, const Table::Row& row) {
  std::vector<Lines> cells;
  for (std::size_t i = 0; i < row.cells.size() && i < block.columns.size(); ++i) {
    cells.push_back(pen_.wrap(row.cells[i], type_of(block.columns[i]), column_wide(block, i)));
  }
  return cells;
}

Lines PdfFlow::wrap_detail(const Table& block, const Table::Row& row) {
  return row.detail.empty() ? Lines{} : pen_.wrap(row.detail, kSmall, column_wide(block, 0));
}

double PdfFlow::row_height(const Table& block, const Table::Row& row) {
  double high = kBody.leading;
  const std::vector<Lines> cells = wrap_cells(block, row);
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const double detail = i == 0 ? static_cast<double>(wrap_detail(block, row).size()) : 0;
    high = std::max(high, static_cast<double>(cells[i].size()) * kBody.leading +
                              detail * kSmall.leading);
  }
  return 2 * pad_of(block) + high;
}

void PdfFlow::cell_line(const Table& block, std::size_t column, double y,
                        const std::u32string& line) {
  const Type& type = type_of(block.columns[column]);
  if (block.columns[column].align == Align::right) {
    pen_.text_right(column_left(block, column) + column_wide(block, column), y + rise(type), line,
                    type);
  } else {
    pen_.text(column_left(block, column), y + rise(type), line, type);
  }
}

void PdfFlow::table_row(const Table& block, const Table::Row& row) {
  const double high = row_height(block, row);
  if (high > room() && high <= full() - 30) {
    new_sheet();
    table_head(block);
  }
  if (high > room()) {
    endless_row(block, row);
    return;
  }
  const std::vector<Lines> cells = wrap_cells(block, row);
  for (std::size_t i = 0; i < cells.size(); ++i) {
    double y = y_ + pad_of(block);
    for (const auto& line : cells[i]) {
      cell_line(block, i, y, line);
      y += kBody.leading;
    }
    for (const auto& line : i == 0 ? wrap_detail(block, row) : Lines{}) {
      pen_.text(left_, y + rise(kSmall), line, kSmall);
      y += kSmall.leading;
    }
  }
  y_ += high;
  pen_.line(left_, y_, right_, y_, 0.5, kHairline);
}

void PdfFlow::endless_row(const Table& block, const Table::Row& row) {
  const std::vector<Lines> cells = wrap_cells(block, row);
  std::size_t most = 1;
  for (const Lines& cell : cells) {
    most = std::max(most, cell.size());
  }
  y_ += pad_of(block);
  for (std::size_t line = 0; line < most; ++line) {
    if (kBody.leading > room()) {
      new_sheet();
      table_head(block);
      y_ += pad_of(block);
    }
    for (std::size_t i = 0; i < cells.size(); ++i) {
      if (line < cells[i].size()) {
        cell_line(block, i, y_, cells[i][line]);
      }
    }
    y_ += kBody.leading;
  }
  set_lines(left_, wrap_detail(block, row), kSmall);
  y_ += pad_of(block);
  pen_.line(left_, y_, right_, y_, 0.5, kHairline);
}

void PdfFlow::operator()(const Table& block) {
  y_ += kAboveTable;
  need(kTableHead + (block.rows.empty() ? 0 : row_height(block, block.rows.front())));
  table_head(block);
  for (const Table::Row& row : block.rows) {
    table_row(block, row);
  }
}

double PdfFlow::sums_height(const Sums& block) {
  double high = 8;
  for (const Sums::Row& row : block.rows) {
    high += value_type(row).leading + (row.strong ? 8 : 3);
  }
  return high;
}

void PdfFlow::operator()(const Sums& block) {
  need(sums_height(block));
  y_ += 6;
  const double from = right_ - kSumsWide;
  for (const Sums::Row& row : block.rows) {
    const Type& title = row.strong ? kDue : kBody;
    const Type& value = value_type(row);
    if (row.strong) {
      pen_.line(from, y_ + 3, right_, y_ + 3, 1.2, kInk);
      y_ += 5;
    }
    const double y = y_ + rise(title);
    const std::u32string name = plain_points(row.title);
    pen_.text(from, y, name, title);
    const std::u32string sum = plain_points(row.value);
    pen_.text_right(right_, y, sum, value);
    if (!row.detail.empty()) {
      const double x = from + pen_.width(name, title) + 6;
      const double most = right_ - pen_.width(sum, value) - kGutter - x;
      pen_.text(x, y, pen_.wrap(row.detail, kSmall, most).front(), kSmall);
    }
    y_ += value.leading + 3;
  }
}

void PdfFlow::sign(Sign sign, double x, double y, double size) {
  const double unit = size / 100;
  const auto at = [x, y, unit](double px, double py) {
    return std::pair<double, double>(x + px * unit, y + py * unit);
  };
  switch (sign) {
    case Sign::do_not_switch:
      pen_.path({at(18, 52), at(34, 52)}, 5 * unit, kInk);
      pen_.path({at(66, 52), at(82, 52)}, 5 * unit, kInk);
      pen_.path({at(36, 52), at(64, 33)}, 5 * unit, kInk);
      break;
    case Sign::do_not_open:
      pen_.path({at(26, 42), at(50, 56), at(26, 70), at(26, 42)}, 5 * unit, kInk);
      pen_.path({at(74, 42), at(50, 56), at(74, 70), at(74, 42)}, 5 * unit, kInk);
      pen_.path({at(50, 56), at(50, 32)}, 5 * unit, kInk);
      pen_.path({at(40, 32), at(60, 32)}, 5 * unit, kInk);
      break;
    case Sign::warning:
      pen_.path({at(50, 8), at(94, 86), at(6, 86), at(50, 8)}, 8 * unit, kInk);
      pen_.shape({at(50, 8), at(94, 86), at(6, 86)}, kInk);
      pen_.path({at(50, 34), at(50, 60)}, 9 * unit, kSafetyOrange);
      pen_.disc(x + 50 * unit, y + 74 * unit, 5 * unit, kSafetyOrange);
      return;
  }
  pen_.ring(x + 50 * unit, y + 50 * unit, 43 * unit, 10 * unit, kSafetyRed);
  pen_.path({at(21, 21), at(79, 79)}, 10 * unit, kSafetyRed);
}

double PdfFlow::panel_height(const Panel& block) {
  const double wide = inner() - 2 * kPanelPad;
  const bool band = block.sign == Sign::warning;
  double high = band ? 56 : kSignSize + kPanelPad + 10;
  high += block.tag ? kHoleRoom : 0;
  for (const std::string& line : block.lines) {
    high += static_cast<double>(pen_.wrap(line, kHead, wide).size()) * kHead.leading + 2;
  }
  high += block.facts.empty() ? 0 : 6;
  for (const Fact& fact : block.facts) {
    high += static_cast<double>(pen_.wrap(fact.second, kBody, wide - kFactTitle).size()) *
            kBody.leading;
  }
  return high + kPanelPad;
}

void PdfFlow::operator()(const Panel& block) {
  y_ += 14;
  const double high = panel_height(block);
  need(high);
  const double from = y_;
  const double wide = inner() - 2 * kPanelPad;
  const double x = left_ + kPanelPad;
  if (block.tag) {
    pen_.dashed_frame(left_, from, inner(), high, 1, kInk);
    pen_.ring(left_ + inner() / 2, from + 20, 8, 0.8, kInk);
    y_ += kHoleRoom;
  } else {
    pen_.frame(left_, from, inner(), high, 1.6, kInk);
  }
  const bool band = block.sign == Sign::warning;
  const double size = band ? 34 : kSignSize;
  if (band) {
    pen_.fill(left_, from, inner(), 46, kSafetyOrange);
    pen_.frame(left_, from, inner(), 46, 1.6, kInk);
  }
  y_ += band ? 6 : kPanelPad;
  sign(block.sign, x, y_, size);
  const Lines word = pen_.wrap(block.word, kWord, wide - size - 16);
  double y = y_ + size / 2 - static_cast<double>(word.size()) * kWord.leading / 2;
  for (const auto& line : word) {
    pen_.text(x + size + 16, y + rise(kWord), line, kWord);
    y += kWord.leading;
  }
  y_ += size + (band ? 16 : 10);
  for (const std::string& line : block.lines) {
    set_lines(x, pen_.wrap(line, kHead, wide), kHead);
    y_ += 2;
  }
  y_ += block.facts.empty() ? 0 : 6;
  for (const Fact& fact : block.facts) {
    pen_.text(x, y_ + rise(kBody), plain_points(fact.first), kLabel);
    set_lines(x + kFactTitle, pen_.wrap(fact.second, kBody, wide - kFactTitle), kBody);
  }
  y_ = std::max(y_, from + high) + 4;
}

}  // namespace kp::bill
