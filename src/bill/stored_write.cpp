#include "base/check.hpp"
#include "base/text.hpp"
#include "bill/stored.hpp"
#include "bill/stored_words.hpp"

namespace kp::bill {
namespace {

using data::Value;

template <class Enum>
Value word(const std::vector<std::string>& words, Enum value) {
  return Value::of(std::string_view(words[to_size(static_cast<int>(value))]));
}

Value text(const std::string& value) { return Value::of(std::string_view(value)); }
Value moment(Moment value) { return text(rfc3339(value)); }
Value ratio(Ratio value) { return text(ratio_text(value)); }

/// Texts that are empty are left out.
void put(Value& object, const char* name, const std::string& value) {
  if (!value.empty()) {
    object.set(name, text(value));
  }
}

Value texts(const std::vector<std::string>& values) {
  Value list = Value::array();
  for (const std::string& value : values) {
    list.push(text(value));
  }
  return list;
}

Value shop_of(const Shop& shop) {
  Value out = Value::object();
  out.set("name", text(shop.name)).set("address", texts(shop.address));
  put(out, "country", shop.country);
  put(out, "phone", shop.phone);
  put(out, "email", shop.email);
  put(out, "licence", shop.licence);
  put(out, "legalId", shop.legal_id);
  put(out, "taxId", shop.tax_id);
  return out;
}

Value party_of(const Party& party) {
  Value out = Value::object();
  out.set("name", text(party.name)).set("address", texts(party.address));
  put(out, "country", party.country);
  put(out, "phone", party.phone);
  put(out, "exempt", party.exempt_reason);
  return out;
}

Value machine_of(const Machine& machine) {
  Value out = Value::object();
  put(out, "maker", machine.maker);
  put(out, "model", machine.model);
  put(out, "serial", machine.serial);
  put(out, "title", machine.title);
  put(out, "place", machine.place);
  return out;
}

Value line_of(const Line& line) {
  Value out = Value::object();
  out.set("kind", word(line_kind_words(), line.kind)).set("title", text(line.title));
  put(out, "detail", line.detail);
  out.set("quantity", ratio(line.quantity)).set("unit", word(unit_words(), line.unit));
  if (line.price_minor) {
    out.set("priceMinor", ratio(*line.price_minor));
  }
  out.set("netMinor", Value::of(line.net_minor)).set("tax", Value::of(line.tax));
  return out;
}

Value adjustment_of(const Adjustment& change) {
  Value out = Value::object();
  out.set("title", text(change.title)).set("reason", text(change.reason));
  out.set("amountMinor", Value::of(change.amount_minor)).set("tax", Value::of(change.tax));
  return out;
}

Value tax_of(const TaxGroup& group) {
  Value out = Value::object();
  out.set("name", text(group.name)).set("code", text(group.code));
  out.set("percent", ratio(group.percent));
  put(out, "reason", group.reason);
  put(out, "applies", group.applies);
  out.set("baseMinor", Value::of(group.base_minor)).set("taxMinor", Value::of(group.tax_minor));
  return out;
}

Value totals_of(const Totals& totals) {
  Value out = Value::object();
  out.set("linesMinor", Value::of(totals.lines_minor));
  out.set("allowancesMinor", Value::of(totals.allowances_minor));
  out.set("chargesMinor", Value::of(totals.charges_minor));
  out.set("netMinor", Value::of(totals.net_minor));
  out.set("taxMinor", Value::of(totals.tax_minor));
  out.set("grossMinor", Value::of(totals.gross_minor));
  out.set("paidMinor", Value::of(totals.paid_minor));
  out.set("roundingMinor", Value::of(totals.rounding_minor));
  out.set("dueMinor", Value::of(totals.due_minor));
  return out;
}

Value rules_of(const Settlement& rules) {
  Value out = Value::object();
  out.set("basis", word(basis_words(), rules.basis));
  out.set("rounding", word(rounding_words(), rules.rounding));
  out.set("paidMinor", Value::of(rules.paid_minor));
  out.set("cashStepMinor", Value::of(rules.cash_step_minor));
  return out;
}

Value agreed_of(const QuoteGiven& quote) {
  Value out = Value::object();
  out.set("lowMinor", Value::of(quote.low_minor)).set("highMinor", Value::of(quote.high_minor));
  out.set("at", moment(quote.at.get()));
  put(out, "agreedBy", quote.agreed_by);
  if (quote.billed_minor != 0) {
    out.set("billedMinor", Value::of(quote.billed_minor));
  }
  return out;
}

Value segment_of(const Segment& segment) {
  Value out = Value::object();
  out.set("kind", word(segment_kind_words(), segment.kind));
  out.set("start", moment(segment.start)).set("end", moment(segment.end));
  if (segment.counted_ms) {
    out.set("countedMs", Value::of(*segment.counted_ms));
  }
  put(out, "flag", segment.flag);
  if (segment.unanswered) {
    out.set("unanswered", Value::of(true));
  }
  return out;
}

Value correction_of(const TimeCorrection& correction) {
  Value out = Value::object();
  out.set("kind", word(segment_kind_words(), correction.kind));
  out.set("seconds", Value::of(correction.seconds)).set("reason", text(correction.reason));
  put(out, "by", correction.by);
  out.set("at", moment(correction.at));
  return out;
}

Value part_of(const PartUsed& part) {
  Value out = Value::object();
  put(out, "stock", part.stock);
  out.set("name", text(part.name));
  put(out, "note", part.note);
  out.set("quantity", ratio(part.quantity)).set("costMinor", Value::of(part.cost_minor));
  return out;
}

Value request_of(const QuoteRequest& request) {
  Value out = Value::object();
  out.set("planSeconds", Value::of(request.plan_seconds));
  out.set("diagnosisLowSeconds", Value::of(request.diagnosis_low_s));
  out.set("diagnosisHighSeconds", Value::of(request.diagnosis_high_s));
  out.set("travelSeconds", Value::of(request.travel_seconds));
  out.set("callOuts", Value::of(request.call_outs)).set("distance", ratio(request.distance));
  Value parts = Value::array();
  for (const PartUsed& part : request.parts) {
    parts.push(part_of(part));
  }
  return out.set("parts", std::move(parts));
}

template <class T, class Write>
Value list_of(const std::vector<T>& all, const Write& write) {
  Value out = Value::array();
  for (const T& one : all) {
    out.push(write(one));
  }
  return out;
}

Value begin(const char* paper, const std::string& number) {
  Value out = Value::object();
  out.set("format", Value::of(kStoredFormat)).set("paper", Value::of(paper));
  out.set("number", text(number));
  return out;
}

void put_currency(Value& out, const Currency& currency) {
  out.set("currency", text(currency.code)).set("digits", Value::of(currency.digits));
}

}  // namespace

std::string ratio_text(Ratio value) {
  KP_CHECK(value.den > 0);
  return value.den == 1 ? integer_text(value.num)
                        : cat(integer_text(value.num), "/", integer_text(value.den));
}

Value write_paper(const StoredInvoice& paper) {
  const Invoice& invoice = paper.invoice;
  KP_CHECK(!invoice.draft);
  Value out = begin("invoice", invoice.number);
  out.set("kind", word(paper_kind_words(), invoice.kind));
  put(out, "corrects", invoice.corrects);
  out.set("issued", moment(invoice.issued));
  if (invoice.due) {
    out.set("due", moment(*invoice.due));
  }
  put_currency(out, invoice.currency);
  out.set("page", word(page_words(), invoice.page)).set("shop", shop_of(invoice.shop));
  out.set("customer", party_of(invoice.customer)).set("machine", machine_of(invoice.machine));
  put(out, "job", invoice.job);
  put(out, "technician", invoice.technician);
  out.set("lines", list_of(invoice.lines, line_of));
  out.set("adjustments", list_of(invoice.adjustments, adjustment_of));
  out.set("taxes", list_of(invoice.taxes, tax_of));
  out.set("rules", rules_of(invoice.rules)).set("totals", totals_of(invoice.totals));
  put(out, "terms", invoice.terms);
  put(out, "note", invoice.note);
  if (invoice.quote) {
    out.set("agreed", agreed_of(*invoice.quote));
  }
  out.set("segments", list_of(paper.segments, segment_of));
  out.set("corrections", list_of(paper.corrections, correction_of));
  return out.set("rates", paper.rates);
}

Value write_paper(const StoredQuote& paper) {
  const Quote& quote = paper.quote;
  const QuoteRequest& request = quote.request;
  Value out = begin("quote", request.number);
  out.set("at", moment(request.at)).set("validUntil", moment(quote.valid_until));
  put_currency(out, quote.currency);
  out.set("page", word(page_words(), quote.page)).set("shop", shop_of(quote.shop));
  out.set("customer", party_of(request.customer)).set("machine", machine_of(request.machine));
  put(out, "complaint", request.complaint);
  put(out, "technician", request.technician);
  out.set("request", request_of(request));
  out.set("lines", list_of(quote.lines, [](const QuoteLine& line) {
            Value one = Value::object();
            one.set("title", text(line.title));
            put(one, "detail", line.detail);
            one.set("lowMinor", Value::of(line.low_minor));
            return one.set("highMinor", Value::of(line.high_minor));
          }));
  out.set("taxLowMinor", Value::of(quote.tax_low_minor));
  out.set("taxHighMinor", Value::of(quote.tax_high_minor));
  put(out, "taxTitle", quote.tax_title);
  out.set("lowMinor", Value::of(quote.low_minor)).set("highMinor", Value::of(quote.high_minor));
  put(out, "allowance", quote.allowance);
  return out.set("rates", paper.rates);
}

}  // namespace kp::bill
