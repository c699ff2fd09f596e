// Tags of joints, parts and points from the conductors that they carry and from heat.
#include <algorithm>

#include "base/text.hpp"
#include "job/hazard_rules.hpp"
#include "pack/reach.hpp"

namespace kp::job {
namespace {

bool holds(const std::vector<int>& all, int one) {
  return std::find(all.begin(), all.end(), one) != all.end();
}

/// Gives one tag to all that carries a conductor of a set of nodes.
class Conductors {
 public:
  Conductors(const pack::Pack& pack, const Spots& spots, const std::vector<bool>& nodes,
             pack::Contact tag, Hazards& hazards)
      : pack_(pack), spots_(spots), nodes_(nodes), tag_(tag), out_(hazards) {}

  void run() {
    carried_points();
    carried_joints();
    carried_parts();
    near_parts();
    near_joints();
  }

 private:
  [[nodiscard]] int node_of(const pack::Element& element) const {
    return nodes_[to_size(element.a)] ? element.a : nodes_[to_size(element.b)] ? element.b : -1;
  }
  [[nodiscard]] std::string node_words(int node) const {
    return cat("node ", pack_.circuit.nodes[to_size(node)]);
  }
  [[nodiscard]] bool carries(int part) const { return is_tagged(out_.parts[to_size(part)], tag_); }

  void carried_points() {
    for (std::size_t i = 0; i < pack_.circuit.points.size(); ++i) {
      const int node = pack_.circuit.points[i].node;
      if (nodes_[to_size(node)]) {
        add_tag(out_.points[i], tag_, node_words(node));
      }
    }
  }

  void carried_joints() {
    for (std::size_t i = 0; i < pack_.joints.size(); ++i) {
      bool wired = false;
      for (const pack::Element& element : pack_.circuit.elements) {
        const bool here = element.joint == to_int(i);
        wired = wired || here;
        if (here && node_of(element) >= 0) {
          add_tag(out_.joints[i], tag_, node_words(node_of(element)));
        }
      }
      const pack::JointKind kind = pack_.joints[i].kind;
      const bool electrical = kind == pack::JointKind::plug || kind == pack::JointKind::spade;
      if (tag_ == pack::Contact::live && electrical && !wired) {
        add_tag(out_.joints[i], tag_, "electrical connection in no circuit");
      }
    }
  }

  void carried_parts() {
    for (const pack::Element& element : pack_.circuit.elements) {
      if (element.part >= 0 && node_of(element) >= 0) {
        add_tag(out_.parts[to_size(element.part)], tag_, node_words(node_of(element)));
      }
    }
    for (std::size_t i = 0; i < pack_.circuit.points.size(); ++i) {
      if (is_tagged(out_.points[i], tag_)) {
        const pack::TestPoint& point = pack_.circuit.points[i];
        add_tag(out_.parts[to_size(point.part)], tag_, node_words(point.node));
      }
    }
    for (std::size_t i = 0; i < pack_.joints.size(); ++i) {
      if (is_tagged(out_.joints[i], tag_)) {
        for (const int part : pack_.joints[i].parts) {
          add_tag(out_.parts[to_size(part)], tag_, cat("joint ", pack_.joints[i].id));
        }
      }
    }
  }

  /// The assemblies that carry such a part, and the lids that are fastened to one.
  void near_parts() {
    for (std::size_t i = 0; i < pack_.parts.size(); ++i) {
      if (carries(to_int(i))) {
        for (const int carrier : pack::carriers(pack_, to_int(i))) {
          add_tag(out_.parts[to_size(carrier)], tag_, cat("carries ", pack_.parts[i].id), true);
        }
      }
    }
    for (std::size_t i = 0; i < pack_.joints.size(); ++i) {
      const std::vector<int>& held = pack_.joints[i].parts;
      for (const int lid : held) {
        for (const int part : held) {
          if (lid != part && carries(part) && bares(lid, part)) {
            const std::string why = cat("bares ", pack_.parts[to_size(part)].id);
            add_tag(out_.parts[to_size(lid)], tag_, why, true);
            add_tag(out_.joints[i], tag_, why, true);
          }
        }
      }
    }
  }

  /// What is undone within reach of the terminals of the part that it holds.
  void near_joints() {
    for (std::size_t i = 0; i < pack_.joints.size(); ++i) {
      for (const int part : pack_.joints[i].parts) {
        // A harness is everywhere; what counts is where the other part has its terminals.
        const std::vector<Spot> here = terminals_of(part);
        if (pack_.parts[to_size(part)].removable &&
            std::find(here.begin(), here.end(), spots_.joints[i]) != here.end()) {
          add_tag(out_.joints[i], tag_, cat("beside ", pack_.parts[to_size(part)].id), true);
        }
      }
    }
  }

