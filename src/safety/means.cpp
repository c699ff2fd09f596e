#include "safety/means.hpp"

#include "base/check.hpp"
#include "base/text.hpp"

namespace kp::safety {

namespace {

struct ControlWords {
  const char* word;
  const char* title;
};
constexpr ControlWords kControlWords[kControls] = {
    {"in-hand", "Plug in my hand or pocket"},
    {"reach-and-sight", "Plug within my reach and in my sight"},
    {"sight-only", "Plug in my sight only"},
    {"reach-only", "Plug within my reach only"},
    {"locked", "Locked with my lock, tagged"},
    {"tag-and-measure", "No lock fits: tagged, and one more measure"}};

}  // namespace

const std::vector<MeansRule>& means_rules() {
  static const char* const controls = "29 CFR 1910.333(b)(2)(ii)(B)";
  static const char* const lockout = "29 CFR 1910.147(d)(3), (d)(4)";
  static const std::vector<MeansRule> rules = {
      {Means::plug_out, true, true, false, "plug-out", "Plug out",
       "A plug that you traced to this machine parts every conductor.",
       "29 CFR 1910.147(a)(2)(iii)(A)"},
      {Means::breaker_off, true, true, true, "breaker-off", "Breaker off",
       "A breaker parts the circuit, and a lock keeps it off.", lockout},
      {Means::spur_fuse_out, true, true, true, "spur-fuse-out", "Spur off, its fuse out",
       "A double-pole spur parts both conductors, and the fuse stays with you.", lockout},
      {Means::door_switch, false, false, false, "door-switch", "Door open",
       "A door switch is an interlock, and it leaves wires in front of it live.", controls},
      {Means::cycle_button, false, false, false, "cycle-button", "Cycle cancelled",
       "A cycle button only commands; the wires stay live.", controls},
      {Means::panel_off, false, false, false, "panel-off", "Off at the console",
       "The console is fed while it shows off.", controls},
      {Means::timer_off, false, false, false, "timer-off", "Timer at off",
       "A timer opens some contacts and leaves the others live.", controls},
      {Means::one_pole_of_two, false, false, false, "one-pole-of-two", "One handle of two off",
       "The other line keeps both ends of each load live.", "29 CFR 1910.333(b)(2)(ii)(B)"},
      {Means::wall_switch, false, false, false, "wall-switch", "Wall switch off",
       "It may break one pole only, and it is pressed again. Rule of this tool.",
       "stricter than a letter of 27 October 2005 on 29 CFR 1910.147"},
      {Means::residual_current_button, false, false, false, "residual-current-button",
       "Test button pressed", "One press of a button brings the power back.", controls},
      {Means::remote_off, false, false, false, "remote-off", "Off by remote control",
       "A remote command can be given again by somebody far away.", controls},
      {Means::word_of_another, false, false, false, "word-of-another", "Somebody says it is off",
       "The person who does the work isolates it and proves it.", "29 CFR 1910.147(d)(6)"},
  };
  return rules;
}

const MeansRule& rule_of(Means means) {
  const auto index = static_cast<int>(means);
  KP_CHECK(index >= 0 && index < kMeans);
  return means_rules()[to_size(index)];
}

bool counts(Means means, Connection connection, System system) {
  const MeansRule& rule = rule_of(means);
  if (means == Means::spur_fuse_out && system == System::split) {
    return false;  // a spur holds one fuse, and two lines come in
  }
  return rule.isolates && (connection == Connection::cord ? rule.for_cord : rule.for_fixed);
}

std::vector<Means> offered(Connection connection, System system) {
  std::vector<Means> means;
  for (const MeansRule& rule : means_rules()) {
    if (counts(rule.means, connection, system)) {
      means.push_back(rule.means);
    }
  }
  return means;
}

bool exclusive(Control control, const ControlAsked& asked) {
  switch (control) {
    case Control::locked:
      return true;
    case Control::tag_and_measure:
      return asked.means != Means::plug_out;
    case Control::in_hand:
    case Control::reach_and_sight:
      return asked.means == Means::plug_out && !asked.built_in && asked.workers <= 1 &&
             !asked.leaves;
    case Control::sight_only:
    case Control::reach_only:
      return false;
  }
  return false;
}

bool needs_lock(Control control) { return control == Control::locked; }
bool needs_tag(Control control) {
  return control == Control::locked || control == Control::tag_and_measure;
}

std::vector<Control> offered(const ControlAsked& asked) {
  std::vector<Control> out;
  for (int i = 0; i < kControls; ++i) {
    if (exclusive(static_cast<Control>(i), asked)) {
      out.push_back(static_cast<Control>(i));
    }
  }
  return out;
}

const char* words(Control control) { return kControlWords[static_cast<int>(control)].word; }
const char* title(Control control) { return kControlWords[static_cast<int>(control)].title; }

}  // namespace kp::safety
