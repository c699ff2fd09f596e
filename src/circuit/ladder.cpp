#include "circuit/ladder.hpp"

#include <algorithm>
#include <utility>

#include "base/text.hpp"

namespace kp::circuit {
namespace {

LadderSymbol symbol(const Netlist& netlist, const Link& link, double x, double y) {
  const Element& element = netlist.elements[to_size(link.element)];
  LadderSymbol symbol;
  symbol.element = link.element;
  symbol.kind = element.kind;
  symbol.at = {x, y};
  symbol.closed = link.state.closed;
  symbol.rest_closed = element.rest_closed;
  return symbol;
}

/// Links one after another that leave a strip's node and come back to another.
struct Stretch {
  std::vector<Link> links;
  int top = 0;     ///< places on the strip: before link `top`, before link `bottom`
  int bottom = 0;
};

class OneStrip {
 public:
  OneStrip(const Netlist& netlist, const Strip& strip) : netlist_(netlist), strip_(strip) {}

  Ladder draw() {
    nodes_.push_back(strip_.links.front().from);
    for (const Link& link : strip_.links) nodes_.push_back(link.to);
    for (const Sneak& sneak : strip_.sneaks) cut(sneak);
    level();
    main_column();
    for (int k = 0; k < to_int(stretches_.size()); ++k) side_column(stretches_[to_size(k)], k + 1);
    out_.width = 1 + static_cast<double>(stretches_.size());
    out_.height = y_.back();
    return std::move(out_);
  }

 private:
  [[nodiscard]] int place(int node) const {
    const auto at = std::find(nodes_.begin(), nodes_.end(), node);
    return at == nodes_.end() ? -1 : static_cast<int>(at - nodes_.begin());
  }

  void cut(const Sneak& sneak) {
    Stretch stretch;
    int begun = -1;
    for (const Link& link : sneak.links) {
      if (stretch.links.empty()) begun = place(link.from);
      stretch.links.push_back(link);
      const int ended = place(link.to);
      if (ended < 0) continue;
      if (begun >= 0 && begun != ended) {
        stretch.top = std::min(begun, ended);
        stretch.bottom = std::max(begun, ended);
        if (begun > ended) std::reverse(stretch.links.begin(), stretch.links.end());
        stretches_.push_back(std::move(stretch));
      }
      stretch = Stretch{};
    }
  }

  /// Heights of the strip's nodes: each below the one before, with room for what stands beside.
  void level() {
    y_.assign(nodes_.size(), 0.0);
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
      if (i > 0) y_[i] = y_[i - 1] + 1;
      for (const Stretch& stretch : stretches_) {
        if (stretch.bottom != to_int(i)) continue;
        y_[i] = std::max(y_[i], y_[to_size(stretch.top)] + static_cast<double>(stretch.links.size()));
      }
    }
  }

  void main_column() {
    for (std::size_t i = 0; i < strip_.links.size(); ++i) {
      LadderSymbol one = symbol(netlist_, strip_.links[i], 0, (y_[i] + y_[i + 1]) / 2);
      one.load = one.element == strip_.load;
      down(0, y_[i], one.at.y - 0.5, false);
      down(0, one.at.y + 0.5, y_[i + 1], false);
      out_.symbols.push_back(one);
    }
    for (std::size_t i = 0; i < nodes_.size(); ++i) out_.taps.push_back({nodes_[i], {0, y_[i]}});
  }

  void side_column(const Stretch& stretch, int column) {
    const double x = column;
    const double top = y_[to_size(stretch.top)];
    const double bottom = y_[to_size(stretch.bottom)];
    out_.wires.push_back({{0, top}, {x, top}, true});
    double y = top;
    for (std::size_t i = 0; i < stretch.links.size(); ++i) {
      LadderSymbol one = symbol(netlist_, stretch.links[i], x, y + 0.5);
      one.sneak = true;
      out_.symbols.push_back(one);
      y += 1;
      const Link& link = stretch.links[i];
      const int node = i + 1 == stretch.links.size() ? -1 : shared(link, stretch.links[i + 1]);
      if (node >= 0) out_.taps.push_back({node, {x, y}});
    }
    down(x, y, bottom, true);
    out_.wires.push_back({{0, bottom}, {x, bottom}, true});
  }

  static int shared(const Link& a, const Link& b) {
    return a.to == b.from || a.to == b.to ? a.to : a.from;
  }

