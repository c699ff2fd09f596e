// What a machine holds, how it is fed and how a visit ends, in safety's words.
#include "base/text.hpp"
#include "job/bind_safety.hpp"

namespace kp::job {

safety::EnergySet energies_of(const Model& model) {
  const pack::Pack& pack = model.pack;
  safety::EnergySet all = safety::bit(safety::Energy::mains) |
                          // Mains and water are in every machine, whatever its tags say.
                          safety::bit(safety::Energy::water_pressure);
  for (int i = 0; i < to_int(pack.parts.size()); ++i) {
    all |= safety::energies_of(contacts_of(model.hazards.part(pack, i)));
  }
  for (int i = 0; i < to_int(pack.joints.size()); ++i) {
    all |= safety::energies_of(contacts_of(model.hazards.joint(pack, i)));
  }
  for (int i = 0; i < to_int(pack.changes.size()); ++i) {
    all |= safety::energies_of(contacts_of(model.hazards.change(pack, i)));
  }
  return all;
}

safety::Connection connection_of(const pack::Pack& pack) {
  return pack.supply.connection == pack::Connection::cord ? safety::Connection::cord
                                                          : safety::Connection::fixed;
}

safety::System system_of(const pack::Pack& pack) {
  return pack.supply.system == pack::System::split ? safety::System::split
                                                   : safety::System::single;
}

safety::Ending ending_of(Outcome outcome) {
  switch (outcome) {
    case Outcome::none:
      return safety::Ending::none;
    case Outcome::repaired:
      return safety::Ending::repaired;
    case Outcome::waiting_for_parts:
      return safety::Ending::waiting_for_parts;
    case Outcome::not_to_be_used:
      return safety::Ending::not_to_be_used;
    case Outcome::no_fault_found:
      return safety::Ending::no_fault;
  }
  return safety::Ending::none;
}

}  // namespace kp::job
