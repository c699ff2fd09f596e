#include "journal/writer.hpp"

#include <algorithm>

#include "base/check.hpp"
#include "base/sha256.hpp"
#include "journal/words.hpp"

namespace kp::journal {

namespace {

/// Whether a line is a part that is to go.
bool goes(std::string_view line, const std::vector<std::string>& whose) {
  if (line.substr(0, kPartBegin.size()) != kPartBegin) {
    return false;
  }
  const auto part = data::parse(line);
  const data::Value* owner = part ? part->find("whose") : nullptr;
  return owner == nullptr || whose.empty() ||
         std::find(whose.begin(), whose.end(), owner->text) != whose.end();
}

/// The text without the lines that go.
std::string without(std::string_view text, const std::vector<std::string>& whose, int& gone) {
  std::string out;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    const std::string_view line = text.substr(0, end);
    const std::size_t length = end == std::string_view::npos ? line.size() : end + 1;
    if (goes(line, whose)) {
      ++gone;
    } else {
      out += text.substr(0, length);
    }
    text.remove_prefix(length);
  }
  return out;
}

}  // namespace

std::string line_hash(std::string_view line) { return sha256_hex(line.substr(0, line.find('\n'))); }

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
  if (!entry.parts.empty()) {
    data::Value sums = data::Value::object();
    for (const Part& part : entry.parts) {
      KP_CHECK(!part.whose.empty() && is_hex(part.sum, kHashDigits));
      sums.set(part.whose, data::Value::of(part.sum));
    }
    line.set("beside", std::move(sums));
  }
  line.set("prev", data::Value::of(entry.prev));
  return data::print(line);
}

std::string write_part(std::uint32_t record, const Part& part) {
  KP_CHECK(is_hex(part.salt, kSaltDigits));
  data::Value line = data::Value::object();
  line.set("beside", data::Value::of(record));
  line.set("whose", data::Value::of(part.whose));
  line.set("salt", data::Value::of(part.salt));
  line.set("words", part.words);
  return data::print(line);
}

std::string write_entry(const Entry& entry) {
  std::string out = write_line(entry);
  for (const Part& part : entry.parts) {
    if (!part.erased) {
      out += '\n';
      out += write_part(entry.seq, part);
    }
  }
  return out;
}

std::string without_parts(std::string_view stored, const std::vector<std::string>& whose) {
  int gone = 0;
  std::string out = without(stored, whose, gone);
  if (gone > 0 && !out.empty() && out.back() == '\n') {
    out.pop_back();
  }
  return out;
}

std::string to_file(const std::vector<std::string>& entries) {
  std::string out;
  std::string beside;
  for (const std::string& entry : entries) {
    const std::size_t end = entry.find('\n');
    out.append(entry, 0, end);
    out += '\n';
    if (end != std::string::npos) {
      beside.append(entry, end + 1);
      beside += '\n';
    }
  }
  return out + beside;
}

std::string file_without_parts(std::string_view text, const std::vector<std::string>& whose,
                               int& erased) {
  return without(text, whose, erased);
}

}  // namespace kp::journal
