#include "bill/html.hpp"

#include "base/text.hpp"
#include "bill/html_style.hpp"
#include "bill/ink.hpp"
#include "bill/utf8.hpp"

namespace kp::bill {
namespace {

std::string colour(Ink ink) {
  constexpr char kDigits[] = "0123456789ABCDEF";
  std::string text = "#";
  for (const int part : {ink.red, ink.green, ink.blue}) {
    text += kDigits[to_size(part / 16)];
    text += kDigits[to_size(part % 16)];
  }
  return text;
}

const char* tone_class(Tone tone) {
  switch (tone) {
    case Tone::plain:
      return "";
    case Tone::small:
      return " class=\"small\"";
    case Tone::strong:
      return " class=\"strong\"";
    case Tone::notice:
      return " class=\"notice\"";
  }
  return "";
}

/// The forbidden thing under a red ring with a slash; the triangle with its mark.
const char* sign_inside(Sign sign) {
  switch (sign) {
    case Sign::do_not_switch:
      return "<path d=\"M18 52H34M66 52H82M36 52L64 33\" stroke=\"#1B2126\"/>";
    case Sign::do_not_open:
      return "<path d=\"M26 42L50 56L26 70zM74 42L50 56L74 70zM50 56V32M40 32H60\" "
             "stroke=\"#1B2126\"/>";
    case Sign::warning:
      return "<path d=\"M50 8L94 86H6z\" fill=\"#1B2126\" stroke=\"#1B2126\" stroke-width=\"8\"/>"
             "<path d=\"M50 34V60\" stroke=\"#D05D29\""
             " stroke-width=\"9\" stroke-linecap=\"round\"/><circle cx=\"50\" cy=\"74\" r=\"5\""
             " fill=\"#D05D29\" stroke=\"none\"/>";
  }
  return "";
}

std::string sign_drawing(Sign sign) {
  const bool warning = sign == Sign::warning;
  return cat("<svg viewBox=\"0 0 100 100\" role=\"img\" aria-label=\"",
             warning ? "Warning" : "Forbidden",
             "\"><g fill=\"none\" stroke-width=\"5\" stroke-linecap=\"round\" "
             "stroke-linejoin=\"round\">",
             sign_inside(sign), "</g>",
             warning ? "" : "<g fill=\"none\" stroke=\"#9B2423\" stroke-width=\"10\">"
                            "<circle cx=\"50\" cy=\"50\" r=\"43\"/>"
                            "<path d=\"M19.6 19.6L80.4 80.4\"/></g>",
             "</svg>");
}

class Writer {
 public:
  std::string run(const Page& page) {
    out_ = cat("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
               "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
               "<title>",
               html_text(page.title), "</title>\n<style>", kHtmlStyle,
               "</style>\n</head>\n<body>\n<main>\n");
    for (const Block& block : page.blocks) {
      std::visit(*this, block);
    }
    out_ += cat("<footer>", html_text(page.footer), "</footer>\n</main>\n</body>\n</html>\n");
    return std::move(out_);
  }

  void operator()(const Letterhead& block) {
    put("<header>\n<div class=\"shop\"><strong>", html_text(block.shop), "</strong>");
    put("<p dir=\"auto\">", html_text(join(block.shop_lines, "\n")), "</p></div>\n");
    put("<h1>", html_text(block.title), " <span class=\"n\">", html_text(block.number),
        "</span></h1>\n<dl class=\"facts\">");
    for (const Fact& fact : block.facts) {
      put("<div><dt>", html_text(fact.first), "</dt><dd dir=\"auto\"",
          reads_as_figure(fact.second) ? " class=\"n\">" : ">", html_text(fact.second),
          "</dd></div>");
    }
    put("</dl>\n</header>\n");
  }

  void operator()(const Heading& block) { put("<h2>", html_text(block.text), "</h2>\n"); }

  void operator()(const Paragraph& block) {
    put("<p dir=\"auto\"", tone_class(block.tone), ">", html_text(block.text), "</p>\n");
  }

  void operator()(const Columns& block) {
    put("<div class=\"two\">\n");
    for (const Columns::Column& column : block.columns) {
      put("<div><h3>", html_text(column.title), "</h3>");
      for (std::size_t i = 0; i < column.lines.size(); ++i) {
        const char* element = i == 0 ? "strong" : "span";
        put("<", element, " dir=\"auto\">", html_text(column.lines[i]), "</", element, ">");
      }
      put("</div>\n");
    }
    put("</div>\n");
  }

