// What the order of making safe and of proving asks of the tests.
#include <algorithm>

#include "pack/report.hpp"
#include "pack/sentence.hpp"

namespace kp::pack {
namespace {

/// What hands do. A look with the eyes alone has none of these words.
const std::vector<std::string>& touch_words() {
  static const std::vector<std::string> words = {
      "bend",   "brush", "clean", "feel",   "finger", "hold",  "knock", "lift",  "loosen",
      "measure", "move", "open",  "press",  "pull",   "push",  "put",   "remove", "rock",
      "shake",  "shut",  "slide", "spin",   "squeeze", "swing", "take", "tighten", "tilt",
      "touch",  "tug",   "turn",  "undo",   "unhook", "wiggle", "wipe"};
  return words;
}

/// The first word of the text that means touch, or empty.
std::string touch_in(const std::string& text) {
  std::string word;
  for (const char c : lower(text) + " ") {
    if (c >= 'a' && c <= 'z') {
      word += c;
      continue;
    }
    if (std::find(touch_words().begin(), touch_words().end(), word) != touch_words().end()) {
      return word;
    }
    word.clear();
  }
  return {};
}

void check_eyes(const Test& test, int index, Report& report) {
  if (!test.eyes) {
    return;
  }
  const std::string word = touch_in(test.how);
  if (test.probe != Probe::look || !word.empty()) {
    report.add("eyes-touch", at("tests", index, "eyes"),
               word.empty() ? cat("the test ", quoted(test.id), " is a measurement")
                            : cat("the test ", quoted(test.id), " touches: ", quoted(word)),
               "Take \"eyes\" out, or the touch.");
  }
}

void check_needs_live(const Test& test, int index, Report& report) {
  const bool said = test.needs_live != NeedsLive::none;
  if (said != test.live()) {
    report.add("needs-live", at("tests", index),
               said ? cat("the test ", quoted(test.id), " is dead and says why it is live")
                    : cat("the live test ", quoted(test.id), " does not say why dead will not do"),
               said ? "Take \"needs_live\" out." : "Add its \"needs_live\", or test dead.");
  }
}

void check_static(const Test& test, int index, Report& report) {
  if (test.static_water && (test.probe != Probe::look || test.live())) {
    report.add("static-water", at("tests", index, "static_water"),
               cat("the test ", quoted(test.id), " is no look with the power off"),
               "Make it a look that is not running, or take \"static_water\" out.");
  }
}

void check_hot(const Test& test, int index, Report& report) {
  if (!test.hot_at) {
    return;
  }
  const bool dead_reading = test.probe != Probe::look && !test.live();
  const bool same = !test.on_circuit() || *test.hot_at == test.celsius;
  if (!dead_reading || !same) {
    report.add("hot-reading", at("tests", index, "hot_at"),
               dead_reading ? cat("the band of ", quoted(test.id), " is for ",
                                  number_text(test.celsius), " °C")
                            : cat("the test ", quoted(test.id), " is no dead measurement"),
               "Write the same \"celsius\", on a measurement with the power off.");
  }
}

/// Of the list before power.
bool is_before(ProveItem item) { return item >= ProveItem::b1 && item <= ProveItem::b10; }

/// What is wrong with the stage and the joints of a prove test, or empty.
std::string order_fault(const Pack& pack, const ProveTest& test) {
  const bool before = test.when == ProveWhen::before_power;
  if (test.item != ProveItem::none && is_before(test.item) != before) {
    return cat(prove_item_words()[static_cast<std::size_t>(test.item) - 1],
               " stands at another stage");
  }
  if (test.static_water && !before) {
    return "the static leak test comes before power";
  }
  const bool placed = !test.behind.empty() || !test.needs_released.empty();
  if (placed && !before) {
    return "the machine is closed while it has power";
  }
  for (const int joint : test.needs_released) {
    if (std::find(test.needs_fastened.begin(), test.needs_fastened.end(), joint) !=
        test.needs_fastened.end()) {
      return cat("the joint ", quoted(pack.joints[to_size(joint)].id), " is to be loose and fast");
    }
  }
  return "";
}

bool is_reachable(const Pack& pack, const ProveTest& test, const Reach& reach) {
  const std::vector<int> shared =
      test.part < 0 ? std::vector<int>{} : carriers(pack, test.part);
  return any_reached(test.positions, reach) &&
         is_open(pack, test.behind, shared, reach.parts, places_of(test.positions, reach)) &&
         std::all_of(test.needs_released.begin(), test.needs_released.end(),
                     [&reach](int joint) { return reach.joints[to_size(joint)]; });
}

}  // namespace

void check_safe_tests(const Pack& pack, Report& report) {
  for (int i = 0; i < to_int(pack.tests.size()); ++i) {
    const Test& test = pack.tests[to_size(i)];
    check_eyes(test, i, report);
    check_needs_live(test, i, report);
    check_static(test, i, report);
    check_hot(test, i, report);
  }
}

void check_prove_places(const Pack& pack, const Reach& reach, Report& report) {
  for (int i = 0; i < to_int(pack.prove_tests.size()); ++i) {
    const ProveTest& test = pack.prove_tests[to_size(i)];
    const std::string wrong = order_fault(pack, test);
    if (!wrong.empty()) {
      report.add("prove-order", at("prove_tests", i),
                 cat("prove test ", quoted(test.id), ": ", wrong),
                 "Move it to its stage, and name each joint once.");
    }
    if (!is_reachable(pack, test, reach)) {
      report.add("prove-out-of-reach", at("prove_tests", i),
                 cat("the place of the prove test ", quoted(test.id), " can never be opened"),
                 "Name positions, covers and joints that can be had.");
    }
  }
}

}  // namespace kp::pack