  /// Where the conductors of a part, or of what it carries, are met. Where nothing says it they
  /// are where the part is.
  [[nodiscard]] std::vector<Spot> terminals_of(int part) const {
    std::vector<Spot> out = shown_of(part);
    for (std::size_t i = 0; i < pack_.parts.size(); ++i) {
      if (carries(to_int(i)) && pack::is_within(pack_, to_int(i), part) &&
          shown_of(to_int(i)).empty()) {
        out.push_back(spots_.parts[i]);
      }
    }
    return out;
  }

  [[nodiscard]] std::vector<Spot> shown_of(int part) const {
    std::vector<Spot> out;
    for (std::size_t i = 0; i < pack_.circuit.points.size(); ++i) {
      if (is_tagged(out_.points[i], tag_) &&
          pack::is_within(pack_, pack_.circuit.points[i].part, part)) {
        out.push_back(spots_.points[i]);
      }
    }
    for (std::size_t i = 0; i < pack_.joints.size(); ++i) {
      const std::vector<int>& held = pack_.joints[i].parts;
      if (is_tagged(out_.joints[i], tag_) && std::any_of(held.begin(), held.end(), [&](int other) {
            return pack::is_within(pack_, other, part);
          })) {
        out.push_back(spots_.joints[i]);
      }
    }
    return out;
  }

  /// True when the lid is in front of a conductor of the part.
  [[nodiscard]] bool bares(int lid, int part) const {
    for (const Spot& spot : terminals_of(part)) {
      for (const pack::Way& way : spot.behind) {
        if (holds(way.parts, lid)) {
          return true;
        }
      }
    }
    return false;
  }

  const pack::Pack& pack_;
  const Spots& spots_;
  const std::vector<bool>& nodes_;
  pack::Contact tag_;
  Hazards& out_;
};

}  // namespace

void add_tag(Hazards::Tags& tags, pack::Contact tag, std::string why, bool near) {
  const auto there =
      std::find_if(tags.begin(), tags.end(), [tag](const Derived& one) { return one.tag == tag; });
  if (there == tags.end()) {
    tags.push_back({tag, std::move(why), near});
  } else if (there->near && !near) {
    *there = {tag, std::move(why), near};
  }
}

bool is_tagged(const Hazards::Tags& tags, pack::Contact tag) {
  return std::any_of(tags.begin(), tags.end(),
                     [tag](const Derived& one) { return one.tag == tag && !one.near; });
}

void tag_conductors(const pack::Pack& pack, const Spots& spots, Hazards& hazards) {
  Conductors(pack, spots, hazards.live_nodes, pack::Contact::live, hazards).run();
  Conductors(pack, spots, hazards.charged_nodes, pack::Contact::stored_charge, hazards).run();
}

void tag_heat(const pack::Pack& pack, const Spots& spots, Hazards& hazards) {
  const auto here = [](const Spot& spot, const std::vector<Spot>& hot) {
    return !spot.behind.empty() && std::find(hot.begin(), hot.end(), spot) != hot.end();
  };
  for (const pack::Element& element : pack.circuit.elements) {
    if (element.kind != pack::ElementKind::heater || element.part < 0) {
      continue;
    }
    const std::string why = cat("heater ", element.id);
    std::vector<Spot> hot = {spots.parts[to_size(element.part)]};
    add_tag(hazards.parts[to_size(element.part)], pack::Contact::hot, why);
    for (std::size_t i = 0; i < pack.joints.size(); ++i) {
      if (holds(pack.joints[i].parts, element.part)) {
        add_tag(hazards.joints[i], pack::Contact::hot, why);
        hot.push_back(spots.joints[i]);
      }
    }
    for (std::size_t i = 0; i < pack.circuit.points.size(); ++i) {
      if (pack.circuit.points[i].part == element.part) {
        add_tag(hazards.points[i], pack::Contact::hot, why);
        hot.push_back(spots.points[i]);
      }
    }
    const std::string beside = cat("beside heater ", element.id);
    const auto tag_near = [&](std::vector<Hazards::Tags>& things, const std::vector<Spot>& at) {
      for (std::size_t i = 0; i < things.size(); ++i) {
        if (here(at[i], hot)) {
          add_tag(things[i], pack::Contact::hot, beside, true);
        }
      }
    };
    tag_near(hazards.parts, spots.parts);
    tag_near(hazards.joints, spots.joints);
    tag_near(hazards.points, spots.points);
  }
}

}  // namespace kp::job
