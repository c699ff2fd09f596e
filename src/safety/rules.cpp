// table: the rows of the gate and the words of their guards.
#include "safety/rules.hpp"

#include "base/check.hpp"
#include "base/text.hpp"

namespace kp::safety {

namespace {

constexpr ActSet kAll = (ActSet{1} << kActs) - 1;
constexpr ActSet kEyes = acts(Act::look_outside, Act::look_inside);
constexpr ActSet kOpen = acts(Act::hands_in, Act::part_supply, Act::measure_dead,
                              Act::insulation_test, Act::place_probes, Act::prove_dead_test);
constexpr ActSet kApproach = acts(Act::cover, Act::reading);

/// safety-order of the trade: 29 CFR 1910.147(d), (e), (f) and 1910.333(b). The sources stand with
/// the guards.
const Rules kRows = {
    {1, kAll, Guard::job_open},
    {2, kAll & ~acts(Act::look_outside), Guard::clock_sure},
    {3, kAll & ~acts(Act::hand_over, Act::lock_off) & ~kEyes, Guard::own_work},
    {4, kAll & ~kEyes & ~acts(Act::touch_outside), Guard::gap_closed},
    {5, kAll & ~kEyes & ~acts(Act::touch_outside, Act::prepare, Act::stop, Act::hand_over),
     Guard::prepared},
    {6, kHandsIn | acts(Act::run, Act::live_reading), Guard::energies_listed},

    // Work from outside and at the tub.
    {10, kEyes | acts(Act::touch_outside, Act::reach_tub, Act::run, Act::live_reading,
                      Act::power_on),
     Guard::stable},
    {11, acts(Act::touch_outside, Act::cover, Act::try_controls, Act::move_out,
              Act::relieve_outside),
     Guard::frame_nil},
    {12, acts(Act::reach_tub, Act::cover, Act::reading, Act::move_out), Guard::held},
    {13, acts(Act::reach_tub, Act::cover, Act::reading, Act::move_out), Guard::tried},
    {14, acts(Act::reach_tub, Act::cover, Act::reading, Act::move_out, Act::relieve,
              Act::relieve_outside, Act::hot_reading, Act::insulation_test, Act::leave),
     Guard::water_shut},
    {15, acts(Act::reach_tub, Act::cover), Guard::no_live_way},
    {16, (kHandsIn & ~acts(Act::relieve_outside)) |
             acts(Act::try_controls, Act::reading, Act::discharge, Act::read_neutral),
     Guard::control_stands},
    {17, acts(Act::reach_tub), Guard::untroubled},

    // Approach: still treated as live.
    {20, acts(Act::cover), Guard::on_way},
    {21, kApproach | acts(Act::move_out), Guard::upright},
    {22, acts(Act::cover), Guard::stable},
    {23, acts(Act::cover), Guard::not_exposed},
    {24, acts(Act::cover), Guard::bled},
    {25, acts(Act::reading), Guard::place_open},

    // Work with hands in.
    {30, kOpen | acts(Act::relieve, Act::hot_reading, Act::static_test, Act::lay_down,
                      Act::discharge, Act::water_static, Act::read_neutral),
     Guard::supply_dead},
    {31, (kHandsIn & ~acts(Act::cover)) | acts(Act::read_neutral), Guard::groups_dead},
    {32, (kHandsIn & ~acts(Act::cover)) | acts(Act::read_neutral), Guard::charge_gone},
    {33, acts(Act::hands_in, Act::part_supply, Act::measure_dead, Act::place_probes,
              Act::prove_dead_test, Act::lay_down),
     Guard::water_relieved},
    {34, kOpen, Guard::water_holding},
    {35, acts(Act::hands_in, Act::part_supply, Act::measure_dead, Act::place_probes,
              Act::prove_dead_test, Act::reach_tub, Act::relieve),
     Guard::cooled},
    {36, kHandsIn & ~acts(Act::reach_tub, Act::cover), Guard::secured},
    {37, kHandsIn | acts(Act::run), Guard::people_enough},
    {38, kOpen | acts(Act::hot_reading, Act::static_test, Act::relieve, Act::relieve_outside,
                      Act::move_out, Act::end_in_service),
     Guard::stable},
    {39, acts(Act::insulation_test), Guard::supply_parted},
    {40, acts(Act::static_test), Guard::water_static},
    {41, acts(Act::static_test, Act::water_static, Act::water_on), Guard::wet_joined},
    {42, acts(Act::lay_down, Act::try_controls), Guard::door_shut},
    {43, acts(Act::hot_reading, Act::read_neutral), Guard::upright},
    {44, acts(Act::static_test, Act::water_static), Guard::leads_joined},
    {45, acts(Act::part_supply), Guard::neutral_quiet},

    // On: eyes and the handle of the door.
    {50, acts(Act::run, Act::live_reading), Guard::running},
    {51, acts(Act::run, Act::live_reading, Act::inspect, Act::power_on), Guard::live_covers_on},
    {52, acts(Act::run, Act::live_reading, Act::inspect, Act::power_on), Guard::leads_joined},
    {53, acts(Act::run, Act::live_reading, Act::inspect, Act::power_on), Guard::wet_joined},
    {54, acts(Act::live_reading), Guard::live_reason},
    {55, acts(Act::run, Act::live_reading, Act::power_on, Act::end_in_service), Guard::upright},

    // Making safe.
    {60, acts(Act::isolate), Guard::stopped},
    {61, acts(Act::isolate), Guard::means_count},
    {62, acts(Act::hold), Guard::isolated},
    {63, acts(Act::hold), Guard::control_counts},
    {64, acts(Act::hold), Guard::lock_given},
    {65, acts(Act::hold), Guard::tag_given},
    {66, acts(Act::hold), Guard::lock_own},
    {67, acts(Act::shut_water), Guard::valve_named},
    {68, acts(Act::try_controls), Guard::held},
    {70, acts(Act::reading), Guard::tester_named},
    {71, acts(Act::reading, Act::read_frame, Act::read_neutral), Guard::function_proves},
    {72, acts(Act::reading), Guard::wanted_reading},
    {73, acts(Act::reading), Guard::same_tester},
    {74, acts(Act::reading), Guard::in_time},
    {75, acts(Act::reading, Act::cool, Act::read_frame, Act::prepare, Act::read_neutral),
     Guard::sane},
    {76, acts(Act::read_frame, Act::discharge, Act::read_neutral), Guard::tester_named},
    {77, acts(Act::discharge), Guard::dc_gone},
    {78, acts(Act::watch), Guard::watched_long},
    {79, acts(Act::cool), Guard::cool_enough},
    {80, acts(Act::call_helper), Guard::people_sane},
    {81, acts(Act::prepare), Guard::mains_listed},
    {82, acts(Act::prop, Act::call_helper, Act::hand_over), Guard::name_given},

    // Giving back, in this order: each step asks for the one before it, and all are lost together.
    {90, acts(Act::inspect, Act::power_on), Guard::earths_fast},
    {91, acts(Act::inspect, Act::power_on), Guard::tests_done},
    {92, acts(Act::warn), Guard::inspected},
    {93, acts(Act::lock_off, Act::look_clear, Act::water_on), Guard::warned},
    {94, acts(Act::lock_off), Guard::lock_hangs},
    {95, acts(Act::lock_off), Guard::lock_own},
    {96, acts(Act::look_clear, Act::power_on), Guard::locks_off},
    {97, acts(Act::power_on), Guard::looked},
    {98, acts(Act::power_on), Guard::look_in_time},
    {99, acts(Act::power_on, Act::end_in_service), Guard::device_read},
    {100, acts(Act::power_on), Guard::not_on},

    // Leaving.
    {110, acts(Act::leave), Guard::held_locked},
    {111, acts(Act::leave), Guard::tagged},
    {112, acts(Act::leave), Guard::upright},
    {114, acts(Act::end_in_service), Guard::nothing_hangs},
    {115, acts(Act::end_in_service), Guard::nothing_isolated},
    {116, acts(Act::end_in_service), Guard::inspected_since},
    {117, acts(Act::tag), Guard::held},
    {118, acts(Act::tag), Guard::tag_given},
    {119, acts(Act::hand_over), Guard::lock_given},
    {120, acts(Act::hand_over), Guard::lock_own},
    {121, acts(Act::leave), Guard::stands_alone},
    {122, acts(Act::leave), Guard::barred},
    {123, acts(Act::bar_openings), Guard::held},
};

constexpr GuardWords kWords[kGuards] = {
    {Guard::job_open, "job-open", "job-ended", "Open the job again before you go on.",
     "rule of this tool"},
    {Guard::clock_sure, "clock-sure", "clock-doubt",
     "Set the clock right and make the machine safe again.", "rule of this tool"},
    {Guard::own_work, "own-work", "other-person",
     "Record the hand-over before another person goes on.", "29 CFR 1910.147(f)(4)"},
    {Guard::gap_closed, "gap-closed", "gap-open", "Say first what happened while nobody looked.",
     "rule of this tool"},
    {Guard::prepared, "prepared", "not-prepared", "List the energies of the machine first.",
     "29 CFR 1910.147(d)(1)"},
    {Guard::energies_listed, "energies-listed", "energy-not-listed",
     "Add this energy to the list of the machine first.", "29 CFR 1910.147(d)(1)"},
    {Guard::stopped, "stopped", "not-stopped", "Stop the machine by its normal control first.",
     "29 CFR 1910.147(d)(2)"},
    {Guard::isolated, "isolated", "not-isolated", "Part the machine from its supply first.",
     "29 CFR 1910.147(d)(3)"},
    {Guard::held, "held", "not-held", "Isolate the power and keep it isolated first.",
     "29 CFR 1910.333(b)(2)(iii)(A)"},
    {Guard::tried, "tried", "controls-not-tried", "Press start and see that nothing happens first.",
     "29 CFR 1910.333(b)(2)(iv)(A)"},
    {Guard::supply_dead, "supply-dead", "power-not-proved",
     "Prove the supply dead before hands go in.", "29 CFR 1910.333(b)(2)(iv)(B)"},
    {Guard::groups_dead, "groups-dead", "work-not-proved",
     "Prove the bare terminals here dead before you touch them.",
     "29 CFR 1910.333(b)(2)(iv)(B)"},
    {Guard::charge_gone, "charge-gone", "charge-not-gone",
     "Discharge the capacitor and measure it first.", "29 CFR 1910.333(b)(2)(ii)(C)"},
    {Guard::bled, "bled", "not-bled", "Wait until the charge has bled off.",
     "29 CFR 1910.147(d)(5)"},
    {Guard::neutral_quiet, "neutral-quiet", "neutral-not-read",
     "Read 0.0 A around the neutral before you part or join it.", "common practice, no source"},
    {Guard::water_shut, "water-shut", "water-not-shut", "Shut the water first.",
     "29 CFR 1910.147(d)(3)"},
    {Guard::water_relieved, "water-relieved", "water-not-relieved",
     "Relieve the pressure and empty the sump first.", "29 CFR 1910.147(d)(5)(i)"},
    {Guard::water_holding, "water-holding", "water-not-watched",
     "Watch that the valve holds before a wet joint is opened.", "29 CFR 1910.147(d)(5)(ii)"},
    {Guard::water_static, "water-static", "water-off", "Open the water for this test first.",
     "common practice, no source"},
    {Guard::watched_long, "watched-long", "too-early", "Watch the open joint for the whole time.",
     "common practice, no source"},
    {Guard::cooled, "cooled", "not-cooled", "Let the hot parts cool and measure them first.",
     "29 CFR 1910.147(d)(5)"},
    {Guard::secured, "secured", "not-secured", "Secure the unit or the load first.",
     "29 CFR 1910.333(b)(2)(ii)(D)"},
    {Guard::stable, "stable", "would-tip",
     "Shut the door, fasten one fixing, or prop the open door.", "IEC 60335-2-5, 20.101"},
    {Guard::stands_alone, "stands-alone", "would-tip",
     "Shut the door or fasten one fixing. A prop stays for one step.", "IEC 60335-2-5, 20.101"},
    {Guard::upright, "upright", "not-upright", "Stand the machine upright first.",
     "common practice, no source"},
    {Guard::door_shut, "door-shut", "door-open", "Shut and latch the door first.",
     "common practice, no source"},
    {Guard::people_enough, "people-enough", "helper-missing", "Get a second person for this step.",
     "HSE L23, paragraph 120"},
    {Guard::frame_nil, "frame-nil", "frame-not-read",
     "Read bare metal to a known earth before you touch it.", "common practice, no source"},
    {Guard::untroubled, "untroubled", "power-not-proved",
     "Prove the supply dead first: this machine tingled, tripped or leaked.", "rule of this tool"},
    {Guard::not_exposed, "not-exposed", "found-live",
     "Hands back. Isolate by another means and prove again.", "common practice, no source"},
    {Guard::on_way, "on-way", "power-not-proved",
     "Prove the supply dead first. This cover is not on the way to it.",
     "29 CFR 1910.333(b)(1), (b)(2)(iv)"},
    {Guard::no_live_way, "no-live-way", "power-not-proved",
     "Prove the supply dead before you touch a lead, a pipe or a terminal.",
     "29 CFR 1910.333(b)(1)"},
    {Guard::place_open, "place-open", "place-covered", "Open the way to the point of proof first.",
     "29 CFR 1910.333(b)(2)(iv)(B)"},
    {Guard::supply_parted, "supply-parted", "supply-not-parted",
     "Part the machine's line and neutral from the supply first.", "HD 60364-6"},
    {Guard::wet_joined, "wet-joined", "joint-open", "Join every water joint first.",
     "common practice, no source"},
    {Guard::leads_joined, "leads-joined", "lead-off", "Join every lead that power or water would reach.",
     "29 CFR 1910.333(b)(2)(v)(A)"},
    {Guard::live_covers_on, "live-covers-on", "cover-off",
     "Fit each cover of a live part before power goes back.", "29 CFR 1910.147(e)(1)"},
    {Guard::earths_fast, "earths-fast", "earth-loose", "Fasten each protective earth first.",
     "29 CFR 1910.333(b)(2)(v)(A)"},
    {Guard::tests_done, "tests-done", "tests-open",
     "Do the tests before power that this work asks for.", "EN 50678:2020"},
    {Guard::running, "running", "nothing-on",
     "Put power or water back in the release order first.", "29 CFR 1910.147(f)(1)"},
    {Guard::live_reason, "live-reason", "no-live-reason",
     "Measure this dead, or say why dead will not do.", "29 CFR 1910.333(a)(1)"},
    {Guard::inspected, "inspected", "not-inspected", "Inspect the area and count the tools first.",
     "29 CFR 1910.333(b)(2)(v)(A)"},
    {Guard::warned, "warned", "people-not-warned", "Warn each person by name first.",
     "29 CFR 1910.333(b)(2)(v)(B)"},
    {Guard::locks_off, "locks-off", "lock-hanging", "Take each lock off; its owner removes it.",
     "29 CFR 1910.333(b)(2)(v)(C)"},
    {Guard::looked, "looked", "not-looked", "Look once more that nobody is at the machine.",
     "29 CFR 1910.333(b)(2)(v)(D)"},
    {Guard::look_in_time, "look-in-time", "look-old", "Look again: the last look is too old.",
     "rule of this tool"},
    {Guard::device_read, "device-read", "device-opened",
     "Read the circuit first: a protective device opened.", "29 CFR 1910.334(b)(2)"},
    {Guard::not_on, "not-on", "power-on", "Stop the machine first: power is on.",
     "29 CFR 1910.147(d)(2)"},
    {Guard::means_count, "means-count", "means-refused",
     "Isolate by a means that parts every conductor of this machine.",
     "29 CFR 1910.333(b)(2)(ii)(B)"},
    {Guard::control_counts, "control-counts", "control-refused",
     "Keep the plug in your hand, or lock the isolation.", "29 CFR 1910.147(a)(2)(iii)(A)"},
    {Guard::control_stands, "control-stands", "control-lost",
     "Lock the isolation: a plug in the hand does not hold it here.",
     "29 CFR 1910.147(a)(2)(iii)(A)"},
    {Guard::lock_given, "lock-given", "lock-missing", "Fit a lock and enter its number.",
     "29 CFR 1910.147(d)(4)"},
    {Guard::lock_own, "lock-own", "lock-of-another",
     "Use a lock of your own; its owner takes another's off.", "29 CFR 1910.147(e)(3)"},
    {Guard::lock_hangs, "lock-hangs", "no-such-lock", "Choose a lock that hangs on this machine.",
     "rule of this tool"},
    {Guard::tag_given, "tag-given", "tag-missing", "Hang a tag and enter its number or words.",
     "29 CFR 1910.333(b)(2)(iii)"},
    {Guard::valve_named, "valve-named", "valve-missing", "Say which valve you shut.",
     "29 CFR 1910.147(d)(3)"},
    {Guard::tester_named, "tester-named", "tester-missing", "Enter the number of the tester.",
     "29 CFR 1910.333(b)(2)(iv)(B)"},
    {Guard::function_proves, "function-proves", "wrong-function",
     "Set a contact tester to volts of the right kind.", "29 CFR 1910.333(b)(2)(iv)(B)"},
    {Guard::wanted_reading, "wanted-reading", "wrong-order", "Take the readings in their order.",
     "29 CFR 1910.333(b)(2)(iv)(B)"},
    {Guard::same_tester, "same-tester", "other-tester",
     "Go on with the tester that was tried, or start again.", "rule of this tool"},
    {Guard::in_time, "in-time", "too-late", "Start the readings again: too much time has passed.",
     "rule of this tool"},
    {Guard::sane, "sane", "out-of-range", "Enter a number that the instrument can show.",
     "rule of this tool"},
    {Guard::dc_gone, "dc-gone", "charge-still-there",
     "Discharge the capacitor again and measure it.", "29 CFR 1910.333(b)(2)(ii)(C)"},
    {Guard::cool_enough, "cool-enough", "still-hot",
     "Let the parts cool longer. Measure the hottest surface again.", "rule of this tool"},
    {Guard::people_sane, "people-sane", "people-out-of-range", "Enter from two to six people.",
     "rule of this tool"},
    {Guard::mains_listed, "mains-listed", "energies-missing",
     "List mains electricity and water pressure at least.", "29 CFR 1910.147(d)(1)"},
    {Guard::name_given, "name-given", "no-name", "Write the name of the person first.",
     "29 CFR 1910.147(f)(4)"},
    {Guard::held_locked, "held-locked", "leave-power-locked",
     "Lock the isolation before you leave the machine.", "29 CFR 1910.147(d)(4)"},
    {Guard::tagged, "tagged", "leave-tag", "Hang the tag before you leave the machine.",
     "29 CFR 1910.147(d)(4)"},
    {Guard::barred, "barred", "leave-open",
     "Shut or bar each opening before you leave.", "common practice, no source"},
    {Guard::nothing_hangs, "nothing-hangs", "lock-hanging",
     "Take each lock off; its owner removes it.", "29 CFR 1910.147(e)(3)"},
    {Guard::nothing_isolated, "nothing-isolated", "still-isolated",
     "Put power and water back, or leave the machine tagged.", "rule of this tool"},
    {Guard::inspected_since, "inspected-since", "not-inspected",
     "Inspect the area and count the tools first.", "29 CFR 1910.147(e)(1)"},
};

}  // namespace

const Rules& rules() { return kRows; }

const GuardWords& words_of(Guard guard) {
  const GuardWords& row = kWords[static_cast<int>(guard)];
  KP_CHECK(row.guard == guard);
  return row;
}

bool guard_of(std::string_view word, Guard& out) {
  for (const GuardWords& row : kWords) {
    if (row.word == word) {
      out = row.guard;
      return true;
    }
  }
  return false;
}

bool act_of(std::string_view word, Act& out) {
  for (int i = 0; i < kActs; ++i) {
    if (words(static_cast<Act>(i)) == word) {
      out = static_cast<Act>(i);
      return true;
    }
  }
  return false;
}

std::vector<std::string> rows_text(const Rules& rows) {
  std::vector<std::string> out;
  for (const Row& row : rows) {
    std::string acts;
    for (int i = 0; i < kActs; ++i) {
      if (in_acts(row.acts, static_cast<Act>(i))) {
        acts += cat(acts.empty() ? "" : ",", words(static_cast<Act>(i)));
      }
    }
    out.push_back(cat(row.number, " ", words_of(row.guard).word, " ", acts));
  }
  return out;
}

Rules rows_of(const std::vector<std::string>& text, bool& all_known) {
  Rules out;
  all_known = true;
  for (const std::string& line : text) {
    const std::vector<std::string> words = split(line, ' ');
    const auto number = words.size() == 3 ? parse_integer(words[0]) : std::nullopt;
    Row row;
    bool known = number.has_value() && *number > 0 && *number < 100000 &&
                 guard_of(words[1], row.guard);
    for (const std::string& word : known ? split(words[2], ',') : std::vector<std::string>{}) {
      Act act = Act::look_outside;
      known = known && act_of(word, act);
      row.acts |= act_bit(act);
    }
    if (known) {
      row.number = static_cast<int>(*number);
      out.push_back(row);
    }
    all_known = all_known && known;
  }
  return out;
}

}  // namespace kp::safety
