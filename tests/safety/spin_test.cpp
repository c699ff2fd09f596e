// The gate as an independent model for the checker Spin (Debian package `spin`, with a C compiler;
// ci/setup installs it), run where there is a shell. Where CI=true says so, as in ci/test, a missing
// Spin is a failure.

#include <doctest/doctest.h>

#include <cstdlib>
#include <string>

#include "base/text.hpp"

using namespace kp;

namespace {

// True when the command ends with success in a folder of its own that is removed afterwards.
bool succeeds(const std::string& command) {
  const std::string line = cat("d=$(mktemp -d) && cd \"$d\" && { ", command,
                               "; }; r=$?; cd / && rm -rf \"$d\"; exit $r");
  return std::system(line.c_str()) == 0;
}

bool has_shell() { return std::system(nullptr) != 0; }
bool installed() {
  return succeeds("command -v spin >/dev/null 2>&1 && command -v cc >/dev/null 2>&1");
}
bool must_be_there() {
  const char* value = std::getenv("CI");
  return value != nullptr && std::string(value) == "true";
}

enum class Checked { holds, broken, not_checked };

// Checks the model after an edit by sed, which must change it; no edit checks it as it stands.
Checked check(const std::string& edit) {
  const std::string model = cat(KP_SOURCE_DIR, "/tests/model/gate.pml");
  const std::string changed = edit.empty() ? "" : cat(" && ! cmp -s gate.pml '", model, "'");
  const std::string run = cat("sed -E '", edit, "' '", model, "' > gate.pml", changed,
                              " && spin -a gate.pml >/dev/null && cc -O0 -w -DSAFETY -o pan pan.c && "
                              "{ ./pan -w20 -m400000 > out; grep -q 'errors: ' out; } && "
                              "! grep -q 'max search depth too small' out && ");
  if (succeeds(run + "grep -q 'errors: 0' out")) {
    return Checked::holds;
  }
  return succeeds(run + "grep -q 'assertion violated' out") ? Checked::broken : Checked::not_checked;
}

struct Edit {
  const char* what;
  const char* sed;
};
// Each breaks one rule of the model on purpose.
constexpr Edit kEdits[] = {
    {"a cover off before the water is shut",
     "s/tried && water != flowing && !box_open && !asked/tried \\&\\& !box_open \\&\\& !asked/"},
    {"hands in with an absence unanswered",
     "s/:: (power == dead && place_dead && water == relieved) && !asked -> hands_in\\(\\)$/:: \\1 -> "
     "hands_in()/"},
    {"a proof kept over a hand-over",
     "s/power = held; tried = false; readings = 0; place_dead = false; tagged = false;$/skip;/"},
    {"power without the last look", "s/release == 4 && !lock_of\\[1\\]/release >= 2 \\&\\& !lock_of[1]/"},
    {"a second try at an opened device", "s/power == live && !opened && !asked &&/power == live \\&\\&/"},
    {"people warned before the inspection", "s/:: release == 1 && !asked/:: release <= 1 \\&\\& !asked/"},
    {"a plug in the hand of who left",
     "s/holder == worker && !by_hand && lock_of\\[worker\\] ->/holder == worker ->/"},
    {"an open machine left without lock and tag", "s/worker && !by_hand && tagged &&/worker \\&\\&/"},
    {"the release kept while hands go in", "s/^  forget_release\\(\\); seen_step/  seen_step/"},
};

}  // namespace

TEST_CASE("model: Spin finds no broken rule, and finds each rule that is broken on purpose") {
  if (!has_shell()) {
    MESSAGE("not run: there is no shell here; the native tests run it");
    return;
  }
  if (!installed()) {
    MESSAGE("not run: spin or cc is not installed");
    CHECK_FALSE(must_be_there());
    return;
  }
  CHECK(check("") == Checked::holds);
  for (const Edit& edit : kEdits) {
    CAPTURE(std::string(edit.what));
    CHECK(check(edit.sed) == Checked::broken);
  }
}
