#include "job/bind_plan.hpp"

#include <algorithm>
#include <utility>

#include "base/text.hpp"
#include "job/bind_circuit.hpp"
#include "job/bind_prove.hpp"

namespace kp::job {

namespace {

constexpr std::int64_t kSecond = 1000;
/// What a blocked deed costs in a plan: any other way is taken first, and where there is none the
/// plan still leads through it, for the technician to drill, cut or call for help.
constexpr std::int64_t kBlockedMs = 4 * 3600 * kSecond;

plan::Joint bind_joint(const pack::Joint& joint) {
  plan::Joint out;
  out.name = joint.name;
  out.parts = joint.parts;
  out.tool = joint.tool == 0 ? -1 : joint.tool;  // the bare hand holds any tool meanwhile
  out.cost_ms = static_cast<std::int64_t>(joint.count) * joint.seconds_each * kSecond;
  out.positions = joint.positions;
  out.behind = bind_access(joint.behind);
  out.needs_released = joint.needs_released;
  return out;
}

plan::Part bind_part(const pack::Part& part) {
  plan::Part out;
  out.name = part.name;
  out.inside = part.inside;
  out.removable = part.removable;
  out.cost_ms = part.seconds * kSecond;
  out.positions = part.positions;
  out.behind = bind_access(part.behind);
  return out;
}

/// Gravity: never all fixings loose with the door open on nothing.
plan::Forbidden bind_tipping(const pack::Pack& pack) {
  plan::Forbidden out;
  for (int i = 0; i < to_int(pack.positions.size()); ++i) {
    const pack::Position& position = pack.positions[to_size(i)];
    if (position.door_open && !position.propped) {
      out.positions.push_back(i);
    }
  }
  for (int i = 0; i < to_int(pack.joints.size()); ++i) {
    if (pack.joints[to_size(i)].against_tipping) {
      out.joints.push_back(i);
    }
  }
  return out;
}

plan::Kind kind_of(Deed deed) {
  switch (deed) {
    case Deed::turn:
      return plan::Kind::turn;
    case Deed::release:
      return plan::Kind::release;
    case Deed::remove:
    case Deed::swap:
      return plan::Kind::remove;
    case Deed::set:
      return plan::Kind::set;
    case Deed::fasten:
      return plan::Kind::fasten;
  }
  return plan::Kind::turn;
}

/// Reported as impossible, and not done since.
bool still_blocked(const State& state, const Recorded<StepBlocked>& blocked) {
  return std::none_of(state.steps.begin(), state.steps.end(), [&](const auto& step) {
    return step.stamp.n > blocked.stamp.n && step.body.what == blocked.body.what &&
           kind_of(step.body.deed) == kind_of(blocked.body.deed);
  });
}

plan::Problem with_blocked(const Model& model, const State& state) {
  plan::Problem problem = model.problem;
  const pack::Pack& pack = model.pack;
  const auto bar = [](std::int64_t& cost, std::int64_t normal) { cost = normal + kBlockedMs; };
  for (const auto& blocked : state.blocked) {
    if (!still_blocked(state, blocked)) {
      continue;
    }
    const std::string& what = blocked.body.what;
    if (blocked.body.deed == Deed::turn) {
      // Whichever way the unit would come there.
      for (std::size_t turn = 0; turn < problem.turns.size(); ++turn) {
        if (pack.changes[turn].to == pack.position(what)) {
          bar(problem.turns[turn].cost_ms, model.problem.turns[turn].cost_ms);
        }
      }
      continue;
    }
    const bool on_joint = blocked.body.deed == Deed::release || blocked.body.deed == Deed::fasten;
    const int index = on_joint ? pack.joint(what) : pack.part(what);
    if (index < 0) {
      continue;
    }
    const std::size_t at = to_size(index);
    if (on_joint) {
      bar(problem.joints[at].cost_ms, model.problem.joints[at].cost_ms);
    } else {
      bar(problem.parts[at].cost_ms, model.problem.parts[at].cost_ms);
    }
  }
  return problem;
}

/// What the way in of this job leads to.
plan::Targets targets_in(const pack::Pack& pack, const State& state) {
  if (state.mend >= 0 && state.targets.size() == 1) {
    return uncovered(pack, state.targets.front());
  }
  plan::Targets targets;
  targets.parts = state.targets;
  return targets;
}

}  // namespace

plan::Access bind_access(const pack::Access& behind) {
  plan::Access out;
  for (const pack::Way& way : behind) {
    out.emplace_back(way.parts, way.positions);
  }
  return out;
}

plan::Problem bind_plan(const pack::Pack& pack) {
  plan::Problem problem;
  for (const pack::Position& position : pack.positions) {
    problem.positions.push_back(plan::Position{position.title});
  }
  for (const pack::PositionChange& change : pack.changes) {
    problem.turns.push_back(plan::Turn{change.from, change.to,
                                       static_cast<std::int64_t>(change.seconds) * kSecond,
                                       change.needs_released, change.needs_removed});
  }
  for (const pack::Tool& tool : pack.tools) {
    problem.tools.push_back(plan::Tool{tool.title, tool.change_seconds * kSecond});
  }
  for (const pack::Part& part : pack.parts) {
    problem.parts.push_back(bind_part(part));
  }
  for (const pack::Joint& joint : pack.joints) {
    problem.joints.push_back(bind_joint(joint));
  }
  plan::Forbidden tipping = bind_tipping(pack);
  if (!tipping.positions.empty() && !tipping.joints.empty()) {
    problem.forbidden.push_back(std::move(tipping));
  }
  return problem;
}

Result<Model> make_model(pack::Pack pack) {
  Model model;
  model.problem = bind_plan(pack);
  auto rules = plan::Rules::make(model.problem);
  if (!rules.has_value()) {
    return fail(rules.error());
  }
  model.rules = std::move(rules.value());
  model.pack = std::move(pack);
  if (model.pack.circuit.there()) {
    model.netlist = bind_circuit(model.pack);
  }
  fill_bands(model.pack);
  model.hazards = hazards_of(model.pack);
  return model;
}

int Library::find(std::string_view pack_id) const {
  for (int index = 0; index < to_int(models.size()); ++index) {
    if (models[to_size(index)].pack.id == pack_id) {
      return index;
    }
  }
  return -1;
}

plan::State initial_unit(const Model&) { return plan::State{}; }

int subject_index(const pack::Pack& pack, const plan::State& unit, Deed deed,
                  std::string_view what) {
  switch (deed) {
    case Deed::release:
    case Deed::fasten:
      return pack.joint(what);
    case Deed::remove:
    case Deed::swap:
    case Deed::set:
      return pack.part(what);
    case Deed::turn: {
      const int to = pack.position(what);
      for (int index = 0; index < to_int(pack.changes.size()); ++index) {
        const pack::PositionChange& change = pack.changes[to_size(index)];
        if (change.from == unit.position && change.to == to) {
          return index;
        }
      }
      return -1;
    }
  }
  return -1;
}

bool as_action(const Model& model, Deed deed, std::string_view what, plan::State& unit,
               plan::Action& out) {
  const int index = subject_index(model.pack, unit, deed, what);
  if (index < 0) {
    return false;
  }
  out = plan::Action{kind_of(deed), index};
  if (deed == Deed::release || deed == Deed::fasten) {
    const int tool = model.problem.joints[to_size(index)].tool;
    unit.tool = tool >= 0 ? tool : unit.tool;
  }
  return true;
}

void do_deed(const Model& model, plan::State& unit, Deed deed, std::string_view what) {
  plan::State holding = unit;
  plan::Action action;
  if (as_action(model, deed, what, holding, action) && model.rules.legal(holding, action)) {
    unit = model.rules.apply(holding, action);
  }
}

bool is_closed(const Model& model, const plan::State& unit) {
  return unit.released.none() && unit.removed.none() && unit.position == model.problem.home;
}

bool are_away(const plan::State& unit, const std::vector<int>& parts) {
  return std::all_of(parts.begin(), parts.end(),
                     [&](int part) { return unit.removed.test(part); });
}

bool is_renewed(const State& state, const pack::Pack& pack, int target) {
  return std::any_of(state.swapped.begin(), state.swapped.end(), [&](const auto& swap) {
    return swap.stamp.n > state.targets_n && swap.body.part == pack.parts[to_size(target)].id;
  });
}

plan::Targets uncovered(const pack::Pack& pack, int part) {
  plan::Targets targets;
  targets.points.push_back(plan::Point{part, bind_access(pack.parts[to_size(part)].behind)});
  targets.positions = pack.parts[to_size(part)].positions;
  return targets;
}

bool are_reached(const Model& model, const State& state) {
  if (state.mend < 0) {
    return are_away(state.unit, state.targets);
  }
  return plan::is_reached(model.rules, state.unit, targets_in(model.pack, state));
}

plan::Plan plan_in(const Model& model, const State& state) {
  const plan::Targets targets = targets_in(model.pack, state);
  if (state.blocked.empty()) {
    return plan::reach(model.rules, state.unit, targets);
  }
  return plan::reach(with_blocked(model, state), state.unit, targets);
}

plan::Plan plan_back(const Model& model, const State& state) {
  return order_for_proofs(model, state.unit,
                          state.blocked.empty()
                              ? plan::refit(model.rules, state.unit)
                              : plan::refit(with_blocked(model, state), state.unit));
}

}  // namespace kp::job
