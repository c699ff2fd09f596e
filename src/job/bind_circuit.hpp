#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "circuit/expect.hpp"
#include "circuit/read.hpp"
#include "circuit/strip.hpp"
#include "pack/load.hpp"
#include "pack/model.hpp"

namespace kp::job {

/// The pack's circuit as the circuit room's plain netlist. Nodes, elements, steps and rows keep
/// their indices; the supply comes last. A node bears the title of its first test point, or its id.
/// The pack must have a circuit (pack.circuit.there()) and no fault that pack::check reports.
[[nodiscard]] circuit::Netlist bind_circuit(const pack::Pack& pack);

/// How a unit stands while it is measured, in the pack's terms.
struct UnitStand {
  bool powered = false;
  int step = -1;                    ///< of the programme, -1: off
  bool door_open = false;
  bool float_up = false;
  std::vector<int> buttons_out;     ///< push-buttons that are not pressed; all others are
  std::vector<int> joints;          ///< released: what they join is parted
  std::vector<int> off;             ///< elements parted beside those
  double celsius = 20;              ///< of the machine
  bool cooling = false;             ///< it was hotter before, which thermostats remember
};

/// The contacts of that stand: door and float switches, push-buttons, parted leads, temperatures.
[[nodiscard]] circuit::Setting setting_of(const pack::Pack& pack, const UnitStand& stand);

/// How a test has the unit stand.
[[nodiscard]] UnitStand stand_of(const pack::Test& test);

/// What a fault does to the netlist; nothing for a mechanical one.
[[nodiscard]] std::optional<circuit::Fault> fault_of(const pack::Fault& fault);

/// The setting of the meter that a test, or a command, asks for. `probe` is one that measures the
/// circuit.
[[nodiscard]] circuit::Mode mode_of(pack::Probe probe);

/// Everything circuit::read and circuit::expect want to know of a test on the circuit
/// (test.on_circuit()): the meter, where it is put, and how the unit stands.
struct Measurement {
  circuit::Meter meter;
  circuit::Probe probe;
  circuit::Setting setting;
};
[[nodiscard]] Measurement measurement_of(const pack::Pack& pack, const pack::Test& test);

/// The band that a good unit reads in a test on the circuit, and one with these faults (indices into
/// pack.faults). A mechanical fault reads as a good unit. Not to be called for other tests.
[[nodiscard]] circuit::Band good_band(const pack::Pack& pack, const circuit::Netlist& netlist,
                                      const pack::Test& test);
[[nodiscard]] circuit::Band fault_band(const pack::Pack& pack, const circuit::Netlist& netlist,
                                       const pack::Test& test, const std::vector<int>& faults);

/// What a test shows in a unit with these faults (indices into pack.faults), the middle of their
/// ranges; for the simulated unit.
[[nodiscard]] circuit::Reading reading_of(const pack::Pack& pack, const circuit::Netlist& netlist,
                                          const pack::Test& test, const std::vector<int>& faults);

/// Writes into each test on the circuit the band that a good unit reads, in the test's unit:
/// `low` and `high` as the display may show them, `high` infinite where an open loop is good.
void fill_bands(pack::Pack& pack);

/// A reading for people: "14.2 Ω", "60 MΩ".
[[nodiscard]] std::string quantity_words(double value, const std::string& unit);
/// The band of a test for people: "13 to 16.2 Ω", "OL". Empty for a look.
[[nodiscard]] std::string band_words(const pack::Test& test);
/// Whether a reading, or an open loop, is what a good unit shows.
[[nodiscard]] bool in_band(const pack::Test& test, double value, bool open_loop);

/// The elements of a part that use power: what a strip circuit is drawn for.
[[nodiscard]] std::vector<int> loads_of(const pack::Pack& pack, int part);

/// The strip circuit of a load in a unit that stands like this, with these faults. Where it is not
/// closed, the links that are open say why. Of switches and buttons the links tell in the pack's
/// terms what moved them: "closed, the door is shut".
[[nodiscard]] circuit::Strip strip_of(const pack::Pack& pack, const circuit::Netlist& netlist,
                                      int load, const UnitStand& stand,
                                      std::span<const circuit::Fault> faults = {});
/// The same in a good unit that runs in that step, cold.
[[nodiscard]] circuit::Strip strip_of(const pack::Pack& pack, const circuit::Netlist& netlist,
                                      int load, int step);

/// What only the solver can find in a pack's circuit: what circuit::check finds in its netlist
/// (`circuit-odd`), a test without a band (`band-missing`), an electrical fault that no test can
/// tell from a good unit (`fault-hidden`) or from a fault of another part (`faults-alike`). Bands
/// tell two faults apart when they do not meet; tables, when chances differ by a half or more.
[[nodiscard]] Findings check_circuit(const pack::Pack& pack, const pack::Places& places = {});

}  // namespace kp::job
