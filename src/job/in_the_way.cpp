// Why hands cannot do a deed to the machine as it stands.
#include <algorithm>
#include <utility>

#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "pack/reach.hpp"

namespace kp::job {

namespace {

void add(std::vector<safety::Reason>& out, const char* code, std::string sentence) {
  out.push_back(safety::Reason{code, std::move(sentence), 0});
}

void explain_position(const Model& model, const plan::State& unit,
                      const std::vector<int>& positions, std::vector<safety::Reason>& out) {
  if (positions.empty() ||
      std::find(positions.begin(), positions.end(), unit.position) != positions.end()) {
    return;
  }
  add(out, "wrong-position",
      cat("Bring the unit to: ", model.pack.positions[to_size(positions.front())].title, "."));
}

/// `shared`: what carries the thing that is covered.
void explain_cover(const Model& model, const plan::State& unit, const pack::Access& behind,
                   const std::vector<int>& shared, std::vector<safety::Reason>& out) {
  std::vector<bool> removed(model.pack.parts.size());
  unit.removed.each([&](int part) { removed[to_size(part)] = true; });
  std::vector<bool> here(model.pack.positions.size());
  here[to_size(unit.position)] = true;
  if (pack::is_open(model.pack, behind, shared, removed, here)) {
    return;
  }
  // A way that is free of parts lacks only the position; else the author's first way is told.
  for (const pack::Way& way : behind) {
    if (pack::is_open(model.pack, {way}, shared, removed)) {
      explain_position(model, unit, way.positions, out);
      return;
    }
  }
  for (const int part : behind.front().parts) {
    if (!pack::is_open(model.pack, {pack::Way{part}}, shared, removed)) {
      add(out, "covered", cat("Take away first: ", model.pack.parts[to_size(part)].name, "."));
    }
  }
}

void explain_loose(const Model& model, const plan::State& unit, const std::vector<int>& joints,
                   std::vector<safety::Reason>& out) {
  for (const int joint : joints) {
    if (!unit.released.test(joint)) {
      add(out, "still-held", cat("Release first: ", model.pack.joints[to_size(joint)].name, "."));
    }
  }
}

void explain_ties(const Model& model, const plan::State& unit, int part,
                  std::vector<safety::Reason>& out) {
  std::vector<int> ties;
  model.rules.ties(part).each([&ties](int joint) { ties.push_back(joint); });
  explain_loose(model, unit, ties, out);
}

/// `parts`: what must be away before the unit is turned.
void explain_loose_parts(const Model& model, const plan::State& unit, const std::vector<int>& parts,
                         std::vector<safety::Reason>& out) {
  if (!parts.empty()) {
    explain_cover(model, unit, {pack::Way(parts)}, {}, out);
  }
}

/// The unit would tip: loose, with its door open on nothing.
void explain_tipping(const Model& model, const plan::State& unit, Deed deed,
                     const plan::Action& action, std::vector<safety::Reason>& out) {
  if (model.rules.forbidden_after(unit, action) < 0) {
    return;
  }
  const std::vector<pack::Position>& all = model.pack.positions;
  const bool props = std::any_of(all.begin(), all.end(),
                                 [](const pack::Position& position) { return position.propped; });
  if (deed == Deed::turn) {
    add(out, "would-tip",
        props ? "Fasten one fixing first, or prop the door." : "Fasten one fixing first.");
  } else if (deed == Deed::release) {
    add(out, "would-tip", "Shut the door first. This is the last fixing.");
  } else {
    add(out, "would-tip", "Shut the door first. The unit is loose.");
  }
}

}  // namespace

std::vector<safety::Reason> in_the_way(const Model& model, const plan::State& unit, Deed deed,
                                       std::string_view what) {
  std::vector<safety::Reason> out;
  plan::State holding = unit;
  plan::Action action;
  if (!as_action(model, deed, what, holding, action)) {
    add(out, "no-such-step", cat("\"", what, "\" cannot be done from here."));
    return out;
  }
  if (model.rules.legal(holding, action)) {
    return out;
  }
  const pack::Pack& pack = model.pack;
  const std::size_t at = to_size(action.subject);
  switch (deed) {
    case Deed::release:
      explain_position(model, unit, pack.joints[at].positions, out);
      explain_cover(model, unit, pack.joints[at].behind,
                    pack::joint_carriers(pack, pack.joints[at]), out);
      explain_loose(model, unit, pack.joints[at].needs_released, out);
      break;
    case Deed::fasten:
      explain_position(model, unit, pack.joints[at].positions, out);
      for (const int part : pack.joints[at].parts) {
        if (unit.removed.test(part)) {
          add(out, "part-away", cat("Set first: ", pack.parts[to_size(part)].name, "."));
        }
      }
      break;
    case Deed::remove:
    case Deed::swap:
      explain_position(model, unit, pack.parts[at].positions, out);
      explain_cover(model, unit, pack.parts[at].behind, pack::carriers(pack, action.subject), out);
      explain_ties(model, unit, action.subject, out);
      break;
    case Deed::set:
      explain_position(model, unit, pack.parts[at].positions, out);
      break;
    case Deed::turn:
      explain_loose(model, unit, pack.changes[at].needs_released, out);
      explain_loose_parts(model, unit, pack.changes[at].needs_removed, out);
      break;
  }
  explain_tipping(model, unit, deed, action, out);
  if (out.empty()) {
    add(out, "not-now", "Follow the plan: this is not possible yet, or it is done already.");
  }
  return out;
}

}  // namespace kp::job
