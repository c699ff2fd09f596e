// The service record from the journal's state.
#include <algorithm>
#include <set>

#include "base/text.hpp"
#include "job/bind_bill.hpp"
#include "job/bind_circuit.hpp"
#include "job/bind_isolations.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_written_down.hpp"
#include "job/personal.hpp"

namespace kp::job {

namespace {

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

/// The pack at hand, or none: what it does not know is said by its id, and never left out.
const pack::Part* part_of(const pack::Pack* pack, const std::string& id) {
  const int index = pack == nullptr ? -1 : pack->part(id);
  return index < 0 ? nullptr : &pack->parts[to_size(index)];
}
const pack::Joint* joint_of(const pack::Pack* pack, const std::string& id) {
  const int index = pack == nullptr ? -1 : pack->joint(id);
  return index < 0 ? nullptr : &pack->joints[to_size(index)];
}
std::string name_of(const pack::Pack* pack, const std::string& id, bool on_joint) {
  const pack::Joint* joint = on_joint ? joint_of(pack, id) : nullptr;
  const pack::Part* part = on_joint ? nullptr : part_of(pack, id);
  return joint != nullptr ? joint->name : part != nullptr ? part->name : id;
}

std::string refit_title(const pack::Pack* pack, const std::string& id) {
  for (const pack::RefitCheck& check : pack == nullptr ? std::vector<pack::RefitCheck>{} : pack->refit_checks) {
    if (check.id == id) {
      return check.title;
    }
  }
  return id;
}

void add_steps(const State& state, const pack::Pack* pack, bill::ServiceRecord& record) {
  for (const auto& step : state.steps) {
    if (step.body.deed == Deed::turn) {
      continue;
    }
    const bool on_joint =
        step.body.deed == Deed::release || step.body.deed == Deed::fasten;
    const pack::Joint* joint = on_joint ? joint_of(pack, step.body.what) : nullptr;
    bill::Handled& handled = handled_for(record.handled, name_of(pack, step.body.what, on_joint));
    handled.count = joint != nullptr ? joint->count : 1;
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
    const int mended = pack == nullptr ? -1 : pack->fault(swap.body.mended);
    if (mended >= 0) {
      const pack::Fault& fault = pack->faults[to_size(mended)];
      record.remarks.push_back(cat("Mended: ", fault.title, ". ", fault.mend));
    } else if (!swap.body.mended.empty()) {
      record.remarks.push_back(cat("Mended: ", swap.body.mended, "."));
    } else {
      handled_for(record.handled, name_of(pack, swap.body.part, false)).replaced = true;
    }
  }
}

void add_found(const TestRecorded& body, const pack::Pack* pack, Moment at,
               bill::ServiceRecord& record) {
  const int index = pack == nullptr ? -1 : pack->test(body.test);
  const pack::Test* test = index < 0 ? nullptr : &pack->tests[to_size(index)];
  bill::ReadingTaken reading;
  reading.title = cat("Found: ", test != nullptr ? test->title : body.test);
  reading.value = body.looked      ? (body.good ? "good" : "not good")
                  : body.open_loop ? std::string("OL")
                                   : cat(number_text(body.value), " ", body.unit);
  if (test != nullptr && test->probe != pack::Probe::look) {
    reading.limit = band_words(*test);
  }
  reading.source = "common practice, no source";
  reading.at = at;
  record.tests.push_back(std::move(reading));
}

void add_proved(const ProveRecorded& body, const pack::Pack* pack, Moment at,
                bill::ServiceRecord& record) {
  const int index = pack == nullptr ? -1 : pack->prove_test(body.test);
  const pack::ProveTest* test = index < 0 ? nullptr : &pack->prove_tests[to_size(index)];
  bill::ReadingTaken reading;
  const std::string& unit = body.unit.empty() && test != nullptr ? test->unit : body.unit;
  reading.title = test != nullptr ? test->title : body.test;
  reading.value = !body.left_out.empty() ? cat("left out: ", body.left_out)
                  : unit.empty()         ? std::string(body.passed ? "right" : "not right")
                                         : cat(number_text(body.value), " ", unit);
  if (test != nullptr && test->has_low && test->has_high) {
    reading.limit = cat(number_text(test->low), " to ", number_text(test->high), " ", test->unit);
  } else if (test != nullptr && test->has_high) {
    reading.limit = cat("at most ", number_text(test->high), " ", test->unit);
  } else if (test != nullptr && test->has_low) {
    reading.limit = cat("at least ", number_text(test->low), " ", test->unit);
  }
  reading.source = test != nullptr ? test->source : std::string();
  reading.pass = body.passed || !body.left_out.empty();
  reading.at = at;
  record.tests.push_back(std::move(reading));
}

/// The names of these ids in the order of the pack; what it does not know comes last, by its id.
template <class Things>
std::string listed(const std::set<std::string>& ids, const Things& things) {
  std::vector<std::string> names;
  std::set<std::string> rest = ids;
  for (const auto& thing : things) {
    if (rest.erase(thing.id) > 0) {
      names.push_back(thing.name);
    }
  }
  names.insert(names.end(), rest.begin(), rest.end());
  return join(names, "; ");
}

/// What stands open when the record is closed.
void add_open(const State& state, const pack::Pack* pack, bill::ServiceRecord& record) {
  const Unit& unit = state.as_left;
  if (!unit.away.empty()) {
    record.remarks.push_back(cat("Left out of the machine: ",
                                 listed(unit.away, pack == nullptr ? std::vector<pack::Part>{} : pack->parts),
                                 "."));
  }
  if (!unit.loose.empty()) {
    record.remarks.push_back(cat("Left loose: ",
                                 listed(unit.loose, pack == nullptr ? std::vector<pack::Joint>{} : pack->joints),
                                 "."));
  }
}

void add_awaited(const State& state, const pack::Pack* pack, bill::ServiceRecord& record) {
  for (const std::string& id : state.target_ids) {
    const bool renewed = std::any_of(state.swapped.begin(), state.swapped.end(), [&](const auto& swap) {
      return swap.stamp.n > state.targets_n && swap.body.part == id;
    });
    if (renewed) {
      continue;
    }
    const pack::Part* known = part_of(pack, id);
    bill::PartUsed part;
    part.name = known != nullptr ? known->name : id;
    part.stock = known != nullptr ? known->stock : std::string();
    record.awaited.push_back(part);
  }
  record.remarks.push_back(cat("Waiting for: ", state.ending.note));
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
  record.practice = state.mode == Mode::practice;
  record.isolations = bind_isolations(state);
  for (const safety::NearMiss& miss : state.safety.near_misses) {
    record.remarks.push_back(cat("Near miss, ", clock_text(miss.stamp.at), ": ", near_miss_words(miss.code)));
  }
  record.journal_mark = tip;
  const Signed& signature = state.signature.body;
  record.signed_by = signature.erased ? cat("Signed, ", kErased) : signature.name;
  record.signature = strokes_of(signature);
  add_written_down(state, record);
  if (state.outcome == Outcome::not_to_be_used) {
    record.hazard = state.ending.note;
  }
  for (const auto& blocked : state.blocked) {
    record.remarks.push_back(cat("Could not be done: ", blocked.body.what, ". ",
                                 blocked.body.reason));
  }
  const pack::Pack* pack =
      state.model < 0 ? nullptr : &context.library->models[to_size(state.model)].pack;
  add_steps(state, pack, record);
  for (const auto& kept : state.tests) {
    add_found(kept.body, pack, kept.stamp.at, record);
  }
  for (const auto& kept : state.proved) {
    add_proved(kept.body, pack, kept.stamp.at, record);
  }
  add_open(state, pack, record);
  if (state.outcome == Outcome::waiting_for_parts) {
    add_awaited(state, pack, record);
  }
  return record;
}

}  // namespace kp::job
