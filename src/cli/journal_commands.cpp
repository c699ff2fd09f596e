// journal verify, bill.
#include <utility>

#include "app/content.hpp"
#include "app/desk.hpp"
#include "app/papers.hpp"
#include "base/text.hpp"
#include "cli/commands.hpp"
#include "job/codec.hpp"
#include "job/replay.hpp"
#include "journal/reader.hpp"
#include "journal/verify.hpp"

namespace kp::cli {

namespace {

/// The records' own words: kinds and values that this program does not know, by line.
Findings check_records(const journal::Loaded& loaded) {
  Findings out;
  for (const journal::Entry& entry : loaded.entries) {
    Findings notes;
    const auto body = job::decode(entry.kind, entry.payload, notes);
    for (Finding note : notes.all()) {
      note.line = static_cast<int>(entry.seq);
      out.add(std::move(note));
    }
    if (!body.has_value()) {
      Finding fault;
      fault.code = body.error().code;
      fault.pointer = body.error().where;
      fault.line = static_cast<int>(entry.seq);
      fault.what = body.error().what;
      fault.remedy = body.error().remedy;
      out.add(std::move(fault));
    }
  }
  return out;
}

}  // namespace

int verify_journal(const std::string& path, Files& files, Output& output) {
  const auto text = files.read(path);
  if (!text.has_value()) {
    output.err += cat(text.error().text(), "\n");
    return kUsage;
  }
  const journal::Loaded loaded = journal::read(text.value());
  Findings findings = journal::verify(loaded);
  const Findings records = check_records(loaded);
  for (const Finding& finding : records.all()) {
    findings.add(finding);
  }
  findings.sort();
  for (const Finding& finding : findings.all()) {
    const char* word = finding.severity == Severity::fault     ? "fault"
                       : finding.severity == Severity::warning ? "warning"
                                                               : "note";
    output.out += cat(path, ": ", word, ": ", finding.text(), "\n");
  }
  output.out += cat(path, ": ", to_int(loaded.entries.size()), " records, sum of the last ",
                    loaded.tip_hash, "\n");
  return findings.faults() > 0 ? kFinding : kDone;
}

int write_bill(const std::string& journal, const std::string& rates, const std::string& folder,
               Files& files, Output& output) {
  const auto text = files.read(journal);
  const auto card = files.read(rates);
  for (const auto* file : {&text, &card}) {
    if (!file->has_value()) {
      output.err += cat(file->error().text(), "\n");
      return kUsage;
    }
  }
  std::vector<app::NamedBytes> assets;
  for (app::NamedBytes& file : files.assets()) {
    if (file.name.find("rates.json") == std::string::npos) {
      assets.push_back(std::move(file));
    }
  }
  assets.push_back({"rates.json", card.value()});
  const app::Content content = app::load_content(assets);
  for (const app::FileFindings& file : content.faults) {
    for (const Finding& finding : file.findings.all()) {
      output.err += cat(file.file == "rates.json" ? rates : file.file, ": ", finding.text(), "\n");
    }
  }
  if (!content.has_rates) {
    return kFinding;
  }
  const journal::Loaded loaded = journal::read(text.value());
  const job::Settings settings;
  const job::Replayed replayed =
      job::replay(loaded, content.library);
  if (replayed.damage.has_value()) {
    output.err += cat(journal, ": line ", replayed.damage_line, ": ", replayed.damage->text(), "\n");
    return kFinding;
  }
  const app::Local local;
  app::Desk desk;
  desk.state = &replayed.state;
  desk.content = &content;
  desk.settings = &settings;
  desk.local = &local;
  desk.now = replayed.state.clock.last;
  for (const app::Paper paper : app::papers_of(desk)) {
    for (const bool html : {false, true}) {
      const auto document = app::document_of(desk, paper, loaded.tip_hash, html);
      if (!document.has_value()) {
        output.err += cat(document.error().text(), "\n");
        return kFinding;
      }
      const std::string path = cat(folder, "/", document.value().name);
      const auto written = files.write(path, document.value().bytes);
      if (!written.has_value()) {
        output.err += cat(written.error().text(), "\n");
        return kUsage;
      }
      output.out += cat(path, "\n");
    }
  }
  return kDone;
}

}  // namespace kp::cli
