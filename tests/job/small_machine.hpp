#pragma once
// Small machines written down in a test: nodes and parts by name, elements between them.

#include <string>
#include <utility>
#include <vector>

#include "base/text.hpp"
#include "job/hazards.hpp"
#include "pack/model.hpp"

namespace kp::test {

struct SmallMachine {
  pack::Pack pack;

  /// A house with these volts; the house joins neutral to earth.
  explicit SmallMachine(double volts = 120, double hertz = 60) {
    pack.id = "small";
    pack.supply.volts = volts;
    pack.supply.hertz = hertz;
    pack.tools.push_back({"hand", "Bare hand", 0});
    pack.positions.push_back({"in-place", "In its place", "", ""});
    pack.circuit.mains.line = node("L");
    pack.circuit.mains.neutral = node("N");
    pack.circuit.mains.earth = node("E");
    pack.circuit.mains.volts = {volts, volts, volts};
    pack.circuit.mains.ohm = {0.4, 0.4, 0.4};
    add(pack::ElementKind::wire, "N", "E", 0.1, -1);
  }

  int node(const std::string& id) {
    const int there = pack.circuit.node(id);
    if (there >= 0) {
      return there;
    }
    pack.circuit.nodes.push_back(id);
    return to_int(pack.circuit.nodes.size()) - 1;
  }

  int part(const std::string& id, std::vector<pack::Way> behind = {}) {
    pack::Part made;
    made.id = id;
    made.name = id;
    made.behind = std::move(behind);
    pack.parts.push_back(std::move(made));
    return to_int(pack.parts.size()) - 1;
  }

  int joint(const std::string& id, pack::JointKind kind, std::vector<int> parts,
            std::vector<pack::Way> behind = {}) {
    pack::Joint made;
    made.id = id;
    made.name = id;
    made.kind = kind;
    made.parts = std::move(parts);
    made.behind = std::move(behind);
    pack.joints.push_back(std::move(made));
    return to_int(pack.joints.size()) - 1;
  }

  int point(const std::string& at, int part, std::vector<pack::Way> behind = {}) {
    pack::TestPoint made;
    made.id = at;
    made.title = at;
    made.node = node(at);
    made.part = part;
    made.behind = std::move(behind);
    pack.circuit.points.push_back(std::move(made));
    return to_int(pack.circuit.points.size()) - 1;
  }

  /// `value`: ohms, of a capacitor microfarads.
  pack::Element& add(pack::ElementKind kind, const std::string& a, const std::string& b,
                     double value, int part = -1, int joint = -1) {
    pack::Element made;
    made.id = cat("e", to_int(pack.circuit.elements.size()));
    made.name = made.id;
    made.kind = kind;
    made.a = node(a);
    made.b = node(b);
    made.part = part;
    made.joint = joint;
    (kind == pack::ElementKind::capacitor ? made.microfarad : made.ohm) = {value, value, value};
    pack.circuit.elements.push_back(std::move(made));
    return pack.circuit.elements.back();
  }

  [[nodiscard]] job::Hazards hazards() const { return job::hazards_of(pack); }
};

/// "a b c": the names of the nodes that are marked.
inline std::string marked(const pack::Circuit& circuit, const std::vector<bool>& nodes) {
  std::string out;
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    if (nodes[i]) {
      out += cat(out.empty() ? "" : " ", circuit.nodes[i]);
    }
  }
  return out;
}

/// The words of tags in their order, "live wet".
inline std::string tag_words(const std::vector<pack::Contact>& tags) {
  std::string out;
  for (const pack::Contact tag : tags) {
    out += cat(out.empty() ? "" : " ", pack::contact_words()[to_size(static_cast<int>(tag))]);
  }
  return out;
}

}  // namespace kp::test
