#include "circuit/band_live.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>
#include <vector>

#include "base/text.hpp"
#include "circuit/box.hpp"

namespace kp::circuit {
namespace {

constexpr double kNoEnd = std::numeric_limits<double>::infinity();
constexpr int kMostCuts = 48;
/// The ends are good enough when they are this share of the band's width from values that occur.
constexpr double kCloseEnough = 0.05;

/// A part of the tolerances with its ends.
struct Piece {
  Network network;
  Box::Ends ends;
  int cut_at = 0;  ///< the freedom to halve next

  Piece(Network n, const Probe& probe) : network(std::move(n)) {
    Box box(network, probe);
    ends = box.ends();
    cut_at = ends.bounded ? ends.doubtful : box.widest();
  }
  [[nodiscard]] double low() const { return ends.bounded ? ends.low : 0; }
  [[nodiscard]] double high() const { return ends.bounded ? ends.high : kNoEnd; }
};

/// Where a range spans several sizes, the middle of the sizes.
double cut_of(const Freedom& f) {
  return f.low > 0 && f.high > 3 * f.low ? std::sqrt(f.low * f.high) : (f.low + f.high) / 2;
}

/// Cuts the piece that keeps an end of the band from being close, until both are.
class Narrowing {
 public:
  Narrowing(const Network& network, const Probe& probe, double enough)
      : probe_(probe), enough_(enough) {
    put(network);
  }

  LiveBand run() {
    for (int cuts = 0; cuts < kMostCuts; ++cuts) {
      const int at = loosest();
      if (at < 0) break;
      const Network whole = std::move(pieces_[to_size(at)].network);
      const std::size_t k = to_size(pieces_[to_size(at)].cut_at);
      pieces_.erase(pieces_.begin() + at);
      Network half = whole;
      half.freedoms[k].high = cut_of(whole.freedoms[k]);
      put(half);
      half = whole;
      half.freedoms[k].low = cut_of(whole.freedoms[k]);
      put(half);
    }
    LiveBand band{kNoEnd, 0, true};
    for (const Piece& piece : pieces_) {
      band.low = std::min(band.low, piece.low());
      band.high = std::max(band.high, piece.high());
      band.bounded = band.bounded && piece.ends.bounded;
    }
    return band;
  }

 private:
  void put(const Network& network) {
    pieces_.emplace_back(network, probe_);
    const Box::Ends& ends = pieces_.back().ends;
    if (!ends.bounded) return;
    seen_low_ = std::min(seen_low_, ends.seen_low);
    seen_high_ = std::max(seen_high_, ends.seen_high);
  }

  /// The piece that reaches farthest beyond what has been seen, -1 where none reaches far.
  [[nodiscard]] int loosest() const {
    const double width = seen_high_ > seen_low_ ? seen_high_ - seen_low_ : 0;
    double most = std::max(enough_, kCloseEnough * width + 1e-9 * seen_high_);
    int loosest = -1;
    for (int k = 0; k < to_int(pieces_.size()); ++k) {
      const Piece& piece = pieces_[to_size(k)];
      if (piece.cut_at < 0) continue;
      const double beyond = std::max(seen_low_ - piece.low(), piece.high() - seen_high_);
      if (!(beyond > most)) continue;
      most = beyond;
      loosest = k;
    }
    return loosest;
  }

  Probe probe_;
  double enough_;
  std::vector<Piece> pieces_;
  double seen_low_ = kNoEnd;
  double seen_high_ = 0;
};

}  // namespace

LiveBand live_band(const Network& network, const Probe& probe, double enough) {
  if (network.freedoms.empty()) {
    const double value = std::abs(sensed(network, probe, solve(network)));
    return {value, value, true};
  }
  return Narrowing(network, probe, enough).run();
}

}  // namespace kp::circuit
