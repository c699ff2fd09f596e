#include "base/text.hpp"
#include "bill/documents.hpp"
#include "bill/figures.hpp"
#include "bill/papers.hpp"

namespace kp::bill {
namespace {

/// Builds the record's page section by section; a section without content is left out.
class Builder {
 public:
  explicit Builder(const ServiceRecord& record)
      : record_(record), stamps_(stamps_for(record.work)) {}

  Page run() {
    page_.size = record_.page;
    page_.title = cat(record_.practice ? "Practice record " : "Service record ", record_.number);
    page_.footer = cat(record_.shop.name, ", ", page_.title);
    page_.made = record_.closed;
    head();
    open_points();
    isolations();
    proofs();
    handled();
    checks();
    tests();
    parts();
    time();
    close();
    return page_;
  }

 private:
  /// A time for a narrow column: what it needs beside it stands on lines of its own.
  [[nodiscard]] std::string when(const std::optional<Moment>& moment) const {
    return stamp(moment, stamps_, "\n");
  }
  void heading(const char* text) { page_.blocks.emplace_back(Heading{text}); }
  void put(Table table) {
    table.dense = true;
    page_.blocks.emplace_back(std::move(table));
  }
  void say(std::string text, Tone tone) {
    page_.blocks.emplace_back(Paragraph{std::move(text), tone});
  }

  void head() {
    Letterhead head = letterhead(record_.shop);
    head.title = record_.practice ? "Practice record: no real machine" : "Service record";
    head.number = record_.number;
    head.facts.emplace_back("Closed", day_and_time(record_.closed, stamps_.offset));
    head.facts.emplace_back("Job", record_.work.job);
    head.facts.emplace_back("Technician", record_.work.technician);
    page_.blocks.emplace_back(head);
    page_.blocks.emplace_back(who_and_what(record_.work.customer, record_.work.machine));
    heading("Complaint");
    say(record_.work.complaint, Tone::plain);
    heading("Outcome");
    say(cat(outcome_words(record_.work.outcome), ". ", outcome_sentence()), Tone::strong);
    for (const std::string& remark : record_.remarks) {
      say(remark, Tone::plain);
    }
    if (!trim(record_.work.note).empty()) {
      heading("Note");
      say(record_.work.note, Tone::plain);
    }
  }

  [[nodiscard]] const char* outcome_sentence() const {
    if (record_.practice) {
      return "Practice. No machine was worked on, and nothing was handed back.";
    }
    switch (record_.work.outcome) {
      case Outcome::repaired:
        return "The machine was handed back for use.";
      case Outcome::waiting_for_parts:
        return "The machine is left isolated and tagged. Do not use it.";
      case Outcome::not_to_be_used:
        return "The machine is left isolated. Do not use it. The customer has a notice.";
      case Outcome::no_fault_found:
        return "The machine was tested and handed back for use.";
    }
    return "";
  }

  void open_points() {
    const Findings findings = check_record(record_);
    if (findings.all().empty()) {
      return;
    }
    heading("Open points");
    for (const Finding& finding : findings.all()) {
      std::string what = finding.what;
      if (!what.empty() && what.front() >= 'a' && what.front() <= 'z') {
        what.front() = static_cast<char>(what.front() - 'a' + 'A');
      }
      say(cat(what, ". ", finding.remedy), Tone::notice);
    }
  }

  void isolations() {
    if (record_.isolations.empty()) {
      heading("Isolations");
      say("No isolation is on record. No work inside the machine is on record.", Tone::plain);
      return;
    }
    heading("Isolations");
    Table table;
    table.columns = {{"Energy", 5, Align::left, false},
                     {"Isolated", 2, Align::right, true},
                     {"Proved", 2, Align::right, true},
                     {"Restored", 2, Align::right, true}};
    for (const IsolationTaken& isolation : record_.isolations) {
      std::string detail = isolation.how;
      if (!isolation.by.empty()) {
        detail += cat(detail.empty() ? "" : ", ", "by ", isolation.by);
      }
      if (!isolation.voided.empty()) {
        detail += cat(". Proof ended: ", isolation.voided);
      }
      const auto shown = [this](const std::optional<Moment>& moment) {
        return moment ? when(moment) : std::string("not");
      };
      // Only what the house supplies is given back.
      const bool supplied = isolation.energy != EnergyKind::other;
      table.rows.push_back({{isolation.title, shown(isolation.isolated), shown(isolation.proved),
                             supplied ? shown(isolation.restored) : std::string()},
                            detail});
    }
    put(std::move(table));
  }

