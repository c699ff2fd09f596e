#include "job/audit.hpp"

#include <algorithm>

#include "job/apply.hpp"
#include "job/codec.hpp"
#include "job/format1_read.hpp"
#include "job/paper.hpp"
#include "job/replay.hpp"
#include "journal/mark.hpp"

namespace kp::job {
namespace {

void first(std::optional<std::uint32_t>& record, std::uint32_t n) {
  record = std::min(record.value_or(n), n);
}

class Auditor {
 public:
  Auditor(const journal::Loaded& loaded, int format) : loaded_(&loaded), format_(format) {}

  void look(const journal::Entry& entry) {
    Findings notes;
    if (format_ == format1::kFormat) {
      if (const auto record = format1::read(entry, notes); !record.has_value()) {
        refuse(entry, record.error());
      }
      return;
    }
    const auto record = reader_.read(entry, notes);
    for (Finding note : notes.all()) {
      note.severity = Severity::warning;
      first(audit_.further.newer, entry.seq);
      add(entry, std::move(note));
    }
    if (!record.has_value()) {
      refuse(entry, record.error());
      return;
    }
    const Body& body = record.value().body;
    if (const auto* stands_on = std::get_if<StandsOn>(&body)) {
      take(entry, *stands_on);
    } else if (const auto* quote = std::get_if<QuoteGiven>(&body)) {
      take(entry, check_paper(*quote));
    } else if (const auto* invoice = std::get_if<InvoiceIssued>(&body)) {
      take(entry, check_paper(*invoice));
    } else if (const auto* paper = std::get_if<PaperIssued>(&body)) {
      take(entry, check_mark(entry, paper->mark));
    }
  }

  [[nodiscard]] Audit& result() { return audit_; }

 private:
  void refuse(const journal::Entry& entry, const Error& error) {
    const bool newer = error.code == "unknown-kind" || error.code == "unknown-word";
    first(newer ? audit_.further.newer : audit_.further.altered, entry.seq);
    Finding finding;
    finding.severity = newer ? Severity::warning : Severity::fault;
    finding.code = error.code;
    finding.pointer = error.where;
    finding.what = error.what;
    finding.remedy = error.remedy;
    add(entry, std::move(finding));
  }

  /// A paper's mark names a record before it, with that record's sum.
  [[nodiscard]] Findings check_mark(const journal::Entry& entry, const std::string& text) const {
    Findings out;
    const auto mark = journal::parse_mark(text);
    const bool before = mark.has_value() && mark->record > 0 && mark->record < entry.seq;
    // The line behind a record carries its sum.
    if (!before || loaded_->entries[mark->record].prev.rfind(mark->sum, 0) != 0) {
      Finding finding;
      finding.code = "mark-differs";
      finding.pointer = "/mark";
      finding.what = "the mark of this paper stands at no record before it";
      finding.remedy = "Look for an unchanged copy.";
      out.add(std::move(finding));
    }
    return out;
  }
  /// Rows that a newer program decided by: what was accepted under them cannot be decided again here.
  void take(const journal::Entry& entry, const StandsOn& stands_on) {
    bool all_known = true;
    (void)law_of(stands_on, all_known);
    if (!all_known) {
      first(audit_.further.newer, entry.seq);
      Finding finding;
      finding.severity = Severity::warning;
      finding.code = "unknown-row";
      finding.pointer = "/rows";
      finding.what = "it was decided by rules that this program does not know";
      finding.remedy = "Open this journal with the version of the program that wrote it.";
      add(entry, std::move(finding));
    }
  }

  void take(const journal::Entry& entry, const Findings& paper) {
    for (Finding finding : paper.all()) {
      if (finding.code == "newer-format") {
        finding.severity = Severity::warning;
        first(audit_.further.newer, entry.seq);
      } else if (finding.severity == Severity::fault) {
        first(audit_.further.altered, entry.seq);
      }
      add(entry, std::move(finding));
    }
  }

  void add(const journal::Entry& entry, Finding finding) {
    finding.line = static_cast<int>(entry.seq);
    finding.column = 0;
    audit_.findings.add(std::move(finding));
  }

  const journal::Loaded* loaded_;
  int format_ = 0;
  RecordReader reader_;
  Audit audit_;
};

}  // namespace

Audit audit(const journal::Loaded& loaded) {
  Auditor auditor(loaded, format_of(loaded));
  for (const journal::Entry& entry : loaded.entries) {
    auditor.look(entry);
  }
  auditor.result().findings.sort();
  return std::move(auditor.result());
}

}  // namespace kp::job
