// What may be done now, and what it does: the one place where the meaning of an action is written.

#include "base/check.hpp"
#include "base/text.hpp"
#include "plan/rules.hpp"

namespace kp::plan {
namespace {

bool opens(Kind kind) { return kind == Kind::release || kind == Kind::remove; }

bool on_joint(Kind kind) { return kind == Kind::release || kind == Kind::fasten; }

}  // namespace

int Rules::forbidden_after(const State& state, Action action) const {
  if (bars_.empty() || action.kind == Kind::take_tool) return -1;
  ItemSet after = open(state);
  int position = state.position;
  if (action.kind == Kind::turn) {
    position = turns_[to_index(action.subject)].to;
  } else {
    const int index = on_joint(action.kind) ? action.subject : joints_ + action.subject;
    if (opens(action.kind)) {
      after.set(index);
    } else {
      after.reset(index);
    }
  }
  return barred_by(bars_, after, position);
}

bool Rules::legal(const State& state, Action action) const {
  const int i = action.subject;
  if (action.kind == Kind::turn) {
    if (i < 0 || i >= to_int(turns_.size())) return false;
    const RuleTurn& turn = turns_[to_index(i)];
    return turn.from == state.position && turn.stands(open(state)) &&
           forbidden_after(state, action) < 0;
  }
  if (action.kind == Kind::take_tool) return i >= 0 && i < tools() && i != state.tool;

  const bool joint = on_joint(action.kind);
  if (i < 0 || i >= (joint ? joints_ : parts_)) return false;
  const int index = joint ? i : joints_ + i;
  const Item& what = item(index);
  const ItemSet now = open(state);
  if (now.test(index) == opens(action.kind)) return false;
  if (what.tool != -1 && what.tool != state.tool) return false;
  if ((what.positions >> static_cast<unsigned>(state.position) & 1U) == 0) return false;

  ItemSet others = now;
  others.reset(index);
  bool free = false;
  for (const ItemWay& way : what.ways) free = free || way.stands(others, state.position);
  if (!free || forbidden_after(state, action) >= 0) return false;
  if (action.kind != Kind::fasten) return true;
  bool in_place = true;
  state.removed.each([&](int p) { in_place = in_place && !ties(p).test(i); });
  return in_place;
}

std::vector<Action> Rules::applicable(const State& state, const std::vector<Kind>& kinds) const {
  std::vector<Action> all;
  for (const Kind kind : kinds) {
    int count = on_joint(kind) ? joints_ : parts_;
    if (kind == Kind::turn) count = to_int(turns_.size());
    if (kind == Kind::take_tool) count = tools();
    for (int i = 0; i < count; ++i) {
      if (legal(state, Action{kind, i})) all.push_back(Action{kind, i});
    }
  }
  return all;
}

std::int64_t Rules::cost_ms(const State& state, Action action) const {
  if (action.kind == Kind::turn) return turns_[to_index(action.subject)].cost_ms;
  if (action.kind == Kind::take_tool) {
    return state.tool == -1 && first_tool_free_ ? 0 : take_ms(action.subject);
  }
  return item(on_joint(action.kind) ? action.subject : joints_ + action.subject).cost_ms;
}

State Rules::apply(State state, Action action) const {
  KP_CHECK(legal(state, action));
  switch (action.kind) {
    case Kind::turn: state.position = turns_[to_index(action.subject)].to; break;
    case Kind::take_tool: state.tool = action.subject; break;
    case Kind::release: state.released.set(action.subject); break;
    case Kind::remove: state.removed.set(action.subject); break;
    case Kind::fasten: state.released.reset(action.subject); break;
    case Kind::set: state.removed.reset(action.subject); break;
  }
  return state;
}

}  // namespace kp::plan
