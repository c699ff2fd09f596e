// The gate as an independent model for the checker Spin (Debian package `spin`, with a C compiler).
// Skipped, and said so, where it is not installed.

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

bool installed() {
  return std::system(nullptr) != 0 &&
         succeeds("command -v spin >/dev/null 2>&1 && command -v cc >/dev/null 2>&1");
}

// Checks the model after an edit by sed; an empty edit checks it as it stands.
bool holds(const std::string& edit) {
  const std::string model = cat(KP_SOURCE_DIR, "/tests/model/gate.pml");
  return succeeds(cat("sed '", edit, "' '", model,
                      "' > gate.pml && spin -a gate.pml >/dev/null && "
                      "cc -O0 -DSAFETY -o pan pan.c && ./pan -w20 -m200000 > out && "
                      "grep -q 'errors: 0' out && ! grep -q 'max search depth too small' out"));
}

}  // namespace

TEST_CASE("model: Spin finds no broken rule, and finds each rule that is broken on purpose") {
  if (!installed()) {
    MESSAGE("skipped: spin or cc is not installed");
    return;
  }
  CHECK(holds(""));
  for (const char* edit :
       {"s/&& !proof_old && !water_old && touches/\\&\\& touches/",
        "s/forget_water(); water = filling;/skip;/"}) {
    CAPTURE(std::string(edit));
    CHECK_FALSE(holds(edit));
  }
}
