// The policy table: what each tag demands and says. Signal words after ANSI Z535.4-2007, 4.14.1 to
// 4.14.4; the choice of word for each tag is a rule of this tool.

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "safety/story.hpp"

using namespace kp;
using safety::Contact;
using safety::Demand;
using safety::EventKind;
using safety::Need;
using safety::SignalWord;
using test::Story;

TEST_CASE("contacts: the table has one row for each tag, in the order of the tags") {
  REQUIRE(to_int(safety::contact_rules().size()) == safety::kContacts);
  for (int i = 0; i < safety::kContacts; ++i) {
    CHECK(static_cast<int>(safety::contact_rules()[to_size(i)].contact) == i);
  }
  REQUIRE(to_int(safety::means_rules().size()) == safety::kMeans);
  for (int i = 0; i < safety::kMeans; ++i) {
    CHECK(static_cast<int>(safety::means_rules()[to_size(i)].means) == i);
  }
}

TEST_CASE("contacts: hands-in always needs power and water, tags add") {
  const safety::NeedSet both = safety::bit(Need::power_dead) | safety::bit(Need::water_off);
  CHECK(safety::needs_of({}, true) == both);
  CHECK(safety::needs_of({}, false) == 0);
  for (const safety::ContactRule& rule : safety::contact_rules()) {
    CHECK((safety::needs_of({rule.contact}, true) & both) == both);
    CHECK(safety::needs_of({rule.contact}, false) == rule.needs);
  }
  CHECK(safety::in_set(safety::needs_of({Contact::stored_charge}, true), Need::charge_gone));
  CHECK(safety::in_set(safety::needs_of({Contact::hot}, true), Need::cooled));
  CHECK(safety::in_set(safety::needs_of({Contact::heavy}, true), Need::secured));
  CHECK(safety::in_set(safety::needs_of({Contact::live}, false), Need::power_dead));
  CHECK(safety::in_set(safety::needs_of({Contact::wet}, false), Need::water_off));
}

TEST_CASE("contacts: signal words") {
  CHECK(SignalWord::danger > SignalWord::warning);
  CHECK(SignalWord::warning > SignalWord::caution);
  CHECK(SignalWord::caution > SignalWord::notice);
  // Electric shock behind an open cover: DANGER while voltage may be there, WARNING when dead.
  CHECK(safety::worst_word({Contact::live}, false) == SignalWord::danger);
  CHECK(safety::worst_word({Contact::live}, true) == SignalWord::warning);
  CHECK(safety::worst_word({Contact::sharp}, true) == SignalWord::caution);
  CHECK(safety::worst_word({Contact::fragile}, true) == SignalWord::notice);
  // One label for several hazards takes the word of the worst.
  CHECK(safety::worst_word({Contact::fragile, Contact::sharp, Contact::live}, false) ==
        SignalWord::danger);
  CHECK(safety::worst_word({}, false) == SignalWord::notice);
  // NOTICE is not about injury and carries no warning sign.
  for (const safety::ContactRule& rule : safety::contact_rules()) {
    CHECK((rule.while_on == SignalWord::notice) == !rule.harms);
    CHECK((std::string(rule.sign).empty()) == !rule.harms);
    CHECK(rule.while_dead <= rule.while_on);
  }
}

TEST_CASE("contacts: cautions come worst first and once each") {
  const auto cautions =
      safety::cautions_of({Contact::sharp, Contact::live, Contact::sharp, Contact::fragile}, false);
  REQUIRE(cautions.size() == 3);
  CHECK(cautions[0].word == SignalWord::danger);
  CHECK(cautions[1].word == SignalWord::caution);
  CHECK(cautions[2].word == SignalWord::notice);
}

TEST_CASE("contacts: stored charge is measured with DC volts, 1910.333(b)(2)(ii)(C)") {
  Story story;
  CHECK(story.make_safe());
  const Demand demand{{Contact::stored_charge}, true, false, 1};
  CHECK(Story::has(story.may(demand).reasons, "charge-not-gone"));
  safety::Event charge;
  charge.kind = EventKind::charge_gone;
  charge.meter = "T1";
  charge.volts = 2;
  charge.function = safety::MeterFunction::volts_ac;
  CHECK_FALSE(story.tell(charge));
  CHECK(story.was_refused_for("wrong-function"));
  charge.function = safety::MeterFunction::volts_dc;
  for (const double volts : {10.0, -34.0, std::nan("")}) {
    charge.volts = volts;
    CHECK_FALSE(story.tell(charge));
    CHECK(story.was_refused_for("charge-still-there"));
  }
  charge.volts = -2;
  CHECK(story.tell(charge));
  const safety::Verdict verdict = story.may(demand);
  CHECK(verdict.allowed);
  CHECK(std::find(verdict.stands_on.begin(), verdict.stands_on.end(),
                  story.state.charge_gone.event) != verdict.stands_on.end());
}

