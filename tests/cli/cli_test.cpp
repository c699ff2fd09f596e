#include <doctest/doctest.h>

#include <map>

#include "app/shipped.hpp"
#include "cli/cli.hpp"
#include "data/value.hpp"

namespace {

/// Files in memory over the content that ships.
class FakeFiles final : public kp::cli::Files {
 public:
  kp::Result<std::string> read(const std::string& path) override {
    const auto found = files.find(path);
    if (found == files.end()) {
      return kp::fail("cannot-read", "The file cannot be read", path, "Check the path.");
    }
    return found->second;
  }
  kp::Result<void> write(const std::string& path, const std::string& bytes) override {
    files[path] = bytes;
    return {};
  }
  std::vector<kp::app::NamedBytes> assets() override { return kp::test::shipped_files(false); }

  std::map<std::string, std::string> files;
};

struct Ran {
  int code = 0;
  kp::cli::Output output;
};

Ran run(const std::vector<std::string>& words, FakeFiles& files) {
  Ran out;
  out.code = kp::cli::run(words, files, out.output);
  return out;
}

const kp::data::Value& member(const kp::data::Value& value, const char* name) {
  static const kp::data::Value none;
  const kp::data::Value* found = value.find(name);
  return found == nullptr ? none : *found;
}

}  // namespace

TEST_CASE("check: the shipped pack is clean, a broken one lists its faults, both say so by code") {
  FakeFiles files;
  const Ran good = run({"check", "pump-module"}, files);
  CHECK(good.code == 0);
  CHECK(good.output.out.find("no fault") != std::string::npos);
  files.files["broken.json"] = R"({"format": 1, "id": "x", "aboot": {}})";
  const Ran bad = run({"check", "broken.json"}, files);
  CHECK(bad.code == 1);
  CHECK(bad.output.out.find("aboot") != std::string::npos);
  CHECK(bad.output.out.find("line 1") != std::string::npos);
  CHECK(run({"check", "no-such.json"}, files).code == 2);
}

TEST_CASE("plan --json: the promised shape, times that add up, needs that come before") {
  FakeFiles files;
  const Ran ran = run({"plan", "pump-module", "--reach", "heater", "--json"}, files);
  REQUIRE(ran.code == 0);
  const auto parsed = kp::data::parse(ran.output.out);
  REQUIRE(parsed.has_value());
  const kp::data::Value& plan = parsed.value();
  CHECK(member(plan, "proved").boolean);
  double sum = 0;
  int index = 0;
  bool heater_out = false;
  for (const kp::data::Value& action : member(plan, "actions").items) {
    sum += member(action, "seconds").number;
    for (const kp::data::Value& need : member(action, "requires").items) {
      CHECK(need.number < index);
    }
    heater_out = heater_out || (member(action, "do").text == "remove" &&
                                member(action, "what").text == "heater");
    CHECK_FALSE(member(action, "position").text.empty());
    CHECK_FALSE(member(action, "tool").text.empty());
    ++index;
  }
  CHECK(sum == doctest::Approx(member(plan, "seconds").number));
  CHECK(heater_out);
}

TEST_CASE("refit: what was opened to reach a part is closed again, and nothing else") {
  FakeFiles files;
  const auto in = kp::data::parse(
      run({"plan", "pump-module", "--reach", "motor", "--json"}, files).output.out);
  const auto back = kp::data::parse(
      run({"refit", "pump-module", "--from", "motor", "--json"}, files).output.out);
  REQUIRE(in.has_value());
  REQUIRE(back.has_value());
  std::map<std::string, int> open;
  for (const kp::data::Value& action : member(in.value(), "actions").items) {
    const std::string& deed = member(action, "do").text;
    if (deed == "release" || deed == "remove") {
      ++open[member(action, "what").text];
    }
  }
  for (const kp::data::Value& action : member(back.value(), "actions").items) {
    const std::string& deed = member(action, "do").text;
    if (deed == "fasten" || deed == "set") {
      --open[member(action, "what").text];
    }
  }
  for (const auto& [what, count] : open) {
    CAPTURE(what);
    CHECK(count == 0);
  }
}

TEST_CASE("a slip in a name is answered with the nearest one") {
  FakeFiles files;
  const Ran part = run({"plan", "pump-module", "--reach", "heeter"}, files);
  CHECK(part.code == 2);
  CHECK(part.output.err == "\"heeter\" is no part of pump-module. Did you mean \"heater\"?\n");
  const Ran pack = run({"check", "pump-modul"}, files);
  CHECK(pack.code == 2);
  CHECK(pack.output.err.find("Did you mean the pack \"pump-module\"?") != std::string::npos);
}

TEST_CASE("usage: no command, an unknown one, a missing option") {
  FakeFiles files;
  CHECK(run({}, files).code == 2);
  CHECK(run({"plon"}, files).code == 2);
  CHECK(run({"plan", "pump-module"}, files).code == 2);
  CHECK(run({"--help"}, files).code == 0);
}

TEST_CASE("journal verify: damage inside is a finding with its line") {
  FakeFiles files;
  files.files["bad.jsonl"] = "{\"n\":1}\n{\"n\":2}\n";
  const Ran bad = run({"journal", "verify", "bad.jsonl"}, files);
  CHECK(bad.code == 1);
  CHECK(bad.output.out.find("line 1") != std::string::npos);
  CHECK(run({"journal", "verify", "none"}, files).code == 2);
}
