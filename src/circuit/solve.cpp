#include "circuit/solve.hpp"

#include <algorithm>
#include <utility>
#include <variant>

#include "base/text.hpp"
#include "circuit/elimination.hpp"
#include "circuit/joints.hpp"

namespace kp::circuit {
namespace {

bool is_real(const Network& network) {
  const double omega = network.omega();
  return std::all_of(network.branches.begin(), network.branches.end(), [omega](const Branch& b) {
    return impedance(b, omega).imag() == 0 && emf(b).imag() == 0;
  });
}

template <class Scalar>
using VectorOf = typename Elimination<Scalar>::Vector;

template <class Scalar>
Scalar as(Complex value) {
  if constexpr (std::is_same_v<Scalar, double>) {
    return value.real();
  } else {
    return value;
  }
}

/// The nodal equations of one network over real or complex numbers.
template <class Scalar>
class Nodal {
 public:
  Nodal(const Network& network, const Joints& joints)
      : joints_(&joints), elimination_(joints.unknowns) {
    const double omega = network.omega();
    admittance_.reserve(network.branches.size());
    for (const Branch& branch : network.branches) {
      const Scalar z = as<Scalar>(impedance(branch, omega));
      const Scalar y = z == Scalar(0) ? Scalar(0) : Scalar(1) / z;
      admittance_.push_back(y);
      const int i = joints.unknown_of(branch.a);
      const int j = joints.unknown_of(branch.b);
      if (y != Scalar(0) && i != j) elimination_.add(i, j, y);
    }
    regular_ = elimination_.factor();
  }

  [[nodiscard]] bool regular() const { return regular_; }

  void solve(const Network& network, const std::vector<Complex>& source, Solution& out) const {
    const std::vector<Complex> offset = offsets(network, *joints_, source);
    Vector x = Vector::Zero(joints_->unknowns);
    for (std::size_t k = 0; k < network.branches.size(); ++k) {
      const Branch& branch = network.branches[k];
      const Complex step = source[k] - offset[to_size(branch.a)] + offset[to_size(branch.b)];
      const Scalar drive = admittance_[k] * as<Scalar>(step);
      if (drive == Scalar(0)) continue;
      if (const int i = joints_->unknown_of(branch.a); i >= 0) x(i) += drive;
      if (const int j = joints_->unknown_of(branch.b); j >= 0) x(j) -= drive;
    }
    elimination_.solve(x);
    for (int n = 0; n < network.nodes; ++n) out.volt[to_size(n)] = at(x, n) + offset[to_size(n)];
    for (std::size_t k = 0; k < network.branches.size(); ++k) {
      const Branch& branch = network.branches[k];
      const Complex drop = out.volt[to_size(branch.a)] - out.volt[to_size(branch.b)] - source[k];
      out.ampere[k] = admittance_[k] * as<Scalar>(drop);
    }
  }

  [[nodiscard]] VectorOf<Scalar> respond(int in, int out) const {
    Vector x = Vector::Zero(joints_->unknowns);
    if (const int i = joints_->unknown_of(in); i >= 0) x(i) += Scalar(1);
    if (const int j = joints_->unknown_of(out); j >= 0) x(j) -= Scalar(1);
    elimination_.solve(x);
    return x;
  }

  [[nodiscard]] Complex at(const VectorOf<Scalar>& x, int n) const {
    const int i = joints_->unknown_of(n);
    return i < 0 ? Complex{} : Complex{x(i)};
  }

 private:
  using Vector = VectorOf<Scalar>;

  const Joints* joints_;
  Elimination<Scalar> elimination_;
  std::vector<Scalar> admittance_;  ///< of each branch, 0 for ideal ones
  bool regular_ = false;
};

}  // namespace

struct Solver::Work {
  explicit Work(Network n)
      : network(std::move(n)), joints(find_joints(network)), nodal(make(network, joints)) {}

  using Either = std::variant<Nodal<double>, Nodal<Complex>>;
  static Either make(const Network& n, const Joints& j) {
    if (is_real(n)) return Either(std::in_place_index<0>, n, j);
    return Either(std::in_place_index<1>, n, j);
  }

