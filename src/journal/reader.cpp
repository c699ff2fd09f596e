#include "journal/reader.hpp"

#include <algorithm>
#include <utility>

#include "base/findings.hpp"
#include "base/text.hpp"
#include "data/reader.hpp"
#include "journal/words.hpp"
#include "journal/writer.hpp"

namespace kp::journal {
namespace {

constexpr std::int64_t kMostSeq = 4294967295;
constexpr std::int64_t kMostMs = 9007199254740992;  // 2^53

constexpr const char* kKeepCopy = "Keep a copy of the file. Continue the work in a new job.";

std::string line_place(int line) { return cat("line ", line); }

/// The sums of the parts that lie beside a record.
bool take_sums(const data::Value& sums, std::vector<Part>& parts) {
  for (const data::Value::Member& member : sums.members) {
    if (member.first.empty() || member.second.kind != data::Kind::string ||
        !is_hex(member.second.text, kHashDigits)) {
      return false;
    }
    parts.emplace_back();
    parts.back().whose = member.first;
    parts.back().sum = member.second.text;
  }
  return !parts.empty();
}

/// The frame of a line. What the members mean together (number, chain, format) comes later.
Result<Entry> frame(std::string_view line, bool newer) {
  auto value = data::parse(line);
  if (!value) {
    return fail("bad-line", cat("this is no JSON: ", value.error().what, " in ",
                                value.error().where));
  }
  Findings findings;
  data::Reader reader(*value, findings);
  Entry entry;
  entry.seq = static_cast<std::uint32_t>(reader.integer("n", 1, kMostSeq));
  const std::string at = reader.text("at");
  entry.at.offset_min = static_cast<int>(reader.integer("off", -kMostOffset, kMostOffset));
  entry.mono_ms = reader.integer("mono", -kMostMs, kMostMs);
  entry.life = reader.text("life");
  entry.by = reader.text("by");
  entry.kind = reader.text("kind");
  const bool has_data = reader.object("data").has_value();
  const bool has_parts = reader.object("beside", false).has_value();
  entry.prev = reader.text("prev");
  if (!newer) {
    reader.done();
  }
  if (findings.faults() > 0) {
    return fail("bad-line", findings.all().front().what);
  }
  const auto moment = parse_rfc3339(at);
  if (!moment) {
    return fail("bad-line", cat("\"at\" is no time: ", moment.error().what));
  }
  entry.at.utc_ms = moment->utc_ms;
  if (!is_hex(entry.life, kLifeDigits)) {
    return fail("bad-line", "\"life\" is not 16 hexadecimal digits");
  }
  if (!is_hex(entry.prev, kHashDigits)) {
    return fail("bad-line", "\"prev\" is not 64 hexadecimal digits");
  }
  if (entry.kind.empty()) {
    return fail("bad-line", "\"kind\" is empty");
  }
  for (data::Value::Member& member : value->members) {
    if (has_parts && member.first == "beside" && !take_sums(member.second, entry.parts)) {
      return fail("bad-line", "\"beside\" holds something that is no sum");
    }
    if (has_data && member.first == "data") {
      entry.payload = std::move(member.second);
    }
  }
  return entry;
}

/// A part with the number of its record.
struct Beside {
  std::uint32_t record = 0;
  Part part;
};

Result<Beside> beside_of(std::string_view line) {
  auto value = data::parse(line);
  if (!value) {
    return fail("bad-part", "a part beside the chain is no JSON");
  }
  Findings findings;
  data::Reader reader(*value, findings);
  Beside out;
  out.record = static_cast<std::uint32_t>(reader.integer("beside", 1, kMostSeq));
  out.part.whose = reader.text("whose");
  out.part.salt = reader.text("salt");
  const bool has_words = reader.object("words").has_value();
  if (findings.faults() > 0 || !has_words) {
    return fail("bad-part", cat("a part beside the chain: ", findings.all().front().what));
  }
  out.part.words = *value->find("words");
  out.part.sum = line_hash(line);
  out.part.erased = false;
  return out;
}

class Chain {
 public:
  /// Takes the next line, or remembers why it cannot be.
  bool take(std::string_view line) {
    const int number = to_int(loaded_.entries.size()) + 1;
    auto entry = frame(line, newer_);
    if (!entry) {
      return stop(number, entry.error().code, entry.error().what);
    }
    if (number == 1 && !know_format(*entry)) {
      return false;
    }
    if (std::int64_t{entry->seq} != number) {
      return stop(number, "wrong-number",
                  cat("the line says that it is number ", std::int64_t{entry->seq}));
    }
    if (entry->prev != loaded_.tip_hash) {
      return break_chain(number);
    }
    if (!newer_ && write_line(*entry) != line) {
      return stop(number, "bad-line", "the line is not in the form in which it was written");
    }
    loaded_.tip_hash = line_hash(line);
    last_bytes_ = static_cast<std::int64_t>(line.size()) + 1;
    loaded_.good_bytes += last_bytes_;
    loaded_.entries.push_back(std::move(*entry));
    return true;
  }

