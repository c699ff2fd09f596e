#include "job/again.hpp"

#include <algorithm>
#include <map>
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

/// The pack that a record was decided with is at hand, by its hash where one is recorded.
bool is_here(const State& state, const Body& body, const Library& library) {
  const auto* machine = std::get_if<MachineIdentified>(&body);
  const std::string& pack = machine != nullptr ? machine->pack : state.machine.pack;
  const std::string& sha = state.stands_on.pack_sha;
  const int model = pack.empty() ? -1 : library.find(pack);
  return pack.empty() || std::holds_alternative<StandsOn>(body) ||
         (model >= 0 && (sha.empty() || library.models[to_size(model)].sha == sha));
}

safety::Reason reason(const char* code, const char* sentence) { return {code, sentence, 0}; }

/// What no rule of the gate asks, and what every journal of this program holds all the same.
class Form {
 public:
  /// Why the record cannot stand here; none where nothing is wrong with it.
  std::vector<safety::Reason> against(const State& state, const Stamp& stamp, const Body& body) {
    std::vector<safety::Reason> out;
    auto& last = newest_[stamp.life];
    if (stamp.mono_ms < last) {
      out.push_back(reason("steady-clock-back", "The steady clock of one run never goes back."));
    }
    last = std::max(last, stamp.mono_ms);
    if (std::holds_alternative<StandsOn>(body)) {
      stood_ = true;
    } else if (!std::holds_alternative<JobOpened>(body) && !stands(state, body)) {
      out.push_back(reason("no-stands-on", "It must say first what it was decided under."));
    }
    return out;
  }

 private:
  [[nodiscard]] bool stands(const State& state, const Body& body) const {
    const auto* machine = std::get_if<MachineIdentified>(&body);
    return stood_ && state.stands_on.pack == (machine != nullptr ? machine->pack : state.machine.pack);
  }

  std::map<std::string, std::int64_t> newest_;   ///< of the steady clock, by run of a program
  bool stood_ = false;
};

/// What today's rows and policy ask of a record that was rightly taken under its own.
void add_today(const State& state, const Stamp& stamp, const journal::Entry& entry, const Body& body,
               const Context& today, Again& out) {
  if (std::holds_alternative<StandsOn>(body)) {
    return;
  }
  Settings now = *today.settings;
  now.clock = state.clock_rule;
  const Decision strict = decide(state, body, stamp, Context{today.library, &now});
  if (!strict.accepted()) {
    out.today.push_back({entry.seq, entry.kind, strict.reasons});
  }
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
  Form form;
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
    if (!state.rows_known || !is_here(state, body, library)) {
      out.why_not = !state.rows_known ? "It was decided by rules this program does not know."
                                      : "The pack it was decided with is not here.";
      return out;
    }
    std::vector<safety::Reason> against = form.against(state, stamp, body);
    const bool brought = takes_following(follows, body);
    if (!brought && !std::holds_alternative<StandsOn>(body)) {
      const Settings then = recorded(state, today);
      const Decision again = decide(state, body, stamp, Context{&library, &then});
      against.insert(against.end(), again.reasons.begin(), again.reasons.end());
      if (again.accepted() && !gives(again, body, follows)) {
        against.push_back(reason("says-otherwise", "What it says does not follow from what it holds."));
      }
    }
    if (!against.empty()) {
      out.not_believable.push_back({entry.seq, entry.kind, std::move(against)});
    } else if (!brought) {
      add_today(state, stamp, entry, body, Context{&library, &today}, out);
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
