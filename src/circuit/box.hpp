#pragma once

#include <Eigen/Core>
#include <utility>
#include <vector>

#include "circuit/network.hpp"
#include "circuit/probe_network.hpp"
#include "circuit/solve.hpp"

namespace kp::circuit {

/// What a meter senses in a solution of the network, signed.
[[nodiscard]] Complex sensed(const Network& network, const Probe& probe, const Solution& solution);

/// All freedoms of a network at once, around the middle of their ranges, and what follows for the
/// size of what a meter senses. The mathematics stand in band_live.hpp.
class Box {
 public:
  Box(const Network& network, const Probe& probe);

  /// Ends that the sensed size keeps to, and values that it takes somewhere in the box.
  struct Ends {
    bool bounded = false;  ///< false: no ends were found; the others mean nothing
    double low = 0, high = 0;
    double seen_low = 0, seen_high = 0;
    int doubtful = -1;     ///< the freedom that makes the ends most uncertain, -1: none
  };
  [[nodiscard]] Ends ends();

  /// The freedom whose range weighs most: how much of its own current its half range can turn
  /// round. Where not even the middle has an answer, the one with the widest range for its size.
  [[nodiscard]] int widest() const;

 private:
  /// A value with the most by which it can differ.
  struct Disc {
    Complex middle;
    double radius = 0;
    [[nodiscard]] double most() const { return std::abs(middle) + radius; }
  };
  /// How the sensed value grows with a freedom: its size, or itself where all is real.
  struct Slope {
    double middle = 0;
    double doubt = 0;
  };
  struct Doubtful {
    int freedom = 0;
    double weight = 0;  ///< the most that its half range can change the sensed value
  };

  [[nodiscard]] std::size_t place(const Freedom& freedom) const;
  [[nodiscard]] double unit_size(Quantity quantity) const;
  bool enclose();
  void respond(const Solver& solver);
  void reach_of_values();
  bool bound(std::vector<Disc>& discs, bool driven);
  /// What a freedom drives per its unit: times the reply, how the sensed value grows with it.
  [[nodiscard]] std::pair<Complex, Disc> drive(const Freedom& freedom) const;
  [[nodiscard]] Slope slope(const Freedom& freedom) const;
  /// The freedom that can change the sensed value most.
  [[nodiscard]] int heaviest() const;
  void sized_ends(const Network& least, const Network& most, const std::vector<Doubtful>& doubtful,
                  Ends& ends) const;
  void signed_ends(Network least, Network most, const std::vector<Doubtful>& doubtful,
                   Ends& ends) const;

  Network network_;
  Probe probe_;
  double omega_;
  bool real_ = false;
  std::vector<int> place_;             ///< of each branch in loose_, -1: it has no freedom
  std::vector<int> loose_;             ///< branches that have a freedom
  std::vector<Disc> current_;          ///< i
  std::vector<Disc> reply_;            ///< t
  Eigen::MatrixXd transfer_;           ///< |T|
  std::vector<double> impedance_off_;  ///< |d|
  std::vector<double> source_off_;     ///< |e|
  Disc value_;                         ///< m
};

}  // namespace kp::circuit
