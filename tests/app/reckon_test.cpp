#include <doctest/doctest.h>

#include <algorithm>

#include "app/reckon.hpp"
#include "app/shipped.hpp"

namespace kp {
namespace {

using app::celsius_of;
using app::kilopascal_of;

const pack::Pack& shipped() {
  return test::shipped_content().library.models.front().pack;
}

app::Sheet reckoned(const app::ReckonWords& words) {
  app::Sheet sheet;
  app::fill_reckon(sheet, shipped(), words, [](const std::string& field) {
    app::Action out;
    out.verb = app::Verb::set_word;
    out.id = field;
    return out;
  });
  return sheet;
}

const app::Row& row(const app::Sheet& sheet, const std::string& id) {
  static const app::Row none;
  const auto found = std::find_if(sheet.rows.begin(), sheet.rows.end(),
                                  [&](const app::Row& one) { return one.id == "reckoned-" + id; });
  return found == sheet.rows.end() ? none : *found;
}

}  // namespace

TEST_CASE("reckon: pressures and temperatures as they are said in the trade") {
  // 1 psi = 6894.757 Pa; 120 °F = 48.889 °C, 140 °F = 60 °C (definitions).
  CHECK(kilopascal_of("35 psi").value() == doctest::Approx(241.316).epsilon(1e-5));
  CHECK(kilopascal_of("2,4 bar").value() == doctest::Approx(240));
  CHECK(kilopascal_of(" 240 ").value() == 240);
  CHECK_FALSE(kilopascal_of("240 furlongs").has_value());
  CHECK_FALSE(kilopascal_of("-1").has_value());
  CHECK_FALSE(kilopascal_of("").has_value());
  CHECK(celsius_of("120 F").value() == doctest::Approx(48.889).epsilon(1e-4));
  CHECK(celsius_of("140F").value() == doctest::Approx(60));
  CHECK(celsius_of("49").value() == 49);
  CHECK_FALSE(celsius_of("300 F").has_value());
}

TEST_CASE("reckon: heat-up after t = V rho c dT / P, earth limit by the lead's length") {
  // The pack's heater is rated 1000 W at 120 V; 3.5 L from 15 to 60 °C take 658 980 J (c = 4184 J/kg K).
  const app::Sheet sheet = reckoned({{"litres", "3.5"}, {"from", "15"}, {"to", "60"}, {"lead", "1.5"}});
  CHECK(row(sheet, "heat").figure.find(" min") != std::string::npos);
  const double minutes = std::stod(row(sheet, "heat").figure);
  CHECK(minutes > 658'980 / 1100.0 / 60);
  CHECK(minutes < 658'980 / 900.0 / 60);
  CHECK(row(sheet, "earth").figure == "0.30 \u03A9");
  CHECK(row(reckoned({{"lead", "6"}}), "earth").figure == "0.40 \u03A9");
}

TEST_CASE("reckon: nonsense is answered with the range, and spoils nothing else") {
  const app::Sheet sheet = reckoned({{"litres", "much"}, {"lead", "-3"}});
  CHECK(row(sheet, "fill").figure.empty());
  CHECK(row(sheet, "fill").detail == "Enter 0.1 to 100 litres and 0 to 2000 kPa.");
  CHECK(row(sheet, "earth").detail == "Enter 0 to 100 metres.");
  const app::Sheet usual = reckoned({});
  CHECK_FALSE(row(usual, "fill").figure.empty());
  CHECK_FALSE(row(usual, "heat").figure.empty());
}

}  // namespace kp
