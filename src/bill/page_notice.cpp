#include "base/text.hpp"
#include "bill/documents.hpp"
#include "bill/papers.hpp"

namespace kp::bill {
namespace {

std::string machine_words(const Machine& machine) {
  std::string words(trim(cat(machine.maker, " ", machine.model)));
  if (!machine.serial.empty()) {
    words += cat(", serial ", machine.serial);
  }
  return words;
}

const char* tag_word(EnergyKind energy) {
  switch (energy) {
    case EnergyKind::electricity:
      return "DO NOT SWITCH ON";
    case EnergyKind::water:
      return "DO NOT OPEN THE VALVE";
    case EnergyKind::other:
      return "DO NOT RESTORE";
  }
  return "";
}

std::string awaited_words(const ServiceRecord& record) {
  std::vector<std::string> names;
  for (const PartUsed& part : record.awaited) {
    names.push_back(part.stock.empty() ? part.name : cat(part.name, " ", part.stock));
  }
  return join(names, ", ");
}

bool left_isolated(const IsolationTaken& isolation) {
  return isolation.isolated && !isolation.restored;
}

Panel tag_for(const ServiceRecord& record, const IsolationTaken& isolation) {
  Panel panel;
  panel.sign =
      isolation.energy == EnergyKind::water ? Sign::do_not_open : Sign::do_not_switch;
  panel.word = tag_word(isolation.energy);
  panel.lines = {"The work on this supply is not finished. People can be hurt.",
                 "Only the person named here takes this tag away."};
  panel.tag = true;
  const auto fact = [&panel](const char* title, const std::string& text) {
    if (!trim(text).empty()) {
      panel.facts.emplace_back(title, text);
    }
  };
  fact("Isolated", cat(isolation.title, isolation.how.empty() ? "" : ": ", isolation.how));
  fact("Since", day_and_time(*isolation.isolated));
  fact("By", isolation.by.empty() ? record.work.technician : isolation.by);
  fact("Shop", cat(record.shop.name, record.shop.phone.empty() ? "" : ", ", record.shop.phone));
  fact("Machine", machine_words(record.work.machine));
  fact("Place", record.work.machine.place);
  fact("Waiting for", awaited_words(record));
  fact("Job", record.work.job);
  return panel;
}

void add_failed_tests(const ServiceRecord& record, Page& page) {
  Table table;
  table.columns = {{"Test", 5, Align::left, false},
                   {"Value", 2, Align::right, true},
                   {"Limit", 3, Align::right, false}};
  table.dense = true;
  for (const ReadingTaken& test : record.tests) {
    if (!test.pass) {
      table.rows.push_back({{test.title, test.value, test.limit}, test.source});
    }
  }
  if (!table.rows.empty()) {
    page.blocks.emplace_back(Heading{"Failed tests"});
    page.blocks.emplace_back(std::move(table));
  }
}

void add_duties(const ServiceRecord& record, Page& page) {
  page.blocks.emplace_back(Heading{"What you must do"});
  const auto say = [&page](std::string text) {
    page.blocks.emplace_back(Paragraph{std::move(text), Tone::plain});
  };
  for (const IsolationTaken& isolation : record.isolations) {
    if (left_isolated(isolation)) {
      say(cat("Leave this as it is: ", lower(isolation.title),
              isolation.how.empty() ? "" : ", ", isolation.how, "."));
    }
  }
  say("Tell everybody in the house.");
  say("Let only a qualified person repair the machine or put it back into use.");
  say("Call the shop if you have a question.");
}

}  // namespace

Page tag_page(const ServiceRecord& record) {
  Page page;
  page.size = record.page;
  page.title = cat("Tags ", record.number);
  page.footer = cat(record.shop.name, ", ", page.title);
  page.made = record.closed;
  for (const IsolationTaken& isolation : record.isolations) {
    if (left_isolated(isolation)) {
      page.blocks.emplace_back(tag_for(record, isolation));
    }
  }
  if (page.blocks.empty()) {
    page.blocks.emplace_back(
        Paragraph{"No isolation is on record. Isolate the machine before you leave.",
                  Tone::notice});
  } else {
    page.blocks.emplace_back(
        Paragraph{"Cut along the dashed line. Hang each tag at the place it names.", Tone::small});
  }
  page.blocks.emplace_back(Paragraph{codes_prevail(), Tone::small});
  return page;
}

Page notice_page(const ServiceRecord& record) {
  Page page;
  page.size = record.page;
  page.title = cat("Notice ", record.number);
  page.footer = cat(record.shop.name, ", ", page.title);
  page.made = record.closed;
  Letterhead head = letterhead(record.shop);
  head.title = "Not to be used";
  head.number = record.number;
  head.facts.emplace_back("Date", day_and_time(record.closed));
  head.facts.emplace_back("Job", record.work.job);
  head.facts.emplace_back("Technician", record.work.technician);
  page.blocks.emplace_back(head);
  Panel panel;
  panel.sign = Sign::warning;
  panel.word = "WARNING";
  panel.lines = {"Do not use this machine."};
  if (!trim(record.hazard).empty()) {
    panel.lines.push_back(record.hazard);
  }
  page.blocks.emplace_back(std::move(panel));
  page.blocks.emplace_back(who_and_what(record.work.customer, record.work.machine));
  page.blocks.emplace_back(Heading{"Complaint"});
  page.blocks.emplace_back(Paragraph{record.work.complaint, Tone::plain});
  for (const std::string& remark : record.remarks) {
    page.blocks.emplace_back(Paragraph{remark, Tone::plain});
  }
  add_failed_tests(record, page);
  add_duties(record, page);
  page.blocks.emplace_back(Paragraph{codes_prevail(), Tone::strong});
  page.blocks.emplace_back(
      Signature{"Received", record.signed_by.empty() ? record.work.customer.name : record.signed_by,
                record.signature, record.signature_ratio});
  return page;
}

std::string file_name(const Page& page) {
  std::string name;
  for (const char c : lower(page.title)) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    if (plain) {
      name += c;
    } else if (!name.empty() && name.back() != '-') {
      name += '-';
    }
  }
  while (!name.empty() && name.back() == '-') {
    name.pop_back();
  }
  return name.empty() ? std::string("paper") : name;
}

}  // namespace kp::bill
