#pragma once
// Three machines of six parts each, invented: on a cord with a plug, on fixed wiring with a capacitor
// at its load, and on two lines with a heater. Values by common practice, no source.

#include <string>
#include <utility>
#include <vector>

#include "job/bind_plan.hpp"
#include "job/small_machine.hpp"

namespace kp::test {

enum class Site { cord, fixed, split };
inline constexpr const char* kSites[] = {"cord", "fixed", "split"};

class SmallPack {
 public:
  explicit SmallPack(Site site) : site_(site) {
    parts();
    joints();
    wires();
    supply();
    postures();
    tests();
    proofs();
  }
  [[nodiscard]] pack::Pack take() { return std::move(made_.pack); }

 private:
  void parts() {
    pack().id = kSites[static_cast<int>(site_)];
    frame_ = made_.part("frame");
    box_ = made_.part("box");
    toe_ = made_.part("toe");
    lid_ = made_.part("lid", {{toe_}});
    load_ = made_.part("load", {{toe_}});
    hose_ = made_.part("hose", {{toe_}});
    for (pack::Part& part : pack().parts) {
      part.mass_kg = 2;
      part.seconds = 5;
    }
    pack().parts[to_size(frame_)].removable = false;
    pack().parts[to_size(box_)].removable = false;
    // It can be mended where it is, behind the toe panel.
    pack::Fault dirty;
    dirty.id = dirty.title = "dirty";
    dirty.part = load_;
    dirty.mend = "Clean it.";
    pack().faults.push_back(dirty);
    pack().symptoms.push_back({"dead", "It does nothing", {{load_, 1, "Open"}}, 0, {}});
  }

  void joints() {
    using pack::JointKind;
    (void)made_.joint("toe-screws", JointKind::screw, {toe_, frame_});
    (void)made_.joint("lid-screws", JointKind::screw, {lid_, box_}, {{toe_}});
    leads_ = made_.joint("leads", JointKind::spade, {box_}, {{lid_}});
    earth_ = made_.joint("earth", JointKind::spade, {box_}, {{lid_}});
    plug_ = made_.joint("plug", JointKind::plug, {load_, frame_}, {{toe_}});
    band_ = made_.joint("band", JointKind::hose_clamp, {hose_, load_}, {{toe_}});
    fixing_ = made_.joint("fixing", JointKind::screw, {frame_});
    pack().joints[to_size(fixing_)].against_tipping = true;
    for (pack::Joint& joint : pack().joints) {
      joint.seconds_each = 5;
    }
    // On the cord the technician names the valve, and the sump is emptied past the toe panel.
    if (site_ == Site::cord) {
      pack().water.relieve_behind = {{toe_}};
    } else {
      pack().water.valve = "Stop valve under the sink.";
      pack().water.relieve_joints = {band_};
    }
  }

  void wires() {
    using pack::ElementKind;
    (void)made_.add(ElementKind::connector, "L", "l", 0.01, -1, leads_);
    (void)made_.add(ElementKind::connector, site_ == Site::split ? "M" : "N", "n", 0.01, -1, leads_);
    (void)made_.add(ElementKind::connector, "E", "e", 0.01, -1, earth_);
    (void)made_.add(ElementKind::connector, "l", "p", 0.01, -1, plug_);
    const bool heats = site_ == Site::split;
    // Five times 1.2 megohm and 10 microfarad: 60 s until the charge has bled off.
    const double ohm = site_ == Site::fixed ? 1.2e6 : 20;
    (void)made_.add(heats ? ElementKind::heater : ElementKind::resistor, "p", "n", ohm, load_);
    if (site_ == Site::fixed) {
      (void)made_.add(ElementKind::capacitor, "p", "n", 10, load_);
    }
    p_ = made_.point("p", load_, {{toe_}});
    q_ = made_.point("e", load_, {{toe_}});
    if (heats) {
      // The second line comes in where another machine has its neutral.
      pack().circuit.mains.neutral = made_.node("M");
      (void)made_.add(ElementKind::wire, "M", "N", 0.1);
    }
  }

  void supply() {
    pack::Supply& supply = pack().supply;
    supply.connection = site_ == Site::cord ? pack::Connection::cord : pack::Connection::fixed;
    supply.system = site_ == Site::split ? pack::System::split : pack::System::single;
    const std::vector<std::string> nodes = site_ == Site::split
                                               ? std::vector<std::string>{"L", "M", "N", "E"}
                                               : std::vector<std::string>{"L", "N", "E"};
    std::vector<int> points;
    for (const std::string& node : nodes) {
      points.push_back(made_.point(node, box_, {{lid_}}));
    }
    if (site_ != Site::cord) {
      supply.proof = {points, "Box behind the toe panel"};
    }
  }

