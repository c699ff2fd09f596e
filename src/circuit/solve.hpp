#pragma once

#include <memory>
#include <vector>

#include "circuit/network.hpp"

namespace kp::circuit {

/// Something about a network that has a name rather than a number.
struct Issue {
  enum class Kind {
    short_circuit,  ///< an ideal source on an ideal loop: no finite current
    ideal_loop,     ///< joints without resistance in a ring: how they share current is not defined
    over_current,   ///< more than the element's rating: this state does not last
    resonance       ///< coils and capacitors cancel out: no finite answer
  };
  Kind kind = Kind::ideal_loop;
  std::vector<int> branches;  ///< the ring, or the element that carries too much
  friend bool operator==(const Issue&, const Issue&) = default;
};

/// Voltages and currents of one network. Every number is finite; where `finite` is false there is
/// no answer and they are zero.
struct Solution {
  bool finite = true;
  std::vector<Complex> volt;     ///< of each node against the reference of its part
  std::vector<int> part;         ///< 0: hangs together with the network's reference; others float
  std::vector<Complex> ampere;   ///< of each branch, from a to b
  std::vector<Issue> issues;

  /// A voltage between two nodes has a meaning only within one part.
  [[nodiscard]] bool joined(int a, int b) const;
  [[nodiscard]] Complex between(int a, int b) const;
};

/// Modified nodal analysis (Ho, Ruehli, Brennan 1975) of one network, worked out once and asked
/// many times. Branches without impedance are folded into super-nodes; their currents come back
/// from Kirchhoff's current law. The nodal matrix is eliminated by star-mesh steps (Rosen 1924),
/// which add and never subtract, so a milliohm beside a megohm costs no digits; where coils and
/// capacitors cancel in a step, Eigen's full-pivot LU takes over.
///
/// Real arithmetic where nothing is reactive and no source is out of phase, complex otherwise.
/// The network must have its indices in range.
class Solver {
 public:
  explicit Solver(Network network);
  ~Solver();
  Solver(Solver&&) noexcept;
  Solver& operator=(Solver&&) noexcept;

  /// With all sources.
  [[nodiscard]] Solution solve() const;

  /// The same with other sources: `emf` of each branch, in place of its own. Where real() the
  /// sources must be real. No over_current is looked for.
  [[nodiscard]] Solution solve_for(const std::vector<Complex>& emf) const;

  /// Node voltages with all sources at zero while one ampere is driven in at `in` and taken out at
  /// `out`, which are in one part. Empty where there is no finite answer.
  [[nodiscard]] std::vector<Complex> respond(int in, int out) const;

  /// Volts at one ampere between two nodes of one part: the impedance there, in ohm. The part of
  /// the answer that `respond` computes for nothing else.
  [[nodiscard]] Complex impedance_between(int a, int b) const;

  [[nodiscard]] bool joined(int a, int b) const;
  /// Nothing is reactive, no source is out of phase.
  [[nodiscard]] bool real() const;
  /// False where an ideal source is shorted or the matrix is singular.
  [[nodiscard]] bool finite() const;

 private:
  struct Work;
  std::unique_ptr<Work> work_;
};

[[nodiscard]] inline Solution solve(const Network& network) { return Solver(network).solve(); }

/// The nodes of each part that floats, in rising order: no way leads from them to the reference.
[[nodiscard]] std::vector<std::vector<int>> floating(const Solution& solution);

/// "short circuit through Door switch, Wire 4" and the like, for a person.
[[nodiscard]] std::string issue_text(const Issue& issue, const Network& network,
                                     const Netlist& netlist);

}  // namespace kp::circuit
