#include <doctest/doctest.h>

#include "pack/check.hpp"
#include "pack/files.hpp"
#include "pack/load.hpp"

TEST_CASE("tiny loads") {
  const auto l = kp::pack::load(kp::test::file_text("tests/golden/packs/tiny.json"));
  for (const auto& f : l.findings.all()) MESSAGE(f.text());
  REQUIRE(l.pack.has_value());
  const auto c = kp::pack::check(*l.pack, {"machine-front","machine-side","toe-panel","frame","screw","drain-hose","pump-module","plug-connector","hose-clamp","saddle-spring"}, l.places);
  for (const auto& f : c.all()) MESSAGE(f.text());
  CHECK(c.all().empty());
}
