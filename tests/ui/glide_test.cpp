// Inertia of scrolling: x(t) = v tau (1 - exp(-t / tau)), the first-order decay of any textbook.
#include <cmath>

#include <doctest/doctest.h>

#include "ui/glide.hpp"

using namespace kp::ui;

namespace {

double rest_of(double hertz, float speed) {
  Glide glide;
  glide.start(speed, 0);
  double place = 0;
  for (double ms = 0; ms < 5000; ms += 1000 / hertz) place += static_cast<double>(glide.step(ms));
  CHECK_FALSE(glide.running());
  return place;
}

}  // namespace

TEST_CASE("a throw rests at the same place at 30, 60 and 120 frames a second") {
  for (const float speed : {300.0F, -900.0F, 2500.0F}) {
    CAPTURE(speed);
    const double at_60 = rest_of(60, speed);
    CHECK(std::fabs(rest_of(30, speed) - at_60) <= 2);
    CHECK(std::fabs(rest_of(120, speed) - at_60) <= 2);
    CHECK(std::fabs(at_60) > std::fabs(static_cast<double>(speed)) * 0.2);
  }
}

TEST_CASE("a slow finger throws nothing") {
  Glide glide;
  glide.start(10, 0);
  CHECK_FALSE(glide.running());
  CHECK(glide.step(16) == 0);
}

TEST_CASE("the throw's speed is that of the last moment, none after a rest") {
  std::deque<Sample> samples;
  for (int i = 0; i <= 5; ++i) samples.push_back({i * 16.0, Vec{0, static_cast<float>(-10 * i)}});
  CHECK(throw_speed(samples, 80) == doctest::Approx(-625));
  samples.push_back({400, Vec{0, -50}});
  CHECK(throw_speed(samples, 400) == 0);
  CHECK(throw_speed({}, 0) == 0);
}
