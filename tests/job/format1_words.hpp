#pragma once
// Words of format1_text.hpp: how it quotes, lists and names, and what an isolation says.

#include <algorithm>
#include <string>
#include <vector>

#include "base/text.hpp"
#include "data/value.hpp"
#include "job/event.hpp"
#include "job/format1.hpp"

namespace kp::test::format1 {

inline std::string quoted(const std::string& text) {
  return text.empty() ? "-" : data::print(data::Value::of(std::string_view(text)));
}
inline std::string bare(const std::string& id) { return id.empty() ? "-" : id; }
template <class E>
const std::string& word(const std::vector<std::string>& words, E value) {
  return words[to_size(static_cast<int>(value))];
}
inline std::string listed(std::vector<std::string> ids, bool sorted) {
  if (sorted) {
    std::sort(ids.begin(), ids.end());
  }
  std::string out;
  for (const std::string& id : ids) {
    out += cat(out.empty() ? "" : " ", id);
  }
  return bare(out);
}
inline std::string money(std::int64_t minor, const std::string& currency) {
  return cat(integer_text(minor), " minor ", bare(currency));
}

/// What an isolation says beside its act: only what the act speaks of.
inline std::string about(const job::format1::Said& one) {
  using job::format1::Act;
  const std::string note = one.note.empty() ? "" : cat(", note ", quoted(one.note));
  if (one.act == Act::isolated) {
    return cat(", means ", word(job::format1::means_words(), one.means), ", lock ",
               quoted(one.lock), one.tag.empty() ? "" : cat(", tag ", quoted(one.tag)));
  }
  if (one.act == Act::controls_tried) {
    return one.answered ? ", it answered" : ", nothing happened";
  }
  if (one.act == Act::reading || one.act == Act::charge_gone) {
    return cat(", ", one.act == Act::reading
                         ? cat(word(job::format1::station_words(), one.station), " ")
                         : std::string(),
               number_text(one.volts), " V, ", safety::word(one.function), ", meter ",
               quoted(one.meter));
  }
  if (one.act == Act::cooled) {
    return cat(", ", number_text(one.celsius), " degrees Celsius");
  }
  if (one.act == Act::helpers_here || one.act == Act::secured) {
    return cat(", people ", one.people, note);
  }
  if (one.act == Act::lock_removed) {
    return cat(", lock ", quoted(one.lock), one.by_supervisor ? ", by the supervisor" : "");
  }
  return one.act == Act::tag_hung ? cat(", tag ", quoted(one.tag)) : note;
}

}  // namespace kp::test::format1
