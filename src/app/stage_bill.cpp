// Bill: the time as a bar, the lines, the sum; sign and hand over.
#include "app/desk.hpp"

#include "app/papers.hpp"
#include "base/text.hpp"
#include "bill/bar.hpp"
#include "bill/figures.hpp"
#include "bill/quote.hpp"
#include "job/paper.hpp"
#include "job/personal.hpp"

namespace kp::app {

namespace {

bool is_issued(const Desk& desk) { return !desk.state->invoice.body.number.empty(); }
bool is_signed(const Desk& desk) { return desk.state->signature.stamp.n != 0; }

BillView view_of(const bill::StoredInvoice& paper) {
  BillView view;
  bill::WorkRecord times;
  times.segments = paper.segments;
  times.corrections = paper.corrections;
  const bill::TimeBar bar = bill::time_bar(times);
  for (const bill::BarCell& cell : bar.cells) {
    view.bar.push_back(TimePiece{std::string(bill::segment_word(cell.kind)), cell.fraction,
                                 static_cast<int>(cell.kind)});
  }
  const bill::Invoice& invoice = paper.invoice;
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
  view.total = bill::amount_text(invoice.totals.due_minor, invoice.currency);
  return view;
}

/// An invoice of which number and sum are all that was kept.
BillView view_of_unrecorded(const job::InvoiceIssued& issued) {
  BillView view;
  view.lines.push_back(row_of("line-0", "Lines: not recorded", Mark::none));
  view.total_label = "Total";
  view.total = bill::amount_text(
      issued.total_minor,
      currency_of(issued.currency).value_or(Currency{issued.currency, 2}));
  return view;
}

std::string handed_text(const job::Recorded<job::HandedOver>& one) {
  return cat(one.body.document, one.body.completed ? ": handed over " : ": offered ",
             clock_text(one.stamp.at));
}

Button way(const char* label, Action action) { return tap_button(label, std::move(action)); }

void add_choices(Card& card, const Desk& desk, Paper paper) {
  const std::string& word = paper_words()[to_size(static_cast<int>(paper))];
  Row pdf = row_of(cat(word, ".pdf"), cat(word, ", PDF"), Mark::choice);
  pdf.tap = desk.action(Verb::hand_over, cat(word, ".pdf"));
  Row html = row_of(cat(word, ".html"), cat(word, ", page to print"), Mark::choice);
  html.tap = desk.action(Verb::hand_over, cat(word, ".html"));
  card.choices.push_back(pdf);
  card.choices.push_back(html);
}

void fill_hand_over(Snapshot& out, const Desk& desk) {
  Card& card = out.card;
  const bool invoice = papers_to_hand_over(desk).front() == Paper::invoice;
  card.id = "hand-over";
  card.sentence = invoice ? "Hand over invoice and record." : "Hand over the service record.";
  card.how = "Keep your copy: export the job when you are done.";
  Action all = desk.action(Verb::hand_over, "all");
  card.primary = tap_button(invoice ? "Hand over invoice and record" : "Hand over the record", all);
  for (const auto& one : desk.state->handed_over) {
    card.facts.push_back(handed_text(one));
  }
  for (const Paper paper : papers_of(desk)) {
    add_choices(card, desk, paper);
  }
  const bool closed = is_signed(desk) || is_issued(desk) || !desk.state->handed_over.empty();
  card.ways_out = {closed ? way("Another visit", desk.action(Verb::next_visit))
                          : way("Correct the time", desk.action(Verb::show_sheet, "time")),
                   way("Export the job", desk.action(Verb::export_journal)),
                   way("All jobs", desk.action(Verb::leave_job))};
}

/// The customer is asked before the sum passes what was agreed. False: it does not.
bool fill_agreement(Snapshot& out, const Desk& desk, const bill::Invoice& invoice) {
  const job::State& state = *desk.state;
  const std::int64_t gross = invoice.totals.gross_minor;
  if (is_issued(desk) || job::is_within_agreement(state, gross)) {
    return false;
  }
  Card& card = out.card;
  card.id = "agree-more";
  card.sentence =
      cat("Ask the customer to agree to ", bill::amount_text(gross, invoice.currency), ".");
  card.how = cat("Agreed was at most ",
                 bill::amount_text(state.agreed->body.high_minor, invoice.currency), ".");
  if (const std::int64_t before = job::billed_under_agreement(state); before != 0) {
    card.how += cat(" Billed of it: ", bill::amount_text(before, invoice.currency), ".");
  }
  card.why = "A sum above the agreed one is not billed before the customer has agreed to it.";
  Action agreed = desk.action(Verb::give_quote, "as-it-stands");
  Action refused = agreed;
  agreed.flag = true;
  card.primary = tap_button("The customer agrees", agreed);
  if (state.quoted && !state.quote.accepted) {
    card.facts.emplace_back("The customer did not agree. Correct the time, or ask again.");
  }
  add_choices(card, desk, Paper::record);
  card.ways_out = {way("Not agreed", refused),
                   way("Correct the time", desk.action(Verb::show_sheet, "time")),
                   way("All jobs", desk.action(Verb::leave_job))};
  return true;
}

void fill_sign(Snapshot& out, const Desk& desk) {
  out.card.id = "sign";
  out.card.sentence = "Sign here";
  out.card.how = job::shown(desk.state->customer.name, desk.state->customer.erased);
  out.card.signature = true;
  out.card.primary = tap_button("Signed", desk.action(Verb::sign));
  out.card.ways_out = {way("Correct the time", desk.action(Verb::show_sheet, "time")),
                       way("No signature", desk.action(Verb::sign, "none"))};
}

}  // namespace

void fill_bill(Snapshot& out, const Desk& desk) {
  const job::State& state = *desk.state;
  out.stage_where = lower(job::outcome_title(state.outcome));
  const bool drafts = !desk.practice() && desk.content->has_rates;
  if (const auto issued = issued_invoice(desk)) {
    out.bill = view_of(*issued);
  } else if (is_issued(desk)) {
    out.bill = view_of_unrecorded(state.invoice.body);
  } else if (drafts) {
    Findings findings;
    const bill::StoredInvoice paper = invoice_as_it_stands(desk, findings);
    out.bill = view_of(paper);
    if (state.agreed) {
      out.stage_where = cat("quoted ", bill::range_text(state.agreed->body.low_minor,
                                                        state.agreed->body.high_minor,
                                                        desk.content->rates.currency));
    }
    if (fill_agreement(out, desk, paper.invoice)) {
      return;
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
  if (!is_signed(desk) && !desk.practice() && desk.local->sheet != "unsigned") {
    fill_sign(out, desk);
    return;
  }
  fill_hand_over(out, desk);
}

}  // namespace kp::app
