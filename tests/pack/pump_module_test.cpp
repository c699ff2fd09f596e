#include <doctest/doctest.h>
#include <algorithm>
#include <cstdio>
#include "pack/check.hpp"
#include "pack/files.hpp"
#include "pack/load.hpp"

TEST_CASE("pump module") {
  const auto l = kp::pack::load(kp::test::file_text("assets/packs/pump-module/pack.json"));
  for (const auto& f : l.findings.all()) std::puts(f.text().c_str());
  REQUIRE(l.pack.has_value());
  std::vector<std::string> drawings;
  auto add = [&](const std::string& id) { if (!kp::test::file_text("assets/parts/" + id + ".svg").empty()) drawings.push_back(id); };
  for (auto& p : l.pack->parts) add(p.drawing);
  for (auto& p : l.pack->joints) add(p.drawing);
  for (auto& p : l.pack->positions) add(p.drawing);
  const auto c = kp::pack::check(*l.pack, drawings, l.places);
  for (const auto& f : c.all()) std::puts(f.text().c_str());
  CHECK(c.all().empty());
}
