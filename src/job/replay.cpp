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

Replayed replay(const journal::Loaded& loaded, const Context& context) {
  Replayed out;
  out.damage = loaded.damage;
  out.damage_line = loaded.damage_line;
  const auto stop = [&out](const journal::Entry& entry, Error error) {
    error.where = cat("line ", integer_text(entry.seq),
                      error.where.empty() ? "" : cat(", ", error.where));
    out.damage = std::move(error);
    out.damage_line = static_cast<int>(entry.seq);
  };
  for (const journal::Entry& entry : loaded.entries) {
    Findings notes;
    auto body = decode(entry.kind, entry.payload, notes);
    if (!body.has_value()) {
      stop(entry, body.error());
      return out;
    }
    for (Finding note : notes.all()) {
      note.line = static_cast<int>(entry.seq);
      out.notes.add(std::move(note));
    }
    const auto* machine = std::get_if<MachineIdentified>(&body.value());
    if (machine != nullptr && context.library->find(machine->pack) < 0) {
      stop(entry, Error{"unknown-pack", cat("There is no pack \"", machine->pack, "\" here"), {},
                        "Add the pack that the job was done with, and open the job again."});
      return out;
    }
    apply(out.state, stamp_of(entry), body.value(), context);
  }
  return out;
}

}  // namespace kp::job
