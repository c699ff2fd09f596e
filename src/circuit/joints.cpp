#include "circuit/joints.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/text.hpp"

namespace kp::circuit {
namespace {

bool ideal(const Branch& branch, double omega) { return impedance(branch, omega) == Complex{}; }

class Finder {
 public:
  Finder(const Network& network, Joints& joints) : network_(network), out_(joints) {}

  void run() {
    list_ideal();
    out_.node.resize(to_size(network_.nodes));
    for (Joints::Place& place : out_.node) place.super = -1;
    out_.order.reserve(to_size(network_.nodes));
    grow(network_.reference);
    for (int n = 0; n < network_.nodes; ++n) {
      if (out_.node[to_size(n)].super < 0) grow(n);
    }
    find_rings();
    number_parts();
  }

 private:
  void list_ideal() {
    const double omega = network_.omega();
    for (int i = 0; i < to_int(network_.branches.size()); ++i) {
      if (ideal(network_.branches[to_size(i)], omega)) ideal_.push_back(i);
    }
    used_.assign(ideal_.size(), false);
  }

  /// The super-node of a node that has none yet, breadth first.
  void grow(int start) {
    const int super = supers_++;
    out_.node[to_size(start)] = {super, {}, -1};
    std::size_t next = out_.order.size();
    out_.order.push_back(start);
    if (ideal_.empty()) return;
    for (; next < out_.order.size(); ++next) {
      const int from = out_.order[next];
      for (std::size_t k = 0; k < ideal_.size(); ++k) {
        const Branch& branch = network_.branches[to_size(ideal_[k])];
        if (branch.a != from && branch.b != from) continue;
        const int to = branch.a == from ? branch.b : branch.a;
        if (out_.node[to_size(to)].super >= 0) continue;
        const Complex rise = branch.a == to ? emf(branch) : -emf(branch);
        out_.node[to_size(to)] = {super, out_.node[to_size(from)].offset + rise, ideal_[k]};
        out_.order.push_back(to);
        used_[k] = true;
      }
    }
  }

  [[nodiscard]] int parent(int n) const {
    const Branch& branch = network_.branches[to_size(out_.node[to_size(n)].by)];
    return branch.a == n ? branch.b : branch.a;
  }

  /// An ideal branch that no super-node needed closes a ring with the ways of its ends.
  void find_rings() {
    for (std::size_t k = 0; k < ideal_.size(); ++k) {
      if (used_[k]) continue;
      const Branch& branch = network_.branches[to_size(ideal_[k])];
      const Complex source = emf(branch);
      const Complex gap =
          out_.node[to_size(branch.a)].offset - out_.node[to_size(branch.b)].offset - source;
      const bool meets = std::abs(gap) <= 1e-9 * std::max(1.0, std::abs(source));
      Issue issue;
      issue.kind = meets ? Issue::Kind::ideal_loop : Issue::Kind::short_circuit;
      if (!meets) out_.shorted = true;
      std::vector<int> up = way(branch.a);
      std::vector<int> down = way(branch.b);
      while (!up.empty() && !down.empty() && up.back() == down.back()) {
        up.pop_back();
        down.pop_back();
      }
      issue.branches = std::move(up);
      issue.branches.insert(issue.branches.end(), down.rbegin(), down.rend());
      issue.branches.push_back(ideal_[k]);
      start_at_least(issue.branches);
      out_.issues.push_back(std::move(issue));
    }
  }

  /// A ring has neither start nor sense: the lowest branch first, towards its lower neighbour.
  static void start_at_least(std::vector<int>& ring) {
    std::rotate(ring.begin(), std::min_element(ring.begin(), ring.end()), ring.end());
    if (ring.size() > 2 && ring.back() < ring[1]) std::reverse(ring.begin() + 1, ring.end());
  }

  /// The ideal branches from a node to the first of its super-node.
  [[nodiscard]] std::vector<int> way(int n) const {
    std::vector<int> branches;
    for (; out_.node[to_size(n)].by >= 0; n = parent(n)) {
      branches.push_back(out_.node[to_size(n)].by);
    }
    return branches;
  }

  int root(int super) {
    while (leader_[to_size(super)] != super) {
      int& above = leader_[to_size(super)];
      above = leader_[to_size(above)];
      super = above;
    }
    return super;
  }

  void number_parts() {
    leader_.resize(to_size(supers_));
    for (int s = 0; s < supers_; ++s) leader_[to_size(s)] = s;
    for (const Branch& branch : network_.branches) {
      const int a = root(out_.node[to_size(branch.a)].super);
      const int b = root(out_.node[to_size(branch.b)].super);
      // The lower leads, so that the reference's super-node, number 0, leads its part.
      if (a != b) leader_[to_size(std::max(a, b))] = std::min(a, b);
    }
    out_.part.resize(to_size(supers_));
    out_.unknown.resize(to_size(supers_));
    int parts = 0;
    for (int s = 0; s < supers_; ++s) {
      const int top = root(s);
      out_.part[to_size(s)] = top == s ? parts++ : out_.part[to_size(top)];
      out_.unknown[to_size(s)] = top == s ? -1 : out_.unknowns++;
    }
  }

  const Network& network_;
  Joints& out_;
  std::vector<int> ideal_;
  std::vector<bool> used_;
  std::vector<int> leader_;
  int supers_ = 0;
};

}  // namespace

Joints find_joints(const Network& network) {
  Joints joints;
  Finder(network, joints).run();
  return joints;
}

std::vector<Complex> offsets(const Network& network, const Joints& joints,
                             const std::vector<Complex>& emf) {
  std::vector<Complex> offset(to_size(network.nodes));
  for (const int n : joints.order) {
    const int by = joints.node[to_size(n)].by;
    if (by < 0) continue;
    const Branch& branch = network.branches[to_size(by)];
    const Complex& rise = emf[to_size(by)];
    offset[to_size(n)] = branch.a == n ? offset[to_size(branch.b)] + rise : offset[to_size(branch.a)] - rise;
  }
  return offset;
}

void share_out(const Network& network, const Joints& joints, std::vector<Complex>& ampere) {
  const bool any = std::any_of(joints.node.begin(), joints.node.end(),
                               [](const Joints::Place& place) { return place.by >= 0; });
  if (!any) return;
  std::vector<Complex> leaving(to_size(network.nodes));
  for (std::size_t i = 0; i < network.branches.size(); ++i) {
    leaving[to_size(network.branches[i].a)] += ampere[i];
    leaving[to_size(network.branches[i].b)] -= ampere[i];
  }
  // From the tips of each super-node to its first node: what leaves a node by all other ways comes
  // in by the branch that led to it.
  for (std::size_t k = joints.order.size(); k-- > 0;) {
    const int n = joints.order[k];
    const int by = joints.node[to_size(n)].by;
    if (by < 0) continue;
    const Branch& branch = network.branches[to_size(by)];
    const bool leaves_here = branch.a == n;
    ampere[to_size(by)] = leaves_here ? -leaving[to_size(n)] : leaving[to_size(n)];
    leaving[to_size(leaves_here ? branch.b : branch.a)] += leaving[to_size(n)];
  }
}

}  // namespace kp::circuit
