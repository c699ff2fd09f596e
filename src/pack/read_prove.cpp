#include "pack/source.hpp"

namespace kp::pack {
namespace {

constexpr double kReading = 1e12;
constexpr int kDay = 86400;

ProveTest read_prove_test(data::Reader& from, const Names& names) {
  static const std::vector<std::string> waters = {"static"};
  ProveTest test;
  test.id = id_text(from, "id");
  test.title = words(from, "title");
  test.how = words(from, "how");
  test.source = words(from, "source");
  test.when = static_cast<ProveWhen>(from.choice("when", prove_when_words()));
  test.item = static_cast<ProveItem>(1 + from.choice_or("item", prove_item_words(), -1));
  test.positions = references(from, "positions", names.positions, "position");
  test.behind = access(from, "behind", names);
  test.needs_released = references(from, "needs_released", names.joints, "joint");
  test.needs_fastened = references(from, "needs_fastened", names.joints, "joint");
  test.part = reference_or_none(from, "part", names.parts, "part");
  test.points = references(from, "points", names.points, "test point");
  test.wait_seconds = whole_or(from, "wait_seconds", 0, 0, kDay);
  for (const int reason : choices(from, "leave_out", leave_out_words(), "reason")) {
    test.leave_out.push_back(static_cast<LeaveOut>(reason));
  }
  test.static_water = from.choice_or("water", waters, -1) == 0;
  test.unit = words_or_none(from, "unit");
  test.has_low = from.has("low");
  test.has_high = from.has("high");
  test.low = from.number_or("low", 0, -kReading, kReading);
  test.high = from.number_or("high", 0, -kReading, kReading);
  test.field_low = from.number_or("field_low", 0, -kReading, kReading);
  test.field_high = from.number_or("field_high", 0, -kReading, kReading);
  test.caution = words_or_none(from, "caution");
  from.done();
  return test;
}

}  // namespace

void read_prove(data::Reader& root, const Names& names, Pack& pack) {
  for (data::Reader& test : items(root, "prove_tests", 0)) {
    pack.prove_tests.push_back(read_prove_test(test, names));
  }
}

}  // namespace kp::pack
