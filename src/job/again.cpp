#include "job/again.hpp"

#include <utility>

#include "base/text.hpp"
#include "data/value.hpp"
#include "job/codec.hpp"
#include "job/decide.hpp"

namespace kp::job {

namespace {

/// The settings that a job was decided under at a record.
Settings recorded(const State& state, const Settings& today) {
  Settings out = today;
  out.safety = state.law.policy;
  out.rows = state.law.rows;
  out.clock = state.clock_rule;
  out.rates_sha = state.stands_on.rates_sha;
  out.program = state.stands_on.program;
  return out;
}

/// Whether the decision gives this record, whatever follows from it. What a record stands on is
/// numbered by its journal, so the whole body is compared.
bool gives(const Decision& decision, const Body& body) {
  const std::string wanted = data::print(encode(body));
  for (const Body& event : decision.events) {
    if (kind_of(event) == kind_of(body) && data::print(encode(event)) == wanted) {
      return true;
    }
  }
  return false;
}

}  // namespace

Again decide_again(const journal::Loaded& loaded, const Library& library, const Settings& today) {
  Again out;
  const int format = format_of(loaded);
  if (format > 0 && format < journal::kFormat) {
    out.why_not = "it was written before the rules were recorded with it.";
    return out;
  }
  State state;
  for (const journal::Entry& entry : loaded.entries) {
    const auto body = decode(entry.kind, entry.payload);
    if (!body.has_value()) {
      out.why_not = cat("Record ", integer_text(entry.seq), " is of a kind this program does not know.");
      return out;
    }
    const Stamp stamp = stamp_of(entry);
    const std::string& sha = state.stands_on.pack_sha;
    const bool pack_here = state.model < 0 || sha.empty() ||
                           library.models[to_size(state.model)].sha == sha;
    if (!state.rows_known || !pack_here || (state.model < 0 && !state.machine.pack.empty())) {
      out.why_not = !state.rows_known ? "It was decided by rules this program does not know."
                                      : "The pack it was decided with is not here.";
      return out;
    }
    const bool said = std::holds_alternative<StandsOn>(body.value());
    if (!said) {
      const Settings then = recorded(state, today);
      const Decision again = decide(state, body.value(), stamp, Context{&library, &then});
      if (!again.accepted() || !gives(again, body.value())) {
        out.not_believable.push_back({entry.seq, entry.kind, again.reasons});
      } else {
        Settings now = today;
        now.clock = state.clock_rule;
        const Decision strict = decide(state, body.value(), stamp, Context{&library, &now});
        if (!strict.accepted()) {
          out.today.push_back({entry.seq, entry.kind, strict.reasons});
        }
      }
    }
    fold(state, stamp, body.value());
    bind(state, library);
    if (!out.not_believable.empty()) {
      break;
    }
  }
  out.decided = true;
  return out;
}

}  // namespace kp::job