  void operator()(const Table& block) {
    int shares = 0;
    for (const Table::Column& column : block.columns) {
      shares += column.share;
    }
    const bool stacks = block.columns.size() > 3;  // too many to stand side by side on a phone
    put("<table class=\"", block.dense ? "dense" : "", stacks ? " stacks" : "",
        "\">\n<colgroup>");
    for (const Table::Column& column : block.columns) {
      put("<col style=\"width:", column.share * 100 / shares, "%\">");
    }
    put("</colgroup>\n<thead><tr>");
    for (const Table::Column& column : block.columns) {
      put("<th scope=\"col\"", column.align == Align::right ? " class=\"r\"" : "", ">",
          html_text(column.title), "</th>");
    }
    put("</tr></thead>\n<tbody>\n");
    for (const Table::Row& row : block.rows) {
      put("<tr>");
      for (std::size_t i = 0; i < row.cells.size() && i < block.columns.size(); ++i) {
        cell(block.columns[i], row.cells[i], i == 0 ? row.detail : std::string(), stacks);
      }
      put("</tr>\n");
    }
    put("</tbody>\n</table>\n");
  }

  void operator()(const Sums& block) {
    put("<table class=\"sums\">\n");
    for (const Sums::Row& row : block.rows) {
      put(row.strong ? "<tr class=\"due\"><td>" : "<tr><td>", html_text(row.title));
      if (!row.detail.empty()) {
        put(" <small>", html_text(row.detail), "</small>");
      }
      put("</td><td class=\"r n\">", html_text(row.value), "</td></tr>\n");
    }
    put("</table>\n");
  }

  void operator()(const BarBlock& block) {
    put("<div class=\"bar\" aria-hidden=\"true\">");
    for (const BarCell& cell : block.bar.cells) {
      put("<i", own(cell.kind), " style=\"flex:", cell.seconds, " 0 0;background:",
          colour(ink_of(cell.kind)), "\"></i>");
    }
    put("</div>\n<div class=\"legend\">");
    for (const BarLabel& label : block.bar.labels) {
      put("<span><i", own(label.kind), " style=\"background:", colour(ink_of(label.kind)),
          "\"></i>", html_text(label.text), "</span>");
    }
    put("</div>\n");
  }

  void operator()(const Signature& block) {
    const double width = 100 * in_range(block.ratio, 2, 8);
    put("<div class=\"sign\"><svg viewBox=\"0 0 ", fixed_text(width, 1),
        block.strokes.empty() ? " 60\" role=\"img\" aria-label=\"Not signed"
                              : " 100\" role=\"img\" aria-label=\"Signature",
        "\">");
    for (const Stroke& stroke : block.strokes) {
      put("<polyline fill=\"none\" stroke=\"#1B2126\" stroke-width=\"2.2\" "
          "stroke-linecap=\"round\" stroke-linejoin=\"round\" points=\"");
      for (const auto& [x, y] : stroke.points) {
        put(fixed_text(in_range(x, 0, 1) * width, 1), ",", fixed_text(in_range(y, 0, 1) * 100, 1),
            " ");
      }
      put("\"/>");
    }
    put("</svg>\n<div class=\"rule\"><b dir=\"auto\">", html_text(block.name), "</b><span>",
        html_text(block.caption), "</span></div></div>\n");
  }

  void operator()(const Panel& block) {
    put("<section class=\"panel", block.sign == Sign::warning ? " warning" : "",
        block.tag ? " tag" : "", "\">\n<div class=\"top\">", sign_drawing(block.sign), "<h2>",
        html_text(block.word), "</h2></div>\n");
    for (const std::string& line : block.lines) {
      put("<p dir=\"auto\">", html_text(line), "</p>\n");
    }
    if (!block.facts.empty()) {
      put("<dl>");
      for (const Fact& fact : block.facts) {
        put("<dt>", html_text(fact.first), "</dt><dd dir=\"auto\">", html_text(fact.second),
            "</dd>");
      }
      put("</dl>\n");
    }
    put("</section>\n");
  }

 private:
  template <class... Parts>
  void put(const Parts&... parts) {
    out_ += cat(parts...);
  }

  static const char* own(SegmentKind kind) {
    return kind == SegmentKind::unbilled ? " class=\"own\"" : "";
  }

  void cell(const Table::Column& column, const std::string& text, const std::string& detail,
            bool titled) {
    const bool right = column.align == Align::right;
    if (right || column.figures) {
      put("<td class=\"", right ? "r" : "", right && column.figures ? " " : "",
          column.figures ? "n" : "", "\"");
    } else {
      put("<td dir=\"auto\"");
    }
    if (titled) {
      put(" data-title=\"", html_text(column.title), "\"");
    }
    put(">", html_text(text));
    if (!detail.empty()) {
      put("<small>", html_text(detail), "</small>");
    }
    put("</td>");
  }

  std::string out_;
};

}  // namespace

std::string html_text(const std::string& text) {
  std::string out;
  for (const char32_t point : code_points_of(text)) {
    switch (point) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default: {
        const bool control = (point < 0x20 && point != '\n' && point != '\t') ||
                             (point >= 0x7F && point < 0xA0) || turns_direction(point);
        append_utf8(out, control ? 0xFFFD : point);
      }
    }
  }
  return out;
}

std::string render_html(const Page& page) { return Writer().run(page); }

}  // namespace kp::bill
