#pragma once
// safety: energies, isolation states and the gate, as tables and pure functions.
// It knows what may hurt and what must be shown first; it knows no pack, no screen and no clock.

#include <cstdint>
#include <string>
#include <vector>

namespace kp::safety {

enum class Energy { mains, stored_charge, water_pressure, hot, springs, gravity, sharp };
inline constexpr int kEnergies = 7;

/// What hands meet at a part or joint; the caller converts from its own tags, in this order.
enum class Contact { live, stored_charge, wet, hot, sharp, sprung, heavy, fragile };
inline constexpr int kContacts = 8;

/// Gloves, the one that counts above the others last: nobody wears two pairs.
enum class Gloves { none, waterproof, cut_resistant, heat_resistant, insulating };

/// Small sets as bits: bit i stands for the enumerator of value i.
using EnergySet = std::uint32_t;

template <class Enum>
[[nodiscard]] constexpr std::uint32_t bit(Enum value) {
  return 1U << static_cast<std::uint32_t>(value);
}
template <class Enum>
[[nodiscard]] constexpr bool in_set(std::uint32_t set, Enum value) {
  return (set & bit(value)) != 0;
}

/// Signal words in the meaning of ANSI Z535.4-2007, 4.14.1 to 4.14.4; the later is the graver.
enum class SignalWord { notice, caution, warning, danger };

/// What has been shown where hands go. A caution stands while it applies, not longer.
struct Situation {
  bool dead = false;         ///< the terminals that hands meet
  bool discharged = false;
  bool water_off = false;
  bool opens_wet = false;
  bool cooled = false;
  bool secured = false;
};

/// One row of the table of hazards.
struct ContactRule {
  Contact contact;
  Energy energy;           ///< fragile carries no energy: look at `harms` first
  bool harms;              ///< false: only the machine can be hurt
  SignalWord present;      ///< while the energy is there
  const char* caution;     ///< one sentence that begins with the command, at most 20 words
  SignalWord controlled;   ///< after it was shown to be gone
  const char* rest;        ///< what is still true then, may be empty: no caution any more
  Gloves gloves;           ///< while it is there
  Gloves gloves_after;
  const char* wear;        ///< other protective equipment, may be empty
  const char* sign;        ///< ISO 7010 code of the fitting sign (from memory), may be empty
  const char* why;         ///< for the trainee, at most 25 words
};

[[nodiscard]] const std::vector<ContactRule>& contact_rules();
[[nodiscard]] const ContactRule& rule_of(Contact contact);
[[nodiscard]] EnergySet energies_of(const std::vector<Contact>& contacts);

struct Caution {
  SignalWord word = SignalWord::notice;
  std::string sentence;
  std::string wear;
  std::string sign;
};
/// The cautions of an act that apply now, the worst first, one for each tag. One pair of gloves is
/// named for all of them, with the worst.
[[nodiscard]] std::vector<Caution> cautions_of(const std::vector<Contact>& contacts,
                                               const Situation& situation);

[[nodiscard]] const char* words(SignalWord word);  ///< "DANGER"
[[nodiscard]] const char* words(Energy energy);    ///< "water pressure"
[[nodiscard]] const char* words(Contact contact);  ///< "stored-charge", as packs write it
[[nodiscard]] const char* words(Gloves gloves);    ///< "cut-resistant gloves", empty for none

}  // namespace kp::safety
