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

bool same(const Body& a, const Body& b) {
  return kind_of(a) == kind_of(b) && data::print(encode(a)) == data::print(encode(b));
}

/// Whether the decision gives this record; what follows from it is kept in `follows`. What a record
/// stands on is numbered by its journal, so the whole body is compared.
bool gives(const Decision& decision, const Body& body, std::vector<Body>& follows) {
  for (std::size_t i = 0; i < decision.events.size(); ++i) {
    if (same(decision.events[i], body)) {
      follows.assign(decision.events.begin() + static_cast<std::ptrdiff_t>(i) + 1, decision.events.end());
      return true;
    }
  }
  return false;
}

/// A record that the one before it brought with it: the end of a job enters the bill by itself.
bool takes_following(std::vector<Body>& follows, const Body& body) {
  const bool follows_on = !follows.empty() && same(follows.front(), body);
  follows.erase(follows.begin(), follows_on ? follows.begin() + 1 : follows.end());
  return follows_on;
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
  std::vector<Body> follows;
  RecordReader reader;
  for (const journal::Entry& entry : loaded.entries) {
    Findings notes;
    const auto record = reader.read(entry, notes);
    if (!record.has_value()) {
      out.why_not = cat("Record ", integer_text(entry.seq), " is of a kind this program does not know.");
      return out;
    }
    const Stamp& stamp = record.value().stamp;
    const Body& body = record.value().body;
    const std::string& sha = state.stands_on.pack_sha;
    const bool pack_here = state.model < 0 || sha.empty() ||
                           library.models[to_size(state.model)].sha == sha;
    if (!state.rows_known || !pack_here || (state.model < 0 && !state.machine.pack.empty())) {
      out.why_not = !state.rows_known ? "It was decided by rules this program does not know."
                                      : "The pack it was decided with is not here.";
      return out;
    }
    const bool brought = takes_following(follows, body);
    if (!brought && !std::holds_alternative<StandsOn>(body)) {
      const Settings then = recorded(state, today);
      const Decision again = decide(state, body, stamp, Context{&library, &then});
      if (!again.accepted() || !gives(again, body, follows)) {
        out.not_believable.push_back({entry.seq, entry.kind, again.reasons});
      } else {
        Settings now = today;
        now.clock = state.clock_rule;
        const Decision strict = decide(state, body, stamp, Context{&library, &now});
        if (!strict.accepted()) {
          out.today.push_back({entry.seq, entry.kind, strict.reasons});
        }
      }
    }
    fold(state, stamp, body);
    bind(state, library);
    if (!out.not_believable.empty()) {
      break;
    }
  }
  out.decided = true;
  return out;
}

}  // namespace kp::job
