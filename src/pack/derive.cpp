// What a pack says once and others need elsewhere: a test's way to its points, a complaint's
// suspects.
#include <algorithm>
#include <cmath>
#include <utility>

#include "base/text.hpp"
#include "pack/model.hpp"
#include "pack/source.hpp"

namespace kp::pack {
namespace {

constexpr double kMostOhm = 1e8;
constexpr double kMostVolt = 1000;
constexpr double kMostAmpere = 1000;

std::vector<int> joined(std::vector<int> all, const std::vector<int>& more) {
  for (const int one : more) {
    if (std::find(all.begin(), all.end(), one) == all.end()) {
      all.push_back(one);
    }
  }
  return all;
}

}  // namespace

bool meet(const std::vector<int>& a, const std::vector<int>& b, std::vector<int>& both) {
  std::vector<int> common = a.empty() ? b : a;
  if (!a.empty() && !b.empty()) {
    common.erase(std::remove_if(common.begin(), common.end(),
                                [&b](int one) {
                                  return std::find(b.begin(), b.end(), one) == b.end();
                                }),
                 common.end());
  }
  both = std::move(common);
  return !both.empty() || (a.empty() && b.empty());
}

bool meet(const Access& a, const Access& b, Access& both) {
  if (a.empty() || b.empty() || a == b) {
    both = Access(a.empty() ? b : a);
    return true;
  }
  Access ways;
  for (const Way& first : a) {
    for (const Way& second : b) {
      Way way;
      if (!meet(first.positions, second.positions, way.positions)) {
        continue;
      }
      way.parts = joined(first.parts, second.parts);
      if (std::find(ways.begin(), ways.end(), way) == ways.end()) {
        ways.push_back(std::move(way));
      }
    }
  }
  both = std::move(ways);
  return !both.empty();
}

namespace {

void go_to_point(const TestPoint& point, Test& test) {
  std::vector<int> positions;
  if (meet(test.positions, point.positions, positions)) {
    test.positions = positions;
  }
  Access behind;
  if (meet(test.behind, point.behind, behind)) {
    test.behind = behind;
  }
  test.needs_released = joined(test.needs_released, point.needs_released);
}

void give_field(Test& test) {
  const bool ampere = test.probe == Probe::ampere_live;
  const bool volt = test.probe == Probe::volt_live || test.probe == Probe::volt_low_live;
  if (test.unit.empty()) {
    test.unit = ampere ? "A" : volt ? "V" : "Ω";
  }
  if (test.field_low == 0 && test.field_high == 0) {
    test.field_high = ampere ? kMostAmpere : volt ? kMostVolt : kMostOhm;
  }
}

/// One suspect a part, by prior and chance, in whole percent that are at least one.
std::vector<Suspect> suspects_of(const Pack& pack, const Symptom& symptom) {
  std::vector<Suspect> all;
  std::vector<double> best;
  double sum = 0;
  for (const Shows& cause : symptom.causes) {
    const Fault& fault = pack.faults[to_size(cause.fault)];
    const double weight = fault.weight * cause.chance;
    sum += weight;
    auto at = std::find_if(all.begin(), all.end(),
                           [&fault](const Suspect& one) { return one.part == fault.part; });
    if (at == all.end()) {
      all.push_back(Suspect{fault.part, weight, fault.title});
      best.push_back(weight);
      continue;
    }
    at->weight += weight;
    double& heaviest = best[to_size(at - all.begin())];
    if (weight > heaviest) {
      heaviest = weight;
      at->fault = fault.title;
    }
  }
  for (Suspect& suspect : all) {
    suspect.weight = std::max(1.0, std::round(100 * suspect.weight / sum));
  }
  std::stable_sort(all.begin(), all.end(), [](const Suspect& left, const Suspect& right) {
    return left.weight > right.weight;
  });
  return all;
}

}  // namespace

void derive(Pack& pack) {
  for (Test& test : pack.tests) {
    if (test.point_a >= 0) {
      go_to_point(pack.circuit.points[to_size(test.point_a)], test);
      go_to_point(pack.circuit.points[to_size(test.point_b)], test);
    }
    if (test.on_circuit()) {
      give_field(test);
    }
    test.running = test.running || is_live(test.probe);
  }
  for (Symptom& symptom : pack.symptoms) {
    if (symptom.suspects.empty() && !symptom.causes.empty()) {
      symptom.suspects = suspects_of(pack, symptom);
    }
  }
}

}  // namespace kp::pack
