#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "base/text.hpp"
#include "scene/layout.hpp"

namespace kp::scene {
namespace {

constexpr double kInf = std::numeric_limits<double>::infinity();

// How far apart two items are, in drawing units; ties of the machine count as short distances.
constexpr double kCover = 12;
constexpr double kKin = 20;
constexpr double kLine = 15;
constexpr double kStranger = 45;    // on top of the gap between them
constexpr double kOtherWay = 40;    // more, where they come out along other lines
constexpr double kFarthest = 130;   // what is farther does not belong in the picture
constexpr double kSection = 90;     // a section this near to a seed comes along

bool has(const std::vector<int>& ids, int id) {
  return std::find(ids.begin(), ids.end(), id) != ids.end();
}

Box home_box(const Item& item) {
  const Box box = item.drawing == nullptr ? Box::around(Vec(0, 0), 14, 9) : item.drawing->box;
  return box.moved(item.home);
}

double gap_between(const Box& a, const Box& b) {
  const Vec reach(std::max({0.0, a.min.x - b.max.x, b.min.x - a.max.x}),
                  std::max({0.0, a.min.y - b.max.y, b.min.y - a.max.y}));
  return geom::length(reach);
}

bool along_y(const Item& item) { return std::abs(item.away.x) < 1e-6; }

bool on_one_line(const Item& a, const Item& b) {
  if (along_y(a) != along_y(b)) {
    return false;
  }
  return std::abs(along_y(a) ? a.home.x - b.home.x : a.home.y - b.home.y) < 1.5;
}

class Choice {
 public:
  Choice(const std::vector<Item>& items, const std::vector<int>& seeds)
      : items_(&items), seeds_(&seeds) {
    find_assemblies();
  }

  /// The best `most` items by distance from the seeds over ties (Dijkstra), each with its rank.
  [[nodiscard]] std::vector<std::pair<int, int>> nearest(int most) const;
  [[nodiscard]] bool section_comes(const Item& item) const;
  [[nodiscard]] bool stands_in(const Item& item) const;

 private:
  void find_assemblies();
  [[nodiscard]] const Item* find(int id) const;
  [[nodiscard]] bool within(const Item& item, int carrier) const;
  [[nodiscard]] bool eligible(const Item& item) const;
  [[nodiscard]] double tie(const Item& a, const Item& b) const;

