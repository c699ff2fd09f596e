#pragma once

#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "base/time.hpp"
#include "bill/bar.hpp"
#include "bill/rates.hpp"

namespace kp::bill {

// A paper as typed blocks. HTML and PDF are printed from the same Page, so that they say the same.
// Texts are UTF-8 and final: a renderer adds nothing to them and does no sums.

using Fact = std::pair<std::string, std::string>;  ///< what it is, and its value

/// Head of the first sheet: who hands this over, what it is, and its dates.
struct Letterhead {
  std::string shop;
  std::vector<std::string> shop_lines;
  std::string title;
  std::string number;
  std::vector<Fact> facts;
};

struct Heading {
  std::string text;
};

/// plain: body text. small: muted remarks. strong: bold. notice: in a frame, to be noticed.
enum class Tone { plain, small, strong, notice };

struct Paragraph {
  std::string text;
  Tone tone = Tone::plain;
};

/// Address-like columns side by side, each with a title and its lines; the first line is strong.
struct Columns {
  struct Column {
    std::string title;
    std::vector<std::string> lines;
  };
  std::vector<Column> columns;
};

enum class Align { left, right };

/// Rows under a head that is repeated on each sheet. `share` is a column's part of the width.
/// Figures are right-aligned and in the fixed-width face. A row's detail stands below its first
/// cell. Rows are never cut by the end of a sheet. Records are dense, sums have air.
struct Table {
  struct Column {
    std::string title;
    int share = 1;
    Align align = Align::left;
    bool figures = false;
  };
  struct Row {
    std::vector<std::string> cells;
    std::string detail;
  };
  std::vector<Column> columns;
  std::vector<Row> rows;
  bool dense = false;
};

/// Sums at the right edge, kept together; the strong one is the sum to pay.
struct Sums {
  struct Row {
    std::string title;
    std::string detail;
    std::string value;
    bool strong = false;
  };
  std::vector<Row> rows;
};

/// The job's time as a bar with its legend.
struct BarBlock {
  TimeBar bar;
};

/// A pen's way over the field: strokes of points, x and y from 0 to 1, y downwards, the field
/// `ratio` times as wide as high.
struct Stroke {
  std::vector<std::pair<double, double>> points;
};

/// A line to sign on; with strokes it is signed. `name` stands below.
struct Signature {
  std::string caption;
  std::string name;
  std::vector<Stroke> strokes;
  double ratio = 4;
};

/// A safety panel. do_not_switch, do_not_open: a red ring with a slash over a switch or a valve,
/// for a forbidden act. warning: an orange band with a triangle. The shapes and colours are those
/// of ISO 3864, used for nothing else.
enum class Sign { do_not_switch, do_not_open, warning };

struct Panel {
  Sign sign = Sign::do_not_switch;
  std::string word;   ///< "DO NOT SWITCH ON"
  std::vector<std::string> lines;
  std::vector<Fact> facts;
  bool tag = false;   ///< cut out along a dashed line, with a hole to hang it by
};

using Block = std::variant<Letterhead, Heading, Paragraph, Columns, Table, Sums, BarBlock,
                           Signature, Panel>;

struct Page {
  PageSize size = PageSize::a4;
  std::string title;    ///< of the file: "Invoice 2026-0114"
  std::string footer;   ///< on each sheet, beside "page x of y"
  Moment made;
  std::vector<Block> blocks;
};

/// True for a date, a number, a code: it is set in the fixed-width face.
[[nodiscard]] bool reads_as_figure(const std::string& text);

/// The value held between two ends; the lower end for what is not a number. For pen ways.
[[nodiscard]] constexpr double in_range(double value, double least, double most) {
  return value >= least ? (value <= most ? value : most) : least;
}

/// Every text of a page in reading order, for tests and for searching.
[[nodiscard]] std::vector<std::string> page_texts(const Page& page);

}  // namespace kp::bill
