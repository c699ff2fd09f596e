#pragma once
// All that can be said or done at a small machine, good and bad.

#include <limits>
#include <string>
#include <vector>

#include "decide/eye.hpp"

namespace kp::test {

struct Intent {
  std::string name;
  job::Body body;
  std::string by;       ///< empty: whoever's work it is
};

/// The next reading that a place is owed, as a careful technician gives it.
inline safety::ReadingTaken next_reading(const Eye& eye, const std::string& place) {
  using safety::Role;
  safety::ReadingTaken fact;
  fact.place = place;
  fact.tester = "T1";
  std::string key = "before";
  if (eye.series == place && !eye.good.empty() && eye.good.back() != "after") {
    for (const std::string& one : owed_at(eye.site, place)) {
      key = one;
      if (std::find(eye.good.begin(), eye.good.end(), one) == eye.good.end()) break;
    }
  }
  if (key == "before" || key == "after") {
    fact.role = key == "before" ? Role::known_before : Role::known_after;
    fact.shown.volts = 120;
    fact.band_low = 104;
    fact.band_high = 127;
    return fact;
  }
  fact.shown.none_lit = true;
  if (key == "earth") {
    fact.role = Role::earth_shown;
    fact.function = safety::MeterFunction::ohms;
    fact.shown = {false, 0.3};
    return fact;
  }
  const std::size_t at = key.find_first_of("~=");
  fact.role = key[at] == '~' ? Role::pair : Role::pair_dc;
  fact.a = key.substr(0, at);
  fact.b = key.substr(at + 1);
  return fact;
}

class SmallMoves {
 public:
  explicit SmallMoves(const Eye& eye) : eye_(eye) {}

  std::vector<Intent> take() {
    beginning();
    isolating();
    for (const std::string& place : {std::string(safety::kSupply), kLoadPlace, kBoxPlace}) {
      readings(place);
    }
    neutral();
    water();
    people();
    giving_back();
    doubts();
    steps();
    tests();
    course();
    return std::move(out_);
  }

 private:
  void add(std::string name, job::Body body, std::string by = {}) {
    out_.push_back({std::move(name), std::move(body), std::move(by)});
  }

  void beginning() {
    safety::Prepared known;
    known.connection = eye_.site == Site::cord ? safety::Connection::cord : safety::Connection::fixed;
    known.built_in = eye_.site != Site::cord;
    add("prepare", known);
    add("prepare-ben", known, "Ben");
    known.frame_first = true;
    add("prepare-frame", known);
    add("stop", safety::Stopped{});
    add("stop-ben", safety::Stopped{}, "Ben");
    safety::FrameRead frame;
    frame.tester = "T1";
    frame.shown.none_lit = true;
    add("frame-nil", frame);
    frame.shown = {false, 100};
    add("frame-live", frame);
    frame.shown = {false, std::numeric_limits<double>::max()};
    add("frame-insane", frame);
    frame.shown = {true, 0};
    frame.function = safety::MeterFunction::ohms;
    add("frame-ohms", frame);
    frame.function = safety::MeterFunction::two_pole_detector;
    frame.tester.clear();
    add("frame-untold", frame);
  }

  void isolating() {
    using safety::Control;
    using safety::Means;
    for (const auto& [name, means] : std::initializer_list<std::pair<const char*, Means>>{
             {"plug", Means::plug_out}, {"breaker", Means::breaker_off},
             {"spur", Means::spur_fuse_out}, {"door", Means::door_switch},
             {"one-pole", Means::one_pole_of_two}, {"word", Means::word_of_another}}) {
      add(cat("isolate-", name), safety::Isolated{means});
    }
    const bool ben = eye_.worker == "Ben";
    const std::string own = ben ? "8" : "7";
    add("hold", safety::HeldFast{Control::locked, own, "G1", ""});
    add("hold-no-lock", safety::HeldFast{Control::locked, "", "G1", ""});
    add("hold-no-tag", safety::HeldFast{Control::locked, own, "", ""});
    add("hold-anothers", safety::HeldFast{Control::locked, "9", "G1", ""});
    add("hold-in-hand", safety::HeldFast{Control::in_hand, "", "", ""});
    add("hold-sight", safety::HeldFast{Control::sight_only, "", "", ""});
    add("hold-measure", safety::HeldFast{Control::tag_and_measure, "", "G1", "fuse out"});
    add("hold-tag", safety::HeldFast{Control::tag_and_measure, "", "G1", ""});
    add("try", safety::ControlsTried{safety::Answer::nothing});
    add("try-answered", safety::ControlsTried{safety::Answer::answered});
    add("try-tells-nothing", safety::ControlsTried{safety::Answer::tells_nothing});
    add("tag", safety::TagHung{"G2"});
    add("tag-empty", safety::TagHung{""});
    add("bar", safety::OpeningsBarred{});
  }

