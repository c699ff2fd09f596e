#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <string>

#include "scene/drawings.hpp"
#include "scene/svg.hpp"
#include "scene/svg_path.hpp"
#include "scene/svg_style.hpp"

using kp::Findings;
using kp::geom::area;
using kp::geom::signed_area;
using kp::scene::Drawing;
using kp::scene::read_drawing;
using kp::scene::Role;
using kp::scene::Vec;

namespace {

std::string file(const std::string& body) {
  return "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"-50 -50 100 100\">\n" + body +
         "\n</svg>\n";
}

/// All findings of a file, one a line.
std::string findings_of(const std::string& text) {
  Findings findings;
  const auto drawing = read_drawing("part", text, findings);
  CHECK(drawing.has_value() == (findings.faults() == 0));
  findings.sort();
  std::string out;
  for (const kp::Finding& finding : findings.all()) {
    out += finding.code + ": " + finding.text() + "\n";
  }
  return out;
}

const std::string kBody =
    "<rect x=\"-10\" y=\"-5\" width=\"20\" height=\"10\" fill=\"#E3DFD5\" stroke=\"#1B2126\" "
    "stroke-width=\"1.5\"/>";

}  // namespace

TEST_CASE("a good file becomes shapes with roles, triangles and a silhouette") {
  Findings findings;
  const auto drawing = read_drawing("valve", file("<title>inlet valve</title>\n" + kBody + R"svg(
<g transform="translate(10,0) scale(2)" fill="none" stroke="#75726B" stroke-width="0.75">
  <path d="M0 0h5"/>
  <circle r="3" fill="url(#rubber)" stroke-dasharray="2 1 2"/>
</g>)svg"),
                                    findings);
  CHECK(findings.all().empty());
  REQUIRE(drawing.has_value());
  CHECK(drawing->title == "inlet valve");
  REQUIRE(drawing->shapes.size() == 3);
  const auto& body = drawing->shapes[0];
  CHECK(body.fill == Role::grey_2);
  CHECK(body.stroke == Role::ink);
  CHECK(body.width == 1.5);
  CHECK(area(body.triangles) == doctest::Approx(200));
  REQUIRE(drawing->outline.size() == 1);
  CHECK(drawing->outline[0].size() == 4);
  const auto& line = drawing->shapes[1];
  CHECK(line.fill == Role::none);
  CHECK(line.width == doctest::Approx(1.5));
  CHECK(line.lines[0].points == kp::geom::Contour{Vec(10, 0), Vec(20, 0)});
  CHECK_FALSE(line.lines[0].closed);
  const auto& ring = drawing->shapes[2];
  CHECK(ring.fill == Role::rubber);
  CHECK(ring.hatch.size() >= 2);
  CHECK(ring.dash == std::vector<double>{4, 2, 4, 4, 2, 4});
  CHECK(area(ring.triangles) == doctest::Approx(std::numbers::pi * 36).epsilon(0.02));
  // The box is that of the ink: the left edge and half of the 1.5 pen.
  CHECK(drawing->box.min.x == doctest::Approx(-10.75));
}

TEST_CASE("all faults of a file are listed, each with its line and its remedy") {
  CHECK(findings_of(file("<rectt x=\"1\"/>\n<path d=\"M0 0L9\" fill=\"#123456\" wdth=\"3\"/>\n"
                         "<text>no</text>")) ==
        "svg-element: line 2, part: unknown element <rectt>. Did you mean <rect>?\n"
        "svg-colour: line 3, part: <path> fill=\"#123456\" is not in the palette. Use one of none, "
        "#FFFFFF, #F1EEE7, #E3DFD5, #D2CDC1, #B9B4A8, #9A968C, #75726B, #1B2126, #E9D9BE, #CDB48A, "
        "url(#rubber), url(#cut).\n"
        "svg-attribute: line 3, part: <path> has the unknown attribute wdth. Remove it, or put its "
        "effect into fill and stroke attributes.\n"
        "svg-path: line 3, part: path data: L takes 2 numbers up to 10000; none at character 7. "
        "Write path data as SVG 1.1 section 8.3 says.\n"
        "svg-silhouette: line 3, part: the first shape is not a filled, closed outline. Draw the "
        "part's silhouette first, as one closed and filled shape.\n"
        "svg-element: line 4, part: unknown element <text>. Use only g, path, rect, circle, "
        "ellipse, line, polyline, polygon, title, defs; turn text and images into paths.\n");
}

