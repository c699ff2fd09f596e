#include <doctest/doctest.h>

#include "base/text.hpp"
#include "cli/fake_files.hpp"
#include "data/value.hpp"

using kp::test::FakeFiles;
using kp::test::has;
using kp::test::Ran;
using kp::test::run;

TEST_CASE("find: shares, the next step and its reasons; a reading moves them") {
  FakeFiles files;
  const Ran first = run({"find", "pump-module", "--complaint", "wet-and-cold"}, files);
  CHECK(first.code == 0);
  CHECK(has(first.output.out, "Heater open"));
  CHECK(has(first.output.out, "Do this test next: "));
  const Ran open = run({"find", "pump-module", "--complaint", "wet-and-cold", "--result", "heater-ohms=OL"}, files);
  CHECK(open.code == 0);
  CHECK(has(open.output.out, "Do this repair next: New heater."));
  const Ran json = run({"find", "pump-module", "--complaint", "wet-and-cold", "--result", "heater-ohms=OL", "--json"}, files);
  const auto parsed = kp::data::parse(json.output.out);
  REQUIRE(parsed.has_value());
  REQUIRE(parsed.value().find("next") != nullptr);
  CHECK(has(json.output.out, "\"repair\""));
  CHECK(has(json.output.out, "\"heater\""));
}

TEST_CASE("find: a slip is answered with what is meant, code 2; what fits nothing is a finding") {
  FakeFiles files;
  const Ran complaint = run({"find", "pump-module", "--complaint", "wet-and-could"}, files);
  CHECK(complaint.code == 2);
  CHECK(has(complaint.output.err, "wet-and-cold"));
  const Ran test = run({"find", "pump-module", "--result", "heater-ohm=OL"}, files);
  CHECK(test.code == 2);
  CHECK(has(test.output.err, "heater-ohms"));
  const Ran look = run({"find", "pump-module", "--result", "latch-look=3"}, files);
  CHECK(look.code == 2);
  CHECK(has(look.output.err, "latch-look=good"));
  const Ran range = run({"find", "pump-module", "--result", "heater-ohms=-1"}, files);
  CHECK(range.code == 2);
  CHECK(run({"find", "no-such-pack"}, files).code == 2);
  const Ran odd = run({"find", "pump-module", "--complaint", "wet-and-cold", "--result", "supply-volts=400"}, files);
  CHECK(odd.code == 1);
  CHECK(has(odd.output.out, "This fits no fault that is known here"));
}