  void down(double x, double from, double to, bool sneak) {
    if (to > from) out_.wires.push_back({{x, from}, {x, to}, sneak});
  }

  const Netlist& netlist_;
  const Strip& strip_;
  std::vector<int> nodes_;
  std::vector<Stretch> stretches_;
  std::vector<double> y_;
  Ladder out_;
};

/// How many links two strips have in common, from the line down or from the neutral up.
int common(const std::vector<Link>& a, const std::vector<Link>& b, bool from_top) {
  const int most = to_int(std::min(a.size(), b.size()));
  int count = 0;
  for (; count < most; ++count) {
    const Link& left = from_top ? a[to_size(count)] : a[a.size() - 1 - to_size(count)];
    const Link& right = from_top ? b[to_size(count)] : b[b.size() - 1 - to_size(count)];
    if (left.element != right.element || left.from != right.from) break;
  }
  return count;
}

/// Strips side by side. Links that a strip shares with its left neighbour stand in a column further
/// left; common ends stand on the neutral rail, everything else hangs from the line.
class SideBySide {
 public:
  SideBySide(const Netlist& netlist, const std::vector<Strip>& strips)
      : netlist_(netlist), strips_(strips), top_(strips.size() + 1, 0), bottom_(strips.size() + 1, 0) {}

  Ladder draw() {
    for (std::size_t c = 0; c < strips_.size(); ++c) {
      const std::vector<Link>& links = strips_[c].links;
      rows_ = std::max(rows_, to_int(links.size()));
      if (c == 0) continue;
      top_[c] = common(links, strips_[c - 1].links, true);
      bottom_[c] = std::min(common(links, strips_[c - 1].links, false), to_int(links.size()) - top_[c]);
    }
    for (int c = 0; c < to_int(strips_.size()); ++c) {
      if (!strips_[to_size(c)].links.empty()) column(c);
    }
    out_.width = static_cast<double>(strips_.size());
    out_.height = rows_;
    return std::move(out_);
  }

 private:
  /// The column in which what `c` shares is drawn: the first to its left that shares less.
  static int owner(const std::vector<int>& shared, int c) {
    int p = c - 1;
    while (p > 0 && shared[to_size(p)] >= shared[to_size(c)]) --p;
    return p;
  }

  void column(int c) {
    const Strip& strip = strips_[to_size(c)];
    const int length = to_int(strip.links.size());
    const int top = top_[to_size(c)];
    const int bottom = bottom_[to_size(c)];
    const int tail = std::max(bottom, std::min(bottom_[to_size(c) + 1], length - top));
    const double x = c;
    for (int k = top; k < length - bottom; ++k) {
      const Link& link = strip.links[to_size(k)];
      const double y = k < length - tail ? k : rows_ - (length - k);
      LadderSymbol one = symbol(netlist_, link, x, y + 0.5);
      one.load = link.element == strip.load;
      out_.symbols.push_back(one);
      out_.taps.push_back({link.from, {x, y}});
      if (k + 1 == length - bottom) out_.taps.push_back({link.to, {x, y + 1}});
    }
    wire({x, static_cast<double>(length - tail)}, {x, static_cast<double>(rows_ - tail)});
    if (top > 0) across(owner(top_, c), c, top);
    if (bottom > 0) across(owner(bottom_, c), c, rows_ - bottom);
  }

  void across(int from, int to, int row) {
    wire({static_cast<double>(from), static_cast<double>(row)},
         {static_cast<double>(to), static_cast<double>(row)});
  }

  void wire(LadderPoint from, LadderPoint to) {
    if (!(from == to)) out_.wires.push_back({from, to, false});
  }

  const Netlist& netlist_;
  const std::vector<Strip>& strips_;
  std::vector<int> top_;     ///< links that each shares with its left neighbour, from the line down
  std::vector<int> bottom_;  ///< and from the neutral up
  int rows_ = 0;
  Ladder out_;
};

}  // namespace

Ladder ladder(const Netlist& netlist, const Strip& strip) {
  if (strip.links.empty()) return {};
  return OneStrip(netlist, strip).draw();
}

Ladder ladder(const Netlist& netlist, const std::vector<Strip>& strips) {
  return SideBySide(netlist, strips).draw();
}

}  // namespace kp::circuit
