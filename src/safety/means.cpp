#include "safety/means.hpp"

#include "base/check.hpp"
#include "base/text.hpp"

namespace kp::safety {

const std::vector<MeansRule>& means_rules() {
  static const char* const controls = "29 CFR 1910.333(b)(2)(ii)(B)";
  static const char* const lockout = "29 CFR 1910.147(d)(3), (d)(4)";
  static const std::vector<MeansRule> rules = {
      {Means::unplugged_in_sight, true, true, false, false, "Plug out, in my sight",
       "Nobody else can put the plug back while you hold it or see it.",
       "29 CFR 1910.147(a)(2)(iii)(A)"},
      {Means::breaker_locked, true, true, true, true, "Breaker off and locked",
       "The lock keeps the breaker off until you take it away.", lockout},
      {Means::fused_spur_locked, true, true, true, true, "Fused spur off and locked",
       "The lock keeps the spur off until you take it away.", lockout},
      {Means::door_switch, false, false, false, false, "Door open",
       "A door switch is an interlock, and it leaves wires in front of it live.", controls},
      {Means::cycle_button, false, false, false, false, "Cycle cancelled",
       "A cycle button only commands; the wires stay live.", controls},
      {Means::panel_off, false, false, false, false, "Off at the console",
       "The console is fed while it shows off.", controls},
      {Means::timer_off, false, false, false, false, "Timer at off",
       "A timer opens some contacts and leaves the others live.", controls},
      {Means::breaker_unlocked, false, false, false, false, "Breaker off, no lock",
       "Anyone may put the breaker on again while your hands are inside.", lockout},
      {Means::wall_switch, false, false, false, false, "Wall switch off",
       "A switch without a lock is pressed again, and it may break one pole only.", lockout},
      {Means::residual_current_button, false, false, false, false, "Test button pressed",
       "A test button is a push button; one press brings the power back.", controls},
      {Means::unplugged_out_of_sight, false, false, false, false, "Plug out, not in sight",
       "The plug is not under your control when you cannot see it.",
       "29 CFR 1910.147(a)(2)(iii)(A)"},
      {Means::remote_off, false, false, false, false, "Off by remote control",
       "A remote command can be given again by somebody far away.", controls},
      {Means::word_of_another, false, false, false, false, "Somebody says it is off",
       "The person who does the work isolates it and proves it.", "29 CFR 1910.147(d)(6)"},
  };
  return rules;
}

const MeansRule& rule_of(Means means) {
  const auto index = static_cast<int>(means);
  KP_CHECK(index >= 0 && index < kMeans);
  return means_rules()[to_size(index)];
}

bool counts(Means means, Connection connection) {
  const MeansRule& rule = rule_of(means);
  return rule.isolates && (connection == Connection::cord ? rule.for_cord : rule.for_fixed);
}

std::vector<Means> offered(Connection connection) {
  std::vector<Means> means;
  for (const MeansRule& rule : means_rules()) {
    if (counts(rule.means, connection)) {
      means.push_back(rule.means);
    }
  }
  return means;
}

}  // namespace kp::safety
