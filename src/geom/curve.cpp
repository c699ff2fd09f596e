#include "geom/curve.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace kp::geom {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr int kMostSteps = 512;

int steps_for(double wanted) {
  return std::isfinite(wanted) ? std::clamp(static_cast<int>(std::ceil(wanted)), 1, kMostSteps) : 1;
}

/// Chords of a circle of this radius: the sagitta r (1 - cos(step / 2)) stays in the tolerance.
int arc_steps(double angle, double radius, double tolerance) {
  if (radius <= 0) {
    return 1;
  }
  const double half = std::acos(std::max(-1.0, 1.0 - tolerance / radius));
  return steps_for(std::abs(angle) / std::max(2.0 * half, 1e-6));
}

double angle_between(Vec u, Vec v) { return std::atan2(cross(u, v), dot(u, v)); }

}  // namespace

void flatten_quadratic(Contour& line, Vec start, Vec control, Vec end, double tolerance) {
  const double bend = length(start - control * 2.0 + end);
  const int steps = steps_for(std::sqrt(bend / (4.0 * tolerance)));
  for (int i = 1; i < steps; ++i) {
    const double t = static_cast<double>(i) / steps;
    line.push_back(mix(mix(start, control, t), mix(control, end, t), t));
  }
  line.push_back(end);
}

void flatten_cubic(Contour& line, Vec start, Vec control_1, Vec control_2, Vec end,
                   double tolerance) {
  const double bend = std::max(length(start - control_1 * 2.0 + control_2),
                               length(control_1 - control_2 * 2.0 + end));
  const int steps = steps_for(std::sqrt(0.75 * bend / tolerance));
  for (int i = 1; i < steps; ++i) {
    const double t = static_cast<double>(i) / steps;
    const Vec middle = mix(control_1, control_2, t);
    line.push_back(mix(mix(mix(start, control_1, t), middle, t),
                       mix(middle, mix(control_2, end, t), t), t));
  }
  line.push_back(end);
}

void flatten_arc(Contour& line, Vec start, double radius_x, double radius_y, double turn,
                 bool large, bool sweep, Vec end, double tolerance) {
  double rx = std::abs(radius_x);
  double ry = std::abs(radius_y);
  if (start == end) {
    return;
  }
  if (rx == 0 || ry == 0) {
    line.push_back(end);
    return;
  }
  const double cosine = std::cos(turn * kPi / 180.0);
  const double sine = std::sin(turn * kPi / 180.0);
  // F.6.5 step 1: half the chord in the ellipse's own axes.
  const Vec half = (start - end) * 0.5;
  const Vec p(cosine * half.x + sine * half.y, -sine * half.x + cosine * half.y);
  // F.6.6: radii too small to reach are scaled up.
  const double reach = p.x * p.x / (rx * rx) + p.y * p.y / (ry * ry);
  if (reach > 1) {
    rx *= std::sqrt(reach);
    ry *= std::sqrt(reach);
  }
  // F.6.5 step 2 and 3: the centre.
  const double over = rx * rx * p.y * p.y + ry * ry * p.x * p.x;
  double root = std::sqrt(std::max(0.0, (rx * rx * ry * ry - over) / over));
  if (large == sweep) {
    root = -root;
  }
  const Vec c(root * rx * p.y / ry, -root * ry * p.x / rx);
  const Vec middle = (start + end) * 0.5;
  const Vec centre(cosine * c.x - sine * c.y + middle.x, sine * c.x + cosine * c.y + middle.y);
  // F.6.5 step 4: the angles.
  const Vec from((p.x - c.x) / rx, (p.y - c.y) / ry);
  const Vec to((-p.x - c.x) / rx, (-p.y - c.y) / ry);
  const double first = angle_between(Vec(1, 0), from);
  double angle = angle_between(from, to);
  if (!sweep && angle > 0) {
    angle -= 2 * kPi;
  } else if (sweep && angle < 0) {
    angle += 2 * kPi;
  }
  const int steps = arc_steps(angle, std::max(rx, ry), tolerance);
  for (int i = 1; i < steps; ++i) {
    const double at = first + angle * i / steps;
    const Vec q(rx * std::cos(at), ry * std::sin(at));
    line.push_back(centre + Vec(cosine * q.x - sine * q.y, sine * q.x + cosine * q.y));
  }
  line.push_back(end);
}

Contour ellipse(Vec centre, double radius_x, double radius_y, double tolerance) {
  const int steps = std::max(8, arc_steps(2 * kPi, std::max(radius_x, radius_y), tolerance));
  Contour out;
  out.reserve(static_cast<std::size_t>(steps));
  for (int i = 0; i < steps; ++i) {
    const double at = 2 * kPi * i / steps;
    out.push_back(centre + Vec(radius_x * std::cos(at), radius_y * std::sin(at)));
  }
  return out;
}

Contour rounded_box(double x, double y, double width, double height, double radius_x,
                    double radius_y, double tolerance) {
  const double rx = std::min(radius_x, width / 2);
  const double ry = std::min(radius_y, height / 2);
  if (rx <= 0 || ry <= 0) {
    return {Vec(x, y), Vec(x + width, y), Vec(x + width, y + height), Vec(x, y + height)};
  }
  Contour out{Vec(x + rx, y), Vec(x + width - rx, y)};
  const auto corner = [&](Vec end) {
    flatten_arc(out, out.back(), rx, ry, 0, false, true, end, tolerance);
  };
  corner(Vec(x + width, y + ry));
  out.push_back(Vec(x + width, y + height - ry));
  corner(Vec(x + width - rx, y + height));
  out.push_back(Vec(x + rx, y + height));
  corner(Vec(x, y + height - ry));
  out.push_back(Vec(x, y + ry));
  corner(Vec(x + rx, y));
  Contour clean;
  for (const Vec& point : out) {
    if (clean.empty() || length(clean.back() - point) > 1e-9) {
      clean.push_back(point);
    }
  }
  if (clean.size() > 1 && length(clean.front() - clean.back()) <= 1e-9) {
    clean.pop_back();
  }
  return clean;
}

}  // namespace kp::geom
