#include <doctest/doctest.h>

#include "base/text.hpp"
#include "cli/fake_files.hpp"
#include "data/value.hpp"

// read and strip: the machine that ships, measured at the command line.

namespace {

using kp::test::FakeFiles;
using kp::test::has;
using kp::test::member;
using kp::test::Ran;
using kp::test::run;

}  // namespace

TEST_CASE("read: a good heater, an open one, and the way round it") {
  FakeFiles files;
  const std::vector<std::string> base = {"read",    "pump-module", "--points", "heater-a,heater-b",
                                         "--mode", "ohm"};
  const auto with = [&](std::vector<std::string> more) {
    std::vector<std::string> words = base;
    words.insert(words.end(), more.begin(), more.end());
    return run(words, files);
  };
  const Ran good = with({"--off", "heater/A,heater/B"});
  CHECK(good.code == 0);
  CHECK(has(good.output.out, "13.7 Ω\n"));
  CHECK(has(good.output.out, "as a good one"));
  const Ran open = with({"--off", "heater/A", "--fault", "heater-open"});
  CHECK(open.code == 1);
  CHECK(has(open.output.out, "OL\n"));
  CHECK(has(open.output.out, "not as a good one"));
  // With both leads on, in the heat step, the timer motor is a way round: no open loop.
  const Ran on = with({"--step", "heat", "--fault", "heater-open"});
  CHECK(has(on.output.out, "4.2 Ω\n"));
  CHECK_FALSE(has(on.output.out, "OL"));
  CHECK(has(on.output.out, "Current also flows through "));
  CHECK(has(on.output.out, "Pull "));
}

TEST_CASE("read --json: the promised members, null for an open loop") {
  FakeFiles files;
  const Ran ran = run({"read", "pump-module", "--points", "heater-a,frame", "--mode", "ohm",
                       "--off", "heater/A,heater/B", "--json"},
                      files);
  CHECK(ran.code == 0);
  const auto parsed = kp::data::parse(ran.output.out);
  REQUIRE(parsed.has_value());
  const kp::data::Value& root = parsed.value();
  std::string names;
  for (const auto& one : root.members) {
    names += one.first + " ";
  }
  CHECK(names == "points meter reading good fits also ");
  CHECK(member(member(root, "reading"), "text").text == "OL");
  CHECK(member(member(root, "reading"), "value").kind == kp::data::Kind::null);
  CHECK(member(member(root, "reading"), "open_loop").boolean);
  CHECK(member(member(root, "good"), "high").kind == kp::data::Kind::null);
  CHECK(member(root, "fits").boolean);
}

TEST_CASE("read: volts and amperes are read in a step, by its id or its number") {
  FakeFiles files;
  const auto volts = [&](const char* step) {
    return run({"read", "pump-module", "--points", "heater-a,heater-b", "--mode", "volt",
                "--step", step},
               files);
  };
  CHECK(volts("heat").code == 0);
  CHECK(volts("heat").output.out == volts("3").output.out);
  CHECK(volts("heat").output.out != volts("fill").output.out);
  CHECK(run({"read", "pump-module", "--clamp", "heater-1", "--mode", "ampere", "--step", "heat"},
            files)
            .code == 0);
  const Ran dead = run({"read", "pump-module", "--clamp", "heater-1", "--mode", "ampere",
                        "--step", "heat", "--fault", "heater-open"},
                       files);
  CHECK(dead.code == 1);
  CHECK(has(dead.output.out, "0.00 A"));
}

TEST_CASE("read: a slip in a name is answered, with code 2") {
  FakeFiles files;
  const auto err = [&](std::vector<std::string> words) {
    words.insert(words.begin(), {"read", "pump-module"});
    const Ran ran = run(words, files);
    CHECK(ran.code == 2);
    CHECK(ran.output.out.empty());
    return ran.output.err;
  };
  CHECK(err({"--points", "heater-a,heeter-b", "--mode", "ohm"}) ==
        "\"heeter-b\" is no test point. Did you mean \"heater-b\"?\n");
  CHECK(err({"--points", "heater-a,heater-b", "--mode", "ohms"}) ==
        "\"ohms\" is no setting of the meter. Did you mean \"ohm\"?\n");
  CHECK(err({"--points", "heater-a", "--mode", "ohm"}) ==
        "Name two test points with --points A,B.\n");
  CHECK(err({"--mode", "ampere"}) == "Amperes are read with --clamp ELEMENT.\n");
  CHECK(err({"--points", "heater-a,heater-b", "--mode", "ohm", "--off", "heater/C"}) ==
        "\"heater/C\" is no terminal. The terminals of heater are A, B.\n");
  CHECK(has(err({"--points", "heater-a,heater-b", "--mode", "ohm", "--fault", "heater-opn"}),
            "Did you mean \"heater-open\"?"));
  CHECK(has(err({"--points", "heater-a,heater-b", "--mode", "volt", "--step", "heet"}),
            "Did you mean \"heat\"?"));
  CHECK(has(err({"--points", "heater-a,heater-b", "--mode", "volt", "--step", "99"}),
            "is no step"));
  CHECK(run({"read", "pump-module", "--points", "heater-a,heater-b"}, files).code == 2);
}

TEST_CASE("read: a pack without a circuit has nothing to read") {
  FakeFiles files;
  files.files["plain.json"] = kp::test::file_bytes(std::string(KP_SOURCE_DIR) +
                                                   "/tests/golden/packs/good/minimal.json");
  const Ran ran = run({"read", "plain.json", "--points", "a,b", "--mode", "ohm"}, files);
  CHECK(ran.code == 1);
  CHECK(ran.output.err == "plain.json has no circuit.\n");
}

