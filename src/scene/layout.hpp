#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "scene/display.hpp"

namespace kp::scene {

enum class ItemState {
  at_rest,
  next,     ///< to be worked on now
  moving,   ///< in the hand
  removed,  ///< off the machine
  target    ///< the part the job is about
};

/// A place on an item where a meter's probe goes.
struct Probe {
  Vec at{0, 0};                      ///< in the drawing's own units
  std::string letter;                ///< "A"
};

/// One thing to be shown: a part, or a set of fasteners that are worked on together.
struct Item {
  int id = 0;                        ///< the caller's own, unique
  std::string name;                  ///< for its callout
  const Drawing* drawing = nullptr;  ///< none: a small dashed box stands for it
  Vec home{0, 0};                    ///< where the drawing's origin is in the assembled machine
  Vec away{0, 0};                    ///< unit direction it comes away in; (0, 0): it stays
  int carrier = -1;                  ///< id of the item it comes away with, -1: none
  ItemState state = ItemState::at_rest;
  int layer = 0;                     ///< drawn from low to high where items lie on one another
  std::vector<int> covered_by;       ///< ids of items that must come out before it
  int count = 1;                     ///< "saddle spring x 3"
  bool fastener = false;             ///< has its ring kept free, by the items that it holds
  std::vector<int> holds;            ///< of a fastener: ids of the items it fastens; none: the
                                     ///< nearest one
  std::vector<Vec> copies;           ///< homes of further ones; none and count > 1: mirrored
                                     ///< about the middle of what it holds, if it stands off it
  bool context = false;              ///< drawn pale at home until things come apart, takes no room
                                     ///< and has no callout
  std::vector<Probe> probes;         ///< lit, each with its letter in a badge beside it
  int rank = 0;                      ///< above 0: may be left out for want of room, highest first
};

enum class CalloutSide { right, left, both, none };

/// The window and the rules of the hand that draws; lengths in CSS px.
struct Viewport {
  double width = 390;
  double height = 440;
  double margin = 10;
  CalloutSide side = CalloutSide::right;
  double label_size = 13;            ///< of callouts
  double least_scale = 0.6;          ///< px a drawing unit; smaller than this it scrolls
  double good_scale = 0.75;          ///< items of a rank are left out until it is reached ...
  int good_count = 6;                ///< ... or no more than this many are shown
  double most_scale = 2.0;
  double least_gap = 9;
  double most_gap = 30;
  /// Width of a line of words; none: that of the faces the tool ships.
  std::function<double(std::string_view text, double size, bool strong)> measure;
};

/// An item (or one of its copies) as placed in the scene.
struct Placed {
  int id = 0;
  int copy = 0;
  const Drawing* drawing = nullptr;
  ItemState state = ItemState::at_rest;
  Vec at{0, 0};                      ///< where its origin is
  double scale = 1;
  bool mirrored = false;
  Box box;                           ///< of its ink
  double ring = 0;                   ///< radius of the ring around the box's middle, 0: none
  int order = 0;                     ///< place in the paint order, higher is nearer
  bool context = false;
};

struct Callout {
  int id = 0;
  Contour leader;                    ///< from the item to the words; empty: the words stand by it
  Box box;                           ///< of the words
  std::vector<std::string> lines;
  Anchor anchor = Anchor::left;
  bool over = false;                 ///< no clear way was left: the leader passes over items
  bool strong = false;
};

/// A lit place with its letter in a disc beside it, joined by a line.
struct Badge {
  int id = 0;                        ///< of the item
  Vec tip{0, 0};
  Vec centre{0, 0};
  std::string letter;
};

/// The chain line along which items come out.
struct AxisLine {
  Vec from{0, 0};
  Vec to{0, 0};
};

struct Scene {
  std::vector<Placed> items;         ///< in the order of the input, copies behind their first
  std::vector<Callout> callouts;
  std::vector<Badge> badges;
  std::vector<AxisLine> axes;
  std::vector<int> unlabelled;       ///< ids without room for a callout: touch them for the name
  DisplayList list;
  Box content;                       ///< around everything
  double scale = 1;
  bool scrolls = false;              ///< the content is larger than the window

  /// The first placed item of that id, or null.
  [[nodiscard]] const Placed* find(int id) const;
};

/// Places the items: at progress 0 the assembled machine, at 1 fully exploded along the
/// directions of removal, linear between. At 1: no two items' silhouettes overlap, an item comes
/// out behind those that cover it, callouts cross neither one another nor items, and everything
/// lies in the window or the scene scrolls. Places depend on which items are shown and on the
/// window, never on their states. Same input, same output.
[[nodiscard]] Scene layout(const std::vector<Item>& items, double progress,
                           const Viewport& viewport);

/// The items of one view around `seeds` (ids), ranked by how closely they belong to them: what
/// covers them or is covered by them, what comes out along the same line, what is carried together,
/// and what is near; `most` at most, fewer where nothing else belongs there. An assembly is shown
/// whole, or as its parts where one of them is a seed. A part that one of the fasteners stands for
/// (same drawing) is left out. Sections such as a floor come along as fixed items, other context
/// as context. If `before` (ids of the last view) holds all seeds it is kept, so that the picture
/// rests while the work stays in one place.
[[nodiscard]] std::vector<Item> neighbourhood(const std::vector<Item>& items,
                                              const std::vector<int>& seeds, int most,
                                              const std::vector<int>& before = {});

}  // namespace kp::scene
