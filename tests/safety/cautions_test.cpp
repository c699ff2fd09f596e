// Cautions and gloves (S18). Signal words after ANSI Z535.4-2007, 4.14.1 to 4.14.4; which word a
// tag has is a rule of this tool, signs of ISO 7010 are from memory.

#include <doctest/doctest.h>

#include <algorithm>

#include "base/text.hpp"
#include "safety/guide_words.hpp"

using namespace kp;
using namespace kp::safety;

namespace {

std::vector<Contact> some(unsigned set) {
  std::vector<Contact> out;
  for (int i = 0; i < kContacts; ++i) {
    if (in_set(set, static_cast<Contact>(i))) {
      out.push_back(static_cast<Contact>(i));
    }
  }
  return out;
}

Situation at(unsigned bits) {
  return {(bits & 1U) != 0, (bits & 2U) != 0, (bits & 4U) != 0,
          (bits & 8U) != 0, (bits & 16U) != 0, (bits & 32U) != 0};
}

bool says(const std::vector<Caution>& cautions, const std::string& sentence) {
  return std::any_of(cautions.begin(), cautions.end(),
                     [&](const Caution& one) { return one.sentence == sentence; });
}

int pairs_of_gloves(const std::vector<Caution>& cautions) {
  int pairs = 0;
  for (const Caution& caution : cautions) {
    std::string rest = caution.wear;
    for (std::size_t i = rest.find("gloves"); i != std::string::npos; i = rest.find("gloves", i + 1)) {
      ++pairs;
    }
  }
  return pairs;
}

}  // namespace

TEST_CASE("cautions: the table has one row for each tag, in their order") {
  REQUIRE(to_int(contact_rules().size()) == kContacts);
  for (int i = 0; i < kContacts; ++i) {
    CHECK(static_cast<int>(contact_rules()[to_size(i)].contact) == i);
  }
}

TEST_CASE("cautions: a caution stands while it applies, not longer: all tags, all situations") {
  int looked_at = 0;
  for (unsigned set = 0; set < 256; ++set) {
    for (unsigned bits = 0; bits < 64; ++bits) {
      const Situation now = at(bits);
      const std::vector<Caution> cautions = cautions_of(some(set), now);
      const auto stands = [&](Contact contact) { return says(cautions, rule_of(contact).caution); };
      int wrong = 0;
      const auto expect = [&](Contact contact, bool there) {
        wrong += stands(contact) == (in_set(set, contact) && there) ? 0 : 1;
      };
      expect(Contact::live, !now.dead);
      expect(Contact::stored_charge, !now.discharged);
      expect(Contact::wet, !now.water_off || now.opens_wet);
      expect(Contact::hot, !now.cooled);
      expect(Contact::heavy, !now.secured);
      expect(Contact::sharp, true);
      expect(Contact::sprung, true);
      expect(Contact::fragile, true);
      wrong += pairs_of_gloves(cautions) <= 1 ? 0 : 1;
      wrong += std::is_sorted(cautions.begin(), cautions.end(), [](const Caution& a, const Caution& b) {
                 return a.word > b.word;
               }) ? 0 : 1;
      CAPTURE(set);
      CAPTURE(bits);
      REQUIRE(wrong == 0);
      ++looked_at;
    }
  }
  CHECK(looked_at == 256 * 64);
}

TEST_CASE("cautions: which gloves: insulating before the proof, cut-resistant after it, one pair") {
  const std::vector<Contact> all = some(255);
  const auto gloves = [&](const Situation& now) { return cautions_of(all, now).front().wear; };
  // Order of safety, section 4: class 00 or more, leather over, in approach and live work.
  CHECK(gloves({}).rfind("insulating gloves class 00", 0) == 0);
  CHECK(gloves({true, true, true, false, true, true}).rfind("cut-resistant", 0) == 0);
  CHECK(gloves({true, true, true, false, false, true}).rfind("heat-resistant", 0) == 0);
  const auto wet = cautions_of({Contact::wet}, {true, true, true, true, true, true});
  REQUIRE(wet.size() == 1);
  CHECK(wet.front().wear == "waterproof gloves");
  CHECK(cautions_of({Contact::live}, {true, true, true, false, true, true}).empty());
}

TEST_CASE("cautions: signal words: danger for live parts, notice where only the machine is hurt") {
  CHECK(SignalWord::danger > SignalWord::warning);
  CHECK(SignalWord::warning > SignalWord::caution);
  CHECK(SignalWord::caution > SignalWord::notice);
  CHECK(std::string(words(SignalWord::danger)) == "DANGER");
  CHECK(rule_of(Contact::live).present == SignalWord::danger);
  for (const ContactRule& rule : contact_rules()) {
    CHECK((rule.present == SignalWord::notice) == !rule.harms);
    CHECK(std::string(rule.sign).empty() == !rule.harms);
    CHECK(rule.controlled <= rule.present);
    CHECK(rule.gloves_after <= rule.gloves);
  }
}

TEST_CASE("cautions: one a tag, and no energy for what hurts nobody") {
  CHECK(cautions_of({Contact::sharp, Contact::live, Contact::sharp, Contact::fragile}, {}).size() == 3);
  CHECK(energies_of({Contact::fragile}) == 0);
  CHECK(energies_of({Contact::live, Contact::wet}) ==
        (bit(Energy::mains) | bit(Energy::water_pressure)));
}

TEST_CASE("cautions: no card of the guide names two pairs of gloves") {
  Place place;
  place.id = kSupply;
  place.pairs = supply_pairs(System::split);
  for (int role = 0; role < kRoles; ++role) {
    const Wanted wanted{static_cast<Role>(role), {"L", "E"}, false};
    CHECK(pairs_of_gloves(reading_of(place, wanted, {}).cautions) <= 1);
  }
  Law law;
  Ask ask;
  ask.by = "Ana";
  for (const Act act : {Act::hands_in, Act::reach_tub, Act::cover, Act::reading}) {
    ask.demand.act = act;
    ask.demand.contacts = some(255);
    ask.demand.groups = {{{"g", {{"a", ""}}, true, false}, true}};
    int cards = 0;
    for (const Todo& todo : make_safe(State{}, ask, {1, 1}, law, place)) {
      CHECK(pairs_of_gloves(todo.cautions) <= 1);
      ++cards;
    }
    CHECK(cards > 3);
  }
}
