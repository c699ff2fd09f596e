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
constexpr const char* kGloveWords[] = {"", "waterproof gloves", "cut-resistant gloves",
                                       "heat-resistant gloves",
                                       "insulating gloves class 00 or more, leather over"};

bool is_controlled(Contact contact, const Situation& now) {
  switch (contact) {
    case Contact::live: return now.dead;
    case Contact::stored_charge: return now.discharged;
    case Contact::wet: return now.water_off && !now.opens_wet;
    case Contact::hot: return now.cooled;
    case Contact::heavy: return now.secured;
    case Contact::sharp:
    case Contact::sprung:
    case Contact::fragile: return false;
  }
  return false;
}

}  // namespace

const std::vector<ContactRule>& contact_rules() {
  using enum SignalWord;
  using enum Gloves;
  // Insulating, cut-resistant and waterproof are three gloves; which one is the shop's policy.
  static const std::vector<ContactRule> rules = {
      {Contact::live, Energy::mains, true, danger,
       "Treat it as live until it is proved dead.", notice, "", insulating, none,
       "insulated tools", "W012",
       "Mains current through the heart kills within seconds, and wet skin lets more of it pass."},
      {Contact::stored_charge, Energy::stored_charge, true, danger,
       "Discharge the capacitor and measure it before you touch its terminals.", notice, "",
       insulating, none, "insulated tools, eye protection", "W012",
       "A capacitor keeps its voltage after the plug is out and gives it back in one blow."},
      {Contact::wet, Energy::water_pressure, true, warning,
       "Water is left in the joint. Catch it, and keep it off every terminal.", notice, "",
       waterproof, none, "", "W011",
       "Water that escapes makes floors slippery and brings mains voltage to your hands."},
      {Contact::hot, Energy::hot, true, warning,
       "Let hot parts cool and measure them before you touch them.", notice, "", heat_resistant,
       none, "", "W017", "A heater burns for many minutes after it is off, and hot water scalds."},
      {Contact::sharp, Energy::sharp, true, caution,
       "Keep fingers away from cut edges of sheet metal.", caution, "", cut_resistant,
       cut_resistant, "", "W022", "Pressed sheet metal keeps a burr that opens skin at a light touch."},
      {Contact::sprung, Energy::springs, true, caution,
       "Hold the spring with a tool and keep your face out of its line.", caution, "",
       cut_resistant, cut_resistant, "eye protection", "W024",
       "A loaded spring gives all its energy back at once."},
      {Contact::heavy, Energy::gravity, true, warning,
       "Secure the unit or the load, or take a second person, before you move it.", caution,
       "Move it slowly. One person gives the word.", cut_resistant, cut_resistant, "safety shoes",
       "W024", "A unit that tips or a part that falls crushes hands and feet."},
      {Contact::fragile, Energy::gravity, false, notice,
       "Support the part with both hands and do not force it.", notice, "", none, none, "", "",
       "Aged plastic and glass break without warning; nobody is hurt, the bill is."},
  };
  return rules;
}

const ContactRule& rule_of(Contact contact) {
  const auto index = static_cast<int>(contact);
  KP_CHECK(index >= 0 && index < kContacts);
  return contact_rules()[to_size(index)];
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

std::vector<Caution> cautions_of(const std::vector<Contact>& contacts,
                                 const Situation& situation) {
  std::vector<Caution> cautions;
  std::uint32_t seen = 0;
  Gloves gloves = Gloves::none;
  for (const Contact contact : contacts) {
    if (in_set(seen, contact)) {
      continue;
    }
    seen |= bit(contact);
    const ContactRule& rule = rule_of(contact);
    const bool controlled = is_controlled(contact, situation);
    gloves = std::max(gloves, controlled ? rule.gloves_after : rule.gloves);
    const std::string sentence = controlled ? rule.rest : rule.caution;
    if (!sentence.empty()) {
      cautions.push_back(Caution{controlled ? rule.controlled : rule.present, sentence, rule.wear,
                                 rule.sign});
    }
  }
  std::stable_sort(cautions.begin(), cautions.end(),
                   [](const Caution& a, const Caution& b) { return a.word > b.word; });
  if (!cautions.empty() && gloves != Gloves::none) {
    std::string& wear = cautions.front().wear;
    wear = cat(words(gloves), wear.empty() ? "" : ", ", wear);
  }
  return cautions;
}

const char* words(SignalWord word) { return kSignalWords[static_cast<int>(word)]; }
const char* words(Energy energy) { return kEnergyWords[static_cast<int>(energy)]; }
const char* words(Contact contact) { return kContactWords[static_cast<int>(contact)]; }
const char* words(Gloves gloves) { return kGloveWords[static_cast<int>(gloves)]; }

}  // namespace kp::safety
