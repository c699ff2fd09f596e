#pragma once
// Not for callers of the layout: how callouts are found, one after the other.

#include <utility>
#include <vector>

#include "base/text.hpp"
#include "scene/callouts.hpp"

namespace kp::scene {

inline constexpr double kWordGap = 5;  ///< px between a leader's end and its words

/// An item that can be named from one side: its leader starts at `anchor`.
struct Candidate {
  int item = 0;
  int piece = 0;
  Vec anchor{0, 0};
  double y = 0;                    ///< where the middle of its words goes
  bool through_rings = false;      ///< its leader may pass a fastener within its ring
};

class Planner {
 public:
  Planner(const Arrangement& arrangement, const Viewport& viewport)
      : it_(&arrangement), viewport_(&viewport) {}

  CalloutPlan run();
  std::vector<Callout> over(const std::vector<int>& items, const std::vector<Callout>& taken);

 private:
  [[nodiscard]] const Label& label(int item) const { return it_->labels[to_size(item)]; }
  [[nodiscard]] double elbow(double sign) const;
  [[nodiscard]] double words_x(double sign) const {
    return sign > 0 ? it_->right_labels : it_->left_labels;
  }
  [[nodiscard]] Box words_box(int item, Vec middle_of_edge, double sign) const;
  [[nodiscard]] bool level_way(const Candidate& candidate, double sign) const;
  [[nodiscard]] bool clear_of_items(const Contour& line, const Candidate& candidate) const;
  [[nodiscard]] bool clear_of_own(Vec from, Vec to, const Candidate& candidate) const;
  [[nodiscard]] bool find_anchor(int item, double sign, Candidate& out) const;
  [[nodiscard]] double cost(const Candidate& candidate, double y, double sign,
                            const std::vector<const Piece*>& near) const;
  [[nodiscard]] std::vector<const Piece*> near_column(double sign) const;
  std::vector<Candidate> spread(std::vector<Candidate> column, double sign,
                                std::vector<int>& dropped) const;
  void add_column(const std::vector<Candidate>& column, double sign);
  void straighten();
  bool add_close_by(int item);
  bool try_spot(const Candidate& candidate, const Box& words, Anchor anchor);
  [[nodiscard]] bool in_window(const Box& words) const;
  [[nodiscard]] bool off_callouts(const Box& words, const Contour& leader) const;
  [[nodiscard]] bool free(const Box& words, const Contour& leader) const;
  void add(int item, Contour leader, const Box& words, Anchor anchor, bool over);

  const Arrangement* it_;
  const Viewport* viewport_;
  std::vector<Callout> done_;
  std::vector<Candidate> starts_;   ///< of done_, for straightening
};

}  // namespace kp::scene
