#pragma once
// ngspice inside the program (library libngspice, package libngspice0-dev): one simulator, one
// network at a time. Only where the library was found at configure time.

#if defined(KP_NGSPICE)

#include <ngspice/sharedspice.h>

#include <cmath>
#include <complex>
#include <cstdio>
#include <string>
#include <vector>

#include "base/text.hpp"
#include "circuit/network.hpp"

namespace kp::test {

class Spice {
 public:
  /// The only one: the library cannot be started twice.
  static Spice& only() {
    static Spice spice;
    return spice;
  }

  /// What it printed as an error since the last load, for the message of a failed check.
  [[nodiscard]] const std::string& complaint() const { return complaint_; }

  /// Takes a network in; node k is called nk, the reference is ground. Direct current where the
  /// network has no frequency. Each source stands in series with the rest of its branch.
  void load(const circuit::Network& network) {
    complaint_.clear();
    hertz_ = network.hertz;
    std::vector<std::string> lines{"network"};
    for (std::size_t k = 0; k < network.branches.size(); ++k) write(network, to_int(k), lines);
    lines.emplace_back(".end");
    std::vector<char*> pointers;
    for (std::string& line : lines) pointers.push_back(line.data());
    pointers.push_back(nullptr);
    ngSpice_Circ(pointers.data());
  }

  /// Works the network out.
  void run() {
    const std::string f = number(hertz_);
    command(hertz_ > 0 ? cat("ac lin 1 ", f, " ", f) : std::string("op"));
  }

  /// Voltage of a node of the network after run(); NaN where ngspice knows none.
  [[nodiscard]] std::complex<double> volt(int node) {
    std::string name = cat("n", node);
    pvector_info vector = ngGet_Vec_Info(name.data());
    if (vector == nullptr || vector->v_length < 1) return {std::nan(""), 0};
    if (vector->v_compdata != nullptr) return {vector->v_compdata[0].cx_real, vector->v_compdata[0].cx_imag};
    return {vector->v_realdata[0], 0};
  }

  void forget() {
    command("destroy all");
    command("remcirc");
  }

 private:
  Spice() {
    ngSpice_Init(&hear, &hear, &end, nullptr, nullptr, nullptr, this);
    command("set noaskquit");
  }

  static int hear(char* text, int, void* self) {
    const std::string line = text;
    if (line.find("rror") != std::string::npos || line.find("arning") != std::string::npos) {
      static_cast<Spice*>(self)->complaint_ += cat(line, "\n");
    }
    return 0;
  }
  static int end(int, NG_BOOL, NG_BOOL, int, void*) { return 0; }

  static void command(std::string words) { ngSpice_Command(words.data()); }
  static std::string number(double value) {
    char text[40];
    std::snprintf(text, sizeof text, "%.17g", value);
    return text;
  }

  static void write(const circuit::Network& network, int k, std::vector<std::string>& lines) {
    const circuit::Branch& branch = network.branches[to_size(k)];
    const std::string id = integer_text(k);
    const auto node = [&](int n) { return n == network.reference ? std::string("0") : cat("n", n); };
    // Parts of the branch in series, each but the last ending at an inner node.
    struct Piece {
      char letter;
      std::string value;
    };
    std::vector<Piece> pieces;
    if (branch.volt != 0) {
      const std::string size = number(branch.volt);
      pieces.push_back({'v', network.hertz > 0 ? cat("dc 0 ac ", size, " ", number(branch.degrees))
                                               : cat("dc ", size)});
    }
    if (branch.ohm != 0) pieces.push_back({'r', number(branch.ohm)});
    if (network.hertz > 0 && branch.henry != 0) pieces.push_back({'l', number(branch.henry)});
    if (network.hertz > 0 && branch.per_farad != 0) pieces.push_back({'c', number(1 / branch.per_farad)});
    if (pieces.empty()) pieces.push_back({'v', "dc 0"});
    std::string from = node(branch.a);
    for (std::size_t i = 0; i < pieces.size(); ++i) {
      const std::string to = i + 1 == pieces.size() ? node(branch.b) : cat("m", id, "x", to_int(i));
      lines.push_back(cat(std::string(1, pieces[i].letter), id, " ", from, " ", to, " ", pieces[i].value));
      from = to;
    }
  }

  double hertz_ = 0;
  std::string complaint_;
};

}  // namespace kp::test

#endif
