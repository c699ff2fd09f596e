// Bill: the time as a bar, the lines, the sum; sign and hand over.
#include "app/desk.hpp"

#include "app/papers.hpp"
#include "base/text.hpp"
#include "bill/bar.hpp"
#include "job/bind_bill.hpp"

namespace kp::app {

namespace {

BillView view_of(const Desk& desk) {
  BillView view;
  const bill::WorkRecord work = job::bind_work(*desk.state, desk.context());
  const bill::TimeBar bar = bill::time_bar(work);
  for (const bill::BarCell& cell : bar.cells) {
    view.bar.push_back(TimePiece{std::string(bill::segment_word(cell.kind)), cell.fraction,
                                 static_cast<int>(cell.kind)});
  }
  const bill::Invoice invoice = invoice_of(desk);
  for (const bill::Line& line : invoice.lines) {
    Row row = row_of(cat("line-", to_int(view.lines.size())), line.title, Mark::none);
    row.detail = line.detail;
    row.figure = minor_text(line.net_minor, invoice.currency);
    view.lines.push_back(row);
  }
  for (const bill::TaxGroup& tax : invoice.taxes) {
    if (tax.tax_minor == 0) {
      continue;
    }
    Row row = row_of(cat("tax-", to_int(view.lines.size())), tax.name, Mark::none);
    row.detail = tax.applies;
    row.figure = minor_text(tax.tax_minor, invoice.currency);
    view.lines.push_back(row);
  }
  view.total_label = "To pay";
  view.total = cat(minor_text(invoice.totals.due_minor, invoice.currency), " ",
                   invoice.currency.code);
  return view;
}

void fill_hand_over(Snapshot& out, const Desk& desk) {
  Card& card = out.card;
  const bool invoice = !desk.practice() && desk.content->has_rates;
  card.id = "hand-over";
  card.sentence = invoice ? "Hand over invoice and record." : "Hand over the service record.";
  card.how = "Keep your copy: export the job when you are done.";
  Action all = desk.action(Verb::hand_over, "all");
  card.primary = tap_button(invoice ? "Hand over invoice and record" : "Hand over the record", all);
  for (const Paper paper : papers_of(desk)) {
    const std::string& word = paper_words()[to_size(static_cast<int>(paper))];
    Row pdf = row_of(cat(word, ".pdf"), cat(word, ", PDF"), Mark::choice);
    pdf.tap = desk.action(Verb::hand_over, cat(word, ".pdf"));
    Row html = row_of(cat(word, ".html"), cat(word, ", page to print"), Mark::choice);
    html.tap = desk.action(Verb::hand_over, cat(word, ".html"));
    card.choices.push_back(pdf);
    card.choices.push_back(html);
  }
  card.ways_out = {tap_button("Correct the time", desk.action(Verb::show_sheet, "time")),
                   tap_button("Export the job", desk.action(Verb::export_journal)),
                   tap_button("All jobs", desk.action(Verb::leave_job))};
  if (!desk.state->handed_over.empty()) {
    card.ways_out[0] = tap_button("Another visit", desk.action(Verb::next_visit));
  }
}

}  // namespace

void fill_bill(Snapshot& out, const Desk& desk) {
  const job::State& state = *desk.state;
  out.stage_where = lower(job::outcome_title(state.outcome));
  if (!desk.practice() && desk.content->has_rates) {
    out.bill = view_of(desk);
    if (state.quoted && state.quote.accepted) {
      out.stage_where = cat("quoted ", bill::range_text(state.quote.low_minor,
                                                        state.quote.high_minor,
                                                        desk.content->rates.currency));
    }
  } else {
    out.heading = std::string(job::outcome_title(state.outcome));
    out.heading_detail = "A practice job has no invoice. The record shows what was done.";
    for (const auto& step : state.steps) {
      Row row = row_of(cat("step-", integer_text(step.stamp.n)), step.body.what, Mark::done);
      row.figure = clock_text(step.stamp.at);
      out.rows.push_back(row);
    }
  }
  if (state.signature.body.strokes.empty() && !desk.practice() && desk.local->sheet != "unsigned") {
    out.card.id = "sign";
    out.card.sentence = "Sign here";
    out.card.how = state.customer.name;
    out.card.signature = true;
    out.card.primary = tap_button("Signed", desk.action(Verb::sign));
    out.card.ways_out = {tap_button("Correct the time", desk.action(Verb::show_sheet, "time")),
                         tap_button("No signature", desk.action(Verb::sign, "none"))};
    return;
  }
  fill_hand_over(out, desk);
}

}  // namespace kp::app