  [[nodiscard]] bool regular() const {
    return std::visit([](const auto& n) { return n.regular(); }, nodal);
  }

  Network network;
  Joints joints;
  Either nodal;
};

Solver::Solver(Network network) : work_(std::make_unique<Work>(std::move(network))) {}
Solver::~Solver() = default;
Solver::Solver(Solver&&) noexcept = default;
Solver& Solver::operator=(Solver&&) noexcept = default;

bool Solver::finite() const { return !work_->joints.shorted && work_->regular(); }

bool Solver::joined(int a, int b) const {
  return work_->joints.part_of(a) == work_->joints.part_of(b);
}

bool Solver::real() const { return work_->nodal.index() == 0; }

Solution Solver::solve() const {
  std::vector<Complex> own(work_->network.branches.size());
  for (std::size_t k = 0; k < own.size(); ++k) own[k] = emf(work_->network.branches[k]);
  Solution out = solve_for(own);
  for (int k = 0; k < to_int(out.ampere.size()); ++k) {
    const double rated = work_->network.branches[to_size(k)].rated_ampere;
    if (rated > 0 && std::abs(out.ampere[to_size(k)]) > rated) {
      out.issues.push_back(Issue{Issue::Kind::over_current, {k}});
    }
  }
  return out;
}

Solution Solver::solve_for(const std::vector<Complex>& source) const {
  const Network& network = work_->network;
  Solution out;
  out.volt.resize(to_size(network.nodes));
  out.ampere.resize(network.branches.size());
  out.part.resize(to_size(network.nodes));
  for (int n = 0; n < network.nodes; ++n) out.part[to_size(n)] = work_->joints.part_of(n);
  out.issues = work_->joints.issues;
  if (!work_->regular()) out.issues.push_back(Issue{Issue::Kind::resonance, {}});
  out.finite = finite();
  if (!out.finite) return out;
  std::visit([&](const auto& nodal) { nodal.solve(network, source, out); }, work_->nodal);
  share_out(network, work_->joints, out.ampere);
  return out;
}

std::vector<Complex> Solver::respond(int in, int out) const {
  std::vector<Complex> volt;
  if (!work_->regular() || !joined(in, out)) return volt;
  volt.resize(to_size(work_->network.nodes));
  std::visit(
      [&](const auto& nodal) {
        const auto x = nodal.respond(in, out);
        for (std::size_t n = 0; n < volt.size(); ++n) volt[n] = nodal.at(x, to_int(n));
      },
      work_->nodal);
  return volt;
}

Complex Solver::impedance_between(int a, int b) const {
  if (!work_->regular() || !joined(a, b)) return {};
  return std::visit(
      [&](const auto& nodal) {
        const auto x = nodal.respond(a, b);
        return nodal.at(x, a) - nodal.at(x, b);
      },
      work_->nodal);
}

bool Solution::joined(int a, int b) const { return part[to_size(a)] == part[to_size(b)]; }

Complex Solution::between(int a, int b) const { return volt[to_size(a)] - volt[to_size(b)]; }

std::vector<std::vector<int>> floating(const Solution& solution) {
  int parts = 0;
  for (const int part : solution.part) parts = std::max(parts, part + 1);
  std::vector<std::vector<int>> all(to_size(std::max(parts, 1) - 1));
  for (int n = 0; n < to_int(solution.part.size()); ++n) {
    const int part = solution.part[to_size(n)];
    if (part > 0) all[to_size(part - 1)].push_back(n);
  }
  return all;
}

std::string issue_text(const Issue& issue, const Network& network, const Netlist& netlist) {
  std::vector<std::string> names;
  for (const int k : issue.branches) {
    const int element = network.branches[to_size(k)].element;
    names.push_back(element < 0 ? "the leak" : netlist.elements[to_size(element)].name);
  }
  const std::string who = join(names, ", ");
  switch (issue.kind) {
    case Issue::Kind::short_circuit: return cat("short circuit through ", who);
    case Issue::Kind::ideal_loop: return cat("ring without resistance through ", who);
    case Issue::Kind::over_current: return cat("too much current through ", who);
    case Issue::Kind::resonance: return "coils and capacitors cancel out";
  }
  return who;
}

}  // namespace kp::circuit
