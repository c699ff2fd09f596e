// The service record from the journal's state.
#include <algorithm>

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
      reading.value = !kept.body.left_out.empty() ? cat("left out: ", kept.body.left_out)
                      : test.unit.empty() ? std::string(kept.body.passed ? "right" : "not right")
                                          : cat(number_text(kept.body.value), " ", test.unit);
      if (test.has_low && test.has_high) {
        reading.limit = cat(number_text(test.low), " to ", number_text(test.high), " ", test.unit);
      } else if (test.has_high) {
        reading.limit = cat("at most ", number_text(test.high), " ", test.unit);
      } else if (test.has_low) {
        reading.limit = cat("at least ", number_text(test.low), " ", test.unit);
      }
      reading.source = test.source;
      reading.pass = kept.body.passed || !kept.body.left_out.empty();
      reading.at = kept.stamp.at;
      record.tests.push_back(reading);
    }
  }
}

/// What stands open when the record is closed.
void add_open(const State& state, const pack::Pack& pack, bill::ServiceRecord& record) {
  std::string open;
  state.unit.removed.each([&](int part) {
    open += cat(open.empty() ? "" : "; ", pack.parts[to_size(part)].name);
  });
  if (!open.empty()) {
    record.remarks.push_back(cat("Left out of the machine: ", open, "."));
  }
  open.clear();
  state.unit.released.each([&](int joint) {
    open += cat(open.empty() ? "" : "; ", pack.joints[to_size(joint)].name);
  });
  if (!open.empty()) {
    record.remarks.push_back(cat("Left loose: ", open, "."));
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
  if (state.model < 0) {
    return record;
  }
  const pack::Pack& pack = context.library->models[to_size(state.model)].pack;
  add_steps(state, pack, record);
  add_tests(state, pack, record);
  add_open(state, pack, record);
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
