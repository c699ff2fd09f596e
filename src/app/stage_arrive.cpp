// Arrive: which machine, which complaint, whose, and what it will cost.
#include "app/desk.hpp"

#include <algorithm>

#include "app/offer.hpp"
#include "base/text.hpp"
#include "pack/plate.hpp"
#include "safety/guide_words.hpp"
#include "safety/strip.hpp"

namespace kp::app {

namespace {

safety::Caution taken_as_live() {
  safety::Caution caution;
  caution.word = safety::SignalWord::danger;
  caution.sentence = "Take it as live until you have proved it dead.";
  caution.sign = "W012";
  return caution;
}

void fill_machine(Snapshot& out, const Desk& desk) {
  const Local& local = *desk.local;
  out.stage_where = "which machine";
  out.heading = "Type the model from the plate";
  TextField field;
  field.id = "plate";
  field.label = "Model";
  field.value = local.plate;
  field.mono = true;
  field.changed = desk.action(Verb::plate_typed);
  for (const job::Model& model : desk.content->library.models) {
    const pack::Pack& pack = model.pack;
    const pack::PlateMatch match = pack::match_plate(pack, local.plate);
    Row row = row_of(pack.id, pack.about.title, Mark::choice);
    row.detail = pack.plates.empty() ? pack.about.summary
                                     : cat(pack.plates.front().range, " · ", pack.about.summary);
    row.drawing = pack.about.thumbnail;
    row.tap = desk.action(Verb::choose_machine, pack.id);
    if (local.machine == pack.id || (local.machine.empty() && match.fit >= pack::PlateFit::corrected)) {
      row.mark = Mark::chosen;
      field.hint = match.message;
    }
    if (!pack.plates.empty() && out.heading_detail.empty()) {
      out.heading_detail = pack.plates.front().where;
    }
    out.rows.push_back(row);
  }
  out.field = field;
  TextField serial;
  serial.id = "serial";
  serial.label = "Serial number";
  serial.value = local.serial;
  serial.mono = true;
  serial.changed = desk.action(Verb::set_word, "serial");
  out.card.texts.push_back(serial);
  out.card.id = "machine";
  out.card.cautions.push_back(taken_as_live());
  const auto chosen = std::find_if(out.rows.begin(), out.rows.end(),
                                   [](const Row& row) { return row.mark == Mark::chosen; });
  Button confirm = tap_button("This is the machine", desk.action(Verb::choose_machine));
  confirm.enabled = chosen != out.rows.end();
  if (chosen != out.rows.end()) {
    confirm.action.id = chosen->id;
    confirm.action.flag = true;  // confirmed, not only chosen
    confirm.action.text = local.plate;
  } else if (!local.plate.empty()) {
    out.card.refusal.push_back(
        cat("No layout here has a plate like \"", local.plate, "\". Choose by its features."));
  }
  out.card.primary = confirm;
  out.card.ways_out = {tap_button("No plate", desk.action(Verb::show_sheet, "features"))};
}

void fill_complaint(Snapshot& out, const Desk& desk) {
  const Local& local = *desk.local;
  out.stage_where = "what is wrong";
  out.heading = "What does the customer say?";
  for (const pack::Symptom& symptom : desk.pack()->symptoms) {
    Row row = row_of(symptom.id, symptom.title,
                     local.symptom == symptom.id ? Mark::chosen : Mark::choice);
    row.tap = desk.action(Verb::choose_complaint, symptom.id);
    out.rows.push_back(row);
  }
  out.card.id = "complaint";
  out.card.sentence = "Choose the complaint.";
  out.card.how = "It decides which parts are suspected first.";
  TextField words;
  words.id = "words";
  words.label = "In the customer's own words";
  words.value = local.words;
  words.changed = desk.action(Verb::choose_complaint);
  out.card.texts.push_back(words);
  Button confirm = tap_button("Note the complaint", desk.action(Verb::choose_complaint));
  confirm.enabled = !local.symptom.empty();
  confirm.action.id = local.symptom;
  confirm.action.text = local.words;
  confirm.action.flag = true;
  out.card.primary = confirm;
}

void fill_customer(Snapshot& out, const Desk& desk) {
  const Local& local = *desk.local;
  out.stage_where = "whose machine";
  out.heading = "Who is the customer?";
  out.heading_detail = "It stands on the quote, the invoice and the record.";
  const auto field = [&](const char* id, const char* label, const std::string& value) {
    TextField text;
    text.id = id;
    text.label = label;
    text.value = value;
    text.changed = desk.action(Verb::note_customer, id);
    out.card.texts.push_back(text);
  };
  field("name", "Name", local.name);
  field("address", "Address", local.address);
  field("contact", "Telephone or mail", local.contact);
  out.card.id = "customer";
  Button confirm = tap_button("Note the customer", desk.action(Verb::note_customer));
  confirm.enabled = !trim(local.name).empty();
  confirm.action.flag = true;
  out.card.primary = confirm;
  Button later = tap_button("Later", desk.action(Verb::note_customer, "later"));
  out.card.ways_out = {later};
}

void fill_quote(Snapshot& out, const Desk& desk) {
  out.stage_where = "quote";
  const Offer offer = make_offer(desk);
  out.heading = "Quote before the work";
  out.heading_detail = offer.basis;
  for (const bill::QuoteLine& line : offer.quote.lines) {
    Row row = row_of(line.title, line.title, Mark::none);
    row.detail = line.detail;
    row.figure = offer.amounts(line.low_minor, line.high_minor);
    out.rows.push_back(row);
  }
  Row total = row_of("total", "Together, tax included", Mark::none);
  total.figure = offer.range;
  out.rows.push_back(total);
  out.card.id = "quote";
  out.card.sentence = cat("Tell the customer: ", offer.range, ".");
  out.card.how = "The invoice says so where it comes to more.";
  Button agreed = tap_button("Quote agreed", desk.action(Verb::give_quote));
  agreed.action.flag = true;
  out.card.primary = agreed;
  out.card.ways_out = {tap_button("Not agreed", desk.action(Verb::give_quote)),
                       tap_button("Show the paper", desk.action(Verb::hand_over, "quote"))};
}

}  // namespace

void fill_arrive(Snapshot& out, const Desk& desk) {
  const job::State& state = *desk.state;
  if (state.model < 0) {
    fill_machine(out, desk);
  } else if (!state.complaint.said()) {
    fill_complaint(out, desk);
  } else if (state.customer.name.empty() && !state.customer.erased && !desk.local->customer_skipped && !desk.practice()) {
    fill_customer(out, desk);
  } else if (!state.quoted && !desk.practice() && desk.content->has_rates) {
    fill_quote(out, desk);
  } else {
    const bool found = state.safety.prepared.holds();
    out.stage_where = found ? "ready" : "supply as found";
    out.heading = found ? "Ready to make it safe" : "Look first, touch nothing";
    Row machine = row_of("machine", desk.pack()->about.title, Mark::done);
    machine.detail = state.machine.plate;
    machine.drawing = desk.pack()->about.thumbnail;
    out.rows.push_back(machine);
    const int symptom = desk.pack()->symptom(state.complaint.symptom);
    if (symptom >= 0) {
      out.rows.push_back(
          row_of("complaint", desk.pack()->symptoms[to_size(symptom)].title, Mark::done));
    }
    if (!found) {
      fill_todo_card(out, desk, safety::todo_of(safety::TodoKind::prepare, state.safety));
      return;
    }
    out.card.id = "ready";
    out.card.cautions.push_back(taken_as_live());
    out.card.sentence = "Make it safe before anything else.";
    out.card.primary = tap_button("Make safe", desk.action(Verb::go_stage, "make-safe"));
  }
}

}  // namespace kp::app
