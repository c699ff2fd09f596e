#include <limits>

#include "pack/source.hpp"

namespace kp::pack {
namespace {

constexpr double kReading = 1e12;

Suspect read_suspect(data::Reader& from, const Names& names) {
  Suspect suspect;
  suspect.part = reference(from, "part", names.parts, "part");
  suspect.weight = from.number("weight", 1e-6, 1e6);
  suspect.fault = words(from, "fault");
  from.done();
  return suspect;
}

Symptom read_symptom(data::Reader& from, const Names& names) {
  Symptom symptom;
  symptom.id = id_text(from, "id");
  symptom.title = words(from, "title");
  for (data::Reader& suspect : from.list("suspects", false)) {
    symptom.suspects.push_back(read_suspect(suspect, names));
  }
  symptom.leak = from.number_or("leak", 0, 0, 0.999);
  symptom.causes = shows(from, "causes", names);
  from.done();
  return symptom;
}

/// How the circuit stands and where it is measured.
void read_measurement(data::Reader& from, const Names& names, Test& test) {
  if (from.has("between")) {
    const std::vector<data::Reader> both = items(from, "between", 2);
    const std::vector<int> points = references(both, names.points, "test point");
    if (both.size() > 2) {
      from.fault("too-many", "\"between\" names more than two test points",
                 "Keep the two that the probes touch.", "between");
    }
    if (points.size() == 2) {
      test.point_a = points[0];
      test.point_b = points[1];
    }
  }
  test.clamped = references(from, "clamp", names.elements, "element");
  test.running = from.flag_or("running", false);
  test.step = reference_or_none(from, "step", names.steps, "step");
  test.door_open = from.flag_or("door_open", false);
  test.float_up = from.flag_or("float_up", false);
  test.buttons_out = references(from, "buttons_out", names.elements, "element");
  test.off = references(from, "off", names.elements, "element");
  test.celsius = from.number_or("celsius", 20, -40, 150);
}

Test read_test(data::Reader& from, const Names& names) {
  Test test;
  test.id = id_text(from, "id");
  test.title = words(from, "title");
  test.how = words(from, "how");
  test.part = reference(from, "part", names.parts, "part");
  test.probe = static_cast<Probe>(from.choice("probe", probe_words()));
  test.unit = words_or_none(from, "unit");
  test.low = from.number_or("low", 0, -kReading, kReading);
  // A least value alone: more is better, and an open loop is best.
  const double most = from.has("low") ? std::numeric_limits<double>::infinity() : 0;
  test.high = from.number_or("high", most, -kReading, kReading);
  test.field_low = from.number_or("field_low", 0, -kReading, kReading);
  test.field_high = from.number_or("field_high", 0, -kReading, kReading);
  test.seconds = whole(from, "seconds", 0, 36000);
  test.positions = references(from, "positions", names.positions, "position");
  test.behind = access(from, "behind", names);
  test.needs_released = references(from, "needs_released", names.joints, "joint");
  test.caution = words_or_none(from, "caution");
  test.source = words(from, "source");
  test.eyes = from.flag_or("eyes", false);
  if (from.has("hot_at")) {
    test.hot_at = from.number("hot_at", 30, 150);
  }
  test.needs_live =
      static_cast<NeedsLive>(1 + from.choice_or("needs_live", needs_live_words(), -1));
  test.static_water = from.flag_or("static_water", false);
  read_measurement(from, names, test);
  test.good = words_or_none(from, "good");
  test.bad = words_or_none(from, "bad");
  test.leak = from.number_or("leak", 0, 0, 0.999);
  test.shows = shows(from, "shows", names);
  from.done();
  return test;
}

Fault read_fault(data::Reader& from, const Names& names) {
  Fault fault;
  fault.id = id_text(from, "id");
  fault.title = words(from, "title");
  fault.part = reference(from, "part", names.parts, "part");
  fault.weight = from.number("weight", 1e-6, 1e6);
  fault.effect = static_cast<Effect>(1 + from.choice_or("does", effect_words(), -1));
  fault.element = reference_or_none(from, "element", names.elements, "element");
  fault.amount = spread_or_none(from, "amount");
  fault.at = from.number_or("at", 0, 0, 1);
  fault.mend = words_or_none(from, "mend");
  fault.mend_seconds = whole_or(from, "mend_seconds", 0, 0, 36000);
  from.done();
  return fault;
}

}  // namespace

void read_faults(data::Reader& root, const Names& names, Pack& pack) {
  pack.confidence = root.number_or("confidence", pack.confidence, 0.5, 1);
  for (data::Reader& fault : root.list("faults", false)) {
    pack.faults.push_back(read_fault(fault, names));
  }
}

void read_find(data::Reader& root, const Names& names, Pack& pack) {
  for (data::Reader& symptom : items(root, "symptoms", 0)) {
    pack.symptoms.push_back(read_symptom(symptom, names));
  }
  for (data::Reader& test : items(root, "tests", 0)) {
    pack.tests.push_back(read_test(test, names));
  }
}

}  // namespace kp::pack
