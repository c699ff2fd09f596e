#include "job/find_standings.hpp"

#include <algorithm>
#include <utility>

#include "base/text.hpp"

namespace kp::job {
namespace {

bool same(const plan::Point& a, const plan::Point& b) {
  return a.on == b.on &&
         std::equal(a.behind.begin(), a.behind.end(), b.behind.begin(), b.behind.end(),
                    [](const plan::Way& x, const plan::Way& y) {
                      return x.parts == y.parts && x.positions == y.positions;
                    });
}

bool same(const plan::Targets& a, const plan::Targets& b) {
  return a.parts == b.parts && a.positions == b.positions &&
         std::equal(a.points.begin(), a.points.end(), b.points.begin(), b.points.end(),
                    [](const plan::Point& x, const plan::Point& y) { return same(x, y); });
}

double seconds_of(std::int64_t ms) { return static_cast<double>(ms) / 1000; }

}  // namespace

Standings::Standings(const Model& model, const plan::State& unit, bool running) : model_(model) {
  Standing now;
  now.running = running;
  all_.push_back(std::move(now));
  units_.push_back(unit);
  Standing closed;
  closed.running = true;
  closed.closed = true;
  (void)add(std::move(closed));
}

int Standings::add(Standing standing) {
  for (int i = 1; i < size(); ++i) {
    const Standing& other = at(i);
    if (other.closed == standing.closed && other.running == standing.running &&
        other.wiring == standing.wiring && same(other.targets, standing.targets)) {
      return i;
    }
  }
  standing.way = standing.closed
                     ? plan::refit(model_.rules, units_.front(), kRoughPlan)
                     : way_to(model_, units_.front(), standing.targets, standing.wiring, kRoughPlan);
  plan::State unit = units_.front();
  for (const plan::Step& step : standing.way.steps) {
    unit = model_.rules.apply(unit, plan::Action{step.kind, step.subject});
  }
  units_.push_back(std::move(unit));
  all_.push_back(std::move(standing));
  return size() - 1;
}

const Standing& Standings::at(int index) const { return all_[to_size(index)]; }

const plan::State& Standings::unit(int index) const { return units_[to_size(index)]; }

double Standings::seconds(int from, int to) const {
  if (from == to) {
    return 0;
  }
  const Standing& a = at(from);
  const Standing& b = at(to);
  plan::Plan other;
  const plan::Plan* way = &b.way;
  if (from != 0) {
    other = b.closed ? plan::refit(model_.rules, unit(from), kRoughPlan)
                     : way_to(model_, unit(from), b.targets, b.wiring, kRoughPlan);
    way = &other;
  }
  if (way->error) {
    return kFarSeconds;
  }
  if (way->steps.empty()) {
    return a.running == b.running ? 0 : b.running ? kPowerBackSeconds : kProveDeadSeconds;
  }
  return seconds_of(way->cost_ms) + (a.running ? kProveDeadSeconds : 0) +
         (b.running ? kPowerBackSeconds : 0);
}

}  // namespace kp::job
