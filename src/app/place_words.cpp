#include "app/place_words.hpp"

#include "app/find_words.hpp"
#include "base/text.hpp"

namespace kp::app {

namespace {

const pack::TestPoint* point_of(const job::Model& model, const std::string& id) {
  for (const pack::TestPoint& point : model.pack.circuit.points) {
    if (point.id == id) {
      return &point;
    }
  }
  return nullptr;
}

/// Within a sentence: what carries a name of the machine, else the conductor in words.
std::string touched(const job::Model& model, const std::string& code) {
  const pack::TestPoint* point = point_of(model, code);
  return point == nullptr ? safety::conductor_title(code) : lower_first(point->title);
}

}  // namespace

std::string place_words(const job::Model& model, const safety::State& safe, const std::string& id) {
  if (id == safety::kSupply) {
    const std::string& place = model.pack.supply.proof.place;
    const bool plug = safe.connection == safety::Connection::cord || place.empty();
    return plug ? std::string("Pins of the plug") : place;
  }
  if (const int group = model.hazards.group(id); group >= 0) {
    const std::string& cover = model.hazards.groups[to_size(group)].name_of_cover;
    return cover.empty() ? std::string("In the open") : cat("Behind the ", lower_first(cover));
  }
  const pack::TestPoint* point = point_of(model, id);
  return point == nullptr ? id : point->title;
}

std::string reading_sentence(const job::Model& model, const safety::Wanted& wanted) {
  const std::string a = touched(model, wanted.pair.a);
  const std::string b = touched(model, wanted.pair.b);
  return wanted.role == safety::Role::pair_dc
             ? cat("Direct voltage: touch ", b, ", then ", a, ". What does it show?")
             : cat("Touch ", b, ", then ", a, ". What does it show?");
}

}  // namespace kp::app
