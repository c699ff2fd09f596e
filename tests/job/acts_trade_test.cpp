// No act is looser than the trade's. For each row of the table of acts everything is shown, and it is
// allowed; then one thing that the trade asks is taken away, and it must be refused.

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "job/acts_trade.hpp"
#include "job/small_machine.hpp"
#include "job/work.hpp"

namespace kp {
namespace {

using safety::Act;
using safety::Guard;
using test::ActRow;
using test::trade::Least;
using test::trade::Power;
using test::trade::Water;

safety::Stamp proof(std::int64_t event = 1) { return {event, {1'000'000, 0}, 1'000, "Ada"}; }

/// Everything that this demand asks has been shown a moment ago.
safety::State all_shown(const safety::Demand& demand) {
  safety::State s;
  s.worker = "Ada";
  s.newest = {1'000'000, 0};
  s.prepared = s.stopped = s.isolated = s.held = s.tried_at = s.supply_dead = proof();
  s.shut = s.relieved = s.holding = s.cooled = s.secured = s.frame_nil = s.tagged = proof();
  s.neutral_quiet = proof();
  s.inspected = s.warned = s.locks_off = s.looked = proof();
  s.energies = ~safety::EnergySet{0};
  s.tried = safety::Tried::still;
  s.means = safety::Means::breaker_off;
  s.control = safety::Control::locked;
  s.lock = "L1";
  s.locks = {{"L1", "Ada", proof(), false}};
  s.power = safety::Power::supply_dead;
  s.water = safety::Water::holding;
  for (const safety::GroupAsked& group : demand.groups) {
    s.groups.push_back({group.place.id, proof(), proof(), 0});
  }
  s.cooled_places = {demand.place};
  s.secured_position = demand.position;
  s.people = 6;
  if (test::acts::asks(demand.act, Guard::water_static)) {
    s.water = safety::Water::static_on;
  }
  if (test::acts::asks(demand.act, Guard::running)) {
    s.power = safety::Power::on;
    s.power_back = s.water_back = proof();
    s.water = safety::Water::run;
    s.locks.clear();
  }
  return s;
}

safety::Ask ask_for(const safety::Demand& demand) {
  safety::Ask ask;
  ask.demand = demand;
  ask.by = "Ada";
  ask.machine.supply_parted = true;
  return ask;
}

bool allowed(const safety::State& state, const safety::Ask& ask) {
  return safety::permit(state, ask, {1'000'000, 1'000}, {}).allowed;
}

std::string reasons(const safety::State& state, const safety::Ask& ask) {
  std::string out;
  for (const auto& reason : safety::permit(state, ask, {1'000'000, 1'000}, {}).reasons) {
    out += cat(out.empty() ? "" : " ", reason.code);
  }
  return out;
}

/// The group of a demand that is proved at terminals behind this.
const safety::GroupAsked* proved_at(const pack::Pack& pack, const safety::Demand& demand,
                                    const pack::Access& behind) {
  for (const safety::GroupAsked& group : demand.groups) {
    const bool there = !group.place.pairs.empty() &&
                       std::all_of(group.place.pairs.begin(), group.place.pairs.end(),
                                   [&](const safety::Pair& pair) {
                                     const int point = pack.circuit.point(pair.a);
                                     return point >= 0 &&
                                            pack.circuit.points[to_size(point)].behind == behind;
                                   });
    if (there) {
      return &group;
    }
  }
  return nullptr;
}

/// Takes away one thing after the other that the trade asks for this row.
class Weakened {
 public:
  Weakened(const job::Model& model, const test::trade::Pack& trade, const ActRow& row)
      : pack_(model.pack), trade_(trade), least_(trade.of(row)), demand_(row.after),
        state_(all_shown(row.after)), ask_(ask_for(row.after)) {}

  int run() {
    if (demand_.act != Act::look_outside && demand_.act < Act::prepare) {
      CHECK_MESSAGE(allowed(state_, ask_), reasons(state_, ask_));
    }
    power();
    water();
    bare();
    machine();
    rest();
    return taken_;
  }

 private:
  void refused(const char* what, const safety::State& state, const safety::Ask& ask) {
    ++taken_;
    CAPTURE(std::string(what));
    CHECK_FALSE(allowed(state, ask));
  }
  void without(const char* what, void (*weaken)(safety::State&)) {
    safety::State state = state_;
    weaken(state);
    refused(what, state, ask_);
  }
  void without(const char* what, void (*weaken)(safety::Machine&)) {
    safety::Ask ask = ask_;
    weaken(ask.machine);
    refused(what, state_, ask);
  }

  void power() {
    if (least_.power == Power::dead) {
      without("held only", [](safety::State& s) { s.power = safety::Power::held; });
      without("live", [](safety::State& s) { s.power = safety::Power::live; });
      without("another's proof", [](safety::State& s) { s.supply_dead.person = "Ben"; });
    }
    if (least_.neutral) without("neutral not read", [](safety::State& s) { s.neutral_quiet = {}; });
    if (least_.power == Power::held) {
      without("isolated only", [](safety::State& s) { s.power = safety::Power::isolated; });
      without("live", [](safety::State& s) { s.power = safety::Power::live; });
    }
    if (least_.power == Power::on) {
      without("nothing on", [](safety::State& s) {
        s.power = safety::Power::held;
        s.water = safety::Water::shut;
      });
    }
  }
  void water() {
    const bool shut = least_.water == Water::shut || least_.water == Water::off || least_.water == Water::watched;
    if (shut) {
      without("water open", [](safety::State& s) { s.water = safety::Water::open; });
    }
    if (least_.water == Water::off || least_.water == Water::watched) {
      without("not relieved", [](safety::State& s) { s.water = safety::Water::shut; });
    }
    if (least_.water == Water::watched) {
      without("not watched", [](safety::State& s) { s.water = safety::Water::relieved; });
    }
    if (least_.water == Water::still) {
      without("water not on", [](safety::State& s) { s.water = safety::Water::holding; });
    }
  }
  void bare() {
    for (const pack::Access& behind : least_.bare) {
      const safety::GroupAsked* group = proved_at(pack_, demand_, behind);
      std::string where;
      for (const pack::Way& way : behind) {
        for (const int part : way.parts) where += cat(" ", pack_.parts[to_size(part)].id);
      }
      CAPTURE(where);
      CHECK_MESSAGE(group != nullptr, "terminals there are not proved dead");
      if (group == nullptr) continue;
      safety::State state = state_;
      for (safety::GroupProof& one : state.groups) {
        if (one.id == group->place.id) one.dead = {};
      }
      refused("terminals not proved", state, ask_);
      if (trade_.charged(behind)) {
        state = state_;
        for (safety::GroupProof& one : state.groups) {
          if (one.id == group->place.id) one.discharged = {};
        }
        refused("charge not taken off", state, ask_);
      }
    }
  }
  void machine() {
    if (least_.parted) without("supply joined", [](safety::Machine& m) { m.supply_parted = false; });
    if (least_.upright) without("lying", [](safety::Machine& m) { m.upright = false; });
    if (least_.fixed) without("would tip", [](safety::Machine& m) { m.stable = false; });
    if (least_.door_shut) without("door open", [](safety::Machine& m) { m.door_open = true; });
    if (least_.leads_joined) {
      without("a lead off", [](safety::Machine& m) { m.leads_joined = false; });
    }
    if (least_.wet_joined) without("a wet joint open", [](safety::Machine& m) { m.wet_joined = false; });
    if (least_.covers_on) without("a live cover off", [](safety::Machine& m) { m.live_covers_on = false; });
  }
  void rest() {
    if (least_.cool) without("hot", [](safety::State& s) { s.cooled_places.clear(); });
    if (least_.secure) without("not secured", [](safety::State& s) { s.secured = {}; });
    if (least_.people > 1) {
      safety::State state = state_;
      state.people = least_.people - 1;
      refused("too few people", state, ask_);
    }
    if (least_.reason) {
      safety::Ask ask = ask_;
      ask.demand.live_reason = false;
      refused("no reason to measure live", state_, ask);
    }
    for (const pack::Contact tag : least_.cautions) {
      CAPTURE(pack::contact_words()[to_size(static_cast<int>(tag))]);
      CHECK_MESSAGE(test::acts::has(demand_, static_cast<safety::Contact>(static_cast<int>(tag))),
                    "its author's caution is not on the act");
    }
  }

  const pack::Pack& pack_;
  const test::trade::Pack& trade_;
  Least least_;
  safety::Demand demand_;
  safety::State state_;
  safety::Ask ask_;
  int taken_ = 0;
};

TEST_CASE("acts: no row of the table is looser than the trade's") {
  const job::Model& model = test::shipped_library().models.front();
  const test::trade::Pack trade(model.pack);
  int taken = 0;
  int rows = 0;
  for (const ActRow& row : test::acts_of(model)) {
    CAPTURE(row.act);
    CAPTURE(test::line_of(row));
    ++rows;
    taken += Weakened(model, trade, row).run();
  }
  MESSAGE(rows, " acts, ", taken, " things taken away");
  CHECK(rows > 300);
  CHECK(taken > 2'000);
}

TEST_CASE("acts: what no test point shows is not touched, whatever is said to be shown") {
  test::SmallMachine small;
  const int frame = small.part("frame");
  const int cover = small.part("cover");
  const int box = small.part("box", {{cover}});
  small.pack.parts[to_size(frame)].removable = false;
  const int screws = small.joint("screws", pack::JointKind::screw, {cover, frame});
  const int leads = small.joint("leads", pack::JointKind::spade, {box}, {{cover}});
  small.add(pack::ElementKind::connector, "L", "in", 0.01, box, leads);
  small.add(pack::ElementKind::resistor, "in", "N", 50, box);
  CHECK(job::check_hazards(small.pack).has("conductor-unproved"));
  auto model = job::make_model(small.pack);
  REQUIRE(model.has_value());
  const job::State state = test::acts::standing(model.value(), 0, true);
  const safety::Demand demand = job::demand_of(model.value(), state, job::Deed::release, leads);
  REQUIRE(demand.groups.size() == 1);
  CHECK(demand.groups.front().place.pairs.empty());
  const safety::Ask ask = ask_for(demand);
  CHECK_FALSE(allowed(all_shown(demand), ask));
  CHECK(reasons(all_shown(demand), ask) == "work-not-proved");
  // The cover in front of it is no such thing.
  const safety::Demand lid = job::demand_of(model.value(), state, job::Deed::release, screws);
  CHECK(allowed(all_shown(lid), ask_for(lid)));
  // With a point there it can be proved, and touched.
  (void)small.point("in", box, {{cover}});
  CHECK_FALSE(job::check_hazards(small.pack).has("conductor-unproved"));
  model = job::make_model(small.pack);
  REQUIRE(model.has_value());
  const safety::Demand shown = job::demand_of(model.value(), state, job::Deed::release, leads);
  CHECK(allowed(all_shown(shown), ask_for(shown)));
}

TEST_CASE("acts: in front of the proof only covers on the way to it are taken off") {
  const job::Model& model = test::shipped_library().models.front();
  const test::trade::Pack trade(model.pack);
  int covers = 0;
  for (const ActRow& row : test::acts_of(model)) {
    if (row.before.act != Act::cover) continue;
    CAPTURE(row.act);
    ++covers;
    // One cover an event, never put back by hand before the proof: 29 CFR 1910.333(b)(2)(iv).
    CHECK((row.act.rfind("release ", 0) == 0 || row.act.rfind("remove ", 0) == 0));
    if (row.joint != nullptr) {
      CHECK_FALSE(trade.electrical(*row.joint));
      CHECK_FALSE(row.joint->kind == pack::JointKind::hose_clamp);
      CHECK_FALSE(row.joint->against_tipping);
    }
    if (row.part != nullptr) {
      CHECK_FALSE(trade.wired(to_int(static_cast<std::size_t>(row.part - model.pack.parts.data()))));
    }
    safety::State held = all_shown(row.before);
    held.power = safety::Power::held;
    held.water = safety::Water::shut;
    held.supply_dead = held.relieved = held.holding = {};
    const safety::Ask ask = ask_for(row.before);
    CHECK_MESSAGE(allowed(held, ask), reasons(held, ask));
    safety::State tried = held;
    tried.tried = safety::Tried::no;
    CHECK_FALSE(allowed(tried, ask));
    safety::State open = held;
    open.water = safety::Water::open;
    CHECK_FALSE(allowed(open, ask));
    safety::Ask lying = ask;
    lying.machine.upright = false;
    CHECK_FALSE(allowed(held, lying));
    safety::Ask loose = ask;
    loose.machine.stable = false;
    CHECK_FALSE(allowed(held, loose));
  }
  CHECK(covers >= 4);   // two panels or more with their screws, as the point of proof is behind them
}

}  // namespace
}  // namespace kp