  void readings(const std::string& place) {
    using safety::MeterFunction;
    const safety::ReadingTaken good = next_reading(eye_, place);
    const auto say = [&](const char* how, const safety::ReadingTaken& fact, const char* by = "") {
      add(cat("read-", how, " ", place), fact, by);
    };
    say("good", good);
    say("ben", good, "Ben");
    safety::ReadingTaken bad = good;
    bad.shown = {false, 118};
    say("live", bad);
    bad.shown = {false, 20};
    say("ghost", bad);
    bad.shown = {false, std::numeric_limits<double>::max()};
    say("insane", bad);
    bad.shown = {true, 0};
    say("none-lit", bad);
    bad = good;
    bad.band_low = 0;
    say("any-band", bad);
    for (const MeterFunction function : {MeterFunction::non_contact, MeterFunction::ohms,
                                         MeterFunction::volts_ac, MeterFunction::volts_ac_low_impedance}) {
      bad = good;
      bad.function = function;
      say(safety::word(function), bad);
    }
    bad = good;
    bad.tester = "T2";
    say("other", bad);
    bad.tester.clear();
    say("untold", bad);
    bad = good;
    bad.role = safety::Role::known_after;
    bad.a = bad.b = "";
    bad.shown = {false, 120};
    bad.function = MeterFunction::two_pole_detector;
    bad.band_low = 104;
    bad.band_high = 127;
    say("skip", bad);
    say("begin", [&] {
      Eye anew = eye_;
      anew.series.clear();
      return next_reading(anew, place);
    }());
    safety::Discharged gone{place, 1000, 5, 0.4, "T1"};
    add(cat("discharge ", place), gone);
    gone.dc_volts = 40;
    add(cat("discharge-charged ", place), gone);
    gone.dc_volts = 0.4;
    gone.tester.clear();
    add(cat("discharge-untold ", place), gone);
  }

  void neutral() {
    using safety::MeterFunction;
    add("neutral", safety::NeutralRead{0, MeterFunction::amperes, "C1", false});
    add("neutral-carries", safety::NeutralRead{0.3, MeterFunction::amperes, "C1", false});
    add("neutral-volts", safety::NeutralRead{0, MeterFunction::volts_ac, "C1", false});
    add("neutral-untold", safety::NeutralRead{0, MeterFunction::amperes, "", false});
    add("neutral-insane", safety::NeutralRead{1e6, MeterFunction::amperes, "C1", false});
  }

  void water() {
    add("shut", safety::WaterShut{"Stop valve"});
    add("shut-unnamed", safety::WaterShut{""});
    add("relieve", safety::Relieved{});
    add("watch", safety::Watched{true});
    add("watch-wet", safety::Watched{false});
    add("cool", safety::Cooled{kLoadPlace, 30});
    add("cool-load", safety::Cooled{"load", 30});
    add("cool-hot", safety::Cooled{kLoadPlace, 60});
    add("cool-insane", safety::Cooled{kLoadPlace, -1000});
    add("water-on", safety::WaterOn{false});
    add("water-static", safety::WaterOn{true});
    add("restart", safety::SeriesRestarted{});
  }

  void people() {
    add("secure", safety::Secured{});
    add("secure-on-back", safety::Secured{"on-back", safety::Support::person});
    add("prop", safety::Propped{});
    add("prop-nobody", safety::Propped{safety::Support::person, ""});
    add("helper", safety::HelperHere{2, "Bo"});
    add("helper-nobody", safety::HelperHere{2, ""});
    add("helper-crowd", safety::HelperHere{9, "Bo"});
    const std::string other = eye_.worker == "Ana" ? "Ben" : "Ana";
    const std::string lock = other == "Ben" ? "8" : "7";
    add("hand-on", safety::HandedOn{other, lock});
    add("hand-on-no-lock", safety::HandedOn{other, ""});
    add("hand-on-nobody", safety::HandedOn{"", lock});
    add("hand-on-anothers", safety::HandedOn{other, "9"});
  }

