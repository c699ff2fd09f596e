// Times the advice for made-up machines of several sizes, with the work limit that advice has unless
// told otherwise, and says how near the proved bound it comes. One JSON object a line.

#include <algorithm>
#include <cstdio>

#include "base/text.hpp"
#include "find/advise.hpp"
#include "find/machine.hpp"
#include "support/bench.hpp"

namespace kp::find {
namespace {

void bench_size(int faults, int tests, double target_us) {
  const int machines = 10;
  const Problem problem = test::machine(1, faults, tests);
  test::Random random(1);
  kp::test::bench(cat("advice_", faults, "_faults_", tests, "_tests").c_str(), 30, target_us,
                  [&] { kp::test::keep(advise(problem, {})); });
  double worst = 0;
  double mean = 0;
  double saved = 0;
  int proved = 0;
  for (int seed = 1; seed <= machines; ++seed) {
    const Advice advice = advise(test::machine(static_cast<std::uint64_t>(seed), faults, tests), {});
    worst = std::max(worst, advice.gap);
    mean += advice.gap / machines;
    proved += advice.proved ? 1 : 0;
    for (const Alternative& other : advice.alternatives) {
      if (other.why != Alternative::Why::plain_order) continue;
      saved += (1 - advice.expected_seconds / other.expected_seconds) / machines;
    }
  }
  std::printf("{\"advice\":\"%d x %d\",\"machines\":%d,\"proved\":%d,\"mean_gap\":%.4f,"
              "\"worst_gap\":%.4f,\"saved_against_parts_by_ratio\":%.3f}\n",
              faults, tests, machines, proved, mean, worst, saved);
}

}  // namespace
}  // namespace kp::find

int main() {
  kp::find::bench_size(12, 16, -1);
  kp::find::bench_size(25, 35, -1);
  kp::find::bench_size(60, 80, 16000);
  return 0;
}
