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
  for (const journal::Entry& entry : loaded.entries) {
    auto body = decode(entry.kind, entry.payload);
    if (!body.has_value()) {
      Error error = body.error();
      error.where = cat("line ", integer_text(entry.seq));
      out.damage = std::move(error);
      out.damage_line = static_cast<int>(entry.seq);
      return out;
    }
    apply(out.state, stamp_of(entry), body.value(), context);
  }
  return out;
}

}  // namespace kp::job
