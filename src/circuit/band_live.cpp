#include "circuit/band_live.hpp"

#include <Eigen/Core>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "base/text.hpp"

namespace kp::circuit {
namespace {

constexpr int kMostHalvings = 8;
constexpr int kMostTried = 5;
constexpr double kRoundOff = 1e-9;

/// What the meter senses in a solution of the network.
Complex sensed(const Network& network, const Probe& probe, const Solution& solution) {
  if (probe.mode != Mode::amperes) {
    return solution.joined(probe.a, probe.b) ? solution.between(probe.a, probe.b) : Complex{};
  }
  Complex sum = 0;
  for (const int element : probe.clamped) {
    const int branch = network.branch_of[to_size(element)];
    if (branch >= 0) sum += solution.ampere[to_size(branch)];
  }
  return sum;
}

/// A value with the most by which it can differ.
struct Disc {
  Complex middle;
  double radius = 0;
  [[nodiscard]] double most() const { return std::abs(middle) + radius; }
};

/// All freedoms at once around the middle of their ranges.
class Box {
 public:
  Box(const Network& network, const Probe& probe)
      : network_(network), probe_(probe), omega_(network.omega()),
        place_(network.branches.size(), -1) {
    for (const Freedom& freedom : network_.freedoms) {
      set(network_, freedom, (freedom.low + freedom.high) / 2);
      int& place = place_[to_size(freedom.branch)];
      if (place >= 0) continue;
      place = to_int(loose_.size());
      loose_.push_back(freedom.branch);
    }
  }

  /// False where no bound on the currents was found, or a network of the box has no answer.
  bool enclose() {
    const Solver solver(network_);
    if (!solver.finite()) return false;
    real_ = solver.real();
    respond(solver);
    reach_of_values();
    return bound(current_, true) && bound(reply_, false);
  }

  [[nodiscard]] LiveBand band() const {
    const double rough_low = std::max(0.0, std::abs(value_.middle) - value_.radius);
    const double rough_high = value_.most();
    if (!real_ && rough_low <= 0) return {rough_low, rough_high, true};
    LiveBand fine = ends();
    if (!fine.bounded) return {rough_low, rough_high, true};
    fine.low = std::max(fine.low, rough_low);
    fine.high = std::min(fine.high, rough_high);
    return fine;
  }

  /// The freedom whose range weighs most: how much of its own current its half range can turn
  /// round. Where not even the middle has an answer, the one with the widest range for its size.
  [[nodiscard]] int widest() const {
    int widest = 0;
    double most = -1;
    for (int k = 0; k < to_int(network_.freedoms.size()); ++k) {
      const Freedom& f = network_.freedoms[to_size(k)];
      const double half = (f.high - f.low) / 2;
      double weight = half / std::max(f.high, 1e-300);
      if (const auto c = static_cast<Eigen::Index>(place(f)); c < transfer_.rows()) {
        weight = f.quantity == Quantity::volt ? 0 : half * unit_size(f.quantity) * transfer_(c, c);
      }
      if (weight > most) {
        most = weight;
        widest = k;
      }
    }
    return widest;
  }

 private:
  static void set(Network& network, const Freedom& freedom, double value) {
    quantity_of(network.branches[to_size(freedom.branch)], freedom.quantity) = value;
  }

  [[nodiscard]] std::size_t place(const Freedom& freedom) const {
    return to_size(place_[to_size(freedom.branch)]);
  }

  /// Ohms for one unit of a quantity.
  [[nodiscard]] double unit_size(Quantity quantity) const {
    switch (quantity) {
      case Quantity::henry: return omega_;
      case Quantity::per_farad: return 1 / omega_;
      case Quantity::ohm:
      case Quantity::volt: break;
    }
    return 1;
  }

  /// i, m, t and T of the middle.
  void respond(const Solver& solver) {
    const std::size_t n = loose_.size();
    const Solution middle = solver.solve();
    value_.middle = sensed(network_, probe_, middle);
    current_.resize(n);
    reply_.resize(n);
    transfer_.resize(static_cast<Eigen::Index>(n), static_cast<Eigen::Index>(n));
    std::vector<Complex> emf(network_.branches.size());
    for (std::size_t c = 0; c < n; ++c) {
      current_[c].middle = middle.ampere[to_size(loose_[c])];
      emf[to_size(loose_[c])] = 1;
      const Solution reply = solver.solve_for(emf);
      emf[to_size(loose_[c])] = 0;
      reply_[c].middle = sensed(network_, probe_, reply);
      for (std::size_t b = 0; b < n; ++b) {
        transfer_(static_cast<Eigen::Index>(b), static_cast<Eigen::Index>(c)) =
            std::abs(reply.ampere[to_size(loose_[b])]);
      }
    }
  }

