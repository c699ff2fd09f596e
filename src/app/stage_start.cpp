// The start page: what the tool is, whom it obeys, the jobs that are here, a new one.
#include "app/desk.hpp"

#include "base/text.hpp"

namespace kp::app {

namespace {

Action bare(Verb verb, std::uint32_t revision) {
  Action action;
  action.verb = verb;
  action.revision = revision;
  return action;
}

}  // namespace

void fill_start(Snapshot& out, const Content& content, const std::vector<Row>& jobs,
                std::uint32_t revision) {
  out.page = Page::start;
  out.revision = revision;
  out.title = "Kickplate";
  out.heading = "Kickplate";
  out.heading_detail = "Safe repair of domestic dishwashers, from plate to bill.";
  out.rows = jobs;
  for (const FileFindings& file : content.faults) {
    for (const Finding& finding : file.findings.all()) {
      Row row = row_of(cat("fault-", to_int(out.rows.size())),
                       cat(file.file, ": ", finding.text()), Mark::failed);
      row.group = "Left out because of faults";
      out.rows.push_back(row);
    }
  }
  out.card.id = "start";
  safety::Caution caution;
  caution.word = safety::SignalWord::warning;
  caution.sentence = "Follow local codes. Leave licensed work to licensed people.";
  out.card.cautions.push_back(caution);
  out.card.primary = tap_button("New job", bare(Verb::new_job, revision));
  out.card.primary->enabled = !content.library.models.empty();
  out.card.secondary.push_back(tap_button("Practice", bare(Verb::new_practice, revision)));
  out.card.ways_out = {tap_button("Demo job", bare(Verb::open_demo, revision)),
                       tap_button("Settings", [&] {
                         Action sheet = bare(Verb::show_sheet, revision);
                         sheet.id = "settings";
                         return sheet;
                       }())};
}

}  // namespace kp::app
