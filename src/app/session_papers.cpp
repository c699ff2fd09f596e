// Records that need figures, and the papers that leave the program.
#include <algorithm>
#include <utility>

#include "app/offer.hpp"
#include "app/papers.hpp"
#include "app/session.hpp"
#include "base/sha256.hpp"
#include "base/text.hpp"
#include "bill/stored.hpp"
#include "journal/writer.hpp"

namespace kp::app {

job::Body Session::quote_body(const Action& action) {
  const Desk now = desk();
  bill::StoredQuote paper;
  paper.rates = bill::write_rates(content_.rates);
  if (action.id == "as-it-stands") {
    Findings findings;
    paper.quote = bill::quote_as_it_stands(invoice_as_it_stands(now, findings).invoice, now.now.at);
  } else {
    paper.quote = make_offer(now).quote;
  }
  const bill::Quote& quote = paper.quote;
  return job::QuoteGiven{quote.low_minor, quote.high_minor, quote.currency.code, action.flag,
                         bill::write_paper(paper)};
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

void Session::offer(const std::vector<std::string>& papers) {
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
      const auto document = document_of(now, static_cast<Paper>(index), lines_, html);
      if (!document.has_value()) {
        local_.refusal.push_back(document.error().text());
        continue;
      }
      const int number = outside_.share->offer(document.value());
      // A quote that nobody has agreed to is shown, not handed over.
      if (trouble_.empty() && (static_cast<Paper>(index) != Paper::quote || state_.agreed)) {
        const std::string sum = sha256_hex(document.value().bytes);
        const bool invoice = static_cast<Paper>(index) == Paper::invoice;
        offered_[number] = {
            job::PaperIssued{word, invoice ? state_.invoice.body.number : std::string(),
                             mark_of(now, static_cast<Paper>(index), lines_), sum},
            job::HandedOver{document.value().name, sum, false}};
      }
    }
  }
}

bool Session::take_handed() {
  bool changed = false;
  for (const port::Handed& handed : outside_.share->take_handed()) {
    changed = true;
    const auto found = offered_.find(handed.offer);
    if (handed.how == port::Handing::failed) {
      if (!handed.why.empty()) {
        local_.refusal = {handed.why};
      }
    } else if (found != offered_.end()) {
      found->second.handed.completed = handed.how == port::Handing::completed;
      const job::PaperIssued& paper = found->second.paper;
      const bool known = std::any_of(
          state_.papers.begin(), state_.papers.end(), [&](const auto& one) {
            return one.body.paper == paper.paper && one.body.sha256 == paper.sha256;
          });
      if (!known) {
        handed_.emplace_back(paper);   // the same paper once more is no other paper
      }
      handed_.emplace_back(found->second.handed);
    }
  }
  return changed;
}

void Session::write_handed() {
  if (handed_.empty() || !pending_.empty() || !open_ || !trouble_.empty()) {
    return;
  }
  // None of them asks for another, so each is decided by the state as it stands.
  std::vector<job::Body> all;
  for (const job::Body& body : std::exchange(handed_, {})) {
    const job::Decision decision =
        job::decide(state_, body, stamp_now(state_.last_n + 1), context());
    for (const job::Body& event : decision.events) {
      if (all.empty() || !std::holds_alternative<job::StandsOn>(event)) {
        all.push_back(event);
      }
    }
  }
  write(all);
}

/// The invoice with all its lines becomes a record first; the paper is made from what is durable.
void Session::issue(const std::vector<std::string>& papers) {
  Findings findings;
  const bill::StoredInvoice paper = invoice_as_it_stands(desk(), findings);
  if (paper.invoice.draft) {
    for (const Finding& finding : findings.all()) {
      local_.refusal.push_back(finding.text());
    }
    if (findings.all().empty()) {
      local_.refusal.emplace_back("End the work first.");
    }
    return;
  }
  const bill::Invoice& invoice = paper.invoice;
  after_issue_ = papers;
  if (!propose(job::InvoiceIssued{invoice.number, invoice.totals.gross_minor,
                                  invoice.currency.code, bill::write_paper(paper)})) {
    after_issue_.clear();
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
    for (const Paper paper : papers_to_hand_over(desk())) {
      papers.push_back(cat(paper_words()[to_size(static_cast<int>(paper))], ".pdf"));
    }
  } else {
    papers.push_back(id);
  }
  const bool invoice = id == "all" || id.rfind("invoice", 0) == 0;
  if (invoice && state_.mode == job::Mode::field && content_.has_rates &&
      state_.invoice.body.number.empty()) {
    issue(papers);
    return;
  }
  offer(papers);
}

void Session::go_on() {
  if (!pending_.empty()) {
    return;
  }
  if (!after_issue_.empty() && !state_.invoice.body.number.empty()) {
    offer(std::exchange(after_issue_, {}));
    return;
  }
  if (!queued_.empty()) {
    const job::Body next = std::move(queued_.front());
    queued_.pop_front();
    if (!propose(next, true)) {
      queued_.clear();
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
  (void)outside_.share->offer(document);
  if (!unread_.empty() || !unstored_.empty()) {
    (void)outside_.share->offer(rest_of_journal());
  }
  unsure_.exported = true;
  dirty_ = true;
}

}  // namespace kp::app
