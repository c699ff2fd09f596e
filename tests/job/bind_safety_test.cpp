#include <doctest/doctest.h>

#include "base/text.hpp"
#include "job/bind_safety.hpp"
#include "job/bind_test.hpp"
#include "job/work.hpp"

// What every act asks of the gate, from where hands go.

namespace kp {
namespace {

using job::Deed;
using job::StepDone;
using job::TargetsChosen;
using test::says;
using test::Work;

TEST_CASE("bind safety: the demand of a step is made of the tags of what it touches") {
  Work work;
  work.arrive();
  const pack::Pack& pack = work.pack();
  const auto of = [&](Deed deed, const char* what) {
    return job::demand_of(work.model(), work.state, deed,
                          job::subject_index(pack, work.state.unit, deed, what));
  };
  const auto demand = of(Deed::release, "capacitor-leads");
  CHECK(demand.act == safety::Act::hands_in);
  for (const safety::Contact tag : {safety::Contact::live, safety::Contact::stored_charge}) {
    CHECK(std::find(demand.contacts.begin(), demand.contacts.end(), tag) != demand.contacts.end());
  }
  REQUIRE(demand.groups.size() == 1);   // its terminals are read dead before they are touched
  CHECK(demand.groups[0].charge);
  CHECK(demand.live_way);
  work.state.unit.position = pack.position("pulled-out");
  const auto laid = of(Deed::turn, "on-back");
  CHECK(laid.act == safety::Act::lay_down);
  CHECK(laid.people == 2);
  CHECK(job::connection_of(pack) == safety::Connection::fixed);
  const safety::EnergySet energies = job::energies_of(work.model());
  for (const safety::Energy energy :
       {safety::Energy::mains, safety::Energy::stored_charge, safety::Energy::water_pressure,
        safety::Energy::hot, safety::Energy::springs, safety::Energy::gravity}) {
    CHECK((energies & safety::bit(energy)) != 0);
  }
}

TEST_CASE("bind safety: a look is free only where nothing covers it and nothing is touched (S1)") {
  Work work;
  work.arrive();
  int free = 0;
  int behind = 0;
  for (const pack::Test& test : work.pack().tests) {
    CAPTURE(test.id);
    const safety::Act act = job::demand_of(work.model(), work.state, test).act;
    const bool covered = !test.behind.empty() || !test.needs_released.empty();
    CAPTURE(std::string(safety::words(act)));
    if (test.live()) {
      CHECK(safety::in_acts(safety::kWhileOn, act));
      CHECK_FALSE(safety::hands_in(act));
      continue;
    }
    if (!test.eyes || covered) {
      // Touched, felt, moved, covered or measured: never free; the reach into the tub and the face
      // of the door are the only ones that do not wait for the proof.
      const bool outside = act == safety::Act::touch_outside && !covered && !test.on_circuit();
      CHECK((safety::hands_in(act) || outside));
    }
    if (act == safety::Act::look_outside || act == safety::Act::look_inside) {
      ++free;
      CHECK(test.eyes);
      CHECK_FALSE(covered);
    }
    behind += covered ? 1 : 0;
    if (covered) CHECK((act == safety::Act::hands_in || act == safety::Act::measure_dead ||
                        act == safety::Act::insulation_test || act == safety::Act::hot_reading ||
                        act == safety::Act::static_test));
    if (!safety::hands_in(act)) continue;
    // And decide() says so while the machine is as it was found.
    job::TestRecorded reading;
    reading.test = test.id;
    reading.looked = test.probe == pack::Probe::look;
    reading.value = test.field_low;
    CHECK(test::says(work.ask(reading), "not-prepared"));
  }
  CHECK(free == 3);   // vent, hinge, fill inlet
  CHECK(behind > 20);
}

TEST_CASE("bind safety: a test after the repair asks by its item and its moment") {
  Work work;
  work.arrive();
  struct Row {
    const char* test;
    safety::Act act;
    int groups;
  };
  const Row rows[] = {
      {"visual-base", safety::Act::prove_dead_test, 1},
      {"visual-door", safety::Act::prove_dead_test, 1},
      {"insulation", safety::Act::insulation_test, 1},
      {"polarity", safety::Act::prove_dead_test, 1},
      {"supply-joint", safety::Act::prove_dead_test, 1},
      {"earth", safety::Act::prove_dead_test, 2},   // a probe at each end
      {"static-leak", safety::Act::static_test, 1},
      {"device-holds", safety::Act::run, 0},
      {"leakage", safety::Act::run, 0},
      {"device-button", safety::Act::touch_outside, 0},
      {"fixed", safety::Act::touch_outside, 0},
  };
  for (const Row& row : rows) {
    CAPTURE(row.test);
    const pack::ProveTest& test =
        work.pack().prove_tests[to_size(work.pack().prove_test(row.test))];
    const safety::Demand demand = job::demand_of(work.model(), work.state, test);
    CHECK(std::string(safety::words(demand.act)) == safety::words(row.act));
    CHECK(to_int(demand.groups.size()) == row.groups);
  }
  for (const pack::ProveTest& test : work.pack().prove_tests) {
    const safety::Demand demand = job::demand_of(work.model(), work.state, test);
    CHECK(safety::hands_in(demand.act) == (test.when == pack::ProveWhen::before_power));
    CHECK((demand.act == safety::Act::run) == (test.when == pack::ProveWhen::running));
  }
}

TEST_CASE("bind safety: no insulation reading while the house's leads are joined (I10, value 12)") {
  // With the house's neutral joined, 0.3 ohm to earth reads 0.00 Mohm of a sound machine [computed].
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  const pack::ProveTest& test =
      work.pack().prove_tests[to_size(work.pack().prove_test("insulation"))];
  const safety::Demand demand = job::demand_of(work.model(), work.state, test);
  REQUIRE(demand.act == safety::Act::insulation_test);
  const auto refused = [&] {
    const safety::Verdict verdict =
        safety::permit(work.state.safety, job::ask_of(work.model(), work.state, demand, work.by),
                       work.clock(), work.law());
    return std::any_of(verdict.reasons.begin(), verdict.reasons.end(),
                       [](const safety::Reason& one) { return one.code == "supply-not-parted"; });
  };
  CHECK(refused());
  job::ProveRecorded reading = test::good_result(test);
  reading.value = 0;
  CHECK_FALSE(work.ask(reading).accepted());
  REQUIRE(work.take(StepDone{Deed::release, "supply-leads", {}, {}}));
  CHECK_FALSE(refused());
}

TEST_CASE("bind safety: in the tub of a machine that tingled the proof comes first") {
  // Order of safety, section 2, reach into tub: no complaint of trip, tingle or water below, ours.
  for (const bool tingled : {false, true}) {
    CAPTURE(tingled);
    Work work;
    work.arrive();
    safety::Prepared prepared = work.prepared();
    prepared.frame_first = tingled;
    REQUIRE(work.tell(prepared).accepted());
    REQUIRE(work.tell(safety::FrameRead{{true, 0}, safety::MeterFunction::two_pole_detector, "M1",
                                        safety::Found::nil}).accepted());
    for (const job::Body& body :
         {job::Body(safety::Stopped{true}), job::Body(safety::Isolated{safety::Means::breaker_off}),
          job::Body(safety::HeldFast{safety::Control::locked, "L-Ada", "T1", {}}),
          job::Body(safety::WaterShut{"stop valve"}),
          job::Body(safety::ControlsTried{safety::Answer::nothing})}) {
      REQUIRE(work.tell(body).accepted());
    }
    safety::Demand tub;
    tub.act = safety::Act::reach_tub;
    const safety::Ask ask = job::ask_of(work.model(), work.state, tub, work.by);
    const safety::Verdict verdict = safety::permit(work.state.safety, ask, work.clock(), work.law());
    CHECK(verdict.allowed != tingled);
    // The guide leads through the proof, and then it is allowed.
    REQUIRE(work.open_gate(tub));
    CHECK((work.state.safety.power == safety::Power::supply_dead) == tingled);
  }
}

TEST_CASE("bind safety: a hot reading keeps the heat, and asks for all the rest (S12)") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  int hot = 0;
  for (const pack::Test& test : work.pack().tests) {
    if (!test.hot_at.has_value()) continue;
    CAPTURE(test.id);
    ++hot;
    const safety::Demand demand = job::demand_of(work.model(), work.state, test);
    CHECK(demand.act == safety::Act::hot_reading);
    CHECK_FALSE(demand.groups.empty());   // its terminals are proved dead like any others
    const auto todos = safety::make_safe(
        work.state.safety, job::ask_of(work.model(), work.state, demand, work.by), work.clock(),
        work.law(), job::supply_place(work.model(), work.state));
    for (const safety::Todo& todo : todos) {
      CHECK(todo.kind != safety::TodoKind::cool);
    }
    job::TestRecorded reading;
    reading.test = test.id;
    reading.value = test.field_low;
    CHECK_FALSE(test::says(work.ask(reading), "not-cooled"));
    REQUIRE(work.open_gate(demand));
    for (auto step = work.step_to(job::targets_of(work.pack(), test)); !step.empty();
         step = work.step_to(job::targets_of(work.pack(), test))) {
      REQUIRE(work.take(step.front()));
    }
    CHECK_FALSE(test::says(work.ask(reading), "not-cooled"));
  }
  CHECK(hot >= 1);
}

TEST_CASE("decide: a second pair of hands is asked for where the unit is laid down") {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.tell(TargetsChosen{{"saddle-spring"}, "slack"}).accepted());
  bool laid = false;
  for (int i = 0; i < 60 && !laid; ++i) {
    const StepDone step = work.next_step(false).front();
    laid = step.deed == Deed::turn && step.what == "on-back";
    const int subject = job::subject_index(work.pack(), work.state.unit, step.deed, step.what);
    const safety::Demand demand = job::demand_of(work.model(), work.state, step.deed, subject);
    if (laid) {
      CHECK(demand.act == safety::Act::lay_down);
      CHECK(demand.people == 2);
      CHECK(says(work.ask(step), "helper-missing"));
    }
    REQUIRE(work.take(step));
  }
  CHECK(laid);
  CHECK(work.state.safety.people == 1);   // a helper is there for one step
}

}  // namespace
}  // namespace kp
