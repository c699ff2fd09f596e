#include "app/reckon.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "physics/fill.hpp"
#include "physics/heat.hpp"
#include "physics/water.hpp"
#include "physics/wire.hpp"

namespace kp::app {
namespace {

constexpr double kPascalPerPsi = 6894.757;
constexpr double kMostKilopascal = 2000;
constexpr double kMostMetre = 100;
constexpr double kMostLitre = 100;

/// The number in front and what stands behind it, in lower case.
std::optional<double> number_and_unit(std::string_view text, std::string& unit) {
  const std::string tidy(trim(text));
  const std::size_t end = tidy.find_first_not_of("0123456789.,+-");
  std::string digits = tidy.substr(0, end);
  std::replace(digits.begin(), digits.end(), ',', '.');
  unit = end == std::string::npos ? std::string() : lower(trim(tidy.substr(end)));
  return parse_number(digits);
}

std::optional<double> between(std::optional<double> value, double low, double high) {
  if (!value || !std::isfinite(*value) || *value < low || *value > high) return std::nullopt;
  return value;
}

std::optional<double> plain(std::string_view text, double low, double high) {
  std::string unit;
  return between(number_and_unit(text, unit), low, high);
}

/// What the heater of the machine draws at its supply; 0: the pack has none.
double heater_watt(const pack::Pack& pack) {
  for (const pack::Element& one : pack.circuit.elements) {
    if (one.kind == pack::ElementKind::heater && one.ohm.typical > 0) {
      return pack.supply.volts * pack.supply.volts / one.ohm.typical;
    }
  }
  return 0;
}

class Reckoner {
 public:
  Reckoner(Sheet& sheet, const ReckonWords& words,
           const std::function<Action(const std::string&)>& changed)
      : sheet_(sheet), words_(words), changed_(changed) {}

  std::string field(const char* id, const std::string& label, const std::string& usual) {
    const auto typed = words_.find(id);
    TextField out;
    out.id = cat("reckon-", id);
    out.label = label;
    out.value = typed == words_.end() ? usual : typed->second;
    out.mono = true;
    out.changed = changed_(out.id);
    sheet_.texts.push_back(out);
    return out.value;
  }

  void answer(const char* id, const std::string& title, const std::string& detail,
              const std::string& figure) {
    Row row;
    row.id = cat("reckoned-", id);
    row.title = title;
    row.detail = detail;
    row.figure = figure;
    sheet_.rows.push_back(std::move(row));
  }

 private:
  Sheet& sheet_;
  const ReckonWords& words_;
  const std::function<Action(const std::string&)>& changed_;
};

std::string range_text(double low, double high) {
  return cat(integer_text(std::llround(low)), " to ", integer_text(std::llround(high)), " s");
}

}  // namespace

std::optional<double> kilopascal_of(std::string_view text) {
  std::string unit;
  auto value = number_and_unit(text, unit);
  if (!value) return std::nullopt;
  if (unit == "psi") {
    value = *value * kPascalPerPsi / 1000;
  } else if (unit == "bar") {
    value = *value * 100;
  } else if (!unit.empty() && unit != "kpa") {
    return std::nullopt;
  }
  return between(value, 0, kMostKilopascal);
}

std::optional<double> celsius_of(std::string_view text) {
  std::string unit;
  auto value = number_and_unit(text, unit);
  if (!value) return std::nullopt;
  if (unit == "f" || unit == "\u00B0f") {
    value = physics::celsius_of_fahrenheit(*value);
  } else if (!unit.empty() && unit != "c" && unit != "\u00B0c") {
    return std::nullopt;
  }
  return between(value, 0, 100);
}

void fill_reckon(Sheet& sheet, const pack::Pack& pack, const ReckonWords& words,
                 const std::function<Action(const std::string& field)>& changed) {
  sheet.title = "Reckon";
  sheet.rows_first = true;
  sheet.paragraphs.emplace_back("What a sound machine would do. Use it to doubt a reading, not a limit.");
  Reckoner reckon(sheet, words, changed);
  const auto litres = plain(
      reckon.field("litres", "Water in the machine, litres", number_text(pack.water.fill_litres)), 0.1, kMostLitre);
  const auto pressure = kilopascal_of(reckon.field("pressure", "Water pressure: kPa, or say psi or bar", "240"));
  if (litres && pressure && pack.water.fill_seconds > 0) {
    physics::Inlet inlet;
    inlet.washer_litre_per_minute = pack.water.fill_litres / pack.water.fill_seconds * 60;
    const physics::FillCheck fill =
        physics::check_fill(inlet, *litres, *pressure * 1000, pack.water.fill_seconds);
    reckon.answer("fill", "Time to fill", "Flow washer, its own tolerance",
                  fill.verdict == physics::FillVerdict::no_pressure
                      ? std::string("no pressure")
                      : range_text(fill.least_seconds, fill.most_seconds));
  } else {
    reckon.answer("fill", "Time to fill", "Enter 0.1 to 100 litres and 0 to 2000 kPa.", "");
  }
  const auto from = celsius_of(
      reckon.field("from", "Water now, \u00B0C, or say F", number_text(pack.water.wash_celsius_low)));
  const auto to = celsius_of(
      reckon.field("to", "Water wanted, \u00B0C, or say F", number_text(pack.water.wash_celsius_high)));
  const double watt = heater_watt(pack);
  if (litres && from && to && *to > *from && watt > 0) {
    const double seconds = physics::heat_up_seconds(*litres, *from, *to, watt);
    reckon.answer("heat", "Time to heat, at the least",
                  cat(integer_text(std::llround(watt)), " W into the water alone; tub and dishes add to it"),
                  cat(fixed_text(seconds / 60, 1), " min"));
  } else {
    reckon.answer("heat", "Time to heat", "Enter two temperatures from 0 to 100 \u00B0C, the higher one wanted.", "");
  }
  const auto lead = plain(reckon.field("lead", "Length of the cord or lead, metres", "1.5"), 0, kMostMetre);
  if (lead) {
    reckon.answer("earth", "Earth, at the most", "VDE 0701-0702:2008. Local code first.",
                  cat(fixed_text(physics::earth_limit_ohm(*lead), 2), " \u03A9"));
  } else {
    reckon.answer("earth", "Earth, at the most", "Enter 0 to 100 metres.", "");
  }
}

}  // namespace kp::app
