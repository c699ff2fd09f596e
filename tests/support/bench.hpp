#pragma once
// Timing for the programs in tests/bench. A figure is one line of JSON, so that lines of two
// machines, or of two days, can be laid side by side.

#include <algorithm>
#include <chrono>
#include <cstdint>
#include <cstdio>
#include <vector>

namespace kp::test {

/// Runs `work` `runs` times after one unmeasured run and prints
/// {"bench":NAME,"runs":N,"median_us":…,"p99_us":…,"worst_us":…,"target_us":…}.
/// `target_us` is what the design asks for; below zero it is left out. Nothing is asserted.
template <class F>
void bench(const char* name, int runs, double target_us, F work) {
  work();
  std::vector<double> took;
  for (int i = 0; i < runs; ++i) {
    const auto began = std::chrono::steady_clock::now();
    work();
    const std::chrono::duration<double, std::micro> spent =
        std::chrono::steady_clock::now() - began;
    took.push_back(spent.count());
  }
  std::sort(took.begin(), took.end());
  const auto at = [&took](double share) {
    const double last = static_cast<double>(took.size()) - 1;
    return took[static_cast<std::uint32_t>(last * share)];
  };
  std::printf("{\"bench\":\"%s\",\"runs\":%d,\"median_us\":%.1f,\"p99_us\":%.1f,\"worst_us\":%.1f",
              name, runs, at(0.5), at(0.99), took.back());
  if (target_us >= 0) {
    std::printf(",\"target_us\":%.0f", target_us);
  }
  std::printf("}\n");
}

/// Keeps a result alive, so that the compiler cannot leave the work out.
template <class T>
void keep(const T& value) {
  asm volatile("" : : "r"(&value) : "memory");
}

}  // namespace kp::test
