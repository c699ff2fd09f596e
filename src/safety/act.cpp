#include "safety/act.hpp"

namespace kp::safety {

namespace {

constexpr const char* kActWords[kActs] = {
    "look-outside", "look-inside", "touch-outside", "reach-tub", "cover", "relieve",
    "relieve-outside", "hands-in", "part-supply", "measure-dead", "insulation-test",
    "place-probes", "live-reading", "hot-reading", "static-test", "move-out", "lay-down", "run",
    "prove-dead-test", "prepare", "stop", "read-frame", "isolate", "hold", "shut-water",
    "try-controls", "reading", "restart-series", "discharge", "watch", "cool", "secure", "prop",
    "call-helper", "inspect", "warn", "lock-off", "look-clear", "power-on", "water-on",
    "water-static", "tag", "end-in-service", "leave", "hand-over", "read-neutral",
    "bar-openings"};

}  // namespace

const char* words(Act act) { return kActWords[static_cast<int>(act)]; }

int strictness(Act act) {
  switch (act) {
    case Act::look_outside:
      return 0;
    case Act::look_inside:
      return 1;
    case Act::touch_outside:
      return 2;
    case Act::run:
    case Act::live_reading:
      return 3;
    case Act::relieve_outside:
    case Act::move_out:
      return 4;
    case Act::reach_tub:
      return 5;
    case Act::cover:
      return 6;
    case Act::hot_reading:
    case Act::static_test:
      return 7;
    case Act::relieve:
      return 8;
    case Act::lay_down:
    case Act::measure_dead:
    case Act::insulation_test:
    case Act::place_probes:
    case Act::prove_dead_test:
    case Act::hands_in:
      return 9;
    case Act::part_supply:
      return 10;
    default:
      return 0;
  }
}

}  // namespace kp::safety
