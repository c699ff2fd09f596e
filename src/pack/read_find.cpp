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
  for (data::Reader& suspect : items(from, "suspects", 0)) {
    symptom.suspects.push_back(read_suspect(suspect, names));
  }
  from.done();
  return symptom;
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
  test.high = from.number_or("high", 0, -kReading, kReading);
  test.field_low = from.number_or("field_low", 0, -kReading, kReading);
  test.field_high = from.number_or("field_high", 0, -kReading, kReading);
  test.seconds = whole(from, "seconds", 0, 36000);
  test.positions = references(from, "positions", names.positions, "position");
  test.behind = access(from, "behind", names);
  test.needs_released = references(from, "needs_released", names.joints, "joint");
  test.caution = words_or_none(from, "caution");
  test.source = words(from, "source");
  from.done();
  return test;
}

}  // namespace

void read_find(data::Reader& root, const Names& names, Pack& pack) {
  for (data::Reader& symptom : items(root, "symptoms", 0)) {
    pack.symptoms.push_back(read_symptom(symptom, names));
  }
  for (data::Reader& test : items(root, "tests", 0)) {
    pack.tests.push_back(read_test(test, names));
  }
}

}  // namespace kp::pack