  void giving_back() {
    add("inspect", safety::Inspected{});
    add("inspect-ben", safety::Inspected{}, "Ben");
    add("warn", safety::Warned{});
    add("warn-ben", safety::Warned{}, "Ben");
    for (const char* lock : {"7", "8", "9"}) {
      add(cat("lock-off ", lock), safety::LockOff{lock}, eye_.owner(lock));
    }
    add("lock-off-by-ben 7", safety::LockOff{"7"}, "Ben");
    add("lock-off 5", safety::LockOff{"5"});
    add("plug-back", safety::LockOff{""});
    add("look", safety::LookedClear{});
    add("look-ben", safety::LookedClear{}, "Ben");
    add("power-on", safety::PowerOn{});
    add("power-on-ben", safety::PowerOn{}, "Ben");
  }

  void doubts() {
    for (int i = 0; i < safety::kDoubts; ++i) {
      const auto what = static_cast<safety::Doubt>(i);
      add(cat("doubt ", safety::words(what)), safety::Doubted{what});
    }
    add("foreign-lock", safety::ForeignLock{"9", "Ida"});
    add("away", job::Resumed{400'000, false});
    if (eye_.gap) {
      add("stayed", safety::GapAnswered{safety::Stayed::here});
      add("left-locked", safety::GapAnswered{safety::Stayed::left_locked});
      add("stayed-unknown", safety::GapAnswered{safety::Stayed::unknown});
    }
  }

  void steps() {
    using job::Deed;
    const auto step = [&](const char* word, Deed deed, const std::string& what, const char* by = "") {
      job::StepDone body;
      body.deed = deed;
      body.what = what;
      add(cat(word, " ", what), body, by);
    };
    for (const char* joint :
         {"toe-screws", "lid-screws", "leads", "earth", "plug", "band", "fixing"}) {
      step("release", Deed::release, joint);
      step("fasten", Deed::fasten, joint);
    }
    for (const char* part : {"toe", "lid", "load", "hose"}) {
      step("remove", Deed::remove, part);
      step("set", Deed::set, part);
    }
    for (const char* position : {"in-place", "door-open", "on-back"}) {
      step("turn", Deed::turn, position);
    }
    step("ben-release", Deed::release, "toe-screws", "Ben");
  }

  void tests() {
    for (const char* id : {"look-out", "look-in", "reach", "ohm", "hot", "drip", "runs", "volts",
                           "unreasoned"}) {
      job::TestRecorded body;
      body.test = id;
      body.looked = true;
      body.good = true;
      add(cat("test ", id), body);
    }
    for (const char* id : {"earth-path", "insulation", "static", "run", "feel"}) {
      job::ProveRecorded body;
      body.test = id;
      body.passed = true;
      body.value = 2;
      add(cat("prove ", id), body);
    }
    for (const auto& [id, why] : std::initializer_list<std::pair<const char*, const char*>>{
             {"earth-path", "untouched"}, {"insulation", "board-forbids"},
             {"static", "no-wet-joint"}}) {
      job::ProveRecorded body;
      body.test = id;
      body.left_out = why;
      add(cat("leave-out ", id), body);
    }
  }

  void course() {
    add("choose", job::TargetsChosen{{"load"}, "Open"});
    add("choose-mend", job::TargetsChosen{{"load"}, "dirty", "dirty"});
    job::PartSwapped swap;
    swap.part = "load";
    add("swap", swap);
    swap.mended = "dirty";
    add("mend", swap);
    add("stage make-safe", job::StageEntered{job::Stage::make_safe});
    add("stage find", job::StageEntered{job::Stage::find});
    add("stage close", job::StageEntered{job::Stage::close});
    add("stage prove", job::StageEntered{job::Stage::prove});
    for (const auto& [name, outcome] :
         std::initializer_list<std::pair<const char*, job::Outcome>>{
             {"repaired", job::Outcome::repaired}, {"no-fault", job::Outcome::no_fault_found},
             {"waiting", job::Outcome::waiting_for_parts},
             {"not-to-be-used", job::Outcome::not_to_be_used}}) {
      add(cat("end ", name), job::JobEnded{outcome, "a word"});
    }
    add("visit", job::VisitBegun{});
    job::UnitAsFound as_left;
    as_left.loose = {eye_.loose.begin(), eye_.loose.end()};
    as_left.away = {eye_.away.begin(), eye_.away.end()};
    add("found-as-left", as_left);
    add("found-closed", job::UnitAsFound{});
    job::UnitAsFound tips;
    tips.position = "door-open";
    tips.loose = {"fixing"};
    add("found-tipping", tips);
  }

  const Eye& eye_;
  std::vector<Intent> out_;
};

}  // namespace kp::test