TEST_CASE("each kind of fault has its code") {
  const auto has = [](const std::string& text, const std::string& code) {
    Findings findings;
    CHECK_FALSE(read_drawing("part", text, findings).has_value());
    CHECK_MESSAGE(findings.has(code), code);
    for (const kp::Finding& finding : findings.all()) {
      CHECK_FALSE(finding.what.empty());
      CHECK_FALSE(finding.remedy.empty());
    }
  };
  has("", "svg-syntax");
  has("<svg viewBox=\"0 0 1 1\"><rect></svg>", "svg-syntax");
  has("<html/>", "svg-root");
  has("<svg>" + kBody + "</svg>", "svg-viewbox");
  has("<svg viewBox=\"0 0 10\">" + kBody + "</svg>", "svg-viewbox");
  has("<svg viewBox=\"0 0 10 -4\">" + kBody + "</svg>", "svg-viewbox");
  has("<svg viewBox=\"0 0 10 99999\">" + kBody + "</svg>", "svg-viewbox");
  has("<svg viewBox=\"0 0 9 9\" onload=\"x\">" + kBody + "</svg>", "svg-attribute");
  has(file(""), "svg-silhouette");
  has(file("<path d=\"M0 0L9 9L0 9\" fill=\"#FFFFFF\"/>"), "svg-silhouette");
  has(file("<path d=\"M0 0L9 9L0 9z\" fill=\"none\"/>"), "svg-silhouette");
  has(file("<rect width=\"9\" height=\"9\"/>"), "svg-colour");
  has(file("<rect width=\"9\" height=\"9\" fill=\"red\"/>"), "svg-colour");
  has(file("<rect width=\"9\" height=\"9\" fill=\"none\" stroke=\"url(#cut)\"/>"), "svg-colour");
  has(file("<rect width=\"-9\" height=\"9\" fill=\"#fff\"/>"), "svg-number");
  has(file("<rect width=\"9e9\" height=\"9\" fill=\"#fff\"/>"), "svg-number");
  has(file("<circle r=\"big\" fill=\"#fff\"/>"), "svg-number");
  has(file("<polygon points=\"1 2 3\" fill=\"#fff\"/>"), "svg-number");
  has(file(kBody + "<path d=\"M0 0h5\" fill=\"none\" stroke-dasharray=\"0 2\"/>"), "svg-number");
  has(file(kBody + "<path d=\"M0 0h5\" fill=\"none\" stroke-width=\"x\"/>"), "svg-number");
  has(file("<path d=\"L0 0\" fill=\"none\"/>"), "svg-path");
  has(file("<path d=\"M0 0 nonsense\" fill=\"none\"/>"), "svg-path");
  has(file("<g transform=\"spin(3)\">" + kBody + "</g>"), "svg-transform");
  has(file("<g transform=\"scale(0)\">" + kBody + "</g>"), "svg-transform");
  has(file("<g transform=\"scale(9999)\">" + kBody + "</g>"), "svg-size");
  has(file("stray" + kBody), "svg-element");
  has(file("<rect width=\"9\" height=\"9\" fill=\"#fff\" stroke-linecap=\"odd\"/>"),
      "svg-attribute");
  has(file("<rect width=\"9\" height=\"9\" fill=\"#fff\" style=\"fill:red\"/>"), "svg-attribute");
  std::string deep;
  for (int i = 0; i < 40; ++i) {
    deep += "<g>";
  }
  std::string close;
  for (int i = 0; i < 40; ++i) {
    close += "</g>";
  }
  has(file(deep + kBody + close), "svg-size");
}

TEST_CASE("ink beyond the viewBox is a warning, not a fault") {
  Findings findings;
  CHECK(read_drawing("part", "<svg viewBox=\"0 0 5 5\">" + kBody + "</svg>", findings).has_value());
  CHECK(findings.has("svg-outside"));
  CHECK(findings.faults() == 0);
}