  void change(int from, int to, int people, std::vector<int> needs = {}) {
    pack::PositionChange one;
    one.from = from;
    one.to = to;
    one.seconds = 5;
    one.people = people;
    one.needs_released = std::move(needs);
    if (people > 1) {
      one.contacts = {pack::Contact::heavy};
    }
    pack().changes.push_back(std::move(one));
  }

  void postures() {
    pack().positions.push_back({"door-open", "Door open", "", "", true});
    change(0, 1, 1);
    change(1, 0, 1);
    if (site_ == Site::cord) {
      pack().positions.push_back({"on-back", "On its back", "", "", false, false, false});
      change(0, 2, 2, {fixing_});
      change(2, 0, 2);
    }
  }

  pack::Test& test(const char* id, int part, pack::Probe probe) {
    pack::Test one;
    one.id = one.title = id;
    one.part = part;
    one.probe = probe;
    one.field_high = 1e6;
    one.unit = probe == pack::Probe::look ? "" : "Ω";
    pack().tests.push_back(std::move(one));
    return pack().tests.back();
  }
  void tests() {
    test("look-out", frame_, pack::Probe::look).eyes = true;
    pack::Test& in = test("look-in", frame_, pack::Probe::look);
    in.eyes = true;
    in.positions = {1};
    test("reach", toe_, pack::Probe::look).positions = {1};
    pack::Test& ohm = test("ohm", load_, pack::Probe::ohm);
    ohm.point_a = p_;
    ohm.point_b = q_;
    ohm.behind = {{toe_}};
    ohm.needs_released = {plug_};
    pack::Test& hot = test("hot", load_, pack::Probe::ohm);
    hot.behind = {{toe_}};
    hot.hot_at = 60;
    pack::Test& drip = test("drip", hose_, pack::Probe::look);
    drip.behind = {{toe_}};
    drip.static_water = true;
    pack::Test& runs = test("runs", load_, pack::Probe::look);
    runs.running = true;
    runs.needs_live = pack::NeedsLive::movement;
    pack::Test& volts = test("volts", load_, pack::Probe::volt_live);
    volts.unit = "V";
    volts.point_a = p_;
    volts.point_b = q_;
    volts.running = true;
    volts.behind = {{toe_}};
    volts.needs_live = pack::NeedsLive::not_seen_dead;
    pack::Test& unreasoned = test("unreasoned", load_, pack::Probe::volt_live);
    unreasoned.unit = "V";
    unreasoned.point_a = p_;
    unreasoned.point_b = q_;
    unreasoned.behind = {{toe_}};
    unreasoned.running = true;
  }

  pack::ProveTest& proof(const char* id, pack::ProveWhen when, pack::ProveItem item) {
    pack::ProveTest one;
    one.id = one.title = id;
    one.when = when;
    one.item = item;
    pack().prove_tests.push_back(std::move(one));
    return pack().prove_tests.back();
  }
  void proofs() {
    using pack::ProveItem;
    using pack::ProveWhen;
    pack::ProveTest& earth = proof("earth-path", ProveWhen::before_power, ProveItem::b2);
    earth.part = load_;
    earth.behind = {{toe_}};
    earth.leave_out = {pack::LeaveOut::untouched};
    pack::ProveTest& insulation = proof("insulation", ProveWhen::before_power, ProveItem::b3);
    insulation.part = load_;
    insulation.behind = {{toe_}};
    insulation.leave_out = {pack::LeaveOut::board_forbids};
    insulation.unit = "MΩ";
    insulation.field_high = 1000;
    insulation.has_low = true;
    insulation.low = 1;
    pack::ProveTest& dry = proof("static", ProveWhen::before_power, ProveItem::b8);
    dry.part = hose_;
    dry.behind = {{toe_}};
    dry.static_water = true;
    dry.leave_out = {pack::LeaveOut::no_wet_joint};
    (void)proof("run", ProveWhen::running, ProveItem::a5);
    (void)proof("feel", ProveWhen::after, ProveItem::a8);
  }

  pack::Pack& pack() { return made_.pack; }

  Site site_;
  SmallMachine made_;
  int frame_ = 0, box_ = 0, toe_ = 0, lid_ = 0, load_ = 0, hose_ = 0;
  int leads_ = 0, earth_ = 0, plug_ = 0, band_ = 0, fixing_ = 0;
  int p_ = 0, q_ = 0;
};

/// All three, ready for use.
inline const job::Library& small_library() {
  static const job::Library library = [] {
    job::Library out;
    for (const Site site : {Site::cord, Site::fixed, Site::split}) {
      auto model = job::make_model(SmallPack(site).take());
      if (model.has_value()) {
        out.models.push_back(std::move(model.value()));
      }
    }
    return out;
  }();
  return library;
}

}  // namespace kp::test
