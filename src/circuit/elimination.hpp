#pragma once

#include <Eigen/Core>
#include <Eigen/LU>
#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <type_traits>
#include <vector>

#include "base/text.hpp"

namespace kp::circuit {

/// Solves the nodal equations of a network of admittances, node by node: taking a node out joins
/// its neighbours to each other (star to mesh), y_ij += y_ik y_jk / sum_m y_mk. This is Gaussian
/// elimination of the nodal matrix with the diagonal kept as a sum, so positive admittances are
/// never subtracted and each answer is good to a few units in its last digits. Nodes with the
/// fewest neighbours go first, which keeps the work near the number of branches for wiring.
template <class Scalar>
class Elimination {
 public:
  using Vector = Eigen::Matrix<Scalar, Eigen::Dynamic, 1>;
  using Matrix = Eigen::Matrix<Scalar, Eigen::Dynamic, Eigen::Dynamic>;

  explicit Elimination(int nodes)
      : n_(nodes),
        words_((nodes + 63) / 64),
        mesh_(Matrix::Zero(nodes, nodes)),
        ground_(Vector::Zero(nodes)),
        met_(Eigen::VectorXd::Zero(kMayCancel ? nodes : 0)),
        bits_(to_size(std::int64_t{nodes} * words_), 0) {}

  /// An admittance between nodes i and j; -1 is the reference.
  void add(int i, int j, Scalar y) {
    if (i < 0 && j < 0) return;
    if constexpr (kMayCancel) {
      if (i >= 0) met_(i) += std::abs(y);
      if (j >= 0) met_(j) += std::abs(y);
    }
    if (i < 0 || j < 0) {
      ground_(i < 0 ? j : i) += y;
      return;
    }
    mesh_(i, j) += y;
    mesh_(j, i) += y;
    mark(i, j);
    mark(j, i);
  }

  /// After all have been added. False where the matrix is singular.
  [[nodiscard]] bool factor() {
    order_.reserve(to_size(n_));
    begin_.reserve(to_size(n_) + 1);
    const Matrix untouched = kMayCancel ? mesh_ : Matrix();
    const Vector ground = kMayCancel ? ground_ : Vector();
    std::vector<int> alive(to_size(n_));
    for (int k = 0; k < n_; ++k) alive[to_size(k)] = k;
    begin_.push_back(0);
    while (!alive.empty()) {
      const int at = choose(alive);
      if (at < 0) return factor_whole(untouched, ground);
      take_out(alive[to_size(at)]);
      alive[to_size(at)] = alive.back();
      alive.pop_back();
    }
    return true;
  }

  /// Replaces currents driven into the nodes by the nodes' voltages.
  void solve(Vector& x) const {
    if (whole_) {
      x = (scale_.asDiagonal() * whole_lu_.solve(scale_.asDiagonal() * x)).eval();
      return;
    }
    for (std::size_t k = 0; k < order_.size(); ++k) {
      const Scalar share = x(order_[k]);
      if (share == Scalar(0)) continue;
      for (int e = begin_[k]; e < begin_[k + 1]; ++e) x(to_[to_size(e)]) += share_[to_size(e)] * share;
    }
    for (std::size_t k = order_.size(); k-- > 0;) {
      Scalar sum = x(order_[k]) * per_sum_[k];
      for (int e = begin_[k]; e < begin_[k + 1]; ++e) sum += share_[to_size(e)] * x(to_[to_size(e)]);
      x(order_[k]) = sum;
    }
  }

 private:
  static constexpr double kSingular = 1e-14;
  static constexpr bool kMayCancel = !std::is_same_v<Scalar, double>;

  std::uint64_t* row(int i) { return bits_.data() + std::int64_t{i} * words_; }
  void mark(int i, int j) { row(i)[j >> 6] |= std::uint64_t{1} << static_cast<unsigned>(j & 63); }
  void unmark(int i, int j) { row(i)[j >> 6] &= ~(std::uint64_t{1} << static_cast<unsigned>(j & 63)); }

  template <class F>
  void each_neighbour(int k, F f) {
    for (int w = 0; w < words_; ++w) {
      for (std::uint64_t left = row(k)[w]; left != 0; left &= left - 1) {
        f(w * 64 + std::countr_zero(left));
      }
    }
  }

  /// Whether so much cancels in the sum of a node's admittances that another should go first.
  bool cancels(int k) {
    if constexpr (kMayCancel) {
      Scalar sum = ground_(k);
      double size = std::abs(ground_(k));
      each_neighbour(k, [&](int j) {
        sum += mesh_(j, k);
        size += std::abs(mesh_(j, k));
      });
      return std::abs(sum) < std::max(1e-2 * size, kSingular * met_(k));
    }
    return false;
  }

  /// Place in `alive` of the node with the fewest neighbours, -1 where all of them cancel.
  int choose(const std::vector<int>& alive) {
    int best = -1;
    int fewest = n_ + 1;
    for (int at = 0; at < to_int(alive.size()); ++at) {
      const int k = alive[to_size(at)];
      int count = 0;
      for (int w = 0; w < words_; ++w) count += std::popcount(row(k)[w]);
      if (count >= fewest || cancels(k)) continue;
      fewest = count;
      best = at;
      if (count <= 1) break;
    }
    return best;
  }

  void take_out(int k) {
    const int first = to_int(to_.size());
    Scalar sum = ground_(k);
    each_neighbour(k, [&](int j) {
      to_.push_back(j);
      share_.push_back(mesh_(j, k));
      sum += mesh_(j, k);
    });
    const int last = to_int(to_.size());
    const Scalar per_sum = Scalar(1) / sum;
    for (int e = first; e < last; ++e) {
      const int j = to_[to_size(e)];
      const Scalar share = share_[to_size(e)] * per_sum;
      unmark(j, k);
      for (int f = first; f < e; ++f) {
        const int i = to_[to_size(f)];
        const Scalar between = mesh_(i, k) * share;
        mesh_(i, j) += between;
        mesh_(j, i) += between;
        mark(i, j);
        mark(j, i);
      }
      ground_(j) += ground_(k) * share;
    }
    for (int e = first; e < last; ++e) share_[to_size(e)] *= per_sum;
    order_.push_back(k);
    per_sum_.push_back(per_sum);
    begin_.push_back(last);
  }

  /// The same matrix as it was before the first step, by full pivoting. Rows and columns are scaled
  /// by the admittances that meet in each node, so that a pivot near zero means that they cancel.
  bool factor_whole(const Matrix& mesh, const Vector& ground) {
    scale_ = met_.cwiseSqrt().cwiseInverse();
    Matrix nodal = -mesh;
    for (int k = 0; k < n_; ++k) nodal(k, k) = ground(k) + mesh.col(k).sum();
    whole_lu_.compute(scale_.asDiagonal() * nodal * scale_.asDiagonal());
    whole_ = true;
    return whole_lu_.matrixLU().diagonal().cwiseAbs().minCoeff() > kSingular;
  }

  int n_;
  int words_;
  Matrix mesh_;
  Vector ground_;
  Eigen::VectorXd met_;         ///< sizes of all admittances that were added to a node
  std::vector<std::uint64_t> bits_;
  std::vector<int> order_;      ///< nodes as they were taken out
  std::vector<int> begin_;      ///< of each in to_ and share_
  std::vector<int> to_;         ///< its neighbours then
  std::vector<Scalar> share_;   ///< the share of its current that goes to each
  std::vector<Scalar> per_sum_;
  bool whole_ = false;
  Eigen::VectorXd scale_;
  Eigen::FullPivLU<Matrix> whole_lu_;
};

}  // namespace kp::circuit
