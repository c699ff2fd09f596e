#include <doctest/doctest.h>

#include <algorithm>
#include <map>

#include "cli/fake_files.hpp"
#include "base/text.hpp"
#include "data/value.hpp"

namespace {

using kp::test::FakeFiles;
using kp::test::member;
using kp::test::Ran;
using kp::test::run;

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

TEST_CASE("help: for the whole and for each command, with code 0; a slip shows it with code 2") {
  FakeFiles files;
  for (const std::vector<std::string>& words :
       {std::vector<std::string>{"--help"}, std::vector<std::string>{"-h"},
        std::vector<std::string>{"help"}}) {
    const Ran ran = run(words, files);
    CHECK(ran.code == 0);
    for (const char* command : {"check", "plan", "refit", "journal", "bill"}) {
      CAPTURE(command);
      CHECK(ran.output.out.find(command) != std::string::npos);
      CHECK(kp::cli::is_command(command));
    }
  }
  CHECK_FALSE(kp::cli::is_command("--demo"));
  const std::map<std::string, std::vector<std::string>> options = {
      {"plan", {"PACK", "--reach", "--json"}},
      {"refit", {"PACK", "--from", "--json"}},
      {"check", {"PACK"}},
      {"bill", {"JOURNAL", "--rates", "--out"}}};
  for (const auto& [command, wanted] : options) {
    CAPTURE(command);
    const Ran ran = run({command, "--help"}, files);
    CHECK(ran.code == 0);
    for (const std::string& word : wanted) {
      CAPTURE(word);
      CHECK(ran.output.out.find(word) != std::string::npos);
    }
  }
  CHECK(run({"journal", "verify", "--help"}, files).output.out.find("FILE") != std::string::npos);
  const Ran slip = run({"plan", "pump-module", "--rech", "heater"}, files);
  CHECK(slip.code == 2);
  CHECK(slip.output.out.empty());
  CHECK(slip.output.err.find("--reach") != std::string::npos);
}

TEST_CASE("plan --json: exactly the members that were promised, in their order") {
  FakeFiles files;
  const Ran ran = run({"plan", "pump-module", "--reach", "inlet-valve,float-switch", "--json"}, files);
  REQUIRE(ran.code == 0);
  CHECK(ran.output.err.empty());
  const auto parsed = kp::data::parse(ran.output.out);
  REQUIRE(parsed.has_value());
  const auto names = [](const kp::data::Value& value) {
    std::string out;
    for (const auto& entry : value.members) {
      out += entry.first + " ";
    }
    return out;
  };
  CHECK(names(parsed.value()) == "seconds proved actions ");
  std::vector<std::string> out_of_it;
  REQUIRE_FALSE(member(parsed.value(), "actions").items.empty());
  for (const kp::data::Value& action : member(parsed.value(), "actions").items) {
    CHECK(names(action) == "do what seconds tool position requires ");
    CHECK(member(action, "seconds").kind == kp::data::Kind::number);
    CHECK(member(action, "requires").kind == kp::data::Kind::array);
    if (member(action, "do").text == "remove") {
      out_of_it.push_back(member(action, "what").text);
    }
  }
  for (const char* part : {"inlet-valve", "float-switch"}) {
    CAPTURE(part);
    CHECK(std::find(out_of_it.begin(), out_of_it.end(), part) != out_of_it.end());
  }
}

TEST_CASE("plan: text for people, and a part that does not come out is a finding") {
  FakeFiles files;
  const Ran text = run({"plan", "pump-module", "--reach", "float-switch"}, files);
  CHECK(text.code == 0);
  CHECK(text.output.out.find("proved shortest") != std::string::npos);
  const Ran fixed = run({"plan", "pump-module", "--reach", "frame"}, files);
  CHECK(fixed.code == 1);
  CHECK(fixed.output.out.empty());
  CHECK(fixed.output.err.find("does not come away") != std::string::npos);
}

TEST_CASE("check: every fault of a bad pack in one run, each with pointer, line and remedy") {
  FakeFiles files;
  const std::string golden = std::string(KP_SOURCE_DIR) + "/tests/golden/packs/";
  for (const std::string name : {"shape/many-faults", "names/unknown-id", "broken/cover-cycle",
                                 "broken/way-out-of-reach", "shape/way-member"}) {
    CAPTURE(name);
    files.files["bad.json"] = kp::test::file_bytes(golden + name + ".json");
    REQUIRE_FALSE(files.files["bad.json"].empty());
    const Ran ran = run({"check", "bad.json"}, files);
    CHECK(ran.code == 1);
    // The golden text has "severity code text" a line; each text stands in the output.
    const std::string expected = kp::test::file_bytes(golden + name + ".txt");
    int lines = 0;
    for (const std::string& line : kp::split(expected, '\n')) {
      const std::size_t severity = line.find(' ');
      const std::size_t code = severity == std::string::npos ? severity : line.find(' ', severity + 1);
      if (code == std::string::npos) {
        continue;
      }
      ++lines;
      const std::string printed =
          "bad.json: " + line.substr(0, severity) + ": " + line.substr(code + 1) + "\n";
      CAPTURE(printed);
      CHECK(ran.output.out.find(printed) != std::string::npos);
      CHECK(printed.find("line ") != std::string::npos);
      CHECK(printed.find("/") != std::string::npos);
    }
    CHECK(lines >= 1);
  }
}
