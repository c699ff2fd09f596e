#pragma once
// Not for callers of the layout: the items of a picture and what ties them, before any scale.

#include <optional>
#include <vector>

#include "base/text.hpp"
#include "scene/arrange.hpp"
#include "scene/explode.hpp"

namespace kp::scene {

inline constexpr double kAligned = 1.5;  ///< units: homes nearer than this stand on one axis

/// Scale at which a fastener is shown in its ring, where the picture's would be too small or
/// too large; and the ring's radius in px.
[[nodiscard]] double fastener_scale(const Drawing& drawing, double scale);
[[nodiscard]] double ring_of(const Drawing& drawing, double scale);

/// Items by index, their assemblies, covers and words.
class Cast {
 public:
  /// Keeps pointers to its arguments. `all` may hold carriers that are not shown.
  Cast(const std::vector<Item>& shown, const std::vector<Item>& all, const Viewport& viewport);

  [[nodiscard]] const std::vector<Item>& items() const { return *shown_; }
  [[nodiscard]] const Item& item(int index) const;
  [[nodiscard]] const Drawing& drawing(const Item& item) const {
    return item.drawing == nullptr ? no_drawing() : *item.drawing;
  }
  /// Where the item and its copies are at home; a twin is mirrored about the middle of what it
  /// holds.
  [[nodiscard]] std::vector<Vec> homes(int index) const;
  [[nodiscard]] bool twinned(int index) const { return mirrors_[to_size(index)].has_value(); }
  /// A copy on the other side of the axis is shown mirrored.
  [[nodiscard]] bool mirrored(int index, Vec home) const;
  /// Of what a fastener holds, the item that it is shown with: the smallest that it sits on.
  [[nodiscard]] int holder(int index) const { return holders_[to_size(index)]; }
  /// True where the place (at home) lies on the item's picture or close by it.
  [[nodiscard]] bool seats(int index, Vec place) const;
  /// What is to be exploded at that scale, and its assemblies.
  [[nodiscard]] std::vector<Body> bodies(double scale) const;
  [[nodiscard]] const std::vector<Group>& groups() const { return groups_; }
  [[nodiscard]] const std::vector<Label>& labels() const { return labels_; }
  [[nodiscard]] double column() const { return column_; }
  [[nodiscard]] bool has_axis() const { return has_axis_; }
  [[nodiscard]] double axis_x() const { return axis_x_; }

 private:
  void find_axis();
  void make_groups(const std::vector<Item>& all);
  void link();
  void find_mirrors();
  [[nodiscard]] int find_holder(const Item& fastener, const std::vector<int>& held) const;
  void make_labels();
  [[nodiscard]] std::vector<Box> room(const Item& item, Vec home, bool mirrored, double scale) const;

  const std::vector<Item>* shown_;
  const Viewport* viewport_;
  std::vector<Group> groups_;
  std::vector<int> group_of_;
  std::vector<bool> carries_;
  std::vector<std::vector<int>> covered_by_;
  std::vector<int> holders_;
  std::vector<std::optional<double>> mirrors_;
  std::vector<Label> labels_;
  double column_ = 0;
  bool has_axis_ = false;
  double axis_x_ = 0;
};

}  // namespace kp::scene
