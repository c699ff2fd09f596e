#pragma once

#include <string>
#include <vector>

#include "bill/page.hpp"
#include "bill/pdf_pen.hpp"

// Lays a Page's blocks onto sheets from top to bottom; for the PDF renderer only.

namespace kp::bill {

using Lines = std::vector<std::u32string>;

class PdfFlow {
 public:
  explicit PdfFlow(PdfPen& pen);

  /// All blocks, a heading always on the sheet of what follows it.
  void run(const std::vector<Block>& blocks);
  void footers(const std::string& text);

  void operator()(const Letterhead& block);
  void operator()(const Heading& block);
  void operator()(const Paragraph& block);
  void operator()(const Columns& block);
  void operator()(const Table& block);
  void operator()(const Sums& block);
  void operator()(const BarBlock& block);
  void operator()(const Signature& block);
  void operator()(const Panel& block);

 private:
  [[nodiscard]] double inner() const { return right_ - left_; }
  [[nodiscard]] double room() const { return bottom_ - y_; }
  [[nodiscard]] double full() const { return bottom_ - top_; }
  void new_sheet();
  /// Starts a new sheet unless `height` fits here; what fits nowhere stays.
  void need(double height);
  /// Sets lines below each other from y_, on as many sheets as they need.
  void set_lines(double x, const Lines& lines, const Type& type);
  /// Height of what must not be parted from a heading before this block.
  double least(const Block& block);
  /// Height of the last words before a signature, with it: nobody signs an empty sheet.
  double before_signature(const std::vector<Block>& blocks, std::size_t from);
  [[nodiscard]] double signature_height(const Signature& block) const;
  double sums_height(const Sums& block);
  double panel_height(const Panel& block);
  double legend(const BarBlock& block, bool draw);
  void facts_row(const std::vector<Fact>& facts);
  void table_head(const Table& block);
  void table_row(const Table& block, const Table::Row& row);
  /// A row that fits on no sheet, line by line.
  void endless_row(const Table& block, const Table::Row& row);
  void cell_line(const Table& block, std::size_t column, double y, const std::u32string& line);
  [[nodiscard]] double column_left(const Table& block, std::size_t column) const;
  [[nodiscard]] double column_wide(const Table& block, std::size_t column) const;
  std::vector<Lines> wrap_cells(const Table& block, const Table::Row& row);
  Lines wrap_detail(const Table& block, const Table::Row& row);
  [[nodiscard]] double row_height(const Table& block, const Table::Row& row);
  void sign(Sign sign, double x, double y, double size);

  PdfPen& pen_;
  double left_ = 0;
  double right_ = 0;
  double top_ = 0;
  double bottom_ = 0;
  double y_ = 0;
};

}  // namespace kp::bill
