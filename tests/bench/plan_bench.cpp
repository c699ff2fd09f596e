// Times the planner on made-up units of 35 removable parts and 60 joints, and on the shipped pack:
// each part as a target of its own, everything taken apart, and the way back from there. Prints one
// JSON object a line.

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <string>
#include <vector>

#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "pack/load.hpp"
#include "plan/plan.hpp"
#include "support/random.hpp"

namespace kp::plan {
namespace {

// Positions: in its place, door open, pulled out, on its back, on its side.
constexpr int kHome = 0, kDoorOpen = 1, kPulledOut = 2, kOnBack = 3, kOnSide = 4;

void both_ways(Problem& p, int a, int b, int out_s, int back_s, std::vector<int> needs = {}) {
  p.turns.push_back(Turn{a, b, out_s * 1000, needs});
  p.turns.push_back(Turn{b, a, back_s * 1000, std::move(needs)});
}

/// Five zones of seven parts, each with its own postures; the last zone is an assembly that comes
/// out as a whole. Parts hide behind earlier parts of their zone, some of them in two ways.
Problem unit(std::uint64_t seed) {
  test::Random random(seed);
  Problem p;
  p.positions.resize(5);
  p.first_tool_free = true;
  for (int t = 0; t < 8; ++t) p.tools.push_back(Tool{"", t == 0 ? 2000 : 6000 + 1000 * (t % 3)});
  const std::vector<std::vector<int>> where{
      {kDoorOpen}, {kHome, kDoorOpen}, {kPulledOut}, {kPulledOut, kOnBack}, {kOnBack, kOnSide}};
  for (int zone = 0; zone < 5; ++zone) {
    for (int k = 0; k < 7; ++k) {
      const int i = zone * 7 + k;
      Part part;
      part.cost_ms = 1000 * random.between(2, 20);
      part.positions = random.chance(0.7) ? where[to_size(zone)] : std::vector<int>{};
      if (zone == 4 && k >= 3) part.inside = zone * 7 + 2;
      const int first = zone * 7;
      if (k > 0 && random.chance(0.8)) {
        part.behind.push_back({random.between(first, i - 1)});
        if (k > 2 && random.chance(0.4)) part.behind[0].parts.push_back(random.between(first, i - 1));
        if (random.chance(0.2)) part.behind.push_back({random.between(0, i - 1)});
      }
      p.parts.push_back(part);
      const int joints = (i < 25) ? 2 : 1;
      for (int n = 0; n < joints; ++n) {
        Joint joint;
        joint.parts = {i};
        joint.tool = random.chance(0.4) ? 0 : random.between(1, 7);
        joint.cost_ms = 1000 * random.between(3, 40);
        joint.positions = part.positions;
        if (k > 0 && random.chance(0.5)) joint.behind = {{random.between(first, i - 1)}};
        p.joints.push_back(joint);
      }
    }
  }
  // Two joints of the first parts of the zone "in its place" hold the unit in its niche.
  const std::vector<int> fixing{14, 15};
  for (const int j : fixing) p.joints[to_size(j)].positions = {kHome, kDoorOpen};
  both_ways(p, kHome, kDoorOpen, 5, 5);
  both_ways(p, kHome, kPulledOut, 60, 90, fixing);
  both_ways(p, kPulledOut, kOnBack, 90, 80);
  both_ways(p, kPulledOut, kOnSide, 70, 75);
  both_ways(p, kOnBack, kOnSide, 40, 45);
  return p;
}

struct Timer {
  std::vector<double> us;
  bool proved = true;
  std::uint64_t most_expanded = 0;

  template <class F>
  Plan time(F f) {
    const auto start = std::chrono::steady_clock::now();
    Plan plan = f();
    const auto end = std::chrono::steady_clock::now();
    us.push_back(std::chrono::duration<double, std::micro>(end - start).count());
    proved = proved && (plan.proved || plan.error.has_value());
    most_expanded = std::max(most_expanded, plan.expanded);
    return plan;
  }

  void print(const std::string& name) {
    if (us.empty()) return;
    std::sort(us.begin(), us.end());
    std::printf("{\"name\":\"%s\",\"median_us\":%.1f,\"worst_us\":%.1f,\"n\":%d,\"proved\":%s,"
                "\"most_expanded\":%llu}\n",
                name.c_str(), us[us.size() / 2], us.back(), to_int(us.size()), proved ? "true" : "false",
                static_cast<unsigned long long>(most_expanded));
  }
};

struct Timers {
  Timer one;
  Timer all;
  Timer back;

  void time(const Problem& problem) {
    const Result<Rules> rules = Rules::make(problem);
    if (!rules.has_value()) return;
    Targets everything;
    for (int part = 0; part < to_int(problem.parts.size()); ++part) {
      const Targets target{{part}, {}, {}};
      if (one.time([&] { return reach(rules.value(), State{}, target); }).error) continue;
      everything.parts.push_back(part);
    }
    const Plan plan = all.time([&] { return reach(rules.value(), State{}, everything); });
    State state;
    for (const Step& step : plan.steps) {
      state = rules.value().apply(state, Action{step.kind, step.subject});
    }
    back.time([&] { return refit(rules.value(), state); });
  }

  void print(const std::string& unit) {
    one.print(cat("plan_reach_one_", unit));
    all.print(cat("plan_reach_all_", unit));
    back.print(cat("plan_refit_all_", unit));
  }
};

void run_made_up() {
  Timers timers;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) timers.time(unit(seed));
  timers.print("of_35");
}

void run_shipped(const std::string& pack) {
  const std::string path = cat(KP_SOURCE_DIR, "/assets/packs/", pack, "/pack.json");
  std::FILE* file = std::fopen(path.c_str(), "rb");
  if (file == nullptr) return;
  std::string text;
  char buffer[4096];
  for (std::size_t got = 1; got > 0;) {
    got = std::fread(buffer, 1, sizeof buffer, file);
    text.append(buffer, got);
  }
  std::fclose(file);
  const pack::Loaded loaded = pack::load(text);
  if (!loaded.pack) return;
  Timers timers;
  timers.time(job::bind_plan(*loaded.pack));
  timers.print(pack);
}

}  // namespace
}  // namespace kp::plan

int main() {
  kp::plan::run_made_up();
  kp::plan::run_shipped("pump-module");
  return 0;
}
