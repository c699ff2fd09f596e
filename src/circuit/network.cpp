#include "circuit/network.hpp"

#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "circuit/contact.hpp"

namespace kp::circuit {
namespace {

constexpr double kKelvinAt0 = 273.15;

Spread product(const Spread& a, const Spread& b) {
  return {a.low * b.low, a.typical * b.typical, a.high * b.high};
}

Spread sum(const Spread& a, const Spread& b) {
  return {a.low + b.low, a.typical + b.typical, a.high + b.high};
}

/// 1/C of a capacitor; one that has lost all of it is as good as a femtofarad.
Spread per_farad_of(const Spread& farad) {
  constexpr double kLeast = 1e-15;
  return {1 / std::max(farad.high, kLeast), 1 / std::max(farad.typical, kLeast),
          1 / std::max(farad.low, kLeast)};
}

Spread ntc_ohm(const Element& element, double celsius) {
  const double lever = 1 / (celsius + kKelvinAt0) - 1 / (25 + kKelvinAt0);
  const double at_low = std::exp(element.beta.low * lever);
  const double at_high = std::exp(element.beta.high * lever);
  return product(element.ohm, {std::min(at_low, at_high), std::exp(element.beta.typical * lever),
                               std::max(at_low, at_high)});
}

double table_ohm(const std::vector<TablePoint>& table, double celsius) {
  if (celsius <= table.front().celsius) return table.front().ohm;
  for (std::size_t i = 1; i < table.size(); ++i) {
    if (celsius > table[i].celsius) continue;
    const TablePoint& from = table[i - 1];
    const TablePoint& to = table[i];
    const double share = (celsius - from.celsius) / (to.celsius - from.celsius);
    return from.ohm * std::pow(to.ohm / from.ohm, share);
  }
  return table.back().ohm;
}

/// Puts elements into a network one by one, with what a fault makes of each.
class Builder {
 public:
  Builder(const Netlist& netlist, const Setting& setting, std::span<const Fault> faults,
          Network& network)
      : netlist_(netlist), setting_(setting), faults_(faults), out_(network) {
    out_.nodes = to_int(netlist.nodes.size());
    out_.reference = netlist.neutral;
    out_.branches.reserve(netlist.elements.size() + 4);
    out_.branch_of.assign(netlist.elements.size(), -1);
  }

  void run() {
    for (int i = 0; i < to_int(netlist_.elements.size()); ++i) element(i);
  }

 private:
  struct Values {
    Spread ohm, henry, per_farad, volt;
  };

  [[nodiscard]] bool direct() const { return out_.hertz <= 0; }

  void element(int index) {
    const Element& element = netlist_.elements[to_size(index)];
    const bool conducts = contact_state(netlist_, setting_, faults_, index).closed;
    Values values;
    const bool flows = conducts && values_of(element, index, values);
    const Fault* leak = nullptr;
    for (const Fault& fault : faults_) {
      if (fault.element == index && fault.kind == FaultKind::earth_leak) leak = &fault;
    }
    if (leak != nullptr && flows && leak->at > 0 && leak->at < 1 && is_load(element.kind)) {
      const int middle = out_.nodes++;
      out_.branch_of[to_size(index)] = to_int(out_.branches.size());
      add(element, index, element.a, middle, share_of(values, leak->at));
      add(element, index, middle, element.b, share_of(values, 1 - leak->at));
      add_leak(*leak, middle);
      return;
    }
    if (flows) {
      out_.branch_of[to_size(index)] = to_int(out_.branches.size());
      add(element, index, element.a, element.b, values);
    }
    if (leak != nullptr) add_leak(*leak, leak->at < 0.5 ? element.a : element.b);
  }

