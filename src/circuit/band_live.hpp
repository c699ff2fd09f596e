#pragma once

#include "circuit/network.hpp"
#include "circuit/probe_network.hpp"

namespace kp::circuit {

/// Ends of the size of a voltage or current over all values that the freedoms of a network allow.
struct LiveBand {
  double low = 0;
  double high = 0;
  bool bounded = true;
};

/// Proved ends of what a meter senses in a live network.
///
/// Let z be the branches' impedances at the middle of their ranges, i their currents, m what the
/// meter senses, T the currents and t the sensed value that one volt in each branch brings. Other
/// impedances z + d act like sources d i in the branches (compensation theorem), so
///   i' = i + T (e + d i'),    m' = m + t (e + d i'),    t' = t + T (d t'),
/// with e the changes of the sources. A vector w with |i| + |T| (|e| + |d| w) <= w bounds |i'|,
/// where there is one; that bounds m' and t' as well.
///
/// The slope of m' in one value of branch c is its unit times i'_c t'_c. Where the bounds leave no
/// doubt about the sign of the slope of |m'|, the end lies at an end of that value. So two solves,
/// with these values at their ends, give both ends of the band. Of a value whose slope may have
/// either sign, both ends are tried where the network is real; else it stays in the middle and adds
/// its half range times the largest slope.
///
/// Where no w is found, or what stays in doubt makes the band much wider than values that do occur,
/// the range in question is halved and both halves are joined: branch and bound, with a limit.
/// Ends that are within `enough` of values that do occur are not narrowed further.
[[nodiscard]] LiveBand live_band(const Network& network, const Probe& probe, double enough = 0);

}  // namespace kp::circuit