TEST_CASE("check: a fault that no test tells from a good unit is said, with its line") {
  FakeFiles files;
  std::string text = kp::test::file_bytes(std::string(KP_SOURCE_DIR) +
                                          "/assets/packs/pump-module/pack.json");
  const std::string points = "\"between\": [\"thermostat-b\", \"heater-a\"]";
  const std::size_t at = text.find(points);
  REQUIRE(at != std::string::npos);
  CHECK(run({"check", "pump-module"}, files).output.out.find("warning") == std::string::npos);
  files.files["dull.json"] =
      text.replace(at, points.size(), "\"between\": [\"thermostat-b\", \"thermostat-a\"]");
  const Ran ran = run({"check", "dull.json"}, files);
  CHECK(ran.code == 0);
  CHECK(has(ran.output.out, "dull.json: warning: line "));
  CHECK(has(ran.output.out,
            "no test tells the fault \"heater-lead-burnt\" from a good unit. Add a test"));
}

TEST_CASE("strip: the heater's live path as text, with the reason for each contact") {
  FakeFiles files;
  const Ran ran = run({"strip", "pump-module", "--load", "heater", "--step", "heat"}, files);
  CHECK(ran.code == 0);
  CHECK(has(ran.output.out, "Heater, Heat hold: "));
  CHECK(has(ran.output.out, "Cam 4 contact, heater, closed by Cam 4 in step Heat hold"));
  CHECK(has(ran.output.out, "Thermostat, closed below 63 °C"));
  CHECK(has(ran.output.out, "Door switch, closed, the door is shut"));
  CHECK(has(ran.output.out, "On button, closed, pressed"));
  CHECK(has(ran.output.out, "--[  ]--  Heater  <- load"));
  const Ran wrong = run({"strip", "pump-module", "--load", "heater", "--step", "fill"}, files);
  CHECK(wrong.code == 1);
  CHECK(has(wrong.output.out, "no current"));
  CHECK(has(wrong.output.out, "Cam 4 contact, heater is open by Cam 4 in step Fill."));
}

TEST_CASE("strip: another way that the current takes is said, with the lead to pull") {
  FakeFiles files;
  // Hot, in the heat hold, the timer motor runs through the heater.
  const auto timer = [&](const char* celsius) {
    return run({"strip", "pump-module", "--load", "timer", "--step", "heat", "--celsius", celsius},
               files);
  };
  CHECK_FALSE(has(timer("30").output.out, "Current also flows"));
  const Ran hot = timer("70");
  CHECK(has(hot.output.out, "Current also flows through Cam 9 contact, heat hold"));
  CHECK(has(hot.output.out, "Heater"));
  const Ran blown = run({"strip", "pump-module", "--load", "heater", "--step", "heat", "--fault",
                         "fuse-open"},
                        files);
  CHECK(blown.code == 1);
  CHECK(has(blown.output.out, "Thermal fuse is open by a fault."));
}

TEST_CASE("strip --json and --svg: every link, and a drawing of all of them") {
  FakeFiles files;
  const Ran json =
      run({"strip", "pump-module", "--load", "inlet-valve", "--step", "fill", "--json"}, files);
  CHECK(json.code == 0);
  const auto parsed = kp::data::parse(json.output.out);
  REQUIRE(parsed.has_value());
  REQUIRE(parsed.value().items.size() == 1);
  const kp::data::Value& strip = parsed.value().items.front();
  CHECK(member(strip, "load").text == "valve-coil");
  CHECK(member(strip, "closed").boolean);
  const std::size_t links = member(strip, "links").items.size();
  CHECK(links > 10);
  const Ran svg =
      run({"strip", "pump-module", "--load", "inlet-valve", "--step", "fill", "--svg"}, files);
  CHECK(svg.code == 0);
  CHECK(svg.output.out.rfind("<svg ", 0) == 0);
  CHECK(has(svg.output.out, "</svg>\n"));
  for (const kp::data::Value& link : member(strip, "links").items) {
    CHECK_FALSE(member(link, "element").text.empty());
  }
  std::size_t names = 0;
  for (std::size_t at = svg.output.out.find("<text"); at != std::string::npos;
       at = svg.output.out.find("<text", at + 1)) {
    ++names;
  }
  CHECK(names == links + 2);  // and the two rails
  // A part with two loads gives both.
  const Ran motor =
      run({"strip", "pump-module", "--load", "motor", "--step", "wash", "--json"}, files);
  CHECK(motor.code == 0);
  CHECK(kp::data::parse(motor.output.out).value().items.size() == 2);
}

TEST_CASE("strip: what is no load, no step, no option") {
  FakeFiles files;
  const Ran part = run({"strip", "pump-module", "--load", "tub", "--step", "heat"}, files);
  CHECK(part.code == 2);
  CHECK(part.output.err == "\"tub\" is no load.\n");
  const Ran slip = run({"strip", "pump-module", "--load", "heater", "--step", "heet"}, files);
  CHECK(slip.code == 2);
  CHECK(has(slip.output.err, "Did you mean \"heat\"?"));
  CHECK(run({"strip", "pump-module", "--load", "heater"}, files).code == 2);
  for (const char* command : {"read", "strip"}) {
    CHECK(kp::cli::is_command(command));
    const Ran help = run({command, "--help"}, files);
    CHECK(help.code == 0);
    CHECK(has(help.output.out, "--step"));
  }
}
