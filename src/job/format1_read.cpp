#include "job/format1_read.hpp"

#include <algorithm>
#include <iterator>
#include <limits>
#include <utility>

#include "base/text.hpp"
#include "data/reader.hpp"
#include "job/codec.hpp"

namespace kp::job::format1 {

namespace {

/// The kinds of format 1 with their members, as they stood when the last journal of it was written.
struct Kind {
  const char* word;
  const char* members;
};
constexpr Kind kKinds[] = {
    {"job-opened", "format job mode shop"},
    {"resumed", "awaySeconds"},
    {"screen", "hidden"},
    {"machine-identified", "pack packVersion plate"},
    {"customer-noted", "name address contact"},
    {"complaint-noted", "symptom words"},
    {"quote-given", "lowMinor highMinor currency accepted"},
    {"stage-entered", "stage"},
    {"isolation",
     "act means lock tag answered station volts function meter celsius people bySupervisor "
     "awaySeconds note"},
    {"test-recorded", "test openLoop looked good value unit standsOn"},
    {"test-taken-back", "n"},
    {"test-impossible", "test reason"},
    {"targets-chosen", "parts fault mend"},
    {"step-done", "deed what checks standsOn"},
    {"step-blocked", "deed what reason"},
    {"part-swapped", "part stock priceMinor note mended standsOn"},
    {"prove-recorded", "test passed value unit note standsOn"},
    {"phase-started", "phase reason"},
    {"time-corrected", "phase deltaMs reason"},
    {"gap-settled", "before countedMs reason"},
    {"taken-over", "person"},
    {"note-added", "text"},
    {"signed", "name strokes"},
    {"invoice-issued", "number totalMinor currency"},
    {"handed-over", "document sha256"},
    {"job-ended", "outcome note"},
    {"visit-begun", "visit"},
};

constexpr const char* kRemedy = "Open the journal read-only and keep a copy of it.";
constexpr std::int64_t kMostMs = 9007199254740992;  // 2^53
constexpr double kMostReading = 1e15;

const Kind* kind_named(std::string_view word) {
  const auto* found = std::find_if(std::begin(kKinds), std::end(kKinds),
                                   [&](const Kind& one) { return word == one.word; });
  return found == std::end(kKinds) ? nullptr : found;
}

/// The payload with the members that format 1 had; the others are told.
data::Value known_part(const Kind& kind, const data::Value& payload, Findings& notes) {
  const std::vector<std::string> known = split(kind.members, ' ');
  data::Value out = data::Value::object();
  for (const data::Value::Member& member : payload.members) {
    if (std::find(known.begin(), known.end(), member.first) != known.end()) {
      out.set(member.first, member.second);
      continue;
    }
    Finding note;
    note.severity = Severity::note;
    note.code = "unknown-member";
    note.pointer = cat("/", member.first);
    note.what = cat("\"", kind.word, "\" knows no \"", member.first, "\" in format 1");
    note.remedy = kRemedy;
    notes.add(std::move(note));
  }
  return out;
}

tl::unexpected<Error> bad_payload(const Kind& kind, const Findings& faults) {
  const Finding& first = faults.all().front();
  return fail("bad-payload", cat("The record of kind \"", kind.word, "\": ", first.what),
              first.pointer, kRemedy);
}

Said said_by(data::Reader& reader) {
  Said out;
  out.act = static_cast<Act>(reader.choice("act", act_words()));
  out.means = static_cast<Means>(reader.choice("means", means_words()));
  out.lock = reader.text_or("lock", "");
  out.tag = reader.text_or("tag", "");
  out.answered = reader.flag_or("answered", false);
  out.station = static_cast<Station>(reader.choice("station", station_words()));
  out.volts = reader.number_or("volts", 0, -kMostReading, kMostReading);
  // The order of the words is that of the enumerators of today; a static_cast would hide a change.
  const std::string& function =
      function_words()[to_size(reader.choice("function", function_words()))];
  for (int i = 0; i < safety::kMeterFunctions; ++i) {
    if (function == safety::word(static_cast<safety::MeterFunction>(i))) {
      out.function = static_cast<safety::MeterFunction>(i);
    }
  }
  out.meter = reader.text_or("meter", "");
  out.celsius = reader.number_or("celsius", 0, -kMostReading, kMostReading);
  out.people = static_cast<int>(
      reader.integer("people", std::numeric_limits<int>::min(), std::numeric_limits<int>::max()));
  out.by_supervisor = reader.flag_or("bySupervisor", false);
  out.note = reader.text_or("note", "");
  return out;
}

/// The kinds that say it otherwise today.
bool read_changed(const Kind& kind, data::Reader& reader, Record& out) {
  const std::string_view word = kind.word;
  if (word == "isolation") {
    out = said_by(reader);
    return true;
  }
  if (word == "resumed") {
    // Longer than five minutes voided the proofs then; nobody was asked what happened meanwhile.
    constexpr std::int64_t kPauseSeconds = 300;
    const std::int64_t away = reader.integer("awaySeconds", -kMostMs / 1000, kMostMs / 1000);
    out = Body(Resumed{away * 1000, away < 0 || away > kPauseSeconds});
    return true;
  }
  if (word == "taken-over") {
    out = Body(safety::HandedOn{reader.text("person"), {}});
    return true;
  }
  return false;
}

}  // namespace

Result<Record> read(const journal::Entry& entry, Findings& notes) {
  const Kind* kind = kind_named(entry.kind);
  if (kind == nullptr) {
    return fail("unknown-kind", cat("Format 1 has no record of kind \"", entry.kind, "\""), {},
                kRemedy);
  }
  const data::Value payload = known_part(*kind, entry.payload, notes);
  Record out;
  Findings faults;
  data::Reader reader(payload, faults);
  if (read_changed(*kind, reader, out)) {
    if (!faults.all().empty()) {
      return bad_payload(*kind, faults);
    }
    return out;
  }
  Findings none;
  Result<Body> body = decode(entry.kind, payload, none);
  if (!body.has_value()) {
    return fail(body.error());
  }
  return Record(std::move(body.value()));
}

}  // namespace kp::job::format1
