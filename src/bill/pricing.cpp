#include "bill/pricing.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "bill/figures.hpp"

namespace kp::bill {
namespace {

std::string applies_words(const Tax& tax) {
  if (to_int(tax.applies_to.size()) == kLineKinds) {
    return "on everything";
  }
  std::vector<std::string> words;
  for (const LineKind kind : tax.applies_to) {
    words.push_back(line_kind_words()[static_cast<std::size_t>(kind)]);
  }
  return words.empty() ? std::string() : "on " + join(words, ", ");
}

void add(Invoice& invoice, const RateCard& card, Line line) {
  line.tax = tax_group(invoice, card, line.kind);
  line.net_minor =
      line_net(line.quantity, line.price_minor.value_or(Ratio{0, 1}), card.rounding);
  invoice.lines.push_back(std::move(line));
}

void add_hours(Invoice& invoice, const RateCard& card, LineKind kind, const std::string& name,
               std::int64_t seconds, const std::string& remark) {
  const std::int64_t minutes = billed_minutes(seconds, card.labour_time);
  if (minutes == 0) {
    return;
  }
  const Ratio price{card.labour_per_hour_minor, 1};
  const bool ends = ends_within(Ratio{minutes, 60}, 2);
  Line line;
  line.kind = kind;
  line.detail = rule_text(seconds, card.labour_time) + remark;
  line.quantity = multiply(Ratio{minutes, 60}, Ratio{1, 1});
  line.unit = Unit::hour;
  line.price_minor = price;
  line.title = cat(name, ", ", quantity_text(line), " at ", price_text(price, card.currency),
                   ends ? "" : " an hour");
  add(invoice, card, std::move(line));
}

void add_call_outs(const Effort& effort, const RateCard& card, Invoice& invoice) {
  if (effort.call_outs == 0 || card.call_out_minor == 0) {
    return;
  }
  Line line;
  line.kind = LineKind::call_out;
  line.title = "Call-out";
  if (effort.call_outs > 1) {
    line.title = cat("Call-out, ", effort.call_outs, " at ",
                     minor_text(card.call_out_minor, card.currency));
  }
  if (card.travel.how == TravelRule::included) {
    line.detail = "travel included";
  }
  line.quantity = Ratio{effort.call_outs, 1};
  line.price_minor = Ratio{card.call_out_minor, 1};
  add(invoice, card, std::move(line));
}

void add_travel(const Effort& effort, const RateCard& card, Invoice& invoice) {
  Line line;
  line.kind = LineKind::travel;
  line.price_minor = card.travel.rate_minor;
  const std::string each = price_text(card.travel.rate_minor, card.currency);
  switch (card.travel.how) {
    case TravelRule::included:
      return;
    case TravelRule::flat:
      line.title = "Travel";
      line.quantity = Ratio{effort.call_outs, 1};
      if (effort.call_outs > 1) {
        line.title = cat("Travel, ", effort.call_outs, " at ", each);
      }
      break;
    case TravelRule::per_distance:
      line.quantity = effort.distance;
      line.unit = card.travel.unit == DistanceUnit::km ? Unit::km : Unit::mile;
      line.title = cat("Travel, ", quantity_text(line), " at ", each);
      break;
    case TravelRule::per_minute: {
      const std::int64_t minutes = effort.of(SegmentKind::travel) / 60;
      line.quantity = Ratio{minutes, 1};
      line.unit = Unit::minute;
      line.title = cat("Travel, ", quantity_text(line), " at ", each);
      break;
    }
  }
  if (line.quantity.num > 0) {
    add(invoice, card, std::move(line));
  }
}

void add_diagnosis_and_labour(const Effort& effort, const RateCard& card, Invoice& invoice) {
  std::int64_t labour = effort.of(SegmentKind::labour);
  const std::int64_t diagnosis = effort.of(SegmentKind::diagnosis);
  std::string remark;
  switch (card.diagnosis.how) {
    case DiagnosisRule::included:
      break;
    case DiagnosisRule::as_labour:
      labour += diagnosis;
      if (diagnosis >= 60 && effort.of(SegmentKind::labour) >= 60) {
        remark = cat(", ", diagnosis / 60, " min of it diagnosis");
      }
      break;
    case DiagnosisRule::flat: {
      const bool waived = card.diagnosis.waived_when_repaired && effort.repaired;
      if (diagnosis > 0 && !waived) {
        Line line;
        line.kind = LineKind::diagnosis;
        line.title = "Diagnosis";
        line.detail = "one sum";
        line.price_minor = Ratio{card.diagnosis.flat_minor, 1};
        add(invoice, card, std::move(line));
      }
      break;
    }
  }
  const bool only_diagnosis = effort.of(SegmentKind::labour) < 60;
  add_hours(invoice, card, LineKind::labour, only_diagnosis ? "Diagnosis" : "Labour", labour,
            remark);
}

void add_parts(const Effort& effort, const RateCard& card, Invoice& invoice) {
  for (const PartUsed& part : effort.parts) {
    const Ratio markup{card.markup_percent.num + 100 * card.markup_percent.den,
                       100 * card.markup_percent.den};
    Line line;
    line.kind = LineKind::part;
    line.quantity = part.quantity;
    line.price_minor = multiply(Ratio{part.cost_minor, 1}, markup);
    line.title = part.name;
    if (part.quantity.num != part.quantity.den) {
      line.title = cat(part.name, ", ", decimal_text(part.quantity), " at ",
                       price_text(*line.price_minor, card.currency));
    }
    line.detail = part.stock;
    if (!part.note.empty()) {
      line.detail += (line.detail.empty() ? "" : ", ") + part.note;
    }
    add(invoice, card, std::move(line));
  }
}

}  // namespace

std::string quantity_text(const Line& line) {
  switch (line.unit) {
    case Unit::hour:
      return ends_within(line.quantity, 2)
                 ? decimal_text(line.quantity, 2) + " h"
                 : decimal_text(multiply(line.quantity, Ratio{60, 1})) + " min";
    case Unit::minute:
      return decimal_text(line.quantity) + " min";
    case Unit::km:
      return decimal_text(line.quantity) + " km";
    case Unit::mile:
      return decimal_text(line.quantity) + " mi";
    case Unit::piece:
      break;
  }
  return decimal_text(line.quantity);
}

int tax_group(Invoice& invoice, const RateCard& card, LineKind kind) {
  const bool exempt = !invoice.customer.exempt_reason.empty();
  const Tax& tax = exempt ? card.untaxed : card.tax_on(kind);
  TaxGroup group;
  group.name = tax.name;
  group.code = exempt ? "E" : tax.code;
  group.percent = tax.percent;
  group.reason = exempt ? invoice.customer.exempt_reason : tax.reason;
  group.applies = applies_words(tax);
  const auto same = [&group](const TaxGroup& other) {
    return other.code == group.code && other.name == group.name &&
           other.percent.num == group.percent.num && other.percent.den == group.percent.den;
  };
  const auto found = std::find_if(invoice.taxes.begin(), invoice.taxes.end(), same);
  if (found != invoice.taxes.end()) {
    return static_cast<int>(found - invoice.taxes.begin());
  }
  invoice.taxes.push_back(std::move(group));
  return to_int(invoice.taxes.size()) - 1;
}

void price(const Effort& effort, const RateCard& card, Invoice& invoice) {
  add_call_outs(effort, card, invoice);
  add_travel(effort, card, invoice);
  add_diagnosis_and_labour(effort, card, invoice);
  add_parts(effort, card, invoice);
}

}  // namespace kp::bill
