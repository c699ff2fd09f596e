#include <algorithm>

#include "base/text.hpp"
#include "bill/stored.hpp"
#include "bill/stored_words.hpp"
#include "data/reader.hpp"

namespace kp::bill {
namespace {

// Wider than what a card and a record are held to, and narrow enough that no sum overflows.
constexpr std::int64_t kMostMinor = 100'000'000'000'000;
constexpr std::int64_t kMostOfOne = 20'000'000'000;  // a price in minor units, a quantity, a percentage
constexpr std::int64_t kMostDenominator = 1'000'000;
constexpr std::int64_t kMostMs = 1'000'000'000'000;
constexpr std::size_t kMostItems = 1'000;

Ratio ratio_in(data::Reader& r, const char* name) {
  const std::string text = r.text(name);
  const std::size_t slash = text.find('/');
  const auto num = parse_integer(text.substr(0, slash));
  const auto den = slash == std::string::npos ? std::optional<std::int64_t>(1)
                                              : parse_integer(text.substr(slash + 1));
  if (!num || !den || *den < 1 || *den > kMostDenominator || *num > kMostOfOne * *den ||
      *num < -kMostOfOne * *den) {
    if (r.has(name)) {
      r.fault("bad-fraction", cat(name, " \"", text, "\" is no fraction in range"),
              "Look for an unchanged copy.", name);
    }
    return Ratio{0, 1};
  }
  return Ratio{*num, *den};
}

Moment time_in(data::Reader& r, const char* name) {
  const std::string text = r.text(name);
  const auto moment = parse_rfc3339(text);
  if (!moment) {
    if (r.has(name)) {
      r.fault("bad-time", cat(name, " is no time: ", moment.error().what),
              "Look for an unchanged copy.", name);
    }
    return {};
  }
  return *moment;
}

std::int64_t minor_in(data::Reader& r, const char* name) {
  return r.integer(name, -kMostMinor, kMostMinor);
}

template <class Enum>
Enum word_in(data::Reader& r, const char* name, const std::vector<std::string>& words) {
  return static_cast<Enum>(std::max(0, r.choice(name, words)));
}

template <class T, class Read>
std::vector<T> list_in(data::Reader& r, const char* name, const Read& read) {
  std::vector<data::Reader> items = r.list(name);
  std::vector<T> out;
  if (items.size() > kMostItems) {
    r.fault("too-many", cat(name, " has more than ", to_int(kMostItems), " items"),
            "Look for an unchanged copy.", name);
    return out;
  }
  for (data::Reader& item : items) {
    out.push_back(read(item));
    item.done();
  }
  return out;
}

Shop shop_in(data::Reader& paper) {
  Shop shop;
  if (auto r = paper.object("shop")) {
    shop.name = r->text("name");
    shop.address = r->texts_or_empty("address");
    shop.country = r->text_or("country", "");
    shop.phone = r->text_or("phone", "");
    shop.email = r->text_or("email", "");
    shop.licence = r->text_or("licence", "");
    shop.legal_id = r->text_or("legalId", "");
    shop.tax_id = r->text_or("taxId", "");
    r->done();
  }
  return shop;
}

Party party_in(data::Reader& paper) {
  Party party;
  if (!paper.has("customer")) {
    party.name = "erased";   // every paper was issued with one
  }
  if (auto r = paper.object("customer", false)) {
    party.name = r->text("name");
    party.address = r->texts_or_empty("address");
    party.country = r->text_or("country", "");
    party.phone = r->text_or("phone", "");
    party.exempt_reason = r->text_or("exempt", "");
    r->done();
  }
  return party;
}

Machine machine_in(data::Reader& paper) {
  Machine machine;
  if (auto r = paper.object("machine")) {
    machine.maker = r->text_or("maker", "");
    machine.model = r->text_or("model", "");
    machine.serial = r->text_or("serial", "");
    machine.title = r->text_or("title", "");
    machine.place = r->text_or("place", "");
    r->done();
  }
  return machine;
}

Currency currency_in(data::Reader& r) {
  Currency currency;
  currency.code = r.text("currency");
  currency.digits = static_cast<int>(r.integer("digits", 0, 4));
  return currency;
}

Line line_in(data::Reader& r) {
  Line line;
  line.kind = word_in<LineKind>(r, "kind", line_kind_words());
  line.title = r.text("title");
  line.detail = r.text_or("detail", "");
  line.quantity = ratio_in(r, "quantity");
  line.unit = word_in<Unit>(r, "unit", unit_words());
  if (r.has("priceMinor")) {
    line.price_minor = ratio_in(r, "priceMinor");
  }
  line.net_minor = minor_in(r, "netMinor");
  line.tax = static_cast<int>(r.integer("tax", 0, static_cast<std::int64_t>(kMostItems)));
  return line;
}

Adjustment adjustment_in(data::Reader& r) {
  Adjustment change;
  change.title = r.text("title");
  change.reason = r.text("reason");
  change.amount_minor = minor_in(r, "amountMinor");
  change.tax = static_cast<int>(r.integer("tax", 0, static_cast<std::int64_t>(kMostItems)));
  return change;
}

TaxGroup tax_in(data::Reader& r) {
  TaxGroup group;
  group.name = r.text("name");
  group.code = r.text("code");
  group.percent = ratio_in(r, "percent");
  group.reason = r.text_or("reason", "");
  group.applies = r.text_or("applies", "");
  group.base_minor = minor_in(r, "baseMinor");
  group.tax_minor = minor_in(r, "taxMinor");
  return group;
}

Totals totals_in(data::Reader& paper) {
  Totals totals;
  if (auto r = paper.object("totals")) {
    totals.lines_minor = minor_in(*r, "linesMinor");
    totals.allowances_minor = minor_in(*r, "allowancesMinor");
    totals.charges_minor = minor_in(*r, "chargesMinor");
    totals.net_minor = minor_in(*r, "netMinor");
    totals.tax_minor = minor_in(*r, "taxMinor");
    totals.gross_minor = minor_in(*r, "grossMinor");
    totals.paid_minor = minor_in(*r, "paidMinor");
    totals.rounding_minor = minor_in(*r, "roundingMinor");
    totals.due_minor = minor_in(*r, "dueMinor");
    r->done();
  }
  return totals;
}

Settlement rules_in(data::Reader& paper) {
  Settlement rules;
  if (auto r = paper.object("rules")) {
    rules.basis = word_in<TaxBasis>(*r, "basis", basis_words());
    rules.rounding = word_in<Rounding>(*r, "rounding", rounding_words());
    rules.paid_minor = minor_in(*r, "paidMinor");
    rules.cash_step_minor = r->integer("cashStepMinor", 0, kMostMinor);
    r->done();
  }
  return rules;
}

std::optional<QuoteGiven> agreed_in(data::Reader& paper) {
  auto r = paper.object("agreed", false);
  if (!r) {
    return std::nullopt;
  }
  QuoteGiven quote{minor_in(*r, "lowMinor"), minor_in(*r, "highMinor"), time_in(*r, "at"),
                   r->text_or("agreedBy", ""),
                   r->integer_or("billedMinor", 0, -kMostMinor, kMostMinor)};
  r->done();
  return quote;
}

Segment segment_in(data::Reader& r) {
  Segment segment;
  segment.kind = word_in<SegmentKind>(r, "kind", segment_kind_words());
  segment.start = time_in(r, "start");
  segment.end = time_in(r, "end");
  if (r.has("countedMs")) {
    segment.counted_ms = r.integer("countedMs", -kMostMs, kMostMs);
  }
  segment.flag = r.text_or("flag", "");
  segment.unanswered = r.flag_or("unanswered", false);
  return segment;
}

TimeCorrection correction_in(data::Reader& r) {
  TimeCorrection correction;
  correction.kind = word_in<SegmentKind>(r, "kind", segment_kind_words());
  correction.seconds = r.integer("seconds", -kMostMs, kMostMs);
  correction.reason = r.text("reason");
  correction.by = r.text_or("by", "");
  correction.at = time_in(r, "at");
  return correction;
}

PartUsed part_in(data::Reader& r) {
  PartUsed part;
  part.stock = r.text_or("stock", "");
  part.name = r.text("name");
  part.note = r.text_or("note", "");
  part.quantity = ratio_in(r, "quantity");
  part.cost_minor = minor_in(r, "costMinor");
  return part;
}

void request_in(data::Reader& paper, QuoteRequest& request) {
  if (auto r = paper.object("request")) {
    request.plan_seconds = r->integer("planSeconds", -kMostMs, kMostMs);
    request.diagnosis_low_s = r->integer("diagnosisLowSeconds", -kMostMs, kMostMs);
    request.diagnosis_high_s = r->integer("diagnosisHighSeconds", -kMostMs, kMostMs);
    request.travel_seconds = r->integer("travelSeconds", -kMostMs, kMostMs);
    request.call_outs = static_cast<int>(r->integer("callOuts", 0, 1'000'000));
    request.distance = ratio_in(*r, "distance");
    request.parts = list_in<PartUsed>(*r, "parts", part_in);
    r->done();
  }
}

QuoteLine quote_line_in(data::Reader& r) {
  QuoteLine line;
  line.title = r.text("title");
  line.detail = r.text_or("detail", "");
  line.low_minor = minor_in(r, "lowMinor");
  line.high_minor = minor_in(r, "highMinor");
  return line;
}

data::Value rates_in(data::Reader& r) {
  const data::Value* rates = r.object("rates") ? r.value().find("rates") : nullptr;
  return rates == nullptr ? data::Value::object() : *rates;
}

/// Format and kind of a paper; false where the rest would not be understood.
bool begins(data::Reader& r, const char* paper) {
  const int before = r.findings()->faults();
  const std::int64_t format = r.integer("format", 1, 1'000'000);
  if (format > kStoredFormat) {
    r.fault("newer-format", cat("this paper has format ", format),
            "Open it with the newer program.", "format");
    return false;
  }
  (void)r.choice("paper", {paper});
  return r.findings()->faults() == before;
}

}  // namespace

std::optional<StoredInvoice> read_invoice(const data::Value& value, Findings& findings) {
  const int before = findings.faults();
  data::Reader r(value, findings);
  if (!begins(r, "invoice")) {
    return std::nullopt;
  }
  StoredInvoice paper;
  Invoice& invoice = paper.invoice;
  invoice.number = r.text("number");
  invoice.kind = word_in<InvoiceKind>(r, "kind", paper_kind_words());
  invoice.corrects = r.text_or("corrects", "");
  invoice.issued = time_in(r, "issued");
  if (r.has("due")) {
    invoice.due = time_in(r, "due");
  }
  invoice.currency = currency_in(r);
  invoice.page = word_in<PageSize>(r, "page", page_words());
  invoice.shop = shop_in(r);
  invoice.customer = party_in(r);
  invoice.machine = machine_in(r);
  invoice.job = r.text_or("job", "");
  invoice.technician = r.text_or("technician", "");
  invoice.lines = list_in<Line>(r, "lines", line_in);
  invoice.adjustments = list_in<Adjustment>(r, "adjustments", adjustment_in);
  invoice.taxes = list_in<TaxGroup>(r, "taxes", tax_in);
  invoice.rules = rules_in(r);
  invoice.totals = totals_in(r);
  invoice.terms = r.text_or("terms", "");
  invoice.note = r.text_or("note", "");
  invoice.quote = agreed_in(r);
  paper.segments = list_in<Segment>(r, "segments", segment_in);
  paper.corrections = list_in<TimeCorrection>(r, "corrections", correction_in);
  paper.rates = rates_in(r);
  r.done();
  return findings.faults() > before ? std::nullopt : std::optional(std::move(paper));
}

std::optional<StoredQuote> read_quote(const data::Value& value, Findings& findings) {
  const int before = findings.faults();
  data::Reader r(value, findings);
  if (!begins(r, "quote")) {
    return std::nullopt;
  }
  StoredQuote paper;
  Quote& quote = paper.quote;
  QuoteRequest& request = quote.request;
  request.number = r.text("number");
  request.at = time_in(r, "at");
  quote.valid_until = time_in(r, "validUntil");
  quote.currency = currency_in(r);
  quote.page = word_in<PageSize>(r, "page", page_words());
  quote.shop = shop_in(r);
  request.customer = party_in(r);
  request.machine = machine_in(r);
  request.complaint = r.text_or("complaint", "");
  request.technician = r.text_or("technician", "");
  request_in(r, request);
  quote.lines = list_in<QuoteLine>(r, "lines", quote_line_in);
  quote.tax_low_minor = minor_in(r, "taxLowMinor");
  quote.tax_high_minor = minor_in(r, "taxHighMinor");
  quote.tax_title = r.text_or("taxTitle", "");
  quote.low_minor = minor_in(r, "lowMinor");
  quote.high_minor = minor_in(r, "highMinor");
  quote.allowance = r.text_or("allowance", "");
  paper.rates = rates_in(r);
  r.done();
  return findings.faults() > before ? std::nullopt : std::optional(std::move(paper));
}

}  // namespace kp::bill
