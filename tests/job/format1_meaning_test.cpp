#include <doctest/doctest.h>

#include <algorithm>

#include "job/decide.hpp"
#include "job/format1_journal.hpp"
#include "job/old_invoice.hpp"

// What records of format 1 mean today. The limits are those that its program published: 50 V is
// 29 CFR 1910.333(a)(1); 10 V, 90 to 700 V and ten minutes were its own.

namespace kp::test::format1 {
namespace {

using job::State;
using safety::Power;

template <class T>
std::vector<T> facts(const State& state) {
  std::vector<T> out;
  for (const auto& one : state.facts) {
    if (const T* fact = std::get_if<T>(&one.body)) {
      out.push_back(*fact);
    }
  }
  return out;
}

std::string misses(const State& state) {
  std::string out;
  for (const safety::NearMiss& one : state.safety.near_misses) {
    out += cat(out.empty() ? "" : " ", one.code, " ", integer_text(one.stamp.event));
  }
  return out;
}

std::string locks(const State& state) {
  std::string out;
  for (const safety::Lock& one : state.safety.locks) {
    out += cat(out.empty() ? "" : " ", one.id, " of ", one.owner);
  }
  return out;
}

}  // namespace

TEST_CASE("format 1: each means becomes the means and the hold that its word names") {
  struct Row {
    const char* word;
    safety::Means means;
    Power power;
  };
  const Row rows[] = {
      {"unplugged-in-sight", safety::Means::plug_out, Power::held},
      {"breaker-locked", safety::Means::breaker_off, Power::held},
      {"fused-spur-locked", safety::Means::spur_fuse_out, Power::held},
      {"door-switch", safety::Means::door_switch, Power::isolated},
      {"cycle-button", safety::Means::cycle_button, Power::isolated},
      {"panel-off", safety::Means::panel_off, Power::isolated},
      {"timer-off", safety::Means::timer_off, Power::isolated},
      {"breaker-unlocked", safety::Means::breaker_off, Power::isolated},
      {"wall-switch", safety::Means::wall_switch, Power::isolated},
      {"residual-current-button", safety::Means::residual_current_button, Power::isolated},
      {"unplugged-out-of-sight", safety::Means::plug_out, Power::isolated},
      {"remote-off", safety::Means::remote_off, Power::isolated},
      {"word-of-another", safety::Means::word_of_another, Power::isolated},
  };
  std::vector<std::string> seen;
  for (const Row& row : rows) {
    CAPTURE(row.word);
    OldJournal journal;
    journal.say("isolated", cat(R"({"means":")", row.word, R"(","lock":"L-1"})"));
    const State state = journal.replayed().state;
    CHECK(state.safety.power == row.power);
    CHECK(facts<safety::Isolated>(state).size() == 1);
    CHECK(facts<safety::Isolated>(state).front().means == row.means);
    seen.emplace_back(row.word);
  }
  CHECK(seen == job::format1::means_words());
  OldJournal journal;
  journal.say("isolated", R"({"means":"breaker-locked"})");
  CHECK(journal.replayed().state.safety.power == Power::isolated);   // no lock, no hold
}

TEST_CASE("format 1: five good readings with one tester in ten minutes prove the supply dead") {
  const auto power = [](const auto& change) {
    OldJournal journal;
    journal.isolate();
    change(journal);
    return journal.replayed().state.safety.power;
  };
  const auto with = [&](double before, double pair, double after, const char* function) {
    return power([&](OldJournal& journal) {
      journal.read("known-before", before, function);
      journal.read("line-neutral", 0.2, function);
      journal.read("line-earth", pair, function);
      journal.read("neutral-earth", 0.2, function);
      journal.read("known-after", after, function);
    });
  };
  const char* good = "volts-ac-low-impedance";
  CHECK(with(121, 9.9, 121, good) == Power::supply_dead);
  CHECK(with(90, 0, 700, "volts-ac") == Power::supply_dead);
  CHECK(with(121, 10, 121, good) == Power::held);      // ghost
  CHECK(with(121, 49.9, 121, good) == Power::held);
  CHECK(with(121, 50, 121, good) == Power::live);
  CHECK(with(89.9, 0, 121, good) == Power::held);      // the tester shows no live point
  CHECK(with(121, 0, 89.9, good) == Power::held);
  CHECK(with(121, 0, 700.1, good) == Power::held);
  for (const char* wrong : {"volts-dc", "ohms", "diode", "amperes", "non-contact", "solenoid"}) {
    CAPTURE(wrong);
    CHECK(with(121, 0, 121, wrong) == Power::held);
  }
  CHECK(power([](OldJournal& journal) {
    journal.read("known-before", 121);
    journal.read("line-neutral", 0);
    journal.read("line-earth", 0);
    journal.read("known-after", 121);                  // a pair is missing
  }) == Power::held);
  CHECK(power([](OldJournal& journal) {
    journal.read("line-neutral", 0);
    journal.read("line-earth", 0);
    journal.read("neutral-earth", 0);
    journal.read("known-after", 121);                  // not tried first
  }) == Power::held);
  CHECK(power([](OldJournal& journal) {
    journal.read("known-before", 121);
    journal.read("line-neutral", 0);
    journal.read("line-earth", 0, "two-pole-detector", "T2");
    journal.read("neutral-earth", 0);
    journal.read("known-after", 121);                  // another tester between
  }) == Power::held);
  for (const std::int64_t late : {0, 1}) {
    CAPTURE(late);
    CHECK(power([&](OldJournal& journal) {
      journal.read("known-before", 121);
      journal.read("line-neutral", 0);
      journal.read("line-earth", 0);
      journal.read("neutral-earth", 0);
      journal.pass(600'000 - 20'000 + late);
      journal.read("known-after", 121);
    }) == (late == 0 ? Power::supply_dead : Power::held));
  }
  for (const char* anew : {"prove-restarted", "left-alone", "power-found-on", "clock-doubted"}) {
    CAPTURE(anew);
    CHECK(power([&](OldJournal& journal) {
      journal.read("known-before", 121);
      journal.read("line-neutral", 0);
      journal.say(anew);
      journal.read("line-earth", 0);
      journal.read("neutral-earth", 0);
      journal.read("known-after", 121);
    }) != Power::supply_dead);
  }
}

TEST_CASE("format 1: what went wrong is a near miss today") {
  OldJournal journal;
  journal.isolate();
  journal.read("known-before", 121);
  journal.read("line-neutral", 118);                   // record 10
  journal.say("controls-tried", R"({"answered":true})");
  journal.say("re-energised");
  journal.say("water-found-on");
  CHECK(misses(journal.replayed().state) ==
        "live-on-isolated 10 controls-answered 11 power-found-on 12 water-found-on 13");
  // Ohms are no volts: nothing was found live, and nothing is made up.
  OldJournal ohms;
  ohms.isolate();
  ohms.read("line-neutral", 118, "ohms");
  CHECK(misses(ohms.replayed().state).empty());
  CHECK(facts<safety::ReadingTaken>(ohms.replayed().state).empty());
  CHECK(ohms.replayed().state.said.back().body.volts == 118);
}

TEST_CASE("format 1: what no fact of today says as little of stands as it was said, and nowhere else") {
  for (const char* act : {"prepared", "stopped", "charge-gone", "secured", "panels-set",
                          "posture-changed", "step-done", "ended", "taken-over", "resumed",
                          "reopened"}) {
    CAPTURE(act);
    OldJournal journal;
    journal.say(act, R"({"note":"as told"})");
    const job::Replayed read = journal.replayed();
    CHECK_FALSE(read.damage.has_value());
    CHECK(read.state.facts.empty());
    CHECK(read.state.safety == OldJournal().replayed().state.safety);
    CHECK(read.state.said.size() == 1);
    CHECK(read.state.last_n == 3);
    CHECK(job::format1::act_words()[to_size(static_cast<int>(read.state.said.front().body.act))] ==
          act);
  }
}

TEST_CASE("format 1: what was said is put in its own words") {
  OldJournal journal;
  journal.say("isolated", R"({"means":"breaker-locked","lock":"L-21"})");
  journal.read("line-neutral", 0.2, "two-pole-detector", "TP-8");
  journal.say("helpers-here", R"({"people":2})");
  journal.say("secured", R"({"note":"with a strap"})");
  journal.say("lock-removed", R"({"lock":"L-21","bySupervisor":true})");
  std::vector<std::string> words;
  for (const auto& one : journal.replayed().state.said) {
    words.push_back(job::format1::words_of(one.body));
  }
  CHECK(words == std::vector<std::string>{
                     "Isolated: breaker off and locked, lock L-21",
                     "Line to neutral: 0.2 V, two-pole tester TP-8", "Helpers: 2 people",
                     "Secured: 1 person, note: with a strap",
                     "Lock taken off, lock L-21, by the supervisor"});
}

TEST_CASE("format 1: an unknown word, number or kind is damage with its line, nowhere a default") {
  struct Row {
    const char* kind;
    std::string payload;
    const char* code;
    const char* where;
  };
  const Row rows[] = {
      {"isolation", OldJournal::isolation("waved-at"), "bad-payload", "line 3, /act"},
      {"isolation", OldJournal::isolation("isolated", R"({"means":"prayer"})"), "bad-payload",
       "line 3, /means"},
      {"isolation", OldJournal::isolation("reading", R"({"station":"here"})"), "bad-payload",
       "line 3, /station"},
      {"isolation", OldJournal::isolation("reading", R"({"function":"nose"})"), "bad-payload",
       "line 3, /function"},
      {"isolation", OldJournal::isolation("reading", R"({"volts":"0"})"), "bad-payload",
       "line 3, /volts"},
      {"isolation", OldJournal::isolation("helpers-here", R"({"people":1.5})"), "bad-payload",
       "line 3, /people"},
      {"isolation", "{}", "bad-payload", "line 3"},
      {"resumed", "{}", "bad-payload", "line 3"},
      {"taken-over", "{}", "bad-payload", "line 3"},
      {"stage-entered", R"({"stage":"dream"})", "unknown-word", "line 3, /stage"},
      {"step-done", R"({"deed":"kick","what":"x"})", "unknown-word", "line 3, /deed"},
      {"phase-started", R"({"phase":"lunch"})", "unknown-word", "line 3, /phase"},
      {"job-ended", R"({"outcome":"maybe"})", "unknown-word", "line 3, /outcome"},
      // Kinds of format 2 are none of format 1.
      {"isolated", R"({"means":"breaker-off"})", "unknown-kind", "line 3"},
      {"stands-on", "{}", "unknown-kind", "line 3"},
      {"unit-as-found", "{}", "unknown-kind", "line 3"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.kind);
    CAPTURE(row.payload);
    OldJournal journal;
    journal.add(row.kind, row.payload);
    const job::Replayed read = journal.replayed();
    CHECK(read.damage.has_value());
    if (read.damage.has_value()) {
      CHECK(read.damage->code == row.code);
      CHECK(read.damage->where == row.where);
    }
    CHECK(read.damage_line == 3);
    CHECK_FALSE(read.newer);
    CHECK(read.state.last_n == 2);
  }
}

TEST_CASE("format 1: a member that it never had is told and says nothing") {
  OldJournal journal;
  journal.add("step-done", R"({"deed":"release","what":"toe-screws","act":"look-outside","tool":"bit"})");
  const job::Replayed read = journal.replayed();
  CHECK(read.notes.all().size() == 2);
  CHECK(read.notes.has("unknown-member"));
  CHECK(read.notes.all().front().line == 3);
  CHECK(read.state.steps.front().body.act == safety::Act::hands_in);
  CHECK(read.state.as_left.tool.empty());
  CHECK(read.state.safety.last_hands_in.event == 3);
}

TEST_CASE("format 1: over five minutes away nobody has said what happened") {
  for (const auto& row : {std::pair{300, false}, {301, true}, {-1, true}}) {
    const auto [seconds, asks] = row;
    CAPTURE(row.first);
    OldJournal journal;
    journal.isolate();
    journal.prove();
    journal.add("resumed", cat(R"({"awaySeconds":)", seconds, "}"));
    CHECK(journal.replayed().state.safety.gap_open == asks);
  }
}

TEST_CASE("format 1: another person proves again, and every step took the results away") {
  OldJournal journal;
  journal.isolate();
  journal.prove();
  journal.add("prove-recorded", R"({"test":"visual","passed":true,"standsOn":[3]})");
  CHECK(journal.replayed().state.proved.size() == 1);
  CHECK(journal.replayed().state.safety.power == Power::supply_dead);
  OldJournal step = journal;
  step.add("step-done", R"({"deed":"fasten","what":"toe-screws","standsOn":[3]})");
  CHECK(step.replayed().state.proved.empty());
  journal.add("taken-over", R"({"person":"Bo"})");
  const State state = journal.replayed().state;
  CHECK(state.person == "Bo");
  CHECK(state.safety.power == Power::live);
  CHECK(locks(state) == "L-1 of Ada");
}

TEST_CASE("format 1: the golden journals fold to what stood in them, with their pack and without") {
  const auto read = [](const char* name, const job::Library& library) {
    return job::replay(journal::read(golden(cat(name, ".jsonl"))), library);
  };
  // A reading of 118 V, a machine that answered, a tester that died: the README beside them.
  const State open = read("open", golden_library()).state;
  CHECK(misses(open) == "live-on-isolated 14 controls-answered 18 tester-failed 26");
  CHECK(open.safety.power == Power::supply_dead);
  CHECK(read("ended", golden_library()).state.safety.power == Power::on);
  CHECK(locks(read("ended", golden_library()).state).empty());
  CHECK(read("second-visit", golden_library()).state.safety.power == Power::on);
  CHECK(read("practice", golden_library()).state.safety.power == Power::on);
  for (const char* name : {"open", "ended", "second-visit", "practice"}) {
    CAPTURE(name);
    const State with = read(name, golden_library()).state;
    const State without = read(name, {}).state;
    CHECK(with.model == 0);
    CHECK(without.model == -1);
    CHECK(with.safety == without.safety);
    CHECK(with.as_left == without.as_left);
    CHECK(with.said.size() == without.said.size());
    CHECK(with.facts.size() == without.facts.size());
    CHECK(with.strange.empty());
  }
}

TEST_CASE("format 1: nothing more is recorded in its journals") {
  OldJournal journal;
  const job::Replayed read = journal.replayed(golden_library());
  CHECK(read.format == 1);
  CHECK(read.older());
  CHECK_FALSE(read.continues());
  const job::Settings settings;
  const job::Stamp now{3, Moment{1'793'500'100'000, -300}, 100'000, "00000000000000a1", "Ada"};
  const job::Decision decision =
      job::decide(read.state, job::NoteAdded{"later"}, now, {&golden_library(), &settings});
  CHECK(decision.events.empty());
  CHECK(decision.reasons.size() == 1);
  CHECK(decision.reasons.front().code == "older-format");
}

TEST_CASE("format 1: its invoices are given with number and total, those of earlier visits too") {
  const job::Settings settings;
  const job::Context context{&golden_library(), &settings};
  for (const auto& row : {std::pair{"ended", 1}, {"second-visit", 1}, {"open", 0}}) {
    const auto [name, count] = row;
    CAPTURE(row.first);
    const journal::Loaded loaded = journal::read(golden(cat(name, ".jsonl")));
    const State state = job::replay(loaded, golden_library()).state;
    const auto invoices = job::old_invoices(loaded, state, context);
    CHECK(to_int(invoices.size()) == count);
    for (const bill::OldInvoice& one : invoices) {
      const std::string line = cat(R"("kind":"invoice-issued","data":{"number":")", one.number,
                                   R"(","totalMinor":)", one.total_minor, R"(,"currency":")",
                                   one.currency, R"("})");
      CHECK(golden(cat(name, ".jsonl")).find(line) != std::string::npos);
      CHECK(one.customer.name == state.customer.name);
      CHECK(one.shop == "Larkmoor Appliance Service");
    }
  }
}

}  // namespace kp::test::format1
