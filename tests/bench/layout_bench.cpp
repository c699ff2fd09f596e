// How long an exploded layout takes: prints JSON. A target is stated in the design notes of the
// project; this program measures, it does not judge.

#include <algorithm>
#include <cstdio>
#include <ctime>
#include <vector>

#include "scene/drawings.hpp"
#include "scene/layout.hpp"
#include "scene/machine.hpp"
#include "scene/paint.hpp"
#include "scene/random_items.hpp"

namespace {

using kp::scene::Item;
using kp::scene::Vec;
using kp::scene::Viewport;

class Counter : public kp::scene::Canvas {
 public:
  void triangles(std::span<const Vec> points, kp::scene::Role) override { count_ += points.size(); }
  void polyline(std::span<const Vec> points, bool, kp::scene::Role, double) override {
    count_ += points.size();
  }
  void circle(Vec, double, kp::scene::Role, kp::scene::Role, double) override { ++count_; }
  void text(Vec, kp::scene::Anchor, double, bool, kp::scene::Role, std::string_view) override {
    ++count_;
  }
  [[nodiscard]] std::size_t count() const { return count_; }

 private:
  std::size_t count_ = 0;
};

/// Median milliseconds of processor time of a number of runs: other programs do not count.
template <class Work>
double median_ms(int runs, const Work& work) {
  std::vector<double> times;
  for (int i = 0; i < runs; ++i) {
    const std::clock_t start = std::clock();
    work();
    times.push_back(1000.0 * static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC);
  }
  std::sort(times.begin(), times.end());
  return times[times.size() / 2];
}

void report(const char* name, const std::vector<Item>& items, const Viewport& viewport) {
  const kp::scene::Scene scene = layout(items, 1, viewport);
  const double time = median_ms(101, [&] { static_cast<void>(layout(items, 1, viewport)); });
  Counter counter;
  paint(scene.list, {}, counter);
  constexpr int kPaints = 20;
  const double painted = median_ms(21, [&] {
                           for (int i = 0; i < kPaints; ++i) {
                             Counter each;
                             paint(scene.list, {}, each);
                           }
                         }) / kPaints;
  std::printf(
      "  {\"case\": \"%s\", \"items\": %d, \"layout_ms\": %.3f, \"paint_ms\": %.3f, "
      "\"points\": %u, \"scale\": %.2f, \"unlabelled\": %d}",
      name, static_cast<int>(items.size()), time, painted,
      static_cast<unsigned>(counter.count()), scene.scale,
      static_cast<int>(scene.unlabelled.size()));
}

}  // namespace

int main() {
  const std::vector<kp::scene::Drawing> drawings = kp::test::part_drawings();
  const Viewport phone;
  Viewport desk;
  desk.width = 680;
  desk.height = 760;
  kp::test::Random random(60);
  std::vector<Item> sixty = kp::test::random_items(random, drawings, 60);
  std::vector<Item> stack = kp::test::random_items(random, drawings, 60, false);
  for (Item& item : stack) {
    item.away = Vec(0, item.id % 2 == 0 ? 1 : -1);
    item.carrier = -1;
  }
  const double read = median_ms(5, [] { static_cast<void>(kp::test::part_drawings()); });
  std::printf("[\n  {\"case\": \"read all drawings\", \"items\": %d, \"read_ms\": %.1f},\n",
              static_cast<int>(drawings.size()), read);
  report("pump module, phone", kp::test::pump_module(drawings), phone);
  std::printf(",\n");
  report("60 parts in all directions, phone", sixty, phone);
  std::printf(",\n");
  report("60 parts in all directions, desk", sixty, desk);
  std::printf(",\n");
  report("60 parts up and down, phone", stack, phone);
  std::printf("\n]\n");
  return 0;
}
