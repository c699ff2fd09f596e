#pragma once

#include <vector>

#include "base/text.hpp"
#include "pack/circuit.hpp"

namespace kp::job {

[[nodiscard]] inline bool is_conductor(const pack::Element& element) {
  return element.kind == pack::ElementKind::wire || element.kind == pack::ElementKind::connector;
}

/// Marks all nodes that are reached from the marked ones through elements that `conducts`, into
/// nodes that `enters`. Both are asked with an element, or a node.
template <class Conducts, class Enters>
void spread(const pack::Circuit& circuit, std::vector<bool>& marked, const Conducts& conducts,
            const Enters& enters) {
  bool grew = true;
  while (grew) {
    grew = false;
    for (const pack::Element& element : circuit.elements) {
      const bool a = marked[to_size(element.a)];
      const bool b = marked[to_size(element.b)];
      const int other = a ? element.b : element.a;
      if (a != b && conducts(element) && enters(other)) {
        marked[to_size(other)] = true;
        grew = true;
      }
    }
  }
}

}  // namespace kp::job