  const std::vector<Item>* items_;
  const std::vector<int>* seeds_;
  std::vector<int> closed_;  ///< assemblies whose drawing shows their parts, no part being a seed
  std::vector<int> opened_;  ///< those with a seed inside
};

const Item* Choice::find(int id) const {
  const auto found = std::find_if(items_->begin(), items_->end(),
                                  [id](const Item& item) { return item.id == id; });
  return found == items_->end() ? nullptr : &*found;
}

bool Choice::within(const Item& item, int carrier) const {
  const Item* up = find(item.carrier);
  for (std::size_t depth = 0; up != nullptr && depth < items_->size(); ++depth) {
    if (up->id == carrier) {
      return true;
    }
    up = find(up->carrier);
  }
  return false;
}

/// A carrier whose drawing holds most of what it carries, three things at least, is a picture of
/// the whole.
void Choice::find_assemblies() {
  for (const Item& carrier : *items_) {
    int inside = 0;
    int carried = 0;
    const Box box = home_box(carrier);
    for (const Item& item : *items_) {
      if (item.carrier == carrier.id && item.id != carrier.id) {
        ++carried;
        inside += box.contains(home_box(item).centre()) ? 1 : 0;
      }
    }
    if (inside < 3 || inside * 10 < carried * 6) {
      continue;
    }
    const bool open = std::any_of(seeds_->begin(), seeds_->end(), [&](int seed) {
      const Item* item = find(seed);
      return item != nullptr && within(*item, carrier.id);
    });
    (open ? opened_ : closed_).push_back(carrier.id);
  }
}

bool Choice::stands_in(const Item& item) const {
  return !item.fastener && item.drawing != nullptr &&
         std::any_of(seeds_->begin(), seeds_->end(), [&](int seed) {
           const Item* other = find(seed);
           return other != nullptr && other->fastener && other->drawing == item.drawing;
         });
}

bool Choice::eligible(const Item& item) const {
  if (item.context || item.fastener || has(opened_, item.id) || stands_in(item)) {
    return false;
  }
  return std::none_of(closed_.begin(), closed_.end(),
                      [&](int carrier) { return within(item, carrier); });
}

double Choice::tie(const Item& a, const Item& b) const {
  const double gap = gap_between(home_box(a), home_box(b));
  const double turn = along_y(a) == along_y(b) ? 0 : kOtherWay;
  if (has(a.covered_by, b.id) || has(b.covered_by, a.id)) {
    return kCover + 0.1 * gap + turn / 2;
  }
  if (on_one_line(a, b)) {
    return kLine + 0.4 * gap;
  }
  const bool kin = a.carrier == b.id || b.carrier == a.id || (a.carrier >= 0 && a.carrier == b.carrier);
  return kin ? kKin + 0.4 * gap + turn : kStranger + gap + turn;
}

std::vector<std::pair<int, int>> Choice::nearest(int most) const {
  std::vector<double> far(items_->size(), kInf);
  std::vector<bool> done(items_->size(), false);
  std::vector<std::pair<int, int>> out;
  for (std::size_t i = 0; i < items_->size(); ++i) {
    far[i] = has(*seeds_, (*items_)[i].id) && !(*items_)[i].context ? 0 : kInf;
  }
  for (;;) {
    std::size_t best = items_->size();
    for (std::size_t i = 0; i < items_->size(); ++i) {
      if (!done[i] && far[i] <= kFarthest && (best == items_->size() || far[i] < far[best])) {
        best = i;
      }
    }
    const bool seed = best < items_->size() && far[best] == 0;
    if (best == items_->size() || (!seed && to_int(out.size()) >= most)) {
      return out;
    }
    done[best] = true;
    const Item& here = (*items_)[best];
    // A part that a fastener stands for leads on to its neighbours, but is not shown twice.
    if (!stands_in(here)) {
      out.emplace_back(here.id, seed ? 0 : std::max(1, to_int(out.size())));
    }
    for (std::size_t i = 0; i < items_->size(); ++i) {
      if (!done[i] && eligible((*items_)[i])) {
        far[i] = std::min(far[i], far[best] + tie(here, (*items_)[i]));
      }
    }
  }
}

/// A floor between what is over and under it; not where an assembly comes apart on the bench.
bool Choice::section_comes(const Item& item) const {
  if (!opened_.empty() || !item.context || item.drawing == nullptr || item.drawing->shapes.empty() ||
      item.drawing->shapes.front().fill != Role::cut) {
    return false;
  }
  return std::any_of(seeds_->begin(), seeds_->end(), [&](int seed) {
    const Item* other = find(seed);
    return other != nullptr && along_y(*other) &&
           gap_between(home_box(*other), home_box(item)) < kSection;
  });
}

}  // namespace

std::vector<Item> neighbourhood(const std::vector<Item>& items, const std::vector<int>& seeds,
                                int most, const std::vector<int>& before) {
  const bool rests = !before.empty() && std::all_of(seeds.begin(), seeds.end(), [&](int seed) {
    return has(before, seed);
  });
  const Choice choice(items, seeds);
  const std::vector<std::pair<int, int>> chosen = choice.nearest(most);
  std::vector<Item> out;
  for (const Item& item : items) {
    const auto found = std::find_if(chosen.begin(), chosen.end(), [&item](const auto& one) {
      return one.first == item.id;
    });
    const bool kept = rests ? has(before, item.id) && !item.context : found != chosen.end();
    if (kept || item.context) {
      out.push_back(item);
      out.back().rank = found != chosen.end() ? found->second : kept ? most : 0;
      if (choice.section_comes(item)) {
        out.back().context = false;
      }
    }
  }
  return out;
}

}  // namespace kp::scene
