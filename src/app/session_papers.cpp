// Records that need figures, and the papers that leave the program.
#include "app/offer.hpp"
#include "app/papers.hpp"
#include "app/session.hpp"
#include "base/sha256.hpp"
#include "base/text.hpp"
#include "journal/writer.hpp"

namespace kp::app {

job::Body Session::quote_body(bool accepted) {
  const Offer offer = make_offer(desk());
  return job::QuoteGiven{offer.quote.low_minor, offer.quote.high_minor, offer.quote.currency.code,
                         accepted};
}

std::optional<job::Body> Session::swap_body(const Action& action, const pack::Pack* pack) {
  const int index = pack == nullptr ? -1 : pack->part(action.id);
  if (index < 0) {
    return std::nullopt;
  }
  const pack::Part& part = pack->parts[to_size(index)];
  job::PartSwapped body;
  body.part = part.id;
  if (action.flag) {
    body.mended = action.text;
    return body;
  }
  body.stock = local_.stock.empty() ? part.stock : local_.stock;
  body.price_minor = part.price_minor;
  if (!local_.price.empty()) {
    const auto currency = currency_of(pack->currency);
    const auto price = parse_minor(local_.price, currency.value_or(Currency{}));
    if (!price.has_value() || price.value() < 0) {
      local_.refusal = {price.has_value() ? "Enter a price of 0 or more." : price.error().text()};
      dirty_ = true;
      return std::nullopt;
    }
    body.price_minor = price.value();
  }
  local_.stock.clear();
  local_.price.clear();
  return body;
}

std::string Session::fault_of(const std::string& part, const std::string& mend) const {
  if (state_.model < 0) {
    return {};
  }
  const pack::Pack& pack = content_.library.models[to_size(state_.model)].pack;
  if (const int fault = pack.fault(mend); fault >= 0) {
    return pack.faults[to_size(fault)].title;
  }
  if (finder_ && finder_model_ == state_.model) {
    // The likeliest fault of that part, after the readings.
    const job::Finding& finding = finder_->finding();
    const std::vector<double>& share = finder_->advice().belief.fault;
    double most = 0;
    std::string title;
    for (std::size_t i = 0; i < finding.faults.size(); ++i) {
      if (finding.faults[i] < 0 || share[i] <= most) continue;
      const pack::Fault& fault = pack.faults[to_size(finding.faults[i])];
      if (pack.parts[to_size(fault.part)].id != part) continue;
      most = share[i];
      title = fault.title;
    }
    if (!title.empty()) return title;
  }
  const int symptom = pack.symptom(state_.complaint.symptom);
  if (symptom < 0) {
    return {};
  }
  for (const pack::Suspect& suspect : pack.symptoms[to_size(symptom)].suspects) {
    if (pack.parts[to_size(suspect.part)].id == part) {
      return suspect.fault;
    }
  }
  return {};
}

void Session::offer(const std::vector<std::string>& papers, std::vector<job::Body>& records) {
  const Desk now = desk();
  for (const std::string& name : papers) {
    const std::size_t dot = name.find('.');
    const std::string word = name.substr(0, dot);
    const bool html = dot != std::string::npos && name.substr(dot) == ".html";
    const auto& words = paper_words();
    for (int index = 0; index < to_int(words.size()); ++index) {
      if (words[to_size(index)] != word) {
        continue;
      }
      const auto document = document_of(now, static_cast<Paper>(index), tip_, html);
      if (!document.has_value()) {
        local_.refusal.push_back(document.error().text());
        continue;
      }
      outside_.share->offer(document.value());
      records.emplace_back(
          job::HandedOver{document.value().name, sha256_hex(document.value().bytes)});
    }
  }
}

void Session::hand_over(const std::string& id) {
  if (!pending_.empty()) {
    return;
  }
  local_.refusal.clear();
  dirty_ = true;
  std::vector<std::string> papers;
  if (id == "all") {
    for (const Paper paper : papers_of(desk())) {
      papers.push_back(cat(paper_words()[to_size(static_cast<int>(paper))], ".pdf"));
    }
  } else {
    papers.push_back(id);
  }
  const bool quote = id.rfind("quote", 0) == 0;
  const bool invoice = id == "all" || id.rfind("invoice", 0) == 0;
  if (invoice && state_.mode == job::Mode::field && content_.has_rates &&
      state_.invoice.body.number.empty()) {
    // The number and the sum become a record first; the paper is made from what is durable.
    const bill::Invoice draft = invoice_of(desk());
    after_issue_ = papers;
    if (!propose(job::InvoiceIssued{state_.job, draft.totals.due_minor, draft.currency.code})) {
      after_issue_.clear();
    }
    return;
  }
  std::vector<job::Body> records;
  offer(papers, records);
  if (!quote && !records.empty() && trouble_.empty()) {
    write(records);
  }
}

void Session::go_on() {
  if (!pending_.empty()) {
    return;
  }
  if (!after_issue_.empty() && !state_.invoice.body.number.empty()) {
    const std::vector<std::string> papers = std::move(after_issue_);
    after_issue_.clear();
    std::vector<job::Body> records;
    offer(papers, records);
    if (!records.empty()) {
      write(records);
    }
    return;
  }
  if (!demo_.empty()) {
    const job::Body next = std::move(demo_.front());
    demo_.pop_front();
    if (!propose(next, true)) {
      demo_.clear();
    }
  }
}

void Session::note_unstored(std::string line) { unstored_.push_back(std::move(line)); }

port::Document Session::rest_of_journal() const {
  port::Document document;
  document.name = cat("job-", state_.job, "-rest.txt");
  document.mime = "text/plain";
  document.bytes = cat("What belongs to job ", state_.job, " and is not in its journal.\n");
  const std::int64_t last = to_int(lines_.size());
  if (!unread_.empty()) {
    document.bytes += cat("\nLines ", last + 1, " to ", last + to_int(unread_.size()),
                          " are stored and cannot be believed. ", trouble_, "\n\n",
                          journal::to_file(unread_));
  }
  if (!unstored_.empty()) {
    document.bytes += cat("\nLines ", last + 1, " to ", last + to_int(unstored_.size()),
                          " are not stored, so what they say is not confirmed. ", unsaved_, "\n\n",
                          journal::to_file(unstored_));
  }
  return document;
}

void Session::export_journal() {
  if (!open_) {
    return;
  }
  port::Document document;
  document.name = cat("job-", state_.job, ".txt");
  document.mime = "text/plain";
  document.bytes = journal::to_file(lines_);
  outside_.share->offer(document);
  if (!unread_.empty() || !unstored_.empty()) {
    outside_.share->offer(rest_of_journal());
  }
  unsure_.exported = true;
  dirty_ = true;
}

}  // namespace kp::app
