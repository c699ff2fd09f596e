#pragma once
// Every act of a pack with what it demands of the gate, as a table for people to read.

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_safety.hpp"
#include "safety/rules.hpp"

namespace kp::test {

/// One act: what somebody does, and the demands before and after the proof of the supply. They
/// differ where a cover stands on a way to a point of proof.
struct ActRow {
  std::string act;            ///< "release access-panel-screws", "test heater-ohms"
  safety::Demand before;      ///< held and tried, nothing proved
  safety::Demand after;       ///< all of it shown
  const pack::Joint* joint = nullptr;
  const pack::Part* part = nullptr;
  const pack::PositionChange* change = nullptr;
  const pack::Test* test = nullptr;
  const pack::ProveTest* prove = nullptr;
};

namespace acts {

/// The job as the table takes it: whole, in that position, the energies as the class wants them.
inline job::State standing(const job::Model& model, int position, bool proved) {
  job::State state;
  state.unit = job::initial_unit(model);
  state.unit.position = position;
  state.safety.connection = job::connection_of(model.pack);
  state.safety.system = job::system_of(model.pack);
  state.safety.power = proved ? safety::Power::supply_dead : safety::Power::held;
  state.safety.water = proved ? safety::Water::holding : safety::Water::shut;
  return state;
}

inline int first_of(const std::vector<int>& positions) {
  return positions.empty() ? 0 : positions.front();
}

template <class Make>
void both(const job::Model& model, int position, ActRow row, std::vector<ActRow>& out, Make make) {
  row.before = make(standing(model, position, false));
  row.after = make(standing(model, position, true));
  out.push_back(std::move(row));
}

inline void add_step(const job::Model& model, job::Deed deed, int index, int position, ActRow row,
                     std::vector<ActRow>& out) {
  both(model, position, std::move(row), out, [&](const job::State& state) {
    return job::demand_of(model, state, deed, index);
  });
}

inline void add_hands(const job::Model& model, std::vector<ActRow>& out) {
  const pack::Pack& pack = model.pack;
  for (int i = 0; i < to_int(pack.joints.size()); ++i) {
    ActRow row;
    row.joint = &pack.joints[to_size(i)];
    for (const auto& [word, deed] : {std::pair{"release ", job::Deed::release},
                                     std::pair{"fasten ", job::Deed::fasten}}) {
      row.act = word + row.joint->id;
      add_step(model, deed, i, first_of(row.joint->positions), row, out);
    }
  }
  for (int i = 0; i < to_int(pack.parts.size()); ++i) {
    ActRow row;
    row.part = &pack.parts[to_size(i)];
    for (const auto& [word, deed] : {std::pair{"remove ", job::Deed::remove},
                                     std::pair{"set ", job::Deed::set}}) {
      row.act = word + row.part->id;
      if (row.part->removable) {
        add_step(model, deed, i, first_of(row.part->positions), row, out);
      }
    }
  }
  for (int i = 0; i < to_int(pack.changes.size()); ++i) {
    ActRow row;
    row.change = &pack.changes[to_size(i)];
    row.act = cat("turn ", pack.positions[to_size(row.change->from)].id, " > ",
                  pack.positions[to_size(row.change->to)].id);
    add_step(model, job::Deed::turn, i, row.change->from, row, out);
  }
}

inline void add_mends(const job::Model& model, std::vector<ActRow>& out) {
  for (const pack::Fault& fault : model.pack.faults) {
    if (fault.mend.empty()) {
      continue;
    }
    ActRow row;
    row.part = &model.pack.parts[to_size(fault.part)];
    row.act = cat("mend ", fault.id);
    add_step(model, job::Deed::swap, fault.part, first_of(row.part->positions), row, out);
  }
}

inline void add_tests(const job::Model& model, std::vector<ActRow>& out) {
  for (const pack::Test& test : model.pack.tests) {
    ActRow row;
    row.test = &test;
    row.act = cat("test ", test.id);
    both(model, first_of(test.positions), row, out, [&](const job::State& state) {
      return job::demand_of(model, state, test);
    });
  }
  for (const pack::ProveTest& test : model.pack.prove_tests) {
    ActRow row;
    row.prove = &test;
    row.act = cat("prove ", test.id);
    both(model, first_of(test.positions), row, out, [&](const job::State& state) {
      return job::demand_of(model, state, test);
    });
  }
}

/// What makes the machine safe, gives its energies back, or leaves it: no part of it is touched, but
/// for the water that is let out.
inline void add_isolation(const job::Model& model, std::vector<ActRow>& out) {
  for (int i = 0; i < safety::kActs; ++i) {
    ActRow row;
    row.before.act = row.after.act = static_cast<safety::Act>(i);
    row.act = cat("safe ", safety::words(row.after.act));
    if (i >= static_cast<int>(safety::Act::prepare)) {
      out.push_back(row);
    }
  }
  ActRow water;
  water.act = "safe relieve";
  both(model, 0, water, out,
       [&](const job::State& state) { return job::relieve_demand(model, state); });
}

inline bool asks(safety::Act act, safety::Guard guard) {
  return std::any_of(safety::rules().begin(), safety::rules().end(), [&](const safety::Row& row) {
    return row.guard == guard && safety::in_acts(row.acts, act);
  });
}

inline std::string power_words(const safety::Demand& demand) {
  using safety::Guard;
  if (asks(demand.act, Guard::running)) return "on";
  if (asks(demand.act, Guard::supply_dead)) {
    return asks(demand.act, Guard::supply_parted) ? "dead, parted" : "dead";
  }
  if (asks(demand.act, Guard::held_locked)) return "locked";
  if (asks(demand.act, Guard::tried)) return "held, tried";
  return asks(demand.act, Guard::held) ? "held" : "any";
}

inline std::string water_words(const safety::Demand& demand) {
  using safety::Guard;
  if (asks(demand.act, Guard::water_static)) return "on, still";
  if (asks(demand.act, Guard::water_holding) && demand.opens_wet) return "off, watched";
  if (asks(demand.act, Guard::water_relieved)) return "off";
  return asks(demand.act, Guard::water_shut) ? "shut" : "any";
}

inline std::string prove_words(const safety::Demand& demand) {
  std::string out;
  for (const safety::GroupAsked& group : demand.groups) {
    out += cat(out.empty() ? "" : " ", group.place.id, group.charge ? " +dc" : "");
  }
  return out.empty() || !asks(demand.act, safety::Guard::groups_dead) ? "-" : out;
}

inline bool has(const safety::Demand& demand, safety::Contact contact) {
  const auto& all = demand.contacts;
  return std::find(all.begin(), all.end(), contact) != all.end();
}

/// "cool, hold": what else is shown first.
inline std::string else_words(const safety::Demand& demand) {
  std::string out;
  const auto add = [&](bool wanted, const char* word) {
    out += wanted ? cat(out.empty() ? "" : ", ", word) : "";
  };
  add(has(demand, safety::Contact::hot) && asks(demand.act, safety::Guard::cooled), "cool");
  add(has(demand, safety::Contact::heavy) && asks(demand.act, safety::Guard::secured), "secure");
  add(demand.parts_neutral, "neutral nil");
  add(demand.people > 1, cat(demand.people, " people").c_str());
  return out.empty() ? "-" : out;
}

inline std::string caution_words(const safety::Demand& demand) {
  std::string out;
  for (const safety::Contact contact : demand.contacts) {
    out += cat(out.empty() ? "" : " ", safety::words(contact));
  }
  return out.empty() ? "-" : out;
}

/// "cover > hands-in": before the proof of the supply, and after it.
inline std::string class_words(const ActRow& row) {
  const std::string after = safety::words(row.after.act);
  return row.before.act == row.after.act ? after
                                         : cat(safety::words(row.before.act), " > ", after);
}

}  // namespace acts

/// Every act of the pack, sorted: steps in both directions, changes of position, what is mended in
/// its place, tests, tests after the repair, and what makes the machine safe.
[[nodiscard]] inline std::vector<ActRow> acts_of(const job::Model& model) {
  std::vector<ActRow> out;
  acts::add_hands(model, out);
  acts::add_mends(model, out);
  acts::add_tests(model, out);
  acts::add_isolation(model, out);
  std::sort(out.begin(), out.end(),
            [](const ActRow& a, const ActRow& b) { return a.act < b.act; });
  return out;
}

/// One line an act: class, power, place to prove, water, what else, codes of its cautions.
[[nodiscard]] inline std::string line_of(const ActRow& row) {
  const safety::Demand& demand = row.after;
  const auto padded = [](std::string text, std::size_t width) {
    text.resize(std::max(text.size() + 2, width), ' ');
    return text;
  };
  return cat(padded(row.act, 38), padded(acts::class_words(row), 20),
             padded(acts::power_words(demand), 14), padded(acts::water_words(demand), 15),
             padded(acts::prove_words(demand), 38), padded(acts::else_words(demand), 20),
             acts::caution_words(demand));
}

/// What a class asks, whatever it is done to: the words of its rows.
[[nodiscard]] inline std::string class_line(safety::Act act) {
  std::string out = cat(safety::words(act), ":");
  for (const safety::Row& row : safety::rules()) {
    if (safety::in_acts(row.acts, act)) {
      out += cat(" ", safety::words_of(row.guard).word);
    }
  }
  return out;
}

/// The whole table as a file.
[[nodiscard]] inline std::string acts_text(const job::Model& model) {
  std::string out = cat("Every act of ", model.pack.id, " and what is shown before it.\n"
                        "act, class, power, water, places proved dead (+dc: direct voltage too), "
                        "what else, cautions\n"
                        "A class before \">\" holds until the supply is proved dead.\n\n");
  for (const ActRow& row : acts_of(model)) {
    out += cat(line_of(row), "\n");
  }
  out += "\nWhat each class asks, by the words of its rows.\n\n";
  for (int i = 0; i < safety::kActs; ++i) {
    out += cat(class_line(static_cast<safety::Act>(i)), "\n");
  }
  return out;
}

}  // namespace kp::test
