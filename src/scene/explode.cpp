#include "scene/explode.hpp"

#include <algorithm>
#include <limits>
#include <utility>

#include "base/text.hpp"

namespace kp::scene {
namespace {

/// What is slid at one level: a body, or an assembly that has come apart already.
struct Element {
  std::vector<int> bodies;
  std::vector<Box> boxes;
  Box hull;
  Vec away{0, 0};
  std::vector<int> after;      ///< elements that must be placed before: those that it covers
  double depth = 0;            ///< how far out it is at home
  bool placed = false;
  Vec offset{0, 0};
};

class Placer {
 public:
  Placer(std::vector<Element>& elements, double gap) : elements_(&elements), gap_(gap) {}

  void run();

 private:
  [[nodiscard]] std::size_t next() const;
  [[nodiscard]] double slide(const Element& element, Vec along, double from) const;
  [[nodiscard]] double least(const Element& element) const;
  void settle(Element& element) const;

  std::vector<Element>* elements_;
  double gap_;
};

/// Covered things before those that cover them; else what stays before what comes away, and the
/// inner before the outer. A circle of covers is broken at its innermost element.
std::size_t Placer::next() const {
  const auto better = [](const Element& a, const Element& b) {
    const bool a_stays = a.away == Vec(0, 0);
    const bool b_stays = b.away == Vec(0, 0);
    return a_stays != b_stays ? a_stays : a.depth < b.depth - kTouch;
  };
  std::size_t best = elements_->size();
  bool best_ready = false;
  for (std::size_t i = 0; i < elements_->size(); ++i) {
    const Element& here = (*elements_)[i];
    if (here.placed) {
      continue;
    }
    const bool ready = std::all_of(here.after.begin(), here.after.end(), [this](int other) {
      return (*elements_)[to_size(other)].placed;
    });
    if (best == elements_->size() || (ready && !best_ready) ||
        (ready == best_ready && better(here, (*elements_)[best]))) {
      best = i;
      best_ready = ready;
    }
  }
  return best;
}

/// The least t >= from at which the element is free of all placed ones.
double Placer::slide(const Element& element, Vec along, double from) const {
  std::vector<Range> ranges;
  for (const Element& other : *elements_) {
    if (!other.placed) {
      continue;
    }
    const Range whole = blocked(other.hull, element.hull, along, gap_);
    if (whole.empty() || whole.to <= from) {
      continue;
    }
    for (const Box& still : other.boxes) {
      for (const Box& moving : element.boxes) {
        const Range range = blocked(still, moving, along, gap_);
        if (!range.empty() && range.to > from) {
          ranges.push_back(range);
        }
      }
    }
  }
  return first_free(ranges, from);
}

/// How far it must go to be beyond what it covers and what lay behind it in its lane.
double Placer::least(const Element& element) const {
  const Vec across = geom::quarter_turn(element.away);
  const Range lane = extent(element.hull, across);
  const Range own = extent(element.hull, element.away);
  double from = 0;
  for (std::size_t i = 0; i < elements_->size(); ++i) {
    const Element& other = (*elements_)[i];
    if (!other.placed || other.away != element.away ||
        !overlap(lane, extent(other.hull, across))) {
      continue;
    }
    const bool covers = std::find(element.after.begin(), element.after.end(),
                                  static_cast<int>(i)) != element.after.end();
    if (covers || other.depth <= element.depth + kTouch) {
      from = std::max(from, extent(other.hull, element.away).to + gap_ - own.from);
    }
  }
  return from;
}

/// Two things that stay and overlap: the later goes the shortest way of four.
void Placer::settle(Element& element) const {
  const Vec ways[4] = {Vec(0, 1), Vec(0, -1), Vec(1, 0), Vec(-1, 0)};
  double best = std::numeric_limits<double>::infinity();
  for (const Vec& way : ways) {
    const double t = slide(element, way, 0);
    if (t < best - kTouch) {
      best = t;
      element.offset = way * t;
    }
  }
}

void Placer::run() {
  for (std::size_t done = 0; done < elements_->size(); ++done) {
    Element& element = (*elements_)[next()];
    if (element.away == Vec(0, 0)) {
      settle(element);
    } else {
      element.offset = element.away * slide(element, element.away, least(element));
    }
    element.boxes = moved(std::move(element.boxes), element.offset);
    element.hull = hull_of(element.boxes);
    element.placed = true;
  }
}

/// Everything at one level of the tree of assemblies: the bodies of `group` and its sub-groups.
class Tree {
 public:
  Tree(const std::vector<Body>& bodies, const std::vector<Group>& groups, double gap)
      : bodies_(&bodies), groups_(&groups), gap_(gap), offsets_(bodies.size()) {}

