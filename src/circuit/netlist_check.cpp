#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "base/text.hpp"
#include "circuit/netlist.hpp"

namespace kp::circuit {
namespace {

class Checker {
 public:
  Checker(const Netlist& netlist, Findings& findings) : n_(netlist), out_(findings) {}

  void run() {
    if (to_int(n_.nodes.size()) > kMaxNodes) {
      fault("too-large", "/nodes", cat("more than ", kMaxNodes, " nodes"), "Leave out inner points");
    }
    if (!(n_.hertz > 0) || !std::isfinite(n_.hertz)) {
      fault("bad-hertz", "/hertz", "the supply has no frequency", "Write 50 or 60");
    }
    node_index("/neutral", n_.neutral);
    if (n_.earth != -1) node_index("/earth", n_.earth);
    chart();
    joins_.assign(n_.nodes.size(), 0);
    for (int i = 0; i < to_int(n_.elements.size()); ++i) element(i);
    for (int n = 0; n < to_int(n_.nodes.size()); ++n) {
      if (joins_[to_size(n)] >= 2) continue;
      warn("node-floats", cat("/nodes/", n),
           cat(node_name(n), joins_[to_size(n)] == 0 ? " joins nothing" : " joins one element only"),
           "Join a second element to it, or leave it out");
    }
  }

 private:
  void add(Severity severity, const char* code, std::string pointer, std::string what,
           const char* remedy) {
    Finding finding;
    finding.severity = severity;
    finding.code = code;
    finding.pointer = std::move(pointer);
    finding.what = std::move(what);
    finding.remedy = remedy;
    out_.add(std::move(finding));
  }
  void fault(const char* code, std::string pointer, std::string what, const char* remedy) {
    add(Severity::fault, code, std::move(pointer), std::move(what), remedy);
  }
  void warn(const char* code, std::string pointer, std::string what, const char* remedy) {
    add(Severity::warning, code, std::move(pointer), std::move(what), remedy);
  }

  [[nodiscard]] std::string node_name(int n) const {
    const std::string& name = n_.nodes[to_size(n)].name;
    return name.empty() ? cat("node ", n) : name;
  }

  bool node_index(const std::string& pointer, int n) {
    if (n >= 0 && n < to_int(n_.nodes.size())) return true;
    fault("unknown-index", pointer, cat("there is no node ", n), "Name a node of the list");
    return false;
  }

  void chart() {
    for (int r = 0; r < to_int(n_.chart.rows.size()); ++r) {
      const Row& row = n_.chart.rows[to_size(r)];
      if (row.on.size() == n_.chart.steps.size()) continue;
      fault("bad-chart", cat("/chart/rows/", r),
            cat(row.name, " has ", to_int(row.on.size()), " steps, the chart has ",
                to_int(n_.chart.steps.size())),
            "Give each row one mark for each step");
    }
  }

  void element(int i) {
    const Element& e = n_.elements[to_size(i)];
    const std::string at = cat("/elements/", i);
    const bool a = node_index(at + "/a", e.a);
    const bool b = node_index(at + "/b", e.b);
    if (a) ++joins_[to_size(e.a)];
    if (b) ++joins_[to_size(e.b)];
    if (a && b && e.a == e.b) {
      fault("self-loop", at, cat(e.name, " has both ends on ", node_name(e.a)),
            "Join its ends to two nodes");
    }
    spread(at + "/ohm", e.ohm);
    spread(at + "/henry", e.henry);
    spread(at + "/farad", e.farad);
    spread(at + "/volt", e.volt);
    spread(at + "/beta", e.beta);
    number(at + "/rated_ampere", e.rated_ampere, e.rated_ampere >= 0);
    number(at + "/switch_celsius", e.switch_celsius, e.switch_celsius > -273.15);
    number(at + "/back_kelvin", e.back_kelvin, e.back_kelvin >= 0);
    number(at + "/per_kelvin", e.per_kelvin, true);
    number(at + "/degrees", e.degrees, true);
    row(at, e);
    values(at, e);
  }

  void row(const std::string& at, const Element& e) {
    if (e.row < -1 || e.row >= to_int(n_.chart.rows.size())) {
      fault("unknown-index", at + "/row", cat("there is no row ", e.row), "Name a row of the chart");
    } else if (e.row == -1 && e.kind == Kind::cam_contact) {
      warn("no-row", at + "/row", cat("no row of the chart moves ", e.name), "Name its row");
    }
  }

  void number(const std::string& pointer, double value, bool fits) {
    if (std::isfinite(value) && fits) return;
    fault("bad-value", pointer, cat(number_text(value), " is not possible here"),
          "Write a number in its range");
  }

  void spread(const std::string& pointer, const Spread& s) {
    const bool finite = std::isfinite(s.low) && std::isfinite(s.typical) && std::isfinite(s.high);
    if (finite && 0 <= s.low && s.low <= s.typical && s.typical <= s.high) return;
    fault("bad-value", pointer,
          cat("least ", number_text(s.low), ", typical ", number_text(s.typical), ", most ",
              number_text(s.high), " are not in order from zero up"),
          "Write the least first and none below zero");
  }

  /// What a kind cannot do without.
  void values(const std::string& at, const Element& e) {
    const auto need = [&](const char* member, bool there) {
      if (there) return;
      fault("no-value", cat(at, "/", member),
            cat(e.name, " is a ", kind_words()[to_size(static_cast<int>(e.kind))], " without ", member),
            "Write its value");
    };
    switch (e.kind) {
      case Kind::resistor:
      case Kind::heater: return need("ohm", e.ohm.low > 0);
      case Kind::coil:
      case Kind::winding: return need("ohm", e.ohm.low > 0 || e.henry.low > 0);
      case Kind::capacitor: return need("farad", e.farad.low > 0);
      case Kind::supply: return need("volt", e.volt.typical > 0);
      case Kind::ntc: need("ohm", e.ohm.low > 0); return need("beta", e.beta.low > 0);
      case Kind::ptc: return table(at, e);
      default: return;
    }
  }

  void table(const std::string& at, const Element& e) {
    if (e.table.size() < 2) {
      fault("no-value", at + "/table", cat(e.name, " has fewer than two rows"), "Write its table");
      return;
    }
    for (std::size_t i = 0; i < e.table.size(); ++i) {
      const TablePoint& point = e.table[i];
      const bool rises = i == 0 || point.celsius > e.table[i - 1].celsius;
      if (rises && point.ohm > 0 && std::isfinite(point.ohm) && std::isfinite(point.celsius)) continue;
      fault("bad-value", cat(at, "/table/", to_int(i)), "the row is colder than the one before, or has no ohms",
            "Sort the rows by temperature");
    }
  }

  const Netlist& n_;
  Findings& out_;
  std::vector<int> joins_;
};

}  // namespace

Findings check(const Netlist& netlist) {
  Findings findings;
  Checker(netlist, findings).run();
  return findings;
}

}  // namespace kp::circuit