  /// How far the impedance and the source of each loose branch can be from the middle.
  void reach_of_values() {
    impedance_off_.assign(loose_.size(), 0.0);
    source_off_.assign(loose_.size(), 0.0);
    std::vector<double> reactance(loose_.size(), 0.0);
    for (const Freedom& f : network_.freedoms) {
      const std::size_t c = place(f);
      const double half = (f.high - f.low) / 2;
      switch (f.quantity) {
        case Quantity::ohm: impedance_off_[c] = half; break;
        case Quantity::henry:
        case Quantity::per_farad: reactance[c] += half * unit_size(f.quantity); break;
        case Quantity::volt: source_off_[c] = half; break;
      }
    }
    for (std::size_t c = 0; c < loose_.size(); ++c) {
      impedance_off_[c] = std::hypot(impedance_off_[c], reactance[c]);
    }
  }

  /// Radii r of the currents (driven by sources too) or of the replies: the least solution of
  /// r = |T| (|e| + |d| (|middle| + r)), a little enlarged and then checked.
  bool bound(std::vector<Disc>& discs, bool driven) {
    const Eigen::Index n = static_cast<Eigen::Index>(discs.size());
    const Eigen::Map<const Eigen::VectorXd> off(impedance_off_.data(), n);
    Eigen::VectorXd middle(n);
    for (Eigen::Index c = 0; c < n; ++c) middle(c) = std::abs(discs[to_size(c)].middle);
    Eigen::VectorXd drive = off.cwiseProduct(middle);
    if (driven) drive += Eigen::Map<const Eigen::VectorXd>(source_off_.data(), n);
    const Eigen::MatrixXd gain = transfer_ * off.asDiagonal();
    const double extra = 1e-6 * (transfer_ * drive).maxCoeff() + 1e-30;
    const Eigen::VectorXd wanted = (transfer_ * drive).array() + extra;
    const Eigen::VectorXd radius =
        (Eigen::MatrixXd::Identity(n, n) - gain).partialPivLu().solve(wanted);
    const Eigen::VectorXd needed = transfer_ * drive + gain * radius;
    for (Eigen::Index b = 0; b < n; ++b) {
      if (!(radius(b) > 0 && needed(b) < radius(b))) return false;
      discs[to_size(b)].radius = radius(b);
    }
    if (driven) bound_value();
    return true;
  }

  void bound_value() {
    for (std::size_t c = 0; c < loose_.size(); ++c) {
      value_.radius += std::abs(reply_[c].middle) *
                       (source_off_[c] + impedance_off_[c] * current_[c].most());
    }
    value_.radius *= 1 + kRoundOff;
  }

  /// How the sensed value grows with a freedom: of its size, or signed where all is real.
  struct Slope {
    double middle = 0;
    double doubt = 0;
  };

  [[nodiscard]] Slope slope(const Freedom& f) const {
    const std::size_t c = place(f);
    Complex unit = 1;
    Disc current = current_[c];
    switch (f.quantity) {
      case Quantity::ohm: break;
      case Quantity::henry: unit = {0, omega_}; break;
      case Quantity::per_farad: unit = {0, -1 / omega_}; break;
      case Quantity::volt: {
        Branch one = network_.branches[to_size(f.branch)];
        one.volt = 1;
        unit = emf(one);
        current = {1, 0};
        break;
      }
    }
    const Disc& reply = reply_[c];
    const Disc value = real_ ? Disc{1, 0} : value_;
    const Complex product = std::conj(value.middle) * unit * current.middle * reply.middle;
    const double size = std::abs(unit) * std::abs(value.middle) * std::abs(current.middle) * std::abs(reply.middle);
    const double most = std::abs(unit) * value.most() * current.most() * reply.most();
    const double per = real_ ? 1 : 1 / (std::abs(value_.middle) - value_.radius);
    return {product.real() * per, (most - size + kRoundOff * most) * per};
  }

  struct Doubtful {
    Freedom freedom;
    double weight = 0;  ///< the most that its half range can change the sensed value
  };

