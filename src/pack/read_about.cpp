#include "base/money.hpp"
#include "base/text.hpp"
#include "pack/source.hpp"

namespace kp::pack {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_capital(char c) { return c >= 'A' && c <= 'Z'; }

/// YYYY-MM-DD with a month from 01 to 12 and a day from 01 to 31.
bool is_date(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') {
    return false;
  }
  for (const int at : {0, 1, 2, 3, 5, 6, 8, 9}) {
    if (!is_digit(text[to_size(at)])) {
      return false;
    }
  }
  const int month = (text[5] - '0') * 10 + (text[6] - '0');
  const int day = (text[8] - '0') * 10 + (text[9] - '0');
  return month >= 1 && month <= 12 && day >= 1 && day <= 31;
}

bool is_text(const data::Reader& from, std::string_view name) {
  const data::Value* value = from.value().find(name);
  return value != nullptr && value->kind == data::Kind::string;
}

void read_currency(data::Reader& root, Pack& pack) {
  pack.currency = root.text_or("currency", pack.currency);
  const bool shaped = pack.currency.size() == 3 && is_capital(pack.currency[0]) &&
                      is_capital(pack.currency[1]) && is_capital(pack.currency[2]);
  const auto known = currency_of(pack.currency);
  if (!shaped) {
    root.fault("bad-pattern", cat("\"", pack.currency, "\" is no currency code"),
               "Write the three capital letters of ISO 4217.", "currency");
  } else if (!known.has_value()) {
    root.fault("unknown-currency", known.error().what, known.error().remedy, "currency");
  }
}

Plate read_plate(data::Reader& from) {
  Plate plate;
  plate.pattern = words(from, "pattern");
  const std::size_t star = plate.pattern.find('*');
  if (star != std::string::npos && star + 1 != plate.pattern.size()) {
    from.fault("bad-pattern", "\"*\" stands inside the pattern",
               "Let \"*\" end the pattern: it takes any rest.", "pattern");
  }
  plate.range = words(from, "range");
  plate.where = words(from, "where");
  from.done();
  return plate;
}

SupplyProof read_proof(data::Reader& from, const Names& names) {
  SupplyProof proof;
  proof.points = references(items(from, "points", 3), names.points, "test point");
  if (proof.points.size() > 4) {
    from.fault("too-many", "\"points\" names more than four test points",
               "Name the line or both lines, neutral and earth.", "points");
  }
  proof.place = words(from, "place");
  from.done();
  return proof;
}

Supply read_supply(data::Reader& from, const Names& names) {
  Supply supply;
  supply.volts = from.number("volts", 12, 690);
  supply.hertz = from.number("hertz", 16, 400);
  supply.breaker_amperes = from.number("breaker_amperes", 1, 125);
  supply.connection = static_cast<Connection>(from.choice("connection", connection_words()));
  supply.system = static_cast<System>(from.choice_or("system", system_words(), 0));
  supply.volts_low = from.number_or("volts_low", 0, 0, 690);
  supply.volts_high = from.number_or("volts_high", 0, 0, 690);
  supply.isolation = words(from, "isolation");
  if (auto proof = from.object("proof", false)) {
    supply.proof = read_proof(*proof, names);
  }
  from.done();
  return supply;
}

Water read_water(data::Reader& from, const Names& names) {
  Water water;
  water.valve = words(from, "valve");
  water.relieve = words(from, "relieve");
  water.relieve_joints = references(from, "relieve_joints", names.joints, "joint");
  water.relieve_positions = references(from, "relieve_positions", names.positions, "position");
  water.relieve_behind = access(from, "relieve_behind", names);
  water.watch_seconds = whole_or(from, "watch_seconds", water.watch_seconds, 10, 3600);
  water.fill_litres = from.number("fill_litres", 0.1, 50);
  water.fill_seconds = from.number("fill_seconds", 1, 3600);
  water.wash_celsius_low = from.number("wash_celsius_low", 0, 100);
  water.wash_celsius_high = from.number("wash_celsius_high", 0, 100);
  from.done();
  return water;
}

}  // namespace

void read_about(data::Reader& root, const Names& names, Pack& pack) {
  pack.id = id_text(root, "id");
  if (auto about = root.object("about")) {
    pack.about.maker = words(*about, "maker");
    pack.about.title = words(*about, "title");
    pack.about.summary = words(*about, "summary");
    pack.about.thumbnail = id_text(*about, "thumbnail");
    pack.about.basis = words(*about, "basis");
    pack.about.version = words(*about, "version");
    pack.about.date = about->text("date");
    if (is_text(*about, "date") && !is_date(pack.about.date)) {
      about->fault("bad-date", cat("\"", pack.about.date, "\" is no date"),
                   "Write year, month and day: 2025-01-31.", "date");
    }
    about->done();
  }
  read_currency(root, pack);
  for (data::Reader& plate : items(root, "plates", 1)) {
    pack.plates.push_back(read_plate(plate));
  }
  pack.features = root.texts_or_empty("features");
  if (auto supply = root.object("supply")) {
    pack.supply = read_supply(*supply, names);
  }
  if (auto water = root.object("water")) {
    pack.water = read_water(*water, names);
  }
}

}  // namespace kp::pack
