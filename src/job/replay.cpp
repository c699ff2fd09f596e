#include "job/replay.hpp"

#include <utility>

#include "base/text.hpp"
#include "job/codec.hpp"
#include "job/format1_read.hpp"

namespace kp::job {

Stamp stamp_of(const journal::Entry& entry) {
  return Stamp{entry.seq, entry.at, entry.mono_ms, entry.life, entry.by};
}

Result<Read> RecordReader::read(const journal::Entry& entry, Findings& notes) {
  Unsealed whole = unseal(entry, people_);
  Result<Body> body = decode(entry.kind, whole.touched ? whole.payload : entry.payload, notes);
  if (!body.has_value()) {
    return fail(body.error());
  }
  set_erased(body.value(), whole.erased);
  Read out{stamp_of(entry), std::move(body.value())};
  out.stamp.by = std::move(whole.by);
  return out;
}

journal::Entry entry_of(const Stamp& stamp, const Body& body, std::string prev, People& people,
                        const Salt& salt) {
  journal::Entry entry;
  entry.seq = stamp.n;
  entry.at = stamp.at;
  entry.mono_ms = stamp.mono_ms;
  entry.life = stamp.life;
  entry.by = stamp.by;
  entry.kind = std::string(kind_of(body));
  entry.payload = encode(body);
  entry.prev = std::move(prev);
  seal(entry, people, salt);
  return entry;
}

int format_of(const journal::Loaded& loaded) {
  if (loaded.entries.empty()) {
    return 0;
  }
  const data::Value* named = loaded.entries.front().payload.find("format");
  const auto number = named == nullptr ? std::nullopt : parse_integer(named->text);
  return number.has_value() && std::in_range<int>(*number) ? static_cast<int>(*number) : 0;
}

namespace {

/// Takes one record into the state by the rules of its format, or says why it cannot be taken.
std::optional<Error> take(State& state, RecordReader& reader, const journal::Entry& entry, int format,
                          Findings& notes) {
  if (format == format1::kFormat) {
    const auto record = format1::read(entry, notes);
    if (!record.has_value()) {
      return record.error();
    }
    format1::fold(state, stamp_of(entry), record.value());
    return std::nullopt;
  }
  const auto record = reader.read(entry, notes);
  if (!record.has_value()) {
    return record.error();
  }
  fold(state, record.value().stamp, record.value().body);
  return std::nullopt;
}

Finding unknown_kind(const Error& error) {
  Finding note;
  note.severity = Severity::note;
  note.code = error.code;
  note.what = error.what;
  note.remedy = error.remedy;
  return note;
}

}  // namespace

Replayed replay(const journal::Loaded& loaded, const Library& library) {
  Replayed out;
  out.damage = loaded.damage;
  out.damage_line = loaded.damage_line;
  out.format = format_of(loaded);
  RecordReader reader;
  for (const journal::Entry& entry : loaded.entries) {
    Findings notes;
    std::optional<Error> error = take(out.state, reader, entry, out.format, notes);
    // Format 1 is closed: what it does not know is damage, not something newer.
    if (error.has_value() && error->code == "unknown-kind" && out.format != format1::kFormat) {
      notes.add(unknown_kind(*error));
      out.newer = true;
      out.state.last_n = entry.seq;
      error.reset();
    }
    for (Finding note : notes.all()) {
      note.line = static_cast<int>(entry.seq);
      out.notes.add(std::move(note));
    }
    if (error.has_value()) {
      error->where = cat("line ", integer_text(entry.seq),
                         error->where.empty() ? "" : cat(", ", error->where));
      out.damage = std::move(error);
      out.damage_line = static_cast<int>(entry.seq);
      break;
    }
  }
  out.newer = out.newer || !out.state.rows_known;
  out.people = reader.people();
  bind(out.state, library);
  return out;
}

}  // namespace kp::job
