#include "plan/opening.hpp"

#include "base/text.hpp"

namespace kp::plan {
namespace {

std::uint64_t bit(int i) { return std::uint64_t{1} << static_cast<unsigned>(i); }

Sequence jobs_of(const Rules& rules, const State& found) {
  Sequence s;
  s.positions = rules.positions();
  s.tools = rules.tools() + 1;
  s.empty_hand = true;
  for (int i = 0; i < rules.items(); ++i) {
    const Item& item = rules.item(i);
    Job& job = s.jobs.emplace_back();
    job.work = cost_of_ms(item.cost_ms);
    job.positions = item.positions;
    job.tools = item.tool == -1 ? s.every_tool() : bit(item.tool);
    job.ways = item.ways;
  }
  s.change.assign(to_size(s.tools * s.tools), 0);
  s.bars = rules.bars();
  s.real = ItemSet::up_to(rules.items());
  s.as_found = rules.open(found);
  s.found_at = found.position;
  return s;
}

void set_change(Sequence& s, int from, int to, Cost cost) {
  if (from != to) s.change[to_size(from * s.tools + to)] = cost;
}

Cost take(std::int64_t ms) { return cost_of_ms(ms) + kOneTake; }

}  // namespace

Sequence opening(const Rules& rules, const State& state) {
  Sequence s = jobs_of(rules, state);
  const int empty = rules.tools();
  for (int b = 0; b < empty; ++b) {
    for (int a = 0; a < empty; ++a) set_change(s, a, b, take(rules.take_ms(b)));
    set_change(s, empty, b, take(rules.first_tool_free() ? 0 : rules.take_ms(b)));
  }
  // Nothing needs the empty hand, so it is never gone back to.
  for (int a = 0; a < empty; ++a) set_change(s, a, empty, kNever);
  for (int t = 0; t < to_int(rules.turns().size()); ++t) {
    const RuleTurn& turn = rules.turns()[to_size(t)];
    for (const ItemSet& way : turn.ways) {
      s.moves.push_back(Move{turn.from, turn.to, cost_of_ms(turn.cost_ms), way, t});
    }
  }
  s.done = rules.open(state);
  s.position = state.position;
  s.tool = state.tool == -1 ? empty : state.tool;
  return s;
}

Sequence closing_backwards(const Rules& rules, const State& state) {
  Sequence s = jobs_of(rules, state);
  const int empty = rules.tools();
  s.by_exit = true;
  // Going back from a to b stands for taking a with b in the hand. Backwards the hand is empty at
  // first: with which tool the real work ends is free.
  for (int a = 0; a < empty; ++a) {
    for (int b = 0; b < empty; ++b) set_change(s, a, b, take(rules.take_ms(a)));
    const Cost first = take(rules.first_tool_free() ? 0 : rules.take_ms(a));
    set_change(s, a, empty, state.tool == -1 ? first : kNever);
  }
  for (int t = 0; t < to_int(rules.turns().size()); ++t) {
    const RuleTurn& turn = rules.turns()[to_size(t)];
    for (const ItemSet& way : turn.ways) {
      s.moves.push_back(Move{turn.to, turn.from, cost_of_ms(turn.cost_ms), way, t});
    }
  }
  s.position = rules.home();
  s.tool = empty;
  Job end;
  end.positions = bit(state.position);
  end.tools = bit(state.tool == -1 ? empty : state.tool);
  end.ways.push_back(ItemWay{rules.open(state)});
  s.end = to_int(s.jobs.size());
  s.jobs.push_back(std::move(end));
  return s;
}

}  // namespace kp::plan
