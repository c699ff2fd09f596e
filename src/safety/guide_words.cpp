// table: the words of the guide.
#include "safety/guide_words.hpp"

#include "base/check.hpp"
#include "base/text.hpp"

namespace kp::safety {

namespace {

struct TodoWords {
  TodoKind kind;
  const char* word;
  const char* sentence;
  const char* how;
  const char* why;
};

constexpr TodoWords kWords[kTodoKinds] = {
    {TodoKind::answer_gap, "answer-gap", "Say first: did you stay at the machine?",
     "Look at the lock, the plug and the valve before you answer.",
     "Nobody knows what happened while the screen was dark. Rule of this tool."},
    {TodoKind::doubt_clock, "doubt-clock", "Set the clock right.",
     "The proofs so far are given up.", "A proof without a sure time has no age. Rule of this tool."},
    {TodoKind::reopen, "reopen", "Open the job again.", "Nothing of the last visit counts as proof.",
     "Anyone may have been at the machine since. Rule of this tool."},
    {TodoKind::prepare, "prepare", "List the energies of this machine.",
     "Mains, water pressure and heat; springs, charge, weight and edges where present.",
     "You control only what you know. 29 CFR 1910.147(d)(1)."},
    {TodoKind::read_frame, "read-frame", "Read bare metal of the machine to a known earth.",
     "Touch nothing yet. Use a two-pole tester.",
     "A frame that stands under voltage kills at the first touch. Common practice, no source."},
    {TodoKind::stop, "stop", "Stop the machine by its normal control.",
     "If it runs and does not leak, let it drain first.",
     "An orderly stop leaves no part half-way. 29 CFR 1910.147(d)(2)."},
    {TodoKind::isolate, "isolate", "Isolate the power at the supply.",
     "Hands dry, floor dry. Water in the base: at the board, not the plug.",
     "Switches of the machine leave wires in front of them live. 29 CFR 1910.333(b)(2)(ii)(B)."},
    {TodoKind::shut_water, "shut-water", "Shut the water at its valve and tag it.",
     "Turn the handle to its stop.",
     "A valve is an isolating device like any other. 29 CFR 1910.147(d)(3), (d)(4)."},
    {TodoKind::hold, "hold", "Keep the isolation: lock it and tag it.",
     "Your own lock, your own key, your name on the tag.",
     "Anyone may put the power back while your hands are inside. 29 CFR 1910.333(b)(2)(iii)."},
    {TodoKind::try_controls, "try-controls", "Press start. Does anything happen?",
     "Note where the knob stands. Latch the door, choose a step, press start, put it back.",
     "With the door open nothing happens on a live machine either. 29 CFR 1910.333(b)(2)(iv)(A)."},
    {TodoKind::open_way, "open-way", "Open the way to the point of proof.",
     "One cover at a time. Treat all behind it as live.",
     "What is not proved is live, and the proof itself is live work. 29 CFR 1910.333(b)(2)(iv)."},
    {TodoKind::take_reading, "take-reading", "", "", ""},
    {TodoKind::restart_series, "restart-series", "Start the readings again.",
     "Too much time has passed since the tester was tried.",
     "The tester may have failed in between. Rule of this tool."},
    {TodoKind::discharge, "discharge", "Discharge the capacitor and measure it.",
     "Hold 20 kΩ, 2 W with insulated probes across it for ten seconds. Read DC volts.",
     "Treat it as live while you do. 29 CFR 1910.333(b)(2)(ii)(C)."},
    {TodoKind::read_neutral, "read-neutral", "Read the current around the neutral. What does it show?",
     "With a clamp, around the house's neutral alone. It must be 0.0 A.",
     "Another line may share it: parted, 240 V can stand over that line's loads. "
     "Common practice, no source."},
    {TodoKind::relieve, "relieve", "Relieve the pressure and empty the sump.",
     "Catch the water of the hose in a tray.",
     "A closed valve keeps the pressure behind it. It comes after the proof, for hands go in. "
     "29 CFR 1910.147(d)(5)."},
    {TodoKind::watch, "watch", "Watch the open joint. Is the tray dry?",
     "Wait the whole time with a dry tray under the joint.",
     "A valve that seeps builds the pressure up again. 29 CFR 1910.147(d)(5)(ii)."},
    {TodoKind::cool, "cool", "Let the hot parts cool and measure them.",
     "Take the hottest surface that hands will meet.",
     "Burns come from parts that look cold. 29 CFR 1910.147(d)(5)."},
    {TodoKind::secure, "secure", "Secure the unit or the load.",
     "Say how: block, strap or a second person. It counts while it stands so.",
     "Weight is stored energy. 29 CFR 1910.333(b)(2)(ii)(D)."},
    {TodoKind::prop, "prop", "Prop the open door.",
     "Racks out. Door on a block, or held by a helper, for this step.",
     "An open door tips a machine that is not fixed. IEC 60335-2-5, 20.101."},
    {TodoKind::helper, "helper", "Get a second person for this step.",
     "Write the name. Agree who gives the word.",
     "Two people lift what injures one. HSE L23, paragraph 120."},
    {TodoKind::put_away, "put-away", "Lead back to dead: stop the machine.",
     "Hands stay out until everything is proved again.",
     "Power was on, so nothing of the old proof counts. 29 CFR 1910.147(f)(1)."},
    {TodoKind::inspect, "inspect", "Inspect the area and count the tools.",
     "Tools, clips, resistor and lead caps accounted for; machine whole and dry.",
     "A tool left inside is thrown or shorts. 29 CFR 1910.333(b)(2)(v)(A)."},
    {TodoKind::warn, "warn", "Warn each person that the machine comes on.",
     "Each helper answers by name; the customer is told.",
     "The one who is not told gets hurt. 29 CFR 1910.333(b)(2)(v)(B)."},
    {TodoKind::water_on, "water-on", "Open the water slowly.", "Watch each joint while it fills.",
     "A leak shows while the power is still dead. Common practice, no source."},
    {TodoKind::water_static, "water-static", "Open the water, power dead, and watch.",
     "Every wet joint is joined. Tray and towel below.",
     "A leak is looked for first where it can hurt nobody. Common practice, no source."},
    {TodoKind::lock_off, "lock-off", "Take your lock off.",
     "From here on everything counts as live.",
     "Only its owner knows whether hands are out. 29 CFR 1910.333(b)(2)(v)(C)."},
    {TodoKind::look_clear, "look-clear", "Look once more: is nobody at the machine?",
     "Eyes on the machine, after the locks are off.",
     "Somebody may have come back meanwhile. 29 CFR 1910.333(b)(2)(v)(D)."},
    {TodoKind::power_on, "power-on", "Put the power on, once.",
     "Stand clear and use one hand. If the breaker opens, do not try again.",
     "Every proof is void from here. 29 CFR 1910.147(f)(1), 1910.334(b)(2)."},
    {TodoKind::tag, "tag", "Hang the tag on the isolation point.",
     "Write your name, the time and the reason.",
     "The next person must know why it is off. 29 CFR 1910.147(d)(4)."},
    {TodoKind::bar_openings, "bar-openings", "Shut or bar each opening, so that nobody reaches in.",
     "A cover or a board in front. Insulated caps on leads that are proved dead, plugs in hoses.",
     "Children and pets come near when you are gone. Common practice, no source."},
    {TodoKind::end, "end", "End the visit.", "Tell the customer how the machine is left.",
     "A machine is safe to use or safely off. Rule of this tool."},
};

const TodoWords& row_of(TodoKind kind) {
  const TodoWords& row = kWords[static_cast<int>(kind)];
  KP_CHECK(row.kind == kind);
  return row;
}

std::vector<Caution> cautions_for(TodoKind kind) {
  switch (kind) {
    case TodoKind::relieve:
      return cautions_of({Contact::wet}, {});
    case TodoKind::discharge:
      return cautions_of({Contact::stored_charge}, {});
    case TodoKind::cool:
      return cautions_of({Contact::hot}, {});
    case TodoKind::secure:
      return cautions_of({Contact::heavy}, {});
    case TodoKind::read_frame:
    case TodoKind::read_neutral:
    case TodoKind::bar_openings:
    case TodoKind::open_way:
      return cautions_of({Contact::live}, {});
    default:
      return {};
  }
}

}  // namespace

const char* words(TodoKind kind) { return row_of(kind).word; }

Todo todo_of(TodoKind kind, const State& state) {
  const TodoWords& row = row_of(kind);
  Todo out;
  out.kind = kind;
  out.sentence = row.sentence;
  out.how = row.how;
  out.why = row.why;
  out.cautions = cautions_for(kind);
  if (kind == TodoKind::hold && state.means == Means::plug_out) {
    out.sentence = "Keep the plug under your control.";
    out.how = state.built_in ? "A built-in machine: lock or bag on the plug, and a tag."
                             : "In your hand or pocket, or within reach and in sight.";
  }
  return out;
}

Todo reading_of(const Place& place, const Wanted& wanted, const State& state) {
  Todo out;
  out.kind = TodoKind::take_reading;
  out.place = place;
  out.wanted = wanted;
  out.how = "Two-pole tester, CAT III, tips bared 4 mm at most. Earth or neutral first.";
  const bool plug = state.means == Means::plug_out && place.id == kSupply;
  switch (wanted.role) {
    case Role::known_before:
      out.sentence = "Touch the known live point. What does it show?";
      out.how = "Another outlet than the one that is off, or a proving unit.";
      out.why = "A tester that cannot show a live point cannot show a dead one.";
      break;
    case Role::earth_shown:
      out.sentence = "Read this earth to a second known earth, in ohms.";
      out.how = "A proved socket's earth pin or a bonded pipe. Below 1 Ω it is an earth.";
      out.why = "With the earth broken, a live line reads nothing to it. Common practice, no source.";
      break;
    case Role::pair:
    case Role::pair_dc: {
      const std::string a = conductor_title(wanted.pair.a);
      const std::string b = conductor_title(wanted.pair.b);
      out.sentence = wanted.role == Role::pair_dc
                         ? cat("Direct voltage: touch ", b, " and ", a, ". What does it show?")
                         : cat("Touch ", b, ", then ", a, ". What does it show?");
      if (plug) {
        out.how = "At the pins of the plug. L and N are the two flat sides; either may be which.";
      }
      if (wanted.low_impedance) {
        out.how = "Set the low-impedance range and read the same pair again.";
      }
      out.why = "A broken neutral leaves the line live while line to neutral reads nothing.";
      break;
    }
    case Role::known_after:
      out.sentence = "Touch the known live point again. What does it show?";
      out.how = "The same tester, not switched off, the range unchanged.";
      out.why = "A lead or a battery that failed in between makes everything look dead.";
      break;
  }
  if (wanted.role != Role::known_before && wanted.role != Role::known_after) {
    out.cautions = cautions_of({Contact::live}, {});
  }
  out.cautions.push_back(Caution{SignalWord::danger,
                                 "Keep your fingers behind the guards of the probes.", "", "W012"});
  if (out.cautions.size() > 1) {
    out.cautions.erase(out.cautions.begin() + 1, out.cautions.end() - 1);
  }
  return out;
}

}  // namespace kp::safety
