#include "pack/source.hpp"

namespace kp::pack {
namespace {

constexpr double kReading = 1e12;

ProveTest read_prove_test(data::Reader& from) {
  ProveTest test;
  test.id = id_text(from, "id");
  test.title = words(from, "title");
  test.how = words(from, "how");
  test.source = words(from, "source");
  test.when = static_cast<ProveWhen>(from.choice("when", prove_when_words()));
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

void read_prove(data::Reader& root, Pack& pack) {
  for (data::Reader& test : items(root, "prove_tests", 0)) {
    pack.prove_tests.push_back(read_prove_test(test));
  }
}

}  // namespace kp::pack
