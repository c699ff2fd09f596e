#pragma once
// One who does what the guide says, first thing first, and does it well.

#include "model/explore.hpp"
#include "safety/guide.hpp"

namespace kp::model {

class Technician {
 public:
  Technician(Node node, safety::Demand goal) : node_(std::move(node)), goal_(std::move(goal)) {}

  /// What the guide wants on the way to the goal; empty: nothing more.
  [[nodiscard]] std::vector<safety::Todo> make_safe() const {
    return safety::make_safe(node_.state, question(goal_, nullptr, {}), now(), {}, supply());
  }
  [[nodiscard]] std::vector<safety::Todo> put_back() const {
    return safety::put_back(node_.state, true, true, question(goal_, nullptr, {}), now(), {},
                            supply());
  }
  [[nodiscard]] std::vector<safety::Todo> wind_up(safety::Ending ending) const {
    return safety::wind_up(node_.state, ending, question(goal_, nullptr, {}), now(), {}, supply());
  }
  [[nodiscard]] bool may(const safety::Demand& demand) const {
    return safety::permit(node_.state, question(demand, nullptr, {}), now(), {}).allowed;
  }
  [[nodiscard]] const Node& node() const { return node_; }
  [[nodiscard]] const std::string& refused() const { return refused_; }

  /// Does it; false where the gate refuses what its own guide asked for.
  bool obey(const safety::Todo& todo) {
    using namespace safety;
    switch (todo.kind) {
      case TodoKind::answer_gap: return tell(GapAnswered{Stayed::here});
      case TodoKind::doubt_clock: return tell(Doubted{Doubt::clock_doubted});
      case TodoKind::reopen: return happen(VisitReopened{});
      case TodoKind::prepare: return tell(prepared());
      case TodoKind::read_frame: return tell(FrameRead{{true, 0}, MeterFunction::two_pole_detector, "T1"});
      case TodoKind::stop:
      case TodoKind::put_away: return tell(Stopped{});
      case TodoKind::isolate: return tell(Isolated{means()});
      case TodoKind::shut_water: return tell(WaterShut{"valve"});
      case TodoKind::hold: return tell(HeldFast{Control::locked, lock(), "card", {}});
      case TodoKind::try_controls: return shut_door() && tell(ControlsTried{});
      case TodoKind::open_way: return open_way();
      case TodoKind::take_reading: return read(todo);
      case TodoKind::restart_series: return tell(SeriesRestarted{});
      case TodoKind::discharge: return tell(Discharged{todo.place.id, 20000, 10, 1, "T1"});
      case TodoKind::read_neutral: return tell(NeutralRead{0, MeterFunction::amperes, "C1", false});
      case TodoKind::relieve: return tell(Relieved{}, Act::relieve_outside);
      case TodoKind::watch: wait(); return tell(Watched{true});
      case TodoKind::cool: return tell(Cooled{goal_.place, 30});
      case TodoKind::secure: return tell(Secured{goal_.position, Support::block});
      case TodoKind::prop: return tell(Propped{Support::block, {}});
      case TodoKind::helper: return tell(HelperHere{2, "Ida"});
      case TodoKind::inspect: return tell(Inspected{});
      case TodoKind::warn: return tell(Warned{{"Ida"}});
      case TodoKind::water_on: return tell(WaterOn{false});
      case TodoKind::water_static: return tell(WaterOn{true});
      case TodoKind::lock_off: return tell(LockOff{todo.lock}, Act::lock_off, todo.owner);
      case TodoKind::look_clear: return tell(LookedClear{});
      case TodoKind::power_on: return tell(PowerOn{});
      case TodoKind::tag: return tell(TagHung{"card"});
      case TodoKind::bar_openings: return tell(OpeningsBarred{});
      case TodoKind::end: return happen(VisitEnded{Ending::repaired});
    }
    return false;
  }

  /// What lies is stood up and what is loose is propped before anything else is done.
  bool steady() {
    if (node_.toy.tips() && !node_.state.propped.holds() && !tell(safety::Propped{})) {
      return false;
    }
    return true;
  }
  bool stand_up() {
    safety::Demand up;
    up.act = safety::Act::lay_down;
    return !node_.toy.laid || work(up, Deed::lay);
  }

