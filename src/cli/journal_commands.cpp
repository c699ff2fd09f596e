// journal verify, bill.
#include <algorithm>
#include <optional>
#include <utility>

#include "app/content.hpp"
#include "app/desk.hpp"
#include "app/papers.hpp"
#include "base/text.hpp"
#include "cli/commands.hpp"
#include "job/again.hpp"
#include "job/audit.hpp"
#include "job/replay.hpp"
#include "journal/mark.hpp"
#include "journal/reader.hpp"
#include "journal/verify.hpp"
#include "journal/writer.hpp"

namespace kp::cli {

namespace {

void print_findings_of(const Findings& findings, const std::string& path, Output& output) {
  for (const Finding& finding : findings.all()) {
    const char* word = finding.severity == Severity::fault     ? "fault"
                       : finding.severity == Severity::warning ? "warning"
                                                               : "note";
    output.out += cat(path, ": ", word, ": ", finding.text(), "\n");
  }
}

Finding about(const job::Disbelief& one, Severity severity, const char* code, std::string what) {
  Finding finding;
  finding.severity = severity;
  finding.code = code;
  finding.line = static_cast<int>(one.n);
  finding.what = std::move(what);
  for (const safety::Reason& reason : one.reasons) {
    finding.remedy += cat(finding.remedy.empty() ? "" : " ", reason.sentence);
  }
  return finding;
}

/// Decides the records again by the rules and the pack that they name, and by today's.
void add_again(const journal::Loaded& loaded, Files& files, job::Audit& audit) {
  // No pack is read for a job that never named one.
  const bool named = std::any_of(loaded.entries.begin(), loaded.entries.end(), [](const journal::Entry& entry) {
    return entry.kind == job::MachineIdentified::kKind;
  });
  const app::Content content = named ? app::load_content(files.assets()) : app::Content{};
  const job::Settings today;
  const job::Again again = job::decide_again(loaded, content.library, today);
  if (!again.decided) {
    Finding note;
    note.severity = Severity::note;
    note.code = "not-decided-again";
    note.what = cat("only form, chain and arithmetic were checked: ", again.why_not);
    audit.findings.add(note);
  }
  for (const job::Disbelief& one : again.not_believable) {
    audit.findings.add(about(one, Severity::fault, "not-believable",
                             cat("\"", one.kind,
                                 "\" would have been refused by the rules that the journal names")));
    audit.further.not_believable = one.n;
  }
  for (const job::Disbelief& one : again.today) {
    audit.findings.add(about(one, Severity::note, "today-asks-more",
                             cat("today also asks for more before \"", one.kind, "\"")));
  }
}

}  // namespace

int verify_journal(const VerifyWanted& wanted, Files& files, Output& output) {
  std::optional<journal::Mark> mark;
  if (!wanted.tip.empty()) {
    auto read = journal::parse_mark(wanted.tip);
    if (!read.has_value()) {
      output.err += cat(read.error().text(), "\n");
      return kUsage;
    }
    mark = read.value();
  }
  const auto text = files.read(wanted.path);
  if (!text.has_value()) {
    output.err += cat(text.error().text(), "\n");
    return journal::verdict_of(journal::NotAJournal{}).exit_code;
  }
  const journal::Loaded loaded = journal::read(text.value());
  job::Audit audit = job::audit(loaded);
  if (!audit.further.altered && !loaded.damage && !loaded.entries.empty()) {
    add_again(loaded, files, audit);
  }
  Findings findings = journal::verify(loaded);
  for (const Finding& finding : audit.findings.all()) {
    findings.add(finding);
  }
  const journal::Judgement judgement = journal::judge(loaded, audit.further);
  if (mark && !std::holds_alternative<journal::NotAJournal>(judgement)) {
    const Findings looked = journal::look_up(loaded, *mark);
    for (const Finding& finding : looked.all()) {
      findings.add(finding);
    }
  }
  findings.sort();
  print_findings_of(findings, wanted.path, output);
  const journal::Verdict verdict = journal::verdict_of(judgement);
  output.out += cat(wanted.path, ": ", verdict.sentence, verdict.remedy.empty() ? "" : " ",
                    verdict.remedy, "\n", wanted.path, ": ", to_int(loaded.entries.size()),
                    " records, sum of the last ", loaded.tip_hash, "\n");
  return verdict.exit_code == kDone && findings.faults() > 0 ? kFinding : verdict.exit_code;
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
  std::vector<std::string> lines;
  for (const journal::Entry& entry : loaded.entries) {
    lines.push_back(journal::write_line(entry));
  }
  for (const app::Paper paper : app::papers_of(desk)) {
    for (const bool html : {false, true}) {
      const auto document = app::document_of(desk, paper, lines, html);
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
