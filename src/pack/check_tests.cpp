#include <algorithm>
#include <cmath>

#include "pack/report.hpp"
#include "pack/source.hpp"

namespace kp::pack {
namespace {

/// What is wrong with a test's figures, or empty.
std::string bounds_fault(const Test& test) {
  const bool banded = test.low < test.high;
  if (test.on_circuit()) {
    return test.low == 0 && test.high == 0 ? "" : "its band follows from the circuit";
  }
  if (test.low > test.high) {
    return cat("\"low\" ", number_text(test.low), " is above \"high\" ", number_text(test.high));
  }
  if (banded && test.probe == Probe::look) {
    return "a look has a band";
  }
  if (!banded) {
    return test.probe == Probe::look ? "" : "a measurement has no band";
  }
  if (test.unit.empty()) {
    return "a band has no unit";
  }
  if (test.probe == Probe::ohm && test.low < 0) {
    return "a resistance is below zero";
  }
  if (test.field_low >= test.field_high) {
    return "the field takes nothing";
  }
  const double most = std::isfinite(test.high) ? test.high : test.low;
  if (test.low < test.field_low || most > test.field_high) {
    return "the field does not take the whole band";
  }
  return "";
}

std::string bounds_fault(const ProveTest& test) {
  const bool bounded = test.has_low || test.has_high;
  if (test.unit.empty()) {
    return bounded ? "a bound has no unit" : "";
  }
  if (!bounded) {
    return "a reading has no bound";
  }
  if (test.has_low && test.has_high && test.low > test.high) {
    return cat("\"low\" ", number_text(test.low), " is above \"high\" ", number_text(test.high));
  }
  if (test.field_low >= test.field_high) {
    return "the field takes nothing";
  }
  const auto outside = [&test](double bound) {
    return bound < test.field_low || bound > test.field_high;
  };
  if ((test.has_low && outside(test.low)) || (test.has_high && outside(test.high))) {
    return "the field does not take its bound";
  }
  return "";
}

/// What is wrong between a test and its meter, or empty.
std::string circuit_fault(const Pack& pack, const Test& test) {
  const bool meter = test.probe != Probe::look && test.probe != Probe::other;
  if (!test.on_circuit()) {
    const bool plain = test.probe != Probe::continuity && test.probe != Probe::volt_low_live &&
                       test.probe != Probe::ampere_live;
    return plain ? "" : "this setting of the meter needs test points";
  }
  if (!meter) {
    return "no meter is put on its test points";
  }
  if ((test.probe == Probe::ampere_live) != !test.clamped.empty() ||
      (!test.clamped.empty() && test.point_a >= 0)) {
    return "amperes are read by a clamp, all else between two points";
  }
  if (!is_live(test.probe) && test.running) {
    return "ohms are read in a machine that runs";
  }
  const auto parts = [&pack](int element) {
    return pack.circuit.elements[to_size(element)].terminal.empty();
  };
  return std::any_of(test.off.begin(), test.off.end(), parts)
             ? "it parts an element that has no terminal"
             : "";
}

/// Whether both points of a test can be had at the same time, or there are none.
bool points_meet(const Pack& pack, const Test& test) {
  if (test.point_a < 0) {
    return true;
  }
  const TestPoint& a = pack.circuit.points[to_size(test.point_a)];
  const TestPoint& b = pack.circuit.points[to_size(test.point_b)];
  std::vector<int> positions;
  Access behind;
  return meet(a.positions, b.positions, positions) && meet(a.behind, b.behind, behind) &&
         meet(test.positions, positions, positions) && meet(test.behind, behind, behind);
}

void check_on_circuit(const Pack& pack, int index, Report& report) {
  const Test& test = pack.tests[to_size(index)];
  const std::string wrong = circuit_fault(pack, test);
  if (!wrong.empty()) {
    report.add("test-circuit", at("tests", index), cat("test ", quoted(test.id), ": ", wrong),
               "Write two points, or a clamp, and the meter's setting for them.");
  }
  if (!points_meet(pack, test)) {
    report.add("points-apart", at("tests", index),
               cat("the points of the test ", quoted(test.id), " cannot be had together"),
               "Name points that the unit shows in one position.");
  }
  if (test.probe == Probe::look && !test.shows.empty() && (test.good.empty() || test.bad.empty())) {
    report.add("test-words", at("tests", index),
               cat("the look ", quoted(test.id), " has no words for what is seen"),
               "Add \"good\" and \"bad\".");
  }
}

bool is_reachable(const Pack& pack, const Test& test, const Reach& reach) {
  return any_reached(test.positions, reach) &&
         is_open(pack, test.behind, carriers(pack, test.part), reach.parts,
                 places_of(test.positions, reach)) &&
         std::all_of(test.needs_released.begin(), test.needs_released.end(),
                     [&reach](int joint) { return reach.joints[to_size(joint)]; });
}

void check_when(const Pack& pack, ProveWhen when, Report& report) {
  const bool there =
      std::any_of(pack.prove_tests.begin(), pack.prove_tests.end(),
                  [when](const ProveTest& test) { return test.when == when; });
  if (!there) {
    report.add("prove-missing", "/prove_tests",
               cat("nothing is proved at the stage ",
                   quoted(prove_when_words()[static_cast<std::size_t>(when)])),
               "Add a prove test of that stage.");
  }
}

}  // namespace

void check_symptoms(const Pack& pack, Report& report) {
  std::vector<bool> told(pack.parts.size());
  for (std::size_t i = 0; i < pack.symptoms.size(); ++i) {
    const Symptom& symptom = pack.symptoms[i];
    if (symptom.suspects.empty()) {
      report.add("symptom-empty", at("symptoms", to_int(i)),
                 cat("the symptom ", quoted(symptom.id), " has no suspect"),
                 "Add the parts that can cause it.");
    }
    for (const Suspect& suspect : symptom.suspects) {
      const Part& part = pack.parts[to_size(suspect.part)];
      if (told[to_size(suspect.part)]) {
        continue;
      }
      told[to_size(suspect.part)] = true;
      // With causes, what mends each of them counts (fault-mend).
      if (part.stock.empty() && symptom.causes.empty()) {
        report.add("stock-missing", at("parts", suspect.part),
                   cat("the part ", quoted(part.id), " is a suspect and has no stock number"),
                   "Add its \"stock\" and \"price_minor\".");
      }
      const bool tested = std::any_of(
          pack.tests.begin(), pack.tests.end(),
          [&suspect](const Test& test) { return test.part == suspect.part; });
      if (!tested) {
        report.add("suspect-untested", at("parts", suspect.part),
                   cat("the part ", quoted(part.id), " is a suspect and no test looks at it"),
                   "Add a test of this part.");
      }
    }
  }
  for (std::size_t i = 0; i < pack.parts.size(); ++i) {
    if (!pack.parts[i].stock.empty() && pack.parts[i].price_minor == 0) {
      report.add("price-missing", at("parts", to_int(i)),
                 cat("the part ", quoted(pack.parts[i].id), " has a stock number and no price"),
                 "Add its \"price_minor\".");
    }
  }
}

void check_tests(const Pack& pack, const Reach& reach, Report& report) {
  for (std::size_t i = 0; i < pack.tests.size(); ++i) {
    const Test& test = pack.tests[i];
    const std::string fault = bounds_fault(test);
    if (!fault.empty()) {
      report.add("test-bounds", at("tests", to_int(i)), cat("test ", quoted(test.id), ": ", fault),
                 "Write low < high inside the field, with a unit; a look has none of them.");
    }
    check_on_circuit(pack, to_int(i), report);
    if (!is_reachable(pack, test, reach)) {
      report.add("test-out-of-reach", at("tests", to_int(i)),
                 cat("the test ", quoted(test.id), " can never be made"),
                 "Name positions, covers and joints that can be had.");
    }
  }
  for (std::size_t i = 0; i < pack.prove_tests.size(); ++i) {
    const std::string fault = bounds_fault(pack.prove_tests[i]);
    if (!fault.empty()) {
      report.add("prove-bounds", at("prove_tests", to_int(i)),
                 cat("prove test ", quoted(pack.prove_tests[i].id), ": ", fault),
                 "Write unit, bounds and field together; a look has none of them.");
    }
  }
  check_when(pack, ProveWhen::before_power, report);
  check_when(pack, ProveWhen::running, report);
}

}  // namespace kp::pack
