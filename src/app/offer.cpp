#include "app/offer.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "base/time.hpp"
#include "job/bind_bill.hpp"

namespace kp::app {

namespace {

/// The targets, or the part that the complaint makes most likely.
std::vector<int> parts_in_question(const Desk& desk) {
  if (!desk.state->targets.empty()) {
    return desk.state->targets;
  }
  const pack::Pack& pack = *desk.pack();
  const int symptom = pack.symptom(desk.state->complaint.symptom);
  if (symptom < 0) {
    return {};
  }
  const auto& suspects = pack.symptoms[to_size(symptom)].suspects;
  const auto best =
      std::max_element(suspects.begin(), suspects.end(),
                       [](const auto& a, const auto& b) { return a.weight < b.weight; });
  return best == suspects.end() ? std::vector<int>{} : std::vector<int>{best->part};
}

}  // namespace

std::string Offer::amounts(std::int64_t low_minor, std::int64_t high_minor) const {
  const std::string low = minor_text(low_minor, quote.currency);
  return low_minor == high_minor ? low
                                 : cat(low, " to ", minor_text(high_minor, quote.currency));
}

Offer make_offer(const Desk& desk) {
  Offer offer;
  const std::vector<int> parts = parts_in_question(desk);
  const bill::QuoteRequest request =
      job::bind_quote(*desk.state, desk.context(), parts, desk.now.at);
  Findings findings;
  offer.quote = bill::make_quote(request, desk.content->rates, findings);
  std::vector<std::string> names;
  for (const int part : parts) {
    names.push_back(lower(desk.pack()->parts[to_size(part)].name));
  }
  offer.basis = names.empty() ? "Diagnosis only."
                              : cat("If it is the ", join(names, " and the "), ": ",
                                    duration_words(request.plan_seconds), " there and back.");
  offer.range = cat(bill::range_text(offer.quote.low_minor, offer.quote.high_minor,
                                     offer.quote.currency),
                    " ", offer.quote.currency.code);
  return offer;
}

}  // namespace kp::app
