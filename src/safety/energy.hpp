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

/// What must be true before hands go in.
enum class Need { power_dead, water_off, charge_gone, cooled, secured };
inline constexpr int kNeeds = 5;

/// Small sets as bits: bit i stands for the enumerator of value i.
using EnergySet = std::uint32_t;
using NeedSet = std::uint32_t;

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

/// One row of the policy table.
struct ContactRule {
  Contact contact;
  Energy energy;           ///< fragile carries no energy: look at `harms` first
  bool harms;              ///< false: only the machine can be hurt
  NeedSet needs;           ///< on top of power and water, which every hands-in step needs
  SignalWord while_on;     ///< power not proved dead
  SignalWord while_dead;   ///< power proved dead
  const char* caution;     ///< one sentence that begins with the command, at most 20 words
  const char* wear;        ///< protective equipment, may be empty
  const char* sign;        ///< ISO 7010 code of the fitting sign (from memory), may be empty
  const char* why;         ///< for the trainee, at most 25 words
};

[[nodiscard]] const std::vector<ContactRule>& contact_rules();
[[nodiscard]] const ContactRule& rule_of(Contact contact);

/// All needs of a step at rest: the union over its tags; a hands-in step always needs power_dead
/// and water_off, even with no tag at all.
[[nodiscard]] NeedSet needs_of(const std::vector<Contact>& contacts, bool hands_in);
[[nodiscard]] EnergySet energies_of(const std::vector<Contact>& contacts);

/// One label for several hazards takes the word of the worst. No tag: NOTICE.
[[nodiscard]] SignalWord worst_word(const std::vector<Contact>& contacts, bool power_dead);

struct Caution {
  SignalWord word = SignalWord::notice;
  std::string sentence;
  std::string wear;
  std::string sign;
};
/// The cautions of a step, the worst first, one for each tag, before the step is shown.
[[nodiscard]] std::vector<Caution> cautions_of(const std::vector<Contact>& contacts,
                                               bool power_dead);

[[nodiscard]] const char* words(SignalWord word);  ///< "DANGER"
[[nodiscard]] const char* words(Energy energy);    ///< "water pressure"
[[nodiscard]] const char* words(Contact contact);  ///< "stored-charge", as packs write it
[[nodiscard]] const char* words(Need need);        ///< "power proved dead"

}  // namespace kp::safety
