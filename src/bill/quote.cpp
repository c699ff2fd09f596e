#include "bill/quote.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "base/time.hpp"
#include "bill/figures.hpp"
#include "bill/pricing.hpp"

namespace kp::bill {
namespace {

constexpr std::int64_t kDayMs = 24LL * 3600 * 1000;

/// One end of the range as a whole invoice.
Invoice end_of(const WorkRecord& work, std::int64_t labour_s, std::int64_t diagnosis_s,
               const QuoteRequest& request, const RateCard& card, Findings& findings) {
  WorkRecord assumed = work;
  const auto stretch = [](SegmentKind kind, std::int64_t seconds) {
    Segment segment;
    segment.kind = kind;
    segment.counted_ms = seconds * 1000;
    return segment;
  };
  assumed.segments = {stretch(SegmentKind::travel, request.travel_seconds),
                      stretch(SegmentKind::diagnosis, diagnosis_s),
                      stretch(SegmentKind::labour, labour_s)};
  Invoice invoice;
  invoice.customer = request.customer;
  invoice.currency = card.currency;
  price(effort_of(assumed, findings), card, invoice);
  invoice.rules = Settlement{card.basis, card.rounding, 0, 0};
  settle(invoice);
  return invoice;
}

/// Puts the two ends side by side. A line may stand in one end only: the other end is then 0.
std::vector<QuoteLine> pair_lines(const Invoice& low, const Invoice& high) {
  std::vector<QuoteLine> lines;
  std::vector<bool> taken(low.lines.size(), false);
  for (const Line& line : high.lines) {
    QuoteLine pair{line.title, line.detail, 0, line.net_minor};
    for (std::size_t i = 0; i < low.lines.size(); ++i) {
      const Line& other = low.lines[i];
      const bool same = other.kind == line.kind &&
                        (line.kind != LineKind::part || other.title == line.title);
      if (!taken[i] && same) {
        taken[i] = true;
        pair.low_minor = other.net_minor;
        if (other.title != line.title) {
          pair.title = line.title.substr(0, line.title.find(','));
          pair.detail = cat(quantity_text(other), " to ", quantity_text(line), " at ",
                            price_text(line.price_minor.value_or(Ratio{0, 1}), high.currency),
                            line.unit == Unit::hour ? " an hour" : "");
        }
        break;
      }
    }
    lines.push_back(std::move(pair));
  }
  return lines;
}

std::string tax_title(const Invoice& invoice) {
  std::vector<std::string> names;
  for (const TaxGroup& group : invoice.taxes) {
    if (group.percent.num != 0) {
      names.push_back(cat(group.name, " ", percent_text(group.percent), " ", group.applies));
    }
  }
  return join(names, ", ");
}

std::int64_t seconds_or(std::int64_t asked, int minutes) {
  return asked >= 0 ? asked : static_cast<std::int64_t>(minutes) * 60;
}

}  // namespace

Quote make_quote(const QuoteRequest& request, const RateCard& card, Findings& findings) {
  WorkRecord work;
  work.parts = request.parts;
  work.distance = request.distance;
  work.call_outs = request.call_outs;
  const std::int64_t plan = std::max<std::int64_t>(0, request.plan_seconds);
  const std::int64_t diagnosis_low =
      seconds_or(request.diagnosis_low_s, card.quote.diagnosis_min_low);
  const std::int64_t diagnosis_high =
      std::max(diagnosis_low, seconds_or(request.diagnosis_high_s, card.quote.diagnosis_min_high));
  const std::int64_t more = percent_of(plan, card.quote.range_percent, Rounding::up);
  const Invoice low = end_of(work, plan, diagnosis_low, request, card, findings);
  Findings again;
  const Invoice high = end_of(work, plan + more, diagnosis_high, request, card, again);

  Quote quote;
  quote.request = request;
  quote.currency = card.currency;
  quote.shop = card.shop;
  quote.page = card.page;
  quote.valid_until =
      Moment{request.at.utc_ms + card.quote.valid_days * kDayMs, request.at.offset_min};
  quote.lines = pair_lines(low, high);
  quote.tax_low_minor = low.totals.tax_minor;
  quote.tax_high_minor = high.totals.tax_minor;
  quote.tax_title = tax_title(high);
  quote.low_minor = low.totals.gross_minor;
  quote.high_minor = high.totals.gross_minor;
  quote.allowance = cat("Planned work, there and back: ", duration_words(plan),
                        ". The high end allows ", percent_text(card.quote.range_percent),
                        " more, with ", duration_words(diagnosis_high),
                        " of diagnosis instead of ", duration_words(diagnosis_low), ".");
  return quote;
}

Quote quote_as_it_stands(const Invoice& invoice, Moment at) {
  Quote quote;
  quote.request.number = invoice.number;
  quote.request.at = at;
  quote.request.customer = invoice.customer;
  quote.request.machine = invoice.machine;
  quote.request.technician = invoice.technician;
  quote.currency = invoice.currency;
  quote.shop = invoice.shop;
  quote.page = invoice.page;
  quote.valid_until = at;
  for (const Line& line : invoice.lines) {
    quote.lines.push_back(QuoteLine{line.title, line.detail, line.net_minor, line.net_minor});
  }
  for (const Adjustment& change : invoice.adjustments) {
    quote.lines.push_back(
        QuoteLine{change.title, change.reason, change.amount_minor, change.amount_minor});
  }
  quote.tax_low_minor = quote.tax_high_minor = invoice.totals.tax_minor;
  quote.tax_title = tax_title(invoice);
  quote.low_minor = quote.high_minor = invoice.totals.gross_minor;
  quote.allowance = "The work is done. This is the sum as it stands.";
  return quote;
}

std::string range_text(std::int64_t low_minor, std::int64_t high_minor, const Currency& currency) {
  std::int64_t unit = 1;
  for (int i = 0; i < currency.digits; ++i) {
    unit *= 10;
  }
  return cat(scale_round(low_minor, Ratio{1, unit}, Rounding::down), " to ",
             scale_round(high_minor, Ratio{1, unit}, Rounding::up));
}

}  // namespace kp::bill
