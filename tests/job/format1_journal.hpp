#pragma once
// A journal of format 1 for tests, record by record, as its program wrote them.

#include <string>
#include <string_view>

#include "base/text.hpp"
#include "data/value.hpp"
#include "job/bind_plan.hpp"
#include "job/format1_read.hpp"
#include "job/replay.hpp"
#include "journal/reader.hpp"
#include "journal/writer.hpp"
#include "pack/load.hpp"
#include "support/files.hpp"

namespace kp::test::format1 {

inline std::string golden(const std::string& name) {
  return file_bytes(cat(KP_SOURCE_DIR, "/tests/golden/journals/format-1/", name));
}

/// The pack that lies beside the golden journals, not the one that ships.
inline const job::Library& golden_library() {
  static const job::Library library = [] {
    job::Library out;
    const pack::Loaded loaded = pack::load(golden("pack.json"));
    if (loaded.pack.has_value()) {
      auto model = job::make_model(loaded.pack.value());
      if (model.has_value()) {
        out.models.push_back(std::move(model.value()));
      }
    }
    return out;
  }();
  return library;
}

class OldJournal {
 public:
  OldJournal() {
    add("job-opened", R"({"format":1,"job":"20261101-0001","mode":"field","shop":"Shop"})");
    add("machine-identified", R"({"pack":"pump-module","packVersion":"1","plate":"QN 415"})");
  }

  void add(std::string_view kind, std::string_view payload) {
    journal::Entry entry;
    entry.seq = static_cast<std::uint32_t>(lines_.size()) + 1;
    entry.at = Moment{1'793'500'000'000 + ms_, -300};
    entry.mono_ms = ms_;
    entry.life = "00000000000000a1";
    entry.by = "Ada";
    entry.kind = std::string(kind);
    const auto value = data::parse(payload);
    entry.payload = value.has_value() ? value.value() : data::Value{};
    entry.prev = tip_;
    lines_.push_back(journal::write_line(entry));
    tip_ = journal::line_hash(lines_.back());
    ms_ += 5'000;
  }
  /// An isolation: `more` are the members that its act speaks of, the rest as format 1 wrote them.
  void say(std::string_view act, const std::string& more = {}) {
    add("isolation", isolation(act, more));
  }
  static std::string isolation(std::string_view act, const std::string& more = {}) {
    data::Value payload = data::Value::object();
    payload.set("act", data::Value::of(act));
    for (const auto& [name, word] :
         {std::pair{"means", "word-of-another"}, {"station", "known-before"}, {"function", "volts-ac"}}) {
      payload.set(name, data::Value::of(word));
    }
    payload.set("people", data::Value::of(1));
    payload.set("awaySeconds", data::Value::of(0));
    const auto given = data::parse(more.empty() ? "{}" : more);
    if (given.has_value()) {
      for (const data::Value::Member& member : given.value().members) {
        payload.set(member.first, member.second);
      }
    }
    return data::print(payload);
  }
  void read(const char* station, double volts, const char* function = "two-pole-detector",
            const char* meter = "T1") {
    say("reading", cat(R"({"station":")", station, R"(","volts":)", number_text(volts),
                       R"(,"function":")", function, R"(","meter":")", meter, R"("})"));
  }
  /// Locked at the breaker, water off, controls tried.
  void isolate() {
    say("prepared");
    say("stopped");
    say("isolated", R"({"means":"breaker-locked","lock":"L-1"})");
    say("water-shut");
    say("water-relieved");
    say("controls-tried");
  }
  void prove() {
    read("known-before", 121);
    read("line-neutral", 0.2);
    read("line-earth", 0.2);
    read("neutral-earth", 0.2);
    read("known-after", 121);
  }
  void pass(std::int64_t ms) { ms_ += ms; }

  [[nodiscard]] journal::Loaded loaded() const { return journal::read(journal::to_file(lines_)); }
  [[nodiscard]] job::Replayed replayed(const job::Library& library = {}) const {
    return job::replay(loaded(), library);
  }
  [[nodiscard]] int size() const { return to_int(lines_.size()); }

 private:
  std::vector<std::string> lines_;
  std::string tip_{journal::kNoPrev};
  std::int64_t ms_ = 1'000;
};

}  // namespace kp::test::format1