  std::vector<Offset> run() {
    static_cast<void>(level(-1, 0));
    return std::move(offsets_);
  }

 private:
  std::vector<int> level(int group, int depth);
  void link(std::vector<Element>& elements) const;

  const std::vector<Body>* bodies_;
  const std::vector<Group>* groups_;
  double gap_;
  std::vector<Offset> offsets_;
};

void Tree::link(std::vector<Element>& elements) const {
  std::vector<int> of_body(bodies_->size(), -1);
  for (std::size_t e = 0; e < elements.size(); ++e) {
    for (const int body : elements[e].bodies) {
      of_body[to_size(body)] = static_cast<int>(e);
    }
  }
  for (std::size_t e = 0; e < elements.size(); ++e) {
    for (const int body : elements[e].bodies) {
      for (const int cover : (*bodies_)[to_size(body)].covered_by) {
        const int other = of_body[to_size(cover)];
        if (other >= 0 && other != static_cast<int>(e)) {
          elements[to_size(other)].after.push_back(static_cast<int>(e));
        }
      }
    }
  }
}

std::vector<int> Tree::level(int group, int depth) {
  std::vector<Element> elements;
  std::vector<int> all;
  for (std::size_t i = 0; i < bodies_->size(); ++i) {
    const Body& body = (*bodies_)[i];
    if (body.group == group && !body.loose) {
      Element element;
      element.bodies.push_back(static_cast<int>(i));
      element.away = body.away;
      elements.push_back(std::move(element));
    }
  }
  for (std::size_t g = 0; g < groups_->size() && depth < to_int(groups_->size()); ++g) {
    if ((*groups_)[g].parent == group && static_cast<int>(g) != group) {
      Element element;
      element.bodies = level(static_cast<int>(g), depth + 1);
      element.away = (*groups_)[g].away;
      if (!element.bodies.empty()) {
        elements.push_back(std::move(element));
      }
    }
  }
  for (Element& element : elements) {
    for (const int index : element.bodies) {
      const std::vector<Box> here =
          boxes_at((*bodies_)[to_size(index)], offsets_[to_size(index)]);
      element.boxes.insert(element.boxes.end(), here.begin(), here.end());
      all.push_back(index);
    }
    element.hull = hull_of(element.boxes);
    element.depth = geom::dot(element.hull.centre(), element.away);
  }
  link(elements);
  Placer(elements, gap_).run();
  for (const Element& element : elements) {
    for (const int body : element.bodies) {
      offsets_[to_size(body)].move += element.offset;
    }
  }
  return all;
}

}  // namespace

std::vector<Box> boxes_at(const Body& body, const Offset& offset) {
  std::vector<Box> out = moved(body.boxes, offset.own());
  const std::vector<Box> twins = moved(body.twins, offset.twin());
  out.insert(out.end(), twins.begin(), twins.end());
  return out;
}

std::vector<Offset> explode(const std::vector<Body>& bodies, const std::vector<Group>& groups,
                            double gap) {
  return Tree(bodies, groups, gap).run();
}

}  // namespace kp::scene
