// What only the solver can find in a pack's circuit.
#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "circuit/netlist.hpp"
#include "job/bind_circuit.hpp"

namespace kp::job {
namespace {

constexpr double kTells = 0.5;  ///< a difference of chances that tells two faults apart

/// What a fault, or none, does to every test.
struct Signature {
  std::vector<circuit::Band> bands;    ///< of tests on the circuit, in their order
  std::vector<double> chances;         ///< of a bad sign in the others
};

bool is_there(const circuit::Band& band) {
  return (band.state == circuit::State::shown || band.state == circuit::State::over) &&
         band.bounded;
}

bool tells(const circuit::Band& a, const circuit::Band& b) {
  if (!is_there(a) || !is_there(b)) {
    // A short circuit trips the breaker: it is seen, and it is not the other.
    return a.state != b.state;
  }
  return a.shown_high < b.shown_low || b.shown_high < a.shown_low;
}

bool tells(const Signature& a, const Signature& b) {
  for (std::size_t i = 0; i < a.bands.size(); ++i) {
    if (tells(a.bands[i], b.bands[i])) {
      return true;
    }
  }
  for (std::size_t i = 0; i < a.chances.size(); ++i) {
    if (std::abs(a.chances[i] - b.chances[i]) >= kTells) {
      return true;
    }
  }
  return false;
}

class CircuitCheck {
 public:
  CircuitCheck(const pack::Pack& pack, const pack::Places& places)
      : pack_(pack), places_(places), netlist_(bind_circuit(pack)) {}

  Findings run() {
    const Findings odd = circuit::check(netlist_);
    for (const Finding& finding : odd.all()) {
      if (finding.severity == Severity::fault) {
        add(Severity::fault, "circuit-odd", cat("/circuit", finding.pointer), finding.what,
            finding.remedy);
      }
    }
    if (odd.faults() == 0) {
      bands();
      faults();
    }
    found_.sort();
    return std::move(found_);
  }

 private:
  void add(Severity severity, const char* code, std::string pointer, std::string what,
           std::string remedy) {
    const data::Place place = places_.at(pointer);
    Finding finding;
    finding.severity = severity;
    finding.code = code;
    finding.pointer = std::move(pointer);
    finding.line = place.line;
    finding.column = place.column;
    finding.what = std::move(what);
    finding.remedy = std::move(remedy);
    found_.add(std::move(finding));
  }

  void bands() {
    for (std::size_t i = 0; i < pack_.tests.size(); ++i) {
      const pack::Test& test = pack_.tests[i];
      if (test.on_circuit() && !is_there(good_band(pack_, netlist_, test))) {
        add(Severity::fault, "band-missing", cat("/tests/", to_int(i)),
            cat("a good unit has no band in the test \"", test.id, "\""),
            "Choose other points, or another step.");
      }
    }
  }

  [[nodiscard]] Signature signature(int fault) const {
    Signature out;
    for (const pack::Test& test : pack_.tests) {
      if (test.on_circuit()) {
        out.bands.push_back(fault < 0 ? good_band(pack_, netlist_, test)
                                      : fault_band(pack_, netlist_, test, {fault}));
        continue;
      }
      double none = 1 - test.leak;
      for (const pack::Shows& shows : test.shows) {
        none *= shows.fault == fault ? 1 - shows.chance : 1;
      }
      out.chances.push_back(1 - none);
    }
    return out;
  }

  void faults() {
    const Signature good = signature(-1);
    std::vector<Signature> all;
    for (int i = 0; i < to_int(pack_.faults.size()); ++i) {
      const pack::Fault& fault = pack_.faults[to_size(i)];
      all.push_back(signature(i));
      const std::string here = cat("/faults/", i);
      if (!tells(all.back(), good)) {
        add(Severity::warning, "fault-hidden", here,
            cat("no test tells the fault \"", fault.id, "\" from a good unit"),
            "Add a test that reads otherwise with it.");
        continue;
      }
      for (int j = 0; j < i; ++j) {
        const pack::Fault& other = pack_.faults[to_size(j)];
        if (other.part == fault.part || tells(all[to_size(j)], all.back())) {
          continue;
        }
        add(Severity::warning, "faults-alike", here,
            cat("no test tells the fault \"", fault.id, "\" from \"", other.id, "\""),
            "Add a test that reads otherwise with one of them.");
      }
    }
  }

  const pack::Pack& pack_;
  const pack::Places& places_;
  circuit::Netlist netlist_;
  Findings found_;
};

}  // namespace

Findings check_circuit(const pack::Pack& pack, const pack::Places& places) {
  return pack.circuit.there() ? CircuitCheck(pack, places).run() : Findings{};
}

}  // namespace kp::job
