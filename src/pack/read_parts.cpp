#include <tuple>

#include "base/text.hpp"
#include "pack/source.hpp"
#include "pack/words.hpp"

namespace kp::pack {
namespace {

constexpr double kMostKilograms = 300;
constexpr int kHour = 3600;
constexpr std::int64_t kMostPrice = 100000000;

void read_place(data::Reader& from, Part& part) {
  std::tie(part.home_x, part.home_y) = point(from, "home");
  const int away = from.choice("away", away_words());
  const AwayWord& direction = away_directions()[to_size(away)];
  part.away_x = direction.x;
  part.away_y = direction.y;
}

Part read_part(data::Reader& from, const Names& names) {
  Part part;
  part.id = id_text(from, "id");
  part.name = words(from, "name");
  part.drawing = id_text(from, "drawing");
  part.inside = from.has("inside") ? reference(from, "inside", names.parts, "part") : -1;
  part.removable = from.flag_or("removable", true);
  read_place(from, part);
  part.mass_kg = from.number("mass_kg", 0, kMostKilograms);
  part.seconds = whole_or(from, "seconds", 0, 0, kHour);
  part.positions = references(from, "positions", names.positions, "position");
  part.behind = access(from, "behind", names);
  part.contacts = contacts(from, "contacts");
  if (part.removable || from.has("remove")) {
    part.remove = words(from, "remove");
  }
  if (part.removable || from.has("refit")) {
    part.refit = words(from, "refit");
  }
  part.caution = words_or_none(from, "caution");
  part.why = words_or_none(from, "why");
  part.refit_checks = references(from, "refit_checks", names.refit_checks, "refit check");
  part.stock = words_or_none(from, "stock");
  part.price_minor = from.integer_or("price_minor", 0, 0, kMostPrice);
  from.done();
  return part;
}

}  // namespace

void read_parts(data::Reader& root, const Names& names, Pack& pack) {
  for (data::Reader& part : items(root, "parts", 1)) {
    pack.parts.push_back(read_part(part, names));
  }
}

}  // namespace kp::pack
