// journal erase, compare.
#include <utility>

#include "base/text.hpp"
#include "base/time.hpp"
#include "cli/commands.hpp"
#include "job/personal.hpp"
#include "journal/compare.hpp"
#include "journal/judgement.hpp"
#include "journal/reader.hpp"
#include "journal/writer.hpp"

namespace kp::cli {

namespace {

constexpr int kNoJournal = 3;   // as journal verify says it

/// Reads a journal's file; false where there is none, which is said.
bool read_journal(const std::string& path, Files& files, Output& output, std::string& text,
                  journal::Loaded& loaded) {
  auto bytes = files.read(path);
  if (!bytes.has_value()) {
    output.err += cat(bytes.error().text(), "\n");
    return false;
  }
  text = std::move(bytes.value());
  loaded = journal::read(text);
  if (loaded.shape != journal::Shape::journal) {
    const journal::Verdict verdict =
        journal::verdict_of(journal::NotAJournal{loaded.shape});
    output.err += cat(path, ": ", verdict.sentence, " ", verdict.remedy, "\n");
    return false;
  }
  return true;
}

/// What this journal says behind the records that both have.
std::string next_of(const std::string& path, const journal::Loaded& loaded, std::uint32_t common) {
  const int more = to_int(loaded.entries.size()) - static_cast<int>(common);
  if (more <= 0) {
    return {};
  }
  const journal::Entry& next = loaded.entries[common];
  return cat(path, ": record ", integer_text(next.seq), ", ", next.kind, ", ",
             rfc3339_utc_ms(next.at.utc_ms), ", run ", next.life, "; ", more,
             more == 1 ? " record" : " records", " of its own\n");
}

}  // namespace

int erase_parts(const EraseWanted& wanted, Files& files, Output& output) {
  std::string text;
  journal::Loaded loaded;
  if (!read_journal(wanted.path, files, output, text, loaded)) {
    return kNoJournal;
  }
  std::vector<std::string> whose = {job::word(job::Whose::customer)};
  if (wanted.notes) {
    whose.emplace_back(job::word(job::Whose::notes));
  }
  if (wanted.people) {
    whose.emplace_back(job::word(job::Whose::people));
  }
  int erased = 0;
  const std::string kept = journal::file_without_parts(text, whose, erased);
  const std::string& target = wanted.out.empty() ? wanted.path : wanted.out;
  if (erased > 0 || !wanted.out.empty()) {
    const auto written = files.write(target, kept);
    if (!written.has_value()) {
      output.err += cat(written.error().text(), "\n");
      return kUsage;
    }
  }
  output.out += cat(target, ": ", erased, erased == 1 ? " personal part" : " personal parts",
                    " erased (", join(whose, ", "), "). The records stay as they were.\n");
  output.out += cat(target, ": Erase other copies too: devices, exports and papers.\n");
  return kDone;
}

int compare_journals(const CompareWanted& wanted, Files& files, Output& output) {
  std::string text;
  journal::Loaded first;
  journal::Loaded second;
  if (!read_journal(wanted.first, files, output, text, first) ||
      !read_journal(wanted.second, files, output, text, second)) {
    return kNoJournal;
  }
  const journal::Comparison compared = journal::compare(first, second);
  output.out += cat(journal::words_of(compared, wanted.first, wanted.second), "\n");
  output.out += next_of(wanted.first, first, compared.common);
  output.out += next_of(wanted.second, second, compared.common);
  for (const auto& [path, loaded] :
       {std::pair<const std::string&, const journal::Loaded&>{wanted.first, first},
        {wanted.second, second}}) {
    const journal::Judgement judgement = journal::judge(loaded);
    if (!std::holds_alternative<journal::Whole>(judgement)) {
      output.out += cat(path, ": ", journal::verdict_of(judgement).sentence, "\n");
    }
  }
  const bool apart = compared.kinship == journal::Kinship::fork ||
                     compared.kinship == journal::Kinship::strangers;
  return apart ? kFinding : kDone;
}

}  // namespace kp::cli