 private:
  [[nodiscard]] static safety::Now now() { return {kNow, kNow}; }
  [[nodiscard]] std::string me() const { return worker_of(node_.state); }
  [[nodiscard]] std::string lock() const { return me() == "Ben" ? "8" : "7"; }
  [[nodiscard]] safety::Place supply() const { return supply_of(node_.toy.site); }
  [[nodiscard]] safety::Means means() const {
    return node_.toy.site == Site::cord && !node_.state.frame_live ? safety::Means::plug_out
                                                                   : safety::Means::breaker_off;
  }
  [[nodiscard]] safety::Prepared prepared() const {
    safety::Prepared out;
    out.connection = node_.toy.site == Site::cord ? safety::Connection::cord : safety::Connection::fixed;
    out.system = node_.toy.site == Site::split ? safety::System::split : safety::System::single;
    out.built_in = node_.toy.site != Site::cord;
    out.frame_first = node_.state.frame_first;
    out.energies = (1U << safety::kEnergies) - 1;
    return out;
  }
  [[nodiscard]] safety::Ask question(const safety::Demand& demand, const safety::Fact* fact,
                                     const safety::Place& place) const {
    safety::Ask ask;
    ask.demand = demand;
    ask.machine = machine_of(node_.toy, node_.toy, node_.state);
    ask.fact = fact;
    ask.place = place;
    ask.by = me();
    return ask;
  }
  bool allowed(const safety::Ask& ask) {
    const safety::Verdict verdict = safety::permit(node_.state, ask, now(), {});
    refused_.clear();
    for (const safety::Reason& reason : verdict.reasons) {
      refused_ += cat(reason.code, " ");
    }
    return verdict.allowed;
  }
  bool tell(const safety::Fact& said, safety::Act act = safety::Act::look_outside,
            const std::string& by = {}, const safety::Place& place = {}) {
    const safety::Fact fact = safety::completed(node_.state, said, place, {});
    safety::Demand demand;
    demand.act = act;
    const bool asked = act != safety::Act::look_outside || safety::act_of(fact, demand.act);
    safety::Ask ask = question(demand, &fact, place);
    ask.by = by.empty() ? me() : by;
    if (asked && !allowed(ask)) {
      return false;
    }
    safety::apply(node_.state, fact, now_by(ask.by));
    node_.seen(fact);
    node_.state.near_misses.clear();
    return true;
  }
  bool happen(const safety::Change& change) {
    safety::apply(node_.state, change, now_by(me()));
    std::visit(node_.seen, change);
    return true;
  }
  bool work(const safety::Demand& demand, Deed deed) {
    Toy after = node_.toy;
    if (!does(deed, after) || !allowed(question(demand, nullptr, {}))) {
      return false;
    }
    node_.toy = after;
    return happen(safety::Worked{demand.act, false, {}});
  }
  void wait() {
    age_all(node_.state, kElevenMinutes);
    node_.seen.grow(kElevenMinutes);
  }
  bool shut_door() {
    safety::Demand door;
    door.act = safety::Act::touch_outside;
    return !node_.toy.door_open || (steady() && work(door, Deed::door));
  }
  bool open_way() {
    wait();   // a charge bleeds off
    safety::Demand cover;
    cover.act = safety::Act::cover;
    cover.on_way = true;
    cover.bleed_seconds = 60;
    return (!node_.toy.way_on || work(cover, Deed::way_off)) && work(cover, Deed::box_off);
  }
  bool read(const safety::Todo& todo) {
    using safety::Role;
    safety::ReadingTaken out;
    out.place = todo.place.id;
    out.role = todo.wanted.role;
    out.a = todo.wanted.pair.a;
    out.b = todo.wanted.pair.b;
    out.tester = "T1";
    out.shown = {false, 0};
    out.function = todo.wanted.low_impedance ? safety::MeterFunction::volts_ac_low_impedance
                                             : safety::MeterFunction::two_pole_detector;
    if (out.role == Role::known_before || out.role == Role::known_after) {
      const safety::Range band = safety::outlet_band(node_.state.volts);
      out.shown.volts = node_.state.volts;
      out.band_low = band.low;
      out.band_high = band.high;
    }
    return tell(out, safety::Act::look_outside, {}, todo.place);
  }

  Node node_;
  safety::Demand goal_;
  std::string refused_;
};

}  // namespace kp::model
