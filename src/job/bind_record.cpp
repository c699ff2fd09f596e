// The service record from the journal's state.
#include <algorithm>

#include "base/text.hpp"
#include "job/bind_bill.hpp"
#include "job/bind_circuit.hpp"
#include "job/bind_plan.hpp"

namespace kp::job {

namespace {

using safety::EventKind;

std::string volts_text(double volts) {
  return cat(fixed_text(volts, volts < 100 ? 1 : 0), " V");
}

/// The isolations in the order in which they were made; a new one begins where an energy was
/// given back or a proof was lost.
class Isolations {
 public:
  Isolations(const State& state, const safety::Policy& policy)
      : state_(&state), policy_(safety::bounded(policy)) {}

  [[nodiscard]] std::vector<bill::IsolationTaken> take() {
    for (const auto& one : state_->isolations) {
      add(one.body, one.stamp);
    }
    std::vector<bill::IsolationTaken> out;
    for (auto* side : {&power_, &water_, &other_}) {
      finish(*side, out);
    }
    return out;
  }

 private:
  struct Side {
    std::vector<bill::IsolationTaken> done;
    bill::IsolationTaken now;
    bool begun = false;
  };

  static void finish(Side& side, std::vector<bill::IsolationTaken>& out) {
    if (side.begun) {
      side.done.push_back(side.now);
    }
    out.insert(out.end(), side.done.begin(), side.done.end());
  }

  static bill::IsolationTaken& begin(Side& side, const char* title, bill::EnergyKind kind) {
    if (!side.begun) {
      side.now = {};
      side.now.title = title;
      side.now.energy = kind;
      side.begun = true;
    }
    return side.now;
  }

  static void restore(Side& side, const Stamp& stamp) {
    if (side.begun) {
      side.now.restored = stamp.at;
      side.done.push_back(side.now);
      side.begun = false;
    }
  }

  void add_reading(const Isolation& body, const Stamp& stamp) {
    auto& power = begin(power_, "Electricity", bill::EnergyKind::electricity);
    if (body.station == safety::Station::known_before) {
      // A proof that was finished stays in the record beside the new one.
      if (power.proved.has_value()) {
        power_.done.push_back(power);
        power.proved.reset();
      }
      power.evidence.clear();
    }
    bill::ReadingTaken reading;
    reading.title = safety::words_of(body.station).title;
    reading.value = cat(volts_text(body.volts), ", meter ", body.meter);
    const bool known = body.station == safety::Station::known_before ||
                       body.station == safety::Station::known_after;
    reading.limit = known ? "the known source shows"
                          : cat("below ", number_text(policy_.dead_below_volts), " V");
    reading.source = known ? "29 CFR 1910.333(b)(2)(iv)(B)"
                           : "stricter than 29 CFR 1910.333(a)(1), 50 V";
    reading.pass = known ? body.volts >= policy_.known_low_volts
                         : body.volts < policy_.dead_below_volts;
    reading.at = stamp.at;
    power.evidence.push_back(reading);
    if (body.station == safety::Station::known_after) {
      power.proved = stamp.at;
    }
  }

  void add_other(const char* title, std::string how, const Stamp& stamp) {
    auto& other = begin(other_, title, bill::EnergyKind::other);
    other.how = std::move(how);
    other.by = stamp.by;
    other.isolated = stamp.at;
    other.proved = stamp.at;
    other_.done.push_back(other);
    other_.begun = false;
  }

  void add(const Isolation& body, const Stamp& stamp) {
    if (body.act == EventKind::isolated) {
      auto& power = begin(power_, "Electricity", bill::EnergyKind::electricity);
      power.how = safety::rule_of(body.means).title;
      if (!body.lock.empty()) {
        power.how += cat(", lock ", body.lock);
      }
      power.by = stamp.by;
      power.isolated = stamp.at;
    } else if (body.act == EventKind::reading) {
      add_reading(body, stamp);
    } else if (body.act == EventKind::water_shut) {
      auto& water = begin(water_, "Water", bill::EnergyKind::water);
      water.how = body.note.empty() ? "Supply valve shut" : body.note;
      water.by = stamp.by;
      water.isolated = stamp.at;
    } else if (body.act == EventKind::water_relieved) {
      begin(water_, "Water", bill::EnergyKind::water).proved = stamp.at;
    } else if (body.act == EventKind::power_restored) {
      restore(power_, stamp);
    } else if (body.act == EventKind::water_restored) {
      restore(water_, stamp);
    } else if (body.act == EventKind::charge_gone) {
      add_other("Stored charge", cat("Read ", volts_text(body.volts), " DC"), stamp);
    } else if (body.act == EventKind::cooled) {
      add_other("Heat", cat("Hottest surface ", number_text(body.celsius), " °C"), stamp);
    } else if (body.act == EventKind::secured) {
      add_other("Weight", body.note.empty() ? "Unit secured" : body.note, stamp);
    }
  }