  [[nodiscard]] Table readings_table() const {
    Table table;
    table.columns = {{"Reading", 5, Align::left, false},
                     {"Value", 2, Align::right, true},
                     {"Limit", 3, Align::right, false},
                     {"Time", 2, Align::right, true}};
    return table;
  }

  void add_reading(Table& table, const ReadingTaken& reading, const std::string& prefix) const {
    std::string detail = reading.source;
    if (!reading.pass) {
      detail = cat("Failed", detail.empty() ? "" : ". ", detail);
    }
    table.rows.push_back({{prefix + reading.title, reading.value, reading.limit,
                           when(reading.at)},
                          detail});
  }

  void proofs() {
    Table table = readings_table();
    for (const IsolationTaken& isolation : record_.isolations) {
      for (const ReadingTaken& reading : isolation.evidence) {
        add_reading(table, reading, cat(isolation.title, ": "));
      }
    }
    if (!table.rows.empty()) {
      heading("Readings that proved the isolations");
      put(std::move(table));
    }
  }

  void handled() {
    if (record_.handled.empty()) {
      return;
    }
    heading("Removed and refitted");
    Table table;
    table.columns = {{"What", 6, Align::left, false},
                     {"Removed", 2, Align::right, true},
                     {"Refitted", 2, Align::right, true}};
    for (const Handled& one : record_.handled) {
      std::string name = one.count > 1 ? cat(one.name, ", ", one.count) : one.name;
      if (one.replaced) {
        name += ", replaced";
      }
      table.rows.push_back({{name, when(one.removed),
                             one.refitted ? when(one.refitted) : "not"},
                            join(one.checks, ", ")});
    }
    put(std::move(table));
  }

  void checks() {
    if (record_.checks.empty()) {
      return;
    }
    heading("Checks");
    Table table;
    table.columns = {{"Check", 6, Align::left, false},
                     {"Done", 2, Align::right, true}};
    for (const CheckDone& check : record_.checks) {
      std::string done = check.at ? when(check.at) : "yes";
      table.rows.push_back({{check.title, check.done ? done : "not"}, ""});
    }
    put(std::move(table));
  }

  void tests() {
    if (record_.tests.empty()) {
      return;
    }
    heading("Tests after the work");
    Table table = readings_table();
    for (const ReadingTaken& test : record_.tests) {
      add_reading(table, test, "");
    }
    put(std::move(table));
  }

  void add_parts(const char* title, const std::vector<PartUsed>& parts) {
    if (parts.empty()) {
      return;
    }
    heading(title);
    Table table;
    table.columns = {{"Part", 4, Align::left, false},
                     {"Number", 2, Align::left, false},
                     {"Quantity", 1, Align::right, true}};
    for (const PartUsed& part : parts) {
      table.rows.push_back({{part.name, part.stock, decimal_text(part.quantity)}, part.note});
    }
    put(std::move(table));
  }

  void parts() {
    add_parts("Parts fitted", record_.work.parts);
    add_parts("Parts awaited", record_.awaited);
  }

  void time() {
    const TimeBar bar = time_bar(record_.work);
    if (bar.cells.empty()) {
      return;
    }
    heading("Time");
    page_.blocks.emplace_back(BarBlock{bar});
    say(recorded_times(record_.work), Tone::small);
    for (const std::string& remark : time_remarks(record_.work)) {
      say(remark, Tone::small);
    }
  }

  void close() {
    say(codes_prevail(), Tone::strong);
    if (!record_.journal_mark.empty()) {
      say(kept_in_journal(record_.work.job, record_.journal_mark), Tone::small);
    }
    const bool is_signed = !record_.signature.empty();
    page_.blocks.emplace_back(
        Signature{is_signed ? "Signed" : "Signature",
                  record_.signed_by.empty() ? record_.work.customer.name : record_.signed_by,
                  record_.signature, record_.signature_ratio});
  }

  const ServiceRecord& record_;
  Stamps stamps_;
  Page page_;
};

}  // namespace

Page service_page(const ServiceRecord& record) { return Builder(record).run(); }

}  // namespace kp::bill