  /// False where no current can flow at this frequency, or the supply is taken out.
  bool values_of(const Element& element, int index, Values& values) const {
    bool shorted = false;
    for (const Fault& fault : faults_) {
      if (fault.element != index || fault.kind != FaultKind::shorted) continue;
      values.ohm = fault.amount;
      shorted = true;
    }
    if (shorted) return true;
    if (element.kind == Kind::supply) {
      if (direct() || !setting_.powered) return false;
      values.ohm = element.ohm;
      values.henry = element.henry;
      values.volt = element.volt;
      return true;
    }
    if (element.kind == Kind::capacitor) {
      if (direct()) return false;
      values.ohm = element.ohm;
      values.per_farad = per_farad_of(drifted(element.farad, index));
    } else {
      values.ohm = drifted(ohm_at(element, celsius_of(setting_, index)), index);
      if (!direct()) values.henry = drifted(element.henry, index);
    }
    for (const Fault& fault : faults_) {
      if (fault.element == index && fault.kind == FaultKind::high_joint) {
        values.ohm = sum(values.ohm, fault.amount);
      }
    }
    return true;
  }

  [[nodiscard]] Spread drifted(Spread value, int index) const {
    for (const Fault& fault : faults_) {
      if (fault.element == index && fault.kind == FaultKind::drifted) {
        value = product(value, fault.amount);
      }
    }
    return value;
  }

  static Values share_of(const Values& values, double share) {
    return {scaled(values.ohm, share), scaled(values.henry, share), values.per_farad, values.volt};
  }

  void add(const Element& element, int index, int a, int b, const Values& values) {
    Branch branch;
    branch.a = a;
    branch.b = b;
    branch.element = index;
    branch.degrees = element.degrees;
    branch.rated_ampere = element.rated_ampere;
    put(branch, values);
  }

  void add_leak(const Fault& leak, int node) {
    if (netlist_.earth < 0 || netlist_.earth == node) return;
    Branch branch;
    branch.a = node;
    branch.b = netlist_.earth;
    Values values;
    values.ohm = leak.amount;
    put(branch, values);
  }

  void put(Branch& branch, const Values& values) {
    const int at = to_int(out_.branches.size());
    const auto set = [&](Quantity quantity, const Spread& spread) {
      quantity_of(branch, quantity) = spread.typical;
      if (spread.low < spread.high) {
        out_.freedoms.push_back(Freedom{at, quantity, spread.low, spread.high});
      }
    };
    set(Quantity::ohm, values.ohm);
    set(Quantity::henry, values.henry);
    set(Quantity::per_farad, values.per_farad);
    set(Quantity::volt, values.volt);
    out_.branches.push_back(branch);
  }

  const Netlist& netlist_;
  const Setting& setting_;
  std::span<const Fault> faults_;
  Network& out_;
};

}  // namespace

double& quantity_of(Branch& branch, Quantity quantity) {
  switch (quantity) {
    case Quantity::henry: return branch.henry;
    case Quantity::per_farad: return branch.per_farad;
    case Quantity::volt: return branch.volt;
    case Quantity::ohm: break;
  }
  return branch.ohm;
}

Complex impedance(const Branch& branch, double omega) {
  const double reactance =
      omega > 0 ? omega * branch.henry - branch.per_farad / omega : 0.0;
  return {branch.ohm, reactance};
}

Complex emf(const Branch& branch) {
  // Half turns exactly, so that a network of resistances stays real.
  if (branch.degrees == 0) return {branch.volt, 0};
  if (branch.degrees == 180) return {-branch.volt, 0};
  return std::polar(branch.volt, branch.degrees * (3.14159265358979323846 / 180));
}

Spread ohm_at(const Element& element, double celsius) {
  if (element.kind == Kind::ntc) return ntc_ohm(element, celsius);
  if (element.kind == Kind::ptc) {
    const Spread share = element.ohm.high > 0 ? element.ohm : exact(1);
    return scaled(share, table_ohm(element.table, celsius));
  }
  const double factor = 1 + element.per_kelvin * (celsius - 20);
  return scaled(element.ohm, std::max(factor, 0.0));
}

Network live_network(const Netlist& netlist, const Setting& setting,
                     std::span<const Fault> faults) {
  Network network;
  network.hertz = netlist.hertz;
  Builder(netlist, setting, faults, network).run();
  return network;
}

Network dead_network(const Netlist& netlist, const Setting& setting,
                     std::span<const Fault> faults) {
  Network network;
  if (!setting.powered) {
    Builder(netlist, setting, faults, network).run();
    return network;
  }
  Setting unplugged = setting;
  unplugged.powered = false;
  Builder(netlist, unplugged, faults, network).run();
  return network;
}

}  // namespace kp::circuit