  /// Takes a part that lies beside the chain. One of a record that is not believed is passed over.
  void take_part(std::string_view line) {
    parts_begun_ = true;
    auto beside = beside_of(line);
    if (!beside) {
      doubt(0, "bad-part", beside.error().what);
      return;
    }
    const std::uint32_t record = beside->record;
    if (record > loaded_.entries.size()) {
      if (!loaded_.damage && !loaded_.torn_tail) {
        doubt(record, "part-of-none", "a part lies beside the chain for a record that is not here");
      }
      return;
    }
    std::vector<Part>& parts = loaded_.entries[record - 1].parts;
    const auto named = std::find_if(parts.begin(), parts.end(), [&](const Part& part) {
      return part.whose == beside->part.whose;
    });
    if (named == parts.end() || !named->erased) {
      doubt(record, "part-of-none", cat("the record knows no ", named == parts.end() ? "" : "second ",
                                        "part \"", beside->part.whose, "\" beside it"));
    } else if (named->sum != beside->part.sum) {
      doubt(record, "part-altered",
            cat("the part \"", beside->part.whose, "\" beside it is not what the record says"));
    } else {
      *named = std::move(beside->part);
    }
  }
  [[nodiscard]] bool parts_begun() const { return parts_begun_; }
  void refuse_behind_parts() {
    stop(to_int(loaded_.entries.size()) + 1, "bad-line",
         "a record stands behind the parts that lie beside the chain");
  }

  [[nodiscard]] Loaded& loaded() { return loaded_; }

 private:
  void doubt(std::uint32_t record, std::string code, std::string what) {
    loaded_.part_faults.push_back(PartFault{record, std::move(code), std::move(what)});
  }

  bool know_format(const Entry& first) {
    const data::Value* format = first.payload.find(kFormatName);
    const auto number = format == nullptr ? std::nullopt : parse_integer(format->text);
    if (!number || format->kind != data::Kind::number || *number < 1) {
      return stop(1, "no-format", "the first line does not say which format it has");
    }
    if (*number > kFormat) {
      // What a newer program wrote is shown as far as it goes and never continued.
      newer_ = true;
      stop(1, "newer-format",
           cat("the journal has format ", *number, ", and this program knows ", kFormat),
           "Open it with the newer program.");
    }
    return true;
  }

  /// A line that does not carry the sum of the one before: either may have been changed, so
  /// neither is believed.
  bool break_chain(int number) {
    if (number == 1) {
      return stop(1, "wrong-chain", "the first line says that lines stood before it");
    }
    stop(number - 1, "wrong-chain",
         cat("line ", number, " does not carry the sum of this line; one of the two was changed"));
    loaded_.tip_hash = loaded_.entries.back().prev;
    loaded_.entries.pop_back();
    loaded_.good_bytes -= last_bytes_;
    return false;
  }