  const State* state_;
  safety::Policy policy_;
  Side power_, water_, other_;
};

bill::Handled& handled_for(std::vector<bill::Handled>& all, const std::string& name) {
  const auto found = std::find_if(all.begin(), all.end(),
                                  [&](const bill::Handled& one) { return one.name == name; });
  if (found != all.end()) {
    return *found;
  }
  all.push_back(bill::Handled{});
  all.back().name = name;
  return all.back();
}

std::string refit_title(const pack::Pack& pack, const std::string& id) {
  for (const pack::RefitCheck& check : pack.refit_checks) {
    if (check.id == id) {
      return check.title;
    }
  }
  return id;
}

void add_steps(const State& state, const pack::Pack& pack, bill::ServiceRecord& record) {
  for (const auto& step : state.steps) {
    const bool on_joint =
        step.body.deed == Deed::release || step.body.deed == Deed::fasten;
    const int index = on_joint ? pack.joint(step.body.what) : pack.part(step.body.what);
    if (step.body.deed == Deed::turn || index < 0) {
      continue;
    }
    bill::Handled& handled = handled_for(
        record.handled, on_joint ? pack.joints[to_size(index)].name : pack.parts[to_size(index)].name);
    handled.count = on_joint ? pack.joints[to_size(index)].count : 1;
    if (step.body.deed == Deed::release || step.body.deed == Deed::remove) {
      handled.removed = step.stamp.at;
      handled.refitted.reset();
    } else {
      handled.refitted = step.stamp.at;
      for (const std::string& check : step.body.checks) {
        handled.checks.push_back(refit_title(pack, check));
        record.checks.push_back({refit_title(pack, check), true, step.stamp.at});
      }
    }
  }
  for (const auto& swap : state.swapped) {
    const int index = pack.part(swap.body.part);
    const int mended = pack.fault(swap.body.mended);
    if (mended >= 0) {
      const pack::Fault& fault = pack.faults[to_size(mended)];
      record.remarks.push_back(cat("Mended: ", fault.title, ". ", fault.mend));
    } else if (index >= 0) {
      handled_for(record.handled, pack.parts[to_size(index)].name).replaced = true;
    }
  }
}

void add_tests(const State& state, const pack::Pack& pack, bill::ServiceRecord& record) {
  for (const auto& kept : state.tests) {
    for (const pack::Test& test : pack.tests) {
      if (test.id != kept.body.test) {
        continue;
      }
      bill::ReadingTaken reading;
      reading.title = cat("Found: ", test.title);
      reading.value = kept.body.looked ? (kept.body.good ? "good" : "not good")
                      : kept.body.open_loop
                          ? std::string("OL")
                          : cat(number_text(kept.body.value), " ", kept.body.unit);
      if (test.probe != pack::Probe::look) {
        reading.limit = band_words(test);
      }
      reading.source = "common practice, no source";
      reading.at = kept.stamp.at;
      record.tests.push_back(reading);
    }
  }
  for (const auto& kept : state.proved) {
    for (const pack::ProveTest& test : pack.prove_tests) {
      if (test.id != kept.body.test) {
        continue;
      }
      bill::ReadingTaken reading;
      reading.title = test.title;
      reading.value = test.unit.empty() ? (kept.body.passed ? "right" : "not right")
                                        : cat(number_text(kept.body.value), " ", test.unit);
      if (test.has_low && test.has_high) {
        reading.limit = cat(number_text(test.low), " to ", number_text(test.high), " ", test.unit);
      } else if (test.has_high) {
        reading.limit = cat("at most ", number_text(test.high), " ", test.unit);
      } else if (test.has_low) {
        reading.limit = cat("at least ", number_text(test.low), " ", test.unit);
      }
      reading.source = test.source;
      reading.pass = kept.body.passed;
      reading.at = kept.stamp.at;
      record.tests.push_back(reading);
    }
  }
}

std::vector<bill::Stroke> strokes_of(const Signed& signature) {
  std::vector<bill::Stroke> out;
  out.emplace_back();
  for (std::size_t i = 0; i + 1 < signature.strokes.size(); i += 2) {
    if (signature.strokes[i] < 0) {
      out.emplace_back();
      continue;
    }
    out.back().points.emplace_back(signature.strokes[i], signature.strokes[i + 1]);
  }
  out.erase(std::remove_if(out.begin(), out.end(),
                           [](const bill::Stroke& stroke) { return stroke.points.empty(); }),
            out.end());
  return out;
}

}  // namespace

bill::ServiceRecord bind_record(const State& state, const Context& context,
                                const bill::RateCard& card, const std::string& tip, Moment now) {
  bill::ServiceRecord record;
  record.work = bind_all_work(state, context);
  record.shop = card.shop;
  record.page = card.page;
  record.number = state.job;
  record.closed = now;
  record.isolations = Isolations(state, context.settings->safety).take();
  record.journal_mark = tip;
  record.signed_by = state.signature.body.name;
  record.signature = strokes_of(state.signature.body);
  if (state.outcome == Outcome::not_to_be_used) {
    record.hazard = state.ending.note;
  }
  for (const auto& blocked : state.blocked) {
    record.remarks.push_back(cat("Could not be done: ", blocked.body.what, ". ",
                                 blocked.body.reason));
  }
  if (state.model < 0) {
    return record;
  }
  const pack::Pack& pack = context.library->models[to_size(state.model)].pack;
  add_steps(state, pack, record);
  add_tests(state, pack, record);
  if (state.outcome == Outcome::waiting_for_parts) {
    for (const int target : state.targets) {
      if (is_renewed(state, pack, target)) {
        continue;
      }
      bill::PartUsed part;
      part.name = pack.parts[to_size(target)].name;
      part.stock = pack.parts[to_size(target)].stock;
      record.awaited.push_back(part);
    }
    record.remarks.push_back(cat("Waiting for: ", state.ending.note));
  }
  return record;
}

}  // namespace kp::job
