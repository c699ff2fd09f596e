#include "job/bind_safety.hpp"

#include <algorithm>

#include "base/text.hpp"

namespace kp::job {

namespace {

void add(std::vector<safety::Contact>& all, const std::vector<pack::Contact>& tags) {
  for (const safety::Contact contact : contacts_of(tags)) {
    if (std::find(all.begin(), all.end(), contact) == all.end()) {
      all.push_back(contact);
    }
  }
}

}  // namespace

std::vector<safety::Contact> contacts_of(const std::vector<pack::Contact>& tags) {
  static_assert(pack::kContacts == safety::kContacts);
  std::vector<safety::Contact> out;
  out.reserve(tags.size());
  for (const pack::Contact tag : tags) {
    out.push_back(static_cast<safety::Contact>(static_cast<int>(tag)));
  }
  return out;
}

safety::Demand demand_of(const pack::Pack& pack, Deed deed, int index) {
  safety::Demand demand;
  const std::size_t at = to_size(index);
  switch (deed) {
    case Deed::release:
    case Deed::fasten:
      add(demand.contacts, pack.joints[at].contacts);
      break;
    case Deed::remove:
    case Deed::set:
    case Deed::swap:
      add(demand.contacts, pack.parts[at].contacts);
      break;
    case Deed::turn:
      // The people and the tags belong to the change; the caller gives the change's index.
      add(demand.contacts, pack.changes[at].contacts);
      demand.people = pack.changes[at].people;
      break;
  }
  return demand;
}

safety::Demand demand_of(const pack::Pack& pack, const pack::Test& test) {
  safety::Demand demand;
  if (test.probe == pack::Probe::look && !test.running) {
    demand.hands_in = false;
    return demand;
  }
  demand.contacts = contacts_of(pack.parts[to_size(test.part)].contacts);
  for (const int point : {test.point_a, test.point_b}) {
    if (point >= 0) {
      add(demand.contacts, pack.circuit.points[to_size(point)].contacts);
    }
  }
  if (test.running || pack::is_live(test.probe)) {
    demand.running = true;
    demand.hands_in = false;
  }
  return demand;
}

safety::Demand demand_of(const pack::ProveTest& test) {
  safety::Demand demand;
  demand.hands_in = test.when == pack::ProveWhen::before_power;
  demand.running = test.when == pack::ProveWhen::running;
  return demand;
}

safety::EnergySet energies_of(const pack::Pack& pack) {
  std::vector<safety::Contact> all;
  for (const pack::Part& part : pack.parts) {
    add(all, part.contacts);
  }
  for (const pack::Joint& joint : pack.joints) {
    add(all, joint.contacts);
  }
  for (const pack::PositionChange& change : pack.changes) {
    add(all, change.contacts);
  }
  // Mains and water are in every machine, whatever its tags say.
  return safety::energies_of(all) | safety::bit(safety::Energy::mains) |
         safety::bit(safety::Energy::water_pressure);
}

safety::Connection connection_of(const pack::Pack& pack) {
  return pack.supply.connection == pack::Connection::cord ? safety::Connection::cord
                                                           : safety::Connection::fixed;
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