// The same shape written with each command; SVG 1.1, sections 8.3.2 to 8.3.8.
TEST_CASE("path commands, absolute and relative, with the shortest spellings") {
  const auto area_of = [](const char* data) {
    const auto path = kp::scene::read_path(data, 0.001);
    CHECK_MESSAGE(path.wrong.empty(), path.wrong);
    double sum = 0;
    for (const auto& line : path.lines) {
      CHECK(line.closed);
      sum += signed_area(line.points);
    }
    return sum;
  };
  CHECK(area_of("M1 1L5 1L5 4L1 4Z") == doctest::Approx(12));
  CHECK(area_of("M1,1 5,1 5,4 1,4z") == doctest::Approx(12));
  CHECK(area_of("m1 1 4 0 0 3-4 0z") == doctest::Approx(12));
  CHECK(area_of("M1 1H5V4H1z") == doctest::Approx(12));
  CHECK(area_of("m1 1h4v3h-4z") == doctest::Approx(12));
  CHECK(area_of("M+1.0e0 1h4.0v03h-4z") == doctest::Approx(12));
  CHECK(area_of("M.5.5h.5v.5h-.5z") == doctest::Approx(0.25));
  CHECK(area_of("M0 0h2v2h-2zm4 0h1v1h-1z") == doctest::Approx(5));
  // Four half-turn flags run together: a circle of radius 2 has the area 4 pi.
  CHECK(area_of("M2 0a2 2 0 01-4 0a2 2 0 014 0z") ==
        doctest::Approx(4 * std::numbers::pi).epsilon(1e-3));
  // Under a parabola with control height h and base b: 2/3 of half of b h.
  CHECK(area_of("M0 0Q3-6 6 0z") == doctest::Approx(12).epsilon(1e-3));
  CHECK(area_of("M0 0q3-6 6 0t6 0z") == doctest::Approx(0).epsilon(1e-2));
  // A cubic that is a raised quadratic: control points at two thirds of the way.
  CHECK(area_of("M0 0C2-4 4-4 6 0z") == doctest::Approx(12).epsilon(1e-3));
  CHECK(area_of("M0 0c2-4 4-4 6 0s4 4 6 0z") == doctest::Approx(0).epsilon(1e-2));
  CHECK(area_of("M0 0S6-6 6 0z") == doctest::Approx(area_of("M0 0C0 0 6-6 6 0z")));
  CHECK(kp::scene::read_path("", 0.1).lines.empty());
  CHECK(kp::scene::read_path("M1 1 1 1", 0.1).lines.empty());
}

TEST_CASE("transform lists apply from right to left") {
  const auto frame = kp::scene::read_transform(" translate(3 4), rotate(90) scale(2) ");
  REQUIRE(frame.has_value());
  const Vec point = frame->apply(Vec(1, 0));
  CHECK(point.x == doctest::Approx(3));
  CHECK(point.y == doctest::Approx(6));
  const auto turn = kp::scene::read_transform("rotate(180 5 5)");
  REQUIRE(turn.has_value());
  CHECK(turn->apply(Vec(4, 5)).x == doctest::Approx(6));
  const auto matrix = kp::scene::read_transform("matrix(1 0 0 1 7 8)");
  REQUIRE(matrix.has_value());
  CHECK(matrix->apply(Vec(0, 0)) == Vec(7, 8));
  CHECK_FALSE(kp::scene::read_transform("translate(1 2 3)").has_value());
  CHECK_FALSE(kp::scene::read_transform("translate(1").has_value());
}

TEST_CASE("the palette knows its colours in any spelling and no other") {
  CHECK(kp::scene::drawing_role("#e3dfd5") == Role::grey_2);
  CHECK(kp::scene::drawing_role("#FFF") == Role::white);
  CHECK(kp::scene::drawing_role(" none ") == Role::none);
  CHECK_FALSE(kp::scene::drawing_role("#E3DFD6").has_value());
  CHECK_FALSE(kp::scene::drawing_role("").has_value());
  CHECK(kp::scene::drawing_colour(Role::warm_2) == "#CDB48A");
  CHECK(kp::scene::drawing_colour(Role::accent).empty());
  CHECK(kp::scene::role_name(Role::signal_yellow) == "signal-yellow");
}

TEST_CASE("every drawing in assets/parts reads without a finding and fills its silhouette") {
  const auto files = kp::test::part_files();
  CHECK(files.size() >= 32);
  for (const auto& file : files) {
    const std::string name = file.first;
    const std::string text = file.second;
    CAPTURE(name);
    Findings findings;
    const auto drawing = read_drawing(name, text, findings);
    for (const kp::Finding& finding : findings.all()) {
      CHECK_MESSAGE(false, finding.text());
    }
    if (!drawing) {
      continue;
    }
    CHECK_FALSE(drawing->title.empty());
    for (const auto& shape : drawing->shapes) {
      if (shape.fill == Role::none) {
        continue;
      }
      std::vector<kp::geom::Contour> area;
      for (const auto& line : shape.lines) {
        area.push_back(line.points);
      }
      const double swept =
          kp::geom::area(kp::geom::sweep_triangles(area, kp::geom::FillRule::nonzero));
      CHECK(kp::geom::area(shape.triangles) == doctest::Approx(swept).epsilon(1e-6));
      CHECK(swept > 0);
    }
    for (const auto& contour : drawing->outline) {
      for (const Vec& point : contour) {
        CHECK(drawing->view.contains(point));
      }
    }
  }
}
