#include "job/replay.hpp"

#include <utility>

#include "base/text.hpp"
#include "job/codec.hpp"

namespace kp::job {

Stamp stamp_of(const journal::Entry& entry) {
  return Stamp{entry.seq, entry.at, entry.mono_ms, entry.life, entry.by};
}

journal::Entry entry_of(const Stamp& stamp, const Body& body, std::string prev) {
  journal::Entry entry;
  entry.seq = stamp.n;
  entry.at = stamp.at;
  entry.mono_ms = stamp.mono_ms;
  entry.life = stamp.life;
  entry.by = stamp.by;
  entry.kind = std::string(kind_of(body));
  entry.payload = encode(body);
  entry.prev = std::move(prev);
  return entry;
}

Replayed replay(const journal::Loaded& loaded, const Library& library) {
  Replayed out;
  out.damage = loaded.damage;
  out.damage_line = loaded.damage_line;
  for (const journal::Entry& entry : loaded.entries) {
    Findings notes;
    const auto body = decode(entry.kind, entry.payload, notes);
    for (Finding note : notes.all()) {
      note.line = static_cast<int>(entry.seq);
      out.notes.add(std::move(note));
    }
    if (!body.has_value() && body.error().code == "unknown-kind") {
      Finding note;
      note.severity = Severity::note;
      note.code = "unknown-kind";
      note.line = static_cast<int>(entry.seq);
      note.what = body.error().what;
      note.remedy = body.error().remedy;
      out.notes.add(std::move(note));
      out.newer = true;
      out.state.last_n = entry.seq;
      continue;
    }
    if (!body.has_value()) {
      out.damage = body.error();
      out.damage->where = cat("line ", integer_text(entry.seq),
                              body.error().where.empty() ? "" : cat(", ", body.error().where));
      out.damage_line = static_cast<int>(entry.seq);
      break;
    }
    if (const auto* opened = std::get_if<JobOpened>(&body.value())) {
      out.format = opened->format;
    }
    fold(out.state, stamp_of(entry), body.value());
  }
  out.newer = out.newer || !out.state.rows_known;
  bind(out.state, library);
  return out;
}

}  // namespace kp::job
