#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "circuit/contact.hpp"
#include "circuit/netlist.hpp"
#include "circuit/setting.hpp"

namespace kp::circuit {

/// One element of a way, as current meets it: in at `from`, out at `to`.
struct Link {
  int element = 0;
  int from = 0;
  int to = 0;
  ContactState state;
  std::string why;            ///< "closed by Cam 4 in step Heat", empty where it always conducts
};

/// A way by which current gets round a part of the strip, or round an element that is measured.
struct Sneak {
  std::vector<Link> links;    ///< those that the strip does not have, in the order of the current
  std::vector<int> bypassed;  ///< elements of the strip that it makes useless
  double volt = 0;            ///< live: what the load gets that way
  double ohm = 0;             ///< dead: what the way alone reads
  /// What to part so that the way is gone: an element that can be pulled; -1: the lead of the
  /// measured element (or of the load) at `pull_node`.
  int pull = -1;
  int pull_node = -1;
};

/// The strip circuit of one load: everything that must conduct, from the supply's one terminal (its
/// a) through the load to the other.
struct Strip {
  int load = 0;
  int supply = -1;
  std::vector<Link> links;
  bool closed = false;        ///< every link conducts
  double volt = 0;            ///< on the load now, RMS
  double ampere = 0;          ///< through it now
  std::vector<Sneak> sneaks;
  /// Why there is no strip. Codes: no-supply, no-way.
  std::optional<Error> error;
};

/// The strip of a load in this setting. Of all pairs of ways from the load's two ends to the two
/// terminals of the supply that share no node, the one with the fewest other loads in it, then the
/// fewest open contacts, then the fewest elements (least-cost flow of two units; Suurballe 1974).
/// Sneak paths: where an open link, or a closed one opened for trial, leaves more than a twentieth
/// of the supply's volts on the load.
[[nodiscard]] Strip path(const Netlist& netlist, const Setting& setting, int load,
                         std::span<const Fault> faults = {});

/// The way that an ohmmeter finds round an element when it is measured in place, by least
/// resistance; nothing where all others read an open loop. One lead must come off: `pull` says
/// which, by the shortest search outwards from the element.
[[nodiscard]] std::optional<Sneak> way_round(const Netlist& netlist, const Setting& setting,
                                             int element, std::span<const Fault> faults = {});

/// "Current also flows through Relay 2, Motor. Pull Return." for a person.
[[nodiscard]] std::string sneak_text(const Netlist& netlist, const Sneak& sneak);

}  // namespace kp::circuit
