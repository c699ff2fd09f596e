#include "journal/writer.hpp"

#include "base/check.hpp"
#include "base/sha256.hpp"
#include "journal/words.hpp"

namespace kp::journal {

std::string line_hash(std::string_view line) { return sha256_hex(line); }

std::string write_line(const Entry& entry) {
  KP_CHECK(entry.seq >= 1);
  KP_CHECK(is_hex(entry.life, kLifeDigits));
  KP_CHECK(is_hex(entry.prev, kHashDigits));
  KP_CHECK(!entry.kind.empty());
  KP_CHECK(entry.payload.kind == data::Kind::object);
  KP_CHECK(entry.seq != 1 || entry.payload.find(kFormatName) != nullptr);
  data::Value line = data::Value::object();
  line.set("n", data::Value::of(entry.seq));
  line.set("at", data::Value::of(rfc3339_utc_ms(entry.at.utc_ms)));
  line.set("off", data::Value::of(entry.at.offset_min));
  line.set("mono", data::Value::of(entry.mono_ms));
  line.set("life", data::Value::of(entry.life));
  line.set("by", data::Value::of(entry.by));
  line.set("kind", data::Value::of(entry.kind));
  line.set("data", entry.payload);
  line.set("prev", data::Value::of(entry.prev));
  return data::print(line);
}

std::string to_file(const std::vector<std::string>& lines) {
  std::string out;
  for (const std::string& line : lines) {
    out += line;
    out += '\n';
  }
  return out;
}

}  // namespace kp::journal