  bool stop(int line, std::string code, std::string what, std::string remedy = kKeepCopy) {
    // The first reason stands: a newer format explains what else is strange.
    Error error{std::move(code), std::move(what), line_place(line), std::move(remedy)};
    if (!loaded_.damage) {
      loaded_.damage = std::move(error);
      loaded_.damage_line = line;
    } else if (!loaded_.further_damage) {
      loaded_.further_damage = std::move(error);
      loaded_.further_line = line;
    }
    return false;
  }

  Loaded loaded_;
  std::int64_t last_bytes_ = 0;
  bool newer_ = false;
  bool parts_begun_ = false;
};

bool is_part(std::string_view line) { return line.substr(0, kPartBegin.size()) == kPartBegin; }

/// The parts in what is left of a text behind damage: those of good records are good.
void take_parts(Chain& chain, std::string_view text) {
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    std::string_view line = text.substr(0, end);
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    if (!line.empty() && line.back() == '\r') {
      line.remove_suffix(1);
    }
    if (end != std::string_view::npos && is_part(line)) {
      chain.take_part(line);
    }
  }
}

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

bool begins_with(std::string_view text, std::string_view head) {
  return text.substr(0, head.size()) == head;
}

/// Whether it is a journal, whole, cut or changed: line 1 begins as every line 1 does, as far as
/// the text goes, or most of the members' names stand in it as a writer writes them.
bool is_like_journal(std::string_view text) {
  constexpr std::string_view kBegin = R"({"n":1,"at":")";
  constexpr std::size_t kTelling = 5;  // {"n":
  if (text.size() >= kTelling && begins_with(text, kBegin.substr(0, text.size()))) {
    return true;
  }
  int found = 0;
  for (const std::string_view name : {R"({"n":)", R"(,"at":")", R"(,"mono":)", R"(,"life":")",
                                      R"(,"kind":")", R"(,"prev":")"}) {
    found += text.find(name) != std::string_view::npos ? 1 : 0;
  }
  return found >= 3;
}

Shape shape_of(std::string_view text) {
  if (begins_with(text, "\xFF\xFE") || begins_with(text, "\xFE\xFF")) {
    return Shape::utf16;
  }
  if (trim(text).empty()) {
    return Shape::empty;
  }
  return is_like_journal(text) ? Shape::journal : Shape::other;
}

}  // namespace

Loaded read(std::string_view text) {
  Chain chain;
  Loaded& loaded = chain.loaded();
  loaded.byte_order_mark = begins_with(text, kByteOrderMark);
  if (loaded.byte_order_mark) {
    text.remove_prefix(kByteOrderMark.size());
  }
  loaded.shape = shape_of(text);
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    const bool ended = end != std::string_view::npos;
    std::string_view line = text.substr(0, end);
    const bool carriage = ended && !line.empty() && line.back() == '\r';
    if (carriage) {
      line.remove_suffix(1);
    }
    const bool last = !ended || end + 1 == text.size();
    if (!ended || (last && !data::parse(line))) {
      loaded.torn_tail = true;
      loaded.tail_ended = ended;
      break;
    }
    if (is_part(line)) {
      chain.take_part(line);
    } else if (chain.parts_begun()) {
      chain.refuse_behind_parts();
      break;
    } else if (!chain.take(line)) {
      break;
    }
    loaded.crlf_lines += carriage ? 1 : 0;
    text.remove_prefix(end + 1);
  }
  if (loaded.damage) {
    take_parts(chain, text);
  }
  return std::move(loaded);
}

Loaded read_lines(const std::vector<std::string>& lines) {
  Chain chain;
  for (const std::string& stored : lines) {
    std::string_view rest = stored;
    const std::size_t end = rest.find('\n');
    if (!chain.take(rest.substr(0, end))) {
      break;
    }
    while (rest.find('\n') != std::string_view::npos) {
      rest.remove_prefix(rest.find('\n') + 1);
      chain.take_part(rest.substr(0, rest.find('\n')));
    }
  }
  return std::move(chain.loaded());
}

int erased_parts(const Loaded& loaded) {
  int out = 0;
  for (const Entry& entry : loaded.entries) {
    for (const Part& part : entry.parts) {
      out += part.erased ? 1 : 0;
    }
  }
  return out;
}

}  // namespace kp::journal
