#pragma once
// What a forger can do to a journal: change its records and write the whole chain anew.

#include <string>
#include <utility>
#include <vector>

#include "job/codec.hpp"
#include "job/replay.hpp"
#include "journal/reader.hpp"
#include "journal/writer.hpp"

namespace kp::test {

/// Numbers, sums and the records that others stand on are right again, whatever was taken out.
inline std::vector<std::string> rechained(std::vector<journal::Entry> entries) {
  std::vector<std::string> out;
  std::vector<std::uint32_t> number(1, 0);   // old number to new; what is gone is nowhere
  for (std::size_t i = 0; i < entries.size(); ++i) {
    number.resize(std::max<std::size_t>(number.size(), entries[i].seq + std::size_t{1}), 0);
    number[entries[i].seq] = static_cast<std::uint32_t>(i + 1);
  }
  std::string prev(journal::kNoPrev);
  for (journal::Entry& entry : entries) {
    entry.seq = number[entry.seq];
    entry.prev = prev;
    if (const data::Value* list = entry.payload.find("standsOn")) {
      data::Value kept = data::Value::array();
      for (const data::Value& item : list->items) {
        const auto old = static_cast<std::size_t>(item.number);
        if (old < number.size() && number[old] != 0) {
          kept.push(data::Value::of(static_cast<std::int64_t>(number[old])));
        }
      }
      entry.payload.set("standsOn", std::move(kept));
    }
    out.push_back(journal::write_line(entry));
    prev = journal::line_hash(out.back());
  }
  return out;
}

/// The journal with each record as `change(entry)` leaves it; false: it is taken out.
template <class Change>
std::vector<std::string> forged(const std::vector<std::string>& lines, Change change) {
  std::vector<journal::Entry> kept;
  for (journal::Entry entry : journal::read_lines(lines).entries) {
    if (change(entry)) {
      kept.push_back(std::move(entry));
    }
  }
  return rechained(std::move(kept));
}

/// The record's body changed as its kind; other kinds are left as they are.
template <class T, class Change>
bool change_body(journal::Entry& entry, Change change) {
  const auto body = job::decode(entry.kind, entry.payload);
  const T* one = body.has_value() ? std::get_if<T>(&body.value()) : nullptr;
  if (one == nullptr) {
    return false;
  }
  T changed = *one;
  change(changed);
  entry.payload = job::encode(job::Body(changed));
  return true;
}

}  // namespace kp::test