TEST_CASE("contacts: hot parts cool, heavy ones are secured, two people lift") {
  Story story;
  CHECK(story.make_safe());
  CHECK(Story::has(story.may({{Contact::hot}, true, false, 1}).reasons, "not-cooled"));
  safety::Event cool;
  cool.kind = EventKind::cooled;
  cool.celsius = 60;
  CHECK_FALSE(story.tell(cool));
  CHECK(story.was_refused_for("still-hot"));
  cool.celsius = 31;
  CHECK(story.tell(cool));
  CHECK(story.may({{Contact::hot}, true, false, 1}).allowed);

  CHECK(Story::has(story.may({{Contact::heavy}, true, false, 1}).reasons, "not-secured"));
  CHECK(story.tell(EventKind::secured));
  CHECK(story.may({{Contact::heavy}, true, false, 1}).allowed);
  CHECK(story.tell(EventKind::posture_changed));
  CHECK_FALSE(story.may({{Contact::heavy}, true, false, 1}).allowed);

  CHECK(Story::has(story.may({{}, true, false, 2}).reasons, "helper-missing"));
  safety::Event crowd;
  crowd.kind = EventKind::helpers_here;
  crowd.people = 0;
  CHECK_FALSE(story.tell(crowd));
  crowd.people = 2;
  CHECK(story.tell(crowd));
  CHECK(story.may({{}, true, false, 2}).allowed);
}

TEST_CASE("contacts: an energy that nobody listed closes the gate, 1910.147(d)(1)") {
  Story story;
  CHECK(story.make_safe());
  safety::Event list;
  list.kind = EventKind::prepared;
  list.energies = safety::bit(safety::Energy::mains) | safety::bit(safety::Energy::water_pressure);
  list.connection = safety::Connection::fixed;
  CHECK(story.tell(list));
  CHECK(story.hands_in());
  CHECK(Story::has(story.may({{Contact::sharp}, true, false, 1}).reasons, "energy-not-listed"));
  CHECK(story.may({{Contact::fragile}, true, false, 1}).allowed);
}

TEST_CASE("policy: no setting weakens the gate beyond the published figures") {
  safety::Policy wild;
  wild.live_from_volts = 400;
  wild.dead_below_volts = 400;
  wild.known_low_volts = 0;
  wild.prove_seconds = 1'000'000;
  wild.pause_seconds = 1'000'000;
  wild.proof_seconds = 1'000'000;
  wild.charge_gone_volts = 500;
  wild.cooled_below_celsius = 200;
  const safety::Policy policy = safety::bounded(wild);
  CHECK(policy.live_from_volts == 50);          // 29 CFR 1910.333(a)(1)
  CHECK(policy.dead_below_volts == 50);
  CHECK(policy.known_low_volts == 50);
  CHECK(policy.prove_seconds == 1800);
  CHECK(policy.pause_seconds == 1800);
  CHECK(policy.proof_seconds == 8 * 3600);      // one shift
  CHECK(policy.charge_gone_volts == 34);        // IEC 60335-1 clause 22.5, from memory
  CHECK(policy.cooled_below_celsius == 48);     // ISO 13732-1, from memory
  wild.live_from_volts = std::nan("");
  CHECK(safety::bounded(wild).live_from_volts == safety::Policy{}.live_from_volts);

  Story story(wild);
  CHECK(story.prepare(safety::Connection::fixed));
  CHECK(story.tell(EventKind::stopped));
  CHECK(story.isolate(safety::Means::breaker_locked, "L1"));
  CHECK(story.tell(EventKind::controls_tried));
  CHECK(story.read(safety::Station::known_before, 121));
  CHECK(story.read(safety::Station::line_neutral, 120));
  CHECK(story.state.verdict == safety::ProveVerdict::live);
}