  [[nodiscard]] LiveBand ends() const {
    Network least = network_;
    Network most = network_;
    std::vector<Doubtful> doubtful;
    for (const Freedom& f : network_.freedoms) {
      const Slope s = slope(f);
      if (std::abs(s.middle) <= s.doubt) {
        doubtful.push_back({f, (std::abs(s.middle) + s.doubt) * (f.high - f.low) / 2});
        continue;
      }
      set(least, f, s.middle > 0 ? f.low : f.high);
      set(most, f, s.middle > 0 ? f.high : f.low);
    }
    return real_ ? signed_ends(least, most, doubtful) : sized_ends(least, most, doubtful);
  }

  /// A size may have its extreme between the ends of a doubtful value: it stays in the middle.
  [[nodiscard]] LiveBand sized_ends(const Network& least, const Network& most,
                                    const std::vector<Doubtful>& doubtful) const {
    double doubt = 0;
    for (const Doubtful& d : doubtful) doubt += d.weight;
    const Solution at_least = solve(least);
    const Solution at_most = solve(most);
    if (!at_least.finite || !at_most.finite) return {0, 0, false};
    return {std::max(0.0, std::abs(sensed(least, probe_, at_least)) - doubt),
            std::abs(sensed(most, probe_, at_most)) + doubt, true};
  }

  /// A real reading is a quotient of two straight lines in each value, so it has its extremes at
  /// ends; those whose end is not known are all tried, the heaviest of them where they are many.
  [[nodiscard]] LiveBand signed_ends(Network least, Network most, std::vector<Doubtful> doubtful) const {
    std::sort(doubtful.begin(), doubtful.end(),
              [](const Doubtful& a, const Doubtful& b) { return a.weight > b.weight; });
    const int tried = std::min(to_int(doubtful.size()), kMostTried);
    double doubt = 0;
    for (std::size_t k = to_size(tried); k < doubtful.size(); ++k) doubt += doubtful[k].weight;
    double from = std::numeric_limits<double>::infinity();
    double to = -from;
    for (int corner = 0; corner < 1 << tried; ++corner) {
      for (int k = 0; k < tried; ++k) {
        const Freedom& f = doubtful[to_size(k)].freedom;
        const double end = (corner >> k & 1) != 0 ? f.high : f.low;
        set(least, f, end);
        set(most, f, end);
      }
      for (const Network* network : {&least, &most}) {
        const Solution solution = solve(*network);
        if (!solution.finite) return {0, 0, false};
        const double value = sensed(*network, probe_, solution).real();
        from = std::min(from, value - doubt);
        to = std::max(to, value + doubt);
      }
    }
    const bool both_signs = from < 0 && to > 0;
    return {both_signs ? 0 : std::min(std::abs(from), std::abs(to)),
            std::max(std::abs(from), std::abs(to)), true};
  }

  Network network_;
  Probe probe_;
  double omega_;
  std::vector<int> place_;             ///< of each branch in loose_, -1: it has no freedom
  bool real_ = false;
  std::vector<int> loose_;             ///< branches that have a freedom
  std::vector<Disc> current_;          ///< i
  std::vector<Disc> reply_;            ///< t
  Eigen::MatrixXd transfer_;           ///< |T|
  std::vector<double> impedance_off_;  ///< |d|
  std::vector<double> source_off_;     ///< |e|
  Disc value_;                         ///< m
};

LiveBand boxed(const Network& network, const Probe& probe, int halvings) {
  Box box(network, probe);
  if (box.enclose()) return box.band();
  if (halvings == 0) return {0, std::numeric_limits<double>::infinity(), false};
  const std::size_t k = to_size(box.widest());
  const Freedom& f = network.freedoms[k];
  // Where the range spans several sizes, the middle of the sizes.
  const double cut = f.low > 0 && f.high > 3 * f.low ? std::sqrt(f.low * f.high) : (f.low + f.high) / 2;
  Network lower = network;
  Network upper = network;
  lower.freedoms[k].high = cut;
  upper.freedoms[k].low = cut;
  const LiveBand a = boxed(lower, probe, halvings - 1);
  if (!a.bounded) return a;
  const LiveBand b = boxed(upper, probe, halvings - 1);
  if (!b.bounded) return b;
  return {std::min(a.low, b.low), std::max(a.high, b.high), true};
}

}  // namespace

LiveBand live_band(const Network& network, const Probe& probe) {
  if (network.freedoms.empty()) {
    const double value = std::abs(sensed(network, probe, solve(network)));
    return {value, value, true};
  }
  return boxed(network, probe, kMostHalvings);
}

}  // namespace kp::circuit
