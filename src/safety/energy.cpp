#include "safety/energy.hpp"

#include <algorithm>

#include "base/check.hpp"
#include "base/text.hpp"

namespace kp::safety {

namespace {

constexpr const char* kSignalWords[] = {"NOTICE", "CAUTION", "WARNING", "DANGER"};
constexpr const char* kEnergyWords[kEnergies] = {
    "mains electricity", "stored charge", "water pressure", "hot water and surfaces", "springs",
    "gravity",           "sharp edges"};
constexpr const char* kContactWords[kContacts] = {"live",  "stored-charge", "wet",   "hot",
                                                  "sharp", "sprung",        "heavy", "fragile"};
constexpr const char* kNeedWords[kNeeds] = {"power proved dead", "water shut and relieved",
                                            "stored charge gone", "hot parts cooled",
                                            "unit or load secured"};

}  // namespace

const std::vector<ContactRule>& contact_rules() {
  using enum SignalWord;
  static const std::vector<ContactRule> rules = {
      {Contact::live, Energy::mains, true, bit(Need::power_dead), danger, warning,
       "Keep hands out until the power is proved dead.", "insulated tools", "W012",
       "Mains current through the heart kills within seconds, and wet skin lets more of it pass."},
      {Contact::stored_charge, Energy::stored_charge, true,
       bit(Need::power_dead) | bit(Need::charge_gone), danger, warning,
       "Discharge the capacitor and measure it before you touch its terminals.",
       "insulated tools, eye protection", "W012",
       "A capacitor keeps its voltage after the plug is out and gives it back in one blow."},
      {Contact::wet, Energy::water_pressure, true, bit(Need::water_off), warning, caution,
       "Shut the water and let the pressure out before you open a joint.", "waterproof gloves",
       "W011", "Water that escapes makes floors slippery and brings mains voltage to your hands."},
      {Contact::hot, Energy::hot, true, bit(Need::cooled), warning, warning,
       "Let hot parts cool and measure them before you touch them.", "heat-resistant gloves",
       "W017", "A heater burns for many minutes after it is off, and hot water scalds."},
      {Contact::sharp, Energy::sharp, true, 0, caution, caution,
       "Wear gloves against cuts and keep fingers away from cut edges.", "cut-resistant gloves",
       "W022", "Pressed sheet metal keeps a burr that opens skin at a light touch."},
      {Contact::sprung, Energy::springs, true, 0, caution, caution,
       "Hold the spring with a tool and keep your face out of its line.",
       "eye protection, gloves", "W024", "A loaded spring gives all its energy back at once."},
      {Contact::heavy, Energy::gravity, true, bit(Need::secured), warning, warning,
       "Secure the unit or the load, or take a second person, before you move it.",
       "safety shoes, gloves", "W024",
       "A unit that tips or a part that falls crushes hands and feet."},
      {Contact::fragile, Energy::gravity, false, 0, notice, notice,
       "Support the part with both hands and do not force it.", "", "",
       "Aged plastic and glass break without warning; nobody is hurt, the bill is."},
  };
  return rules;
}

const ContactRule& rule_of(Contact contact) {
  const auto index = static_cast<int>(contact);
  KP_CHECK(index >= 0 && index < kContacts);
  return contact_rules()[to_size(index)];
}

NeedSet needs_of(const std::vector<Contact>& contacts, bool hands_in) {
  NeedSet needs = hands_in ? bit(Need::power_dead) | bit(Need::water_off) : 0;
  for (const Contact contact : contacts) {
    needs |= rule_of(contact).needs;
  }
  return needs;
}

EnergySet energies_of(const std::vector<Contact>& contacts) {
  EnergySet energies = 0;
  for (const Contact contact : contacts) {
    if (rule_of(contact).harms) {
      energies |= bit(rule_of(contact).energy);
    }
  }
  return energies;
}

SignalWord worst_word(const std::vector<Contact>& contacts, bool power_dead) {
  SignalWord worst = SignalWord::notice;
  for (const Contact contact : contacts) {
    const ContactRule& rule = rule_of(contact);
    worst = std::max(worst, power_dead ? rule.while_dead : rule.while_on);
  }
  return worst;
}

std::vector<Caution> cautions_of(const std::vector<Contact>& contacts, bool power_dead) {
  std::vector<Caution> cautions;
  std::uint32_t seen = 0;
  for (const Contact contact : contacts) {
    if (in_set(seen, contact)) {
      continue;
    }
    seen |= bit(contact);
    const ContactRule& rule = rule_of(contact);
    cautions.push_back(Caution{power_dead ? rule.while_dead : rule.while_on, rule.caution,
                               rule.wear, rule.sign});
  }
  std::stable_sort(cautions.begin(), cautions.end(),
                   [](const Caution& a, const Caution& b) { return a.word > b.word; });
  return cautions;
}

const char* words(SignalWord word) { return kSignalWords[static_cast<int>(word)]; }
const char* words(Energy energy) { return kEnergyWords[static_cast<int>(energy)]; }
const char* words(Contact contact) { return kContactWords[static_cast<int>(contact)]; }
const char* words(Need need) { return kNeedWords[static_cast<int>(need)]; }

}  // namespace kp::safety
