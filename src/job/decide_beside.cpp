// Rules for what is written down beside the work: serial number, tester, photographs, orders, papers.
#include <algorithm>

#include "base/text.hpp"
#include "base/time.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_prove.hpp"
#include "job/bind_safety.hpp"
#include "job/bind_test.hpp"
#include "job/rules.hpp"
#include "journal/mark.hpp"

namespace kp::job {

namespace {

Decision refuse(const char* code, std::string sentence) {
  return Decision{{}, {safety::Reason{code, std::move(sentence), 0}}};
}
Decision accept(Body body) { return Decision{{std::move(body)}, {}}; }

/// A SHA-256 as records hold it.
bool is_sum(const std::string& text) {
  constexpr std::size_t kDigits = 64;
  return text.size() == kDigits &&
         text.find_first_not_of("0123456789abcdef") == std::string::npos;
}

bool is_date(const std::string& text) {
  return parse_rfc3339(cat(text, "T00:00:00.000Z")).has_value();
}

constexpr int kMostOfOne = 1'000;

}  // namespace

Decision decide_photo(const State& state, const PhotoTaken& body, const Context& context) {
  if (!is_sum(body.sha256) || body.bytes <= 0) {
    return refuse("no-photo", "Take the photograph again.");
  }
  if (!body.what.empty()) {
    const pack::Pack* pack =
        state.model < 0 ? nullptr : &context.library->models[to_size(state.model)].pack;
    if (pack == nullptr || (pack->part(body.what) < 0 && pack->joint(body.what) < 0)) {
      return refuse("unknown-part", "Choose a part of this machine.");
    }
  }
  return accept(body);
}

Decision decide_serial(const State& state, const SerialNoted& body) {
  if (state.machine.pack.empty()) {
    return refuse("no-machine", "Choose the machine first.");
  }
  SerialNoted kept = body;
  kept.serial = std::string(trim(body.serial));
  return kept.serial.empty() ? refuse("no-serial", "Type the serial number from the plate.")
                             : accept(kept);
}

Decision decide_tester(const TesterNamed& body) {
  if (trim(body.number).empty()) {
    return refuse("no-tester", "Name the tester by its number.");
  }
  if (!body.calibrated.empty() && !is_date(body.calibrated)) {
    return refuse("bad-date", "Enter the day of calibration as year, month and day.");
  }
  return accept(body);
}

Decision decide_order(const State& state, const PartsOrdered& body, const Context& context) {
  if (state.model < 0) {
    return refuse("no-machine", "Choose the machine first.");
  }
  const pack::Pack& pack = context.library->models[to_size(state.model)].pack;
  const int part = pack.part(body.part);
  if (part < 0) {
    return refuse("unknown-part", "Choose a part of this machine.");
  }
  if (body.count < 1 || body.count > kMostOfOne || body.price_minor < 0) {
    return refuse("out-of-range", "Enter how many, and a price of 0 or more.");
  }
  PartsOrdered kept = body;
  kept.name = pack.parts[to_size(part)].name;
  kept.stock = body.stock.empty() ? pack.parts[to_size(part)].stock : body.stock;
  return accept(kept);
}

Decision decide_quote_refused(const State& state, const QuoteRefused&) {
  if (!state.quoted) {
    return refuse("no-quote", "Give the quote first.");
  }
  const auto& all = state.quotes_refused;
  const bool told = std::any_of(all.begin(), all.end(),
                                [&](const auto& one) { return one.body.quote == state.quote_n; });
  if (state.quote.accepted || told) {
    return refuse("quote-answered", "This quote is answered. Give a new one to ask again.");
  }
  return accept(QuoteRefused{state.quote_n});
}

Decision decide_paper_issued(const PaperIssued& body) {
  if (body.paper.empty() || (!is_sum(body.sha256) && !body.erased)) {
    return refuse("no-paper", "Make the paper again.");
  }
  if (!journal::parse_mark(body.mark).has_value()) {
    return refuse("bad-mark", "Make the paper again: it carries no mark.");
  }
  return accept(body);
}

namespace {

/// The act and the subject of what hands wanted; nothing for what wants no hands in.
struct Wanted {
  const State* state;
  const Model* model;

  std::optional<Refused> operator()(const StepDone& body) const {
    const int index = subject_index(model->pack, state->unit, body.deed, body.what);
    return index < 0 ? std::nullopt
                     : of(demand_of(*model, *state, body.deed, index), body.what);
  }
  std::optional<Refused> operator()(const PartSwapped& body) const {
    const int part = model->pack.part(body.part);
    return part < 0 ? std::nullopt : of(demand_of(*model, *state, Deed::swap, part), body.part);
  }
  std::optional<Refused> operator()(const TestRecorded& body) const {
    const int test = model->pack.test(body.test);
    return test < 0 ? std::nullopt
                    : of(demand_of(*model, *state, model->pack.tests[to_size(test)]), body.test);
  }
  std::optional<Refused> operator()(const ProveRecorded& body) const {
    const int test = model->pack.prove_test(body.test);
    return test < 0
               ? std::nullopt
               : of(demand_of(*model, *state, model->pack.prove_tests[to_size(test)]), body.test);
  }
  template <class T>
  std::optional<Refused> operator()(const T&) const {
    return std::nullopt;
  }

 private:
  static std::optional<Refused> of(const safety::Demand& demand, const std::string& what) {
    return safety::hands_in(demand.act) ? std::optional<Refused>({demand.act, what, {}})
                                        : std::nullopt;
  }
};

}  // namespace

std::optional<Refused> refusal_of(const State& state, const Body& intent, const Decision& decision,
                                  const Context& context) {
  if (state.model < 0 || decision.accepted()) {
    return std::nullopt;
  }
  std::optional<Refused> out =
      std::visit(Wanted{&state, &context.library->models[to_size(state.model)]}, intent);
  for (const safety::Reason& reason : decision.reasons) {
    if (out && reason.row > 0) {
      out->rows.push_back(static_cast<std::uint32_t>(reason.row));
    }
  }
  return out && out->rows.empty() ? std::nullopt : out;
}

}  // namespace kp::job
