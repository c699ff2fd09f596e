#include "circuit/box.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <limits>

#include "base/text.hpp"

namespace kp::circuit {
namespace {

constexpr double kRoundOff = 1e-9;
/// Doubtful values of a real network of which both ends are tried.
constexpr int kMostTried = 5;

void set(Network& network, const Freedom& freedom, double value) {
  quantity_of(network.branches[to_size(freedom.branch)], freedom.quantity) = value;
}

double half_of(const Freedom& freedom) { return (freedom.high - freedom.low) / 2; }

}  // namespace

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

Box::Box(const Network& network, const Probe& probe)
    : network_(network), probe_(probe), omega_(network.omega()), place_(network.branches.size(), -1) {
  for (const Freedom& freedom : network_.freedoms) {
    set(network_, freedom, (freedom.low + freedom.high) / 2);
    int& place = place_[to_size(freedom.branch)];
    if (place >= 0) continue;
    place = to_int(loose_.size());
    loose_.push_back(freedom.branch);
  }
}

std::size_t Box::place(const Freedom& freedom) const { return to_size(place_[to_size(freedom.branch)]); }

/// Ohms for one unit of a quantity.
double Box::unit_size(Quantity quantity) const {
  switch (quantity) {
    case Quantity::henry: return omega_;
    case Quantity::per_farad: return 1 / omega_;
    case Quantity::ohm:
    case Quantity::volt: break;
  }
  return 1;
}

int Box::widest() const {
  int widest = 0;
  double most = -1;
  for (int k = 0; k < to_int(network_.freedoms.size()); ++k) {
    const Freedom& f = network_.freedoms[to_size(k)];
    double weight = f.high > 0 ? half_of(f) / f.high : 0;
    if (const auto c = static_cast<Eigen::Index>(place(f)); c < transfer_.rows()) {
      weight = f.quantity == Quantity::volt ? 0 : half_of(f) * unit_size(f.quantity) * transfer_(c, c);
    }
    if (weight > most) {
      most = weight;
      widest = k;
    }
  }
  return widest;
}

/// False where no bound on the currents was found, or the middle has no answer.
bool Box::enclose() {
  const Solver solver(network_);
  if (!solver.finite()) return false;
  real_ = solver.real();
  respond(solver);
  reach_of_values();
  if (!bound(current_, true) || !bound(reply_, false)) return false;
  for (std::size_t c = 0; c < loose_.size(); ++c) {
    value_.radius += std::abs(reply_[c].middle) *
                     (source_off_[c] + impedance_off_[c] * current_[c].most());
  }
  value_.radius *= 1 + kRoundOff;
  return true;
}

/// i, m, t and T of the middle.
void Box::respond(const Solver& solver) {
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
void Box::reach_of_values() {
  impedance_off_.assign(loose_.size(), 0.0);
  source_off_.assign(loose_.size(), 0.0);
  std::vector<double> reactance(loose_.size(), 0.0);
  for (const Freedom& f : network_.freedoms) {
    const std::size_t c = place(f);
    switch (f.quantity) {
      case Quantity::ohm: impedance_off_[c] = half_of(f); break;
      case Quantity::henry:
      case Quantity::per_farad: reactance[c] += half_of(f) * unit_size(f.quantity); break;
      case Quantity::volt: source_off_[c] = half_of(f); break;
    }
  }
  for (std::size_t c = 0; c < loose_.size(); ++c) {
    impedance_off_[c] = std::hypot(impedance_off_[c], reactance[c]);
  }
}

/// Radii r of the currents (driven by sources too) or of the replies: the solution of
/// r = |T| (|e| + |d| (|middle| + r)), a little enlarged and then checked.
bool Box::bound(std::vector<Disc>& discs, bool driven) {
  const auto n = static_cast<Eigen::Index>(discs.size());
  const Eigen::Map<const Eigen::VectorXd> off(impedance_off_.data(), n);
  Eigen::VectorXd middle(n);
  for (Eigen::Index c = 0; c < n; ++c) middle(c) = std::abs(discs[to_size(c)].middle);
  Eigen::VectorXd drive = off.cwiseProduct(middle);
  if (driven) drive += Eigen::Map<const Eigen::VectorXd>(source_off_.data(), n);
  const Eigen::VectorXd first = transfer_ * drive;
  const Eigen::MatrixXd gain = transfer_ * off.asDiagonal();
  const Eigen::VectorXd wanted = first.array() + (1e-6 * first.maxCoeff() + 1e-30);
  const Eigen::VectorXd radius =
      (Eigen::MatrixXd::Identity(n, n) - gain).partialPivLu().solve(wanted);
  const Eigen::VectorXd needed = first + gain * radius;
  for (Eigen::Index b = 0; b < n; ++b) {
    if (!(radius(b) > 0 && needed(b) < radius(b))) return false;
    discs[to_size(b)].radius = radius(b);
  }
  return true;
}

std::pair<Complex, Box::Disc> Box::drive(const Freedom& f) const {
  switch (f.quantity) {
    case Quantity::ohm: return {1, current_[place(f)]};
    case Quantity::henry: return {Complex{0, omega_}, current_[place(f)]};
    case Quantity::per_farad: return {Complex{0, -1 / omega_}, current_[place(f)]};
    case Quantity::volt: {
      Branch one = network_.branches[to_size(f.branch)];
      one.volt = 1;
      return {emf(one), Disc{1, 0}};
    }
  }
  return {1, current_[place(f)]};
}

int Box::heaviest() const {
  int heaviest = -1;
  double most = 0;
  for (int k = 0; k < to_int(network_.freedoms.size()); ++k) {
    const Freedom& f = network_.freedoms[to_size(k)];
    const auto [unit, current] = drive(f);
    const double weight = std::abs(unit) * current.most() * reply_[place(f)].most() * half_of(f);
    if (!(weight > most)) continue;
    most = weight;
    heaviest = k;
  }
  return heaviest < 0 ? widest() : heaviest;
}

Box::Slope Box::slope(const Freedom& f) const {
  const auto [unit, current] = drive(f);
  const Disc reply = reply_[place(f)];
  const Disc value = real_ ? Disc{1, 0} : value_;
  const Complex product = std::conj(value.middle) * unit * current.middle * reply.middle;
  const double size = std::abs(product);
  const double most = std::abs(unit) * value.most() * current.most() * reply.most();
  const double per = real_ ? 1 : 1 / (std::abs(value_.middle) - value_.radius);
  return {product.real() * per, (most - size + kRoundOff * most) * per};
}

Box::Ends Box::ends() {
  Ends ends;
  if (!enclose()) return ends;
  const double rough_low = std::max(0.0, std::abs(value_.middle) - value_.radius);
  const double rough_high = value_.most();
  ends.bounded = true;
  ends.seen_low = ends.seen_high = std::abs(value_.middle);
  if (!real_ && rough_low <= 0) {
    // The size of what may be zero has no slope to go by.
    ends.low = rough_low;
    ends.high = rough_high;
    ends.doubtful = heaviest();
    return ends;
  }
  Network least = network_;
  Network most = network_;
  std::vector<Doubtful> doubtful;
  for (int k = 0; k < to_int(network_.freedoms.size()); ++k) {
    const Freedom& f = network_.freedoms[to_size(k)];
    const Slope s = slope(f);
    if (std::abs(s.middle) <= s.doubt) {
      doubtful.push_back({k, (std::abs(s.middle) + s.doubt) * half_of(f)});
      continue;
    }
    set(least, f, s.middle > 0 ? f.low : f.high);
    set(most, f, s.middle > 0 ? f.high : f.low);
  }
  std::sort(doubtful.begin(), doubtful.end(),
            [](const Doubtful& a, const Doubtful& b) { return a.weight > b.weight; });
  if (real_) {
    signed_ends(least, most, doubtful, ends);
  } else {
    sized_ends(least, most, doubtful, ends);
  }
  ends.low = std::max(ends.low, rough_low);
  ends.high = std::min(ends.high, rough_high);
  return ends;
}

/// A size may have its extreme between the ends of a doubtful value: it stays in the middle.
void Box::sized_ends(const Network& least, const Network& most,
                     const std::vector<Doubtful>& doubtful, Ends& ends) const {
  double doubt = 0;
  for (const Doubtful& d : doubtful) doubt += d.weight;
  ends.seen_low = std::abs(sensed(least, probe_, solve(least)));
  ends.seen_high = std::abs(sensed(most, probe_, solve(most)));
  ends.low = std::max(0.0, ends.seen_low - doubt);
  ends.high = ends.seen_high + doubt;
  if (!doubtful.empty()) ends.doubtful = doubtful.front().freedom;
}

/// A real reading is a quotient of two straight lines in each value, so it has its extremes at
/// ends; those whose end is not known are all tried, the heaviest of them where they are many.
void Box::signed_ends(Network least, Network most, const std::vector<Doubtful>& doubtful,
                      Ends& ends) const {
  const int tried = std::min(to_int(doubtful.size()), kMostTried);
  double doubt = 0;
  for (std::size_t k = to_size(tried); k < doubtful.size(); ++k) doubt += doubtful[k].weight;
  double from = std::numeric_limits<double>::infinity();
  double to = -from;
  for (int corner = 0; corner < 1 << tried; ++corner) {
    for (int k = 0; k < tried; ++k) {
      const Freedom& f = network_.freedoms[to_size(doubtful[to_size(k)].freedom)];
      const double end = (corner >> k & 1) != 0 ? f.high : f.low;
      set(least, f, end);
      set(most, f, end);
    }
    for (const Network* network : {&least, &most}) {
      const double value = sensed(*network, probe_, solve(*network)).real();
      from = std::min(from, value);
      to = std::max(to, value);
    }
  }
  const auto size_of = [](double low, double high, double& least_size, double& most_size) {
    least_size = low < 0 && high > 0 ? 0 : std::min(std::abs(low), std::abs(high));
    most_size = std::max(std::abs(low), std::abs(high));
  };
  size_of(from, to, ends.seen_low, ends.seen_high);
  size_of(from - doubt, to + doubt, ends.low, ends.high);
  if (doubt > 0) ends.doubtful = doubtful[to_size(tried)].freedom;
}

}  // namespace kp::circuit
