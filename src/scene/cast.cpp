#include "scene/cast.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "geom/polygon.hpp"
#include "scene/words.hpp"

namespace kp::scene {
namespace {

constexpr double kRingFit = 19;   // px: half diagonal of what a smallest ring shows
constexpr double kMostRing = 34;
constexpr double kSeat = 10;      // units: a fastener this near to a part sits on it
constexpr double kRingInner = 6;  // px between a fastener and its ring

double half_diagonal(const Drawing& drawing) {
  return std::max(1.0, geom::length(drawing.box.max - drawing.box.min) / 2);
}

}  // namespace

double fastener_scale(const Drawing& drawing, double scale) {
  const double half = half_diagonal(drawing);
  return std::clamp(scale, std::min(1.0, kRingFit / half), (kMostRing - kRingInner) / half);
}

double ring_of(const Drawing& drawing, double scale) {
  return std::max(kLeast, half_diagonal(drawing) * fastener_scale(drawing, scale) + kRingInner);
}

Cast::Cast(const std::vector<Item>& shown, const std::vector<Item>& all, const Viewport& viewport)
    : shown_(&shown), viewport_(&viewport) {
  find_axis();
  make_groups(all);
  link();
  find_mirrors();
  make_labels();
}

const Item& Cast::item(int index) const { return (*shown_)[to_size(index)]; }

/// The line on which most items stand that come away up or down, or stay.
void Cast::find_axis() {
  int most = 1;
  for (const Item& candidate : *shown_) {
    int count = 0;
    for (const Item& item : *shown_) {
      count += !item.fastener && std::abs(item.away.x) < 1e-6 &&
                       std::abs(item.home.x - candidate.home.x) < kAligned
                   ? 1
                   : 0;
    }
    if (!candidate.fastener && std::abs(candidate.away.x) < 1e-6 && count > most) {
      most = count;
      has_axis_ = true;
      axis_x_ = candidate.home.x;
    }
  }
}

void Cast::make_groups(const std::vector<Item>& all) {
  const auto find = [&all](int id) {
    return std::find_if(all.begin(), all.end(), [id](const Item& item) { return item.id == id; });
  };
  std::vector<int> carriers;
  const auto group_for = [&](int id) {
    const auto found = std::find(carriers.begin(), carriers.end(), id);
    if (found != carriers.end()) {
      return static_cast<int>(found - carriers.begin());
    }
    carriers.push_back(id);
    groups_.push_back({find(id)->away, -1});
    return to_int(carriers.size()) - 1;
  };
  for (const Item& item : *shown_) {
    group_of_.push_back(find(item.carrier) == all.end() ? -1 : group_for(item.carrier));
  }
  for (std::size_t g = 0; g < carriers.size(); ++g) {
    const int above = find(carriers[g])->carrier;
    if (find(above) != all.end()) {
      const int parent = group_for(above);
      // A circle of carriers ends here.
      int up = parent;
      while (up >= 0 && up != static_cast<int>(g)) {
        up = groups_[to_size(up)].parent;
      }
      groups_[g].parent = up < 0 ? parent : -1;
    }
  }
  for (std::size_t i = 0; i < shown_->size(); ++i) {
    const auto own = std::find(carriers.begin(), carriers.end(), (*shown_)[i].id);
    carries_.push_back(own != carriers.end());
    if (own != carriers.end()) {
      group_of_[i] = static_cast<int>(own - carriers.begin());
    }
  }
}

void Cast::link() {
  const auto indices = [this](const std::vector<int>& ids) {
    std::vector<int> out;
    for (std::size_t i = 0; i < shown_->size(); ++i) {
      if (std::find(ids.begin(), ids.end(), (*shown_)[i].id) != ids.end()) {
        out.push_back(static_cast<int>(i));
      }
    }
    return out;
  };
  std::vector<int> everything;
  for (std::size_t i = 0; i < shown_->size(); ++i) {
    everything.push_back(static_cast<int>(i));
  }
  for (const Item& item : *shown_) {
    covered_by_.push_back(indices(item.covered_by));
    const std::vector<int> held = indices(item.holds);
    holders_.push_back(item.fastener ? find_holder(item, held.empty() ? everything : held) : -1);
  }
}

bool Cast::seats(int index, Vec place) const {
  const Item& holder = item(index);
  return geom::distance(drawing(holder).outline, geom::FillRule::nonzero, place - holder.home) <
         kSeat;
}

int Cast::find_holder(const Item& fastener, const std::vector<int>& held) const {
  int best = -1;
  bool best_seats = false;
  double least = 0;
  for (const int index : held) {
    const Item& other = item(index);
    if (other.fastener) {
      continue;
    }
    const bool sits = seats(index, fastener.home);
    const Box box = drawing(other).box;
    const double measure = sits ? box.area() : box.moved(other.home).distance(fastener.home);
    if (best < 0 || (sits && !best_seats) || (sits == best_seats && measure < least)) {
      best = index;
      best_seats = sits;
      least = measure;
    }
  }
  return best;
}

/// Fasteners with several of them and one place given are taken to sit on both sides of their
/// holder, if it shows a seat there.
void Cast::find_mirrors() {
  for (std::size_t i = 0; i < shown_->size(); ++i) {
    const Item& item = (*shown_)[i];
    const int holder = holders_[i];
    std::optional<double> mirror;
    if (holder >= 0 && item.copies.empty() && item.count > 1) {
      // What stands on the main axis is symmetrical about it, whatever sticks out of it.
      const Item& other = (*shown_)[to_size(holder)];
      const bool on_axis = has_axis_ && std::abs(other.home.x - axis_x_) < kAligned;
      const double middle = on_axis ? axis_x_ : other.home.x + drawing(other).box.centre().x;
      const bool aside = std::abs(item.home.x - middle) > 10 * kAligned;
      const bool seated = seats(holder, item.home);
      if (aside && (!seated || seats(holder, Vec(2 * middle - item.home.x, item.home.y)))) {
        mirror = middle;
      }
    }
    mirrors_.push_back(mirror);
  }
}

void Cast::make_labels() {
  // Names break into lines rather than take the picture's room; one long word may take more.
  double most = std::clamp(0.2 * viewport_->width, 60.0, 190.0);
  const double size = viewport_->label_size;
  const LineWidth measure = [this](std::string_view text) { return label_width(*viewport_, text); };
  const auto words_of = [](const Item& item) {
    return item.count > 1 ? cat(item.name, "\xC2\xA0\xC3\x97\xC2\xA0", item.count) : item.name;
  };
  for (const Item& item : *shown_) {
    for (const std::string& word : split(words_of(item), ' ')) {
      most = std::max(most, std::min(measure(word), 0.3 * viewport_->width));
    }
  }
  for (const Item& item : *shown_) {
    Label label;
    if (viewport_->side != CalloutSide::none && !item.name.empty()) {
      label.lines = wrapped(words_of(item), most, measure);
      for (const std::string& line : label.lines) {
        label.width = std::max(label.width, measure(line));
      }
      label.height = kLineHeight * size * to_int(label.lines.size());
      column_ = std::max(column_, label.width);
    }
    labels_.push_back(std::move(label));
  }
}

std::vector<Vec> Cast::homes(int index) const {
  const Item& one = item(index);
  std::vector<Vec> out{one.home};
  out.insert(out.end(), one.copies.begin(), one.copies.end());
  if (twinned(index)) {
    out.emplace_back(2 * *mirrors_[to_size(index)] - one.home.x, one.home.y);
  }
  return out;
}

bool Cast::mirrored(int index, Vec home) const {
  if (twinned(index)) {
    const double axis = *mirrors_[to_size(index)];
    return (home.x - axis) * (item(index).home.x - axis) < 0;
  }
  return has_axis_ && (home.x - axis_x_) * (item(index).home.x - axis_x_) < 0;
}

/// The boxes, in units, that the item fills at that home: a fastener's ring and its arrow.
std::vector<Box> Cast::room(const Item& item, Vec home, bool mirrored, double scale) const {
  const Drawing& picture = drawing(item);
  if (!item.fastener) {
    std::vector<Box> boxes;
    for (const Box& box : picture.cover) {
      boxes.push_back((mirrored ? geom::mirrored(box) : box).moved(home));
    }
    return boxes;
  }
  const double radius = (ring_of(picture, scale) + 1.5) / scale;
  const Vec centre = home + (mirrored ? geom::mirrored(picture.box) : picture.box).centre();
  std::vector<Box> boxes{Box::around(centre, radius, radius)};
  if (item.away != Vec(0, 0)) {
    Box arrow = Box::around(centre + item.away * radius, 6 / scale, 6 / scale);
    arrow.add(arrow.moved(item.away * ((kArrow - 6) / scale)));
    boxes.push_back(arrow);
  }
  return boxes;
}

std::vector<Body> Cast::bodies(double scale) const {
  std::vector<Body> out;
  for (std::size_t i = 0; i < shown_->size(); ++i) {
    const Item& item = (*shown_)[i];
    Body body;
    body.away = carries_[i] ? Vec(0, 0) : item.away;
    body.group = group_of_[i];
    body.covered_by = covered_by_[i];
    body.loose = item.fastener;
    body.holder = holders_[i];
    const std::vector<Vec> places = homes(static_cast<int>(i));
    for (std::size_t copy = 0; copy < places.size(); ++copy) {
      std::vector<Box>& into = copy > 0 && twinned(static_cast<int>(i)) ? body.twins : body.boxes;
      const std::vector<Box> boxes = room(item, places[copy], mirrored(static_cast<int>(i), places[copy]), scale);
      into.insert(into.end(), boxes.begin(), boxes.end());
    }
    out.push_back(std::move(body));
  }
  return out;
}

}  // namespace kp::scene
