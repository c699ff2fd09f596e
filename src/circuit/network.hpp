#pragma once

#include <complex>
#include <span>
#include <vector>

#include "circuit/netlist.hpp"
#include "circuit/setting.hpp"

namespace kp::circuit {

using Complex = std::complex<double>;

/// One linear branch: v(a) - v(b) = volt + z i, with i flowing from a to b through it and
/// z = ohm + j w henry + per_farad / (j w). Every part of z is linear in its member, which the
/// bands rest on. z = 0 makes an ideal joint, or an ideal source.
struct Branch {
  int a = 0;
  int b = 0;
  int element = -1;          ///< of the netlist, -1: a meter, a leak
  double ohm = 0;
  double henry = 0;
  double per_farad = 0;      ///< 1/F, 0: no capacitor in it
  double volt = 0;
  double degrees = 0;
  double rated_ampere = 0;
};

enum class Quantity { ohm, henry, per_farad, volt };

/// A quantity of one branch that differs from unit to unit.
struct Freedom {
  int branch = 0;
  Quantity quantity = Quantity::ohm;
  double low = 0;
  double high = 0;
};

/// What is left of a netlist in one setting: nothing open, everything linear.
struct Network {
  int nodes = 0;             ///< those of the netlist first, then inner ones
  int reference = 0;
  double hertz = 0;          ///< 0: direct current; coils are their ohms, capacitors are open
  std::vector<Branch> branches;
  std::vector<Freedom> freedoms;
  std::vector<int> branch_of;  ///< first branch of each element, -1: no current flows

  [[nodiscard]] double omega() const { return 6.283185307179586476925286766559 * hertz; }
};

/// The member that a freedom is about.
[[nodiscard]] double& quantity_of(Branch& branch, Quantity quantity);

[[nodiscard]] Complex impedance(const Branch& branch, double omega);
[[nodiscard]] Complex emf(const Branch& branch);

/// Resistance of a good element at a temperature; not for supplies and capacitors.
/// NTC: R = R25 exp(B (1/T - 1/298.15 K)), IEC 60539-1. PTC: straight in ln R between its rows, the
/// end rows beyond them. Others: R20 (1 + per_kelvin (t - 20 °C)), IEC 60028 for copper.
[[nodiscard]] Spread ohm_at(const Element& element, double celsius);

/// The network at the supply's frequency, with the supply in it where the setting is powered.
[[nodiscard]] Network live_network(const Netlist& netlist, const Setting& setting,
                                   std::span<const Fault> faults);

/// The network that an ohmmeter meets: the supply taken out, direct current.
[[nodiscard]] Network dead_network(const Netlist& netlist, const Setting& setting,
                                   std::span<const Fault> faults);

}  // namespace kp::circuit
