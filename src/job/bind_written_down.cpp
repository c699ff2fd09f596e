#include "job/bind_written_down.hpp"

#include <algorithm>
#include <set>

#include "base/text.hpp"
#include "base/time.hpp"
#include "job/personal.hpp"

namespace kp::job {

namespace {

constexpr std::size_t kShortSum = 8;

std::string at(const Stamp& stamp) { return clock_text(stamp.at); }

/// What the row says, as far as this program knows it.
std::string row_words(const State& state, std::uint32_t number) {
  for (const safety::Row& row : state.law.rows) {
    if (row.number == static_cast<int>(number)) {
      return cat(safety::words_of(row.guard).sentence, " ");
    }
  }
  return {};
}

std::string refusal_words(const State& state, const Recorded<Refused>& one) {
  std::string out = cat("Refused, ", at(one.stamp), ": ", safety::words(one.body.act),
                        one.body.what.empty() ? "" : ", ", one.body.what, ". ");
  std::vector<std::string> numbers;
  for (const std::uint32_t row : one.body.rows) {
    out += row_words(state, row);
    numbers.push_back(integer_text(row));
  }
  return cat(out, numbers.size() == 1 ? "Rule " : "Rules ", join(numbers, ", "), ".");
}

/// Each caution once, with the time at which it was shown first.
void add_cautions(const State& state, bill::ServiceRecord& record) {
  std::set<std::string> said;
  std::vector<std::string> parts;
  for (const auto& one : state.cautions) {
    const std::string words =
        cat(safety::words(one.body.word), " ", join(one.body.contacts, ", "));
    if (said.insert(words).second) {
      parts.push_back(cat(words, " ", at(one.stamp)));
    }
  }
  if (!parts.empty()) {
    record.remarks.push_back(cat("Cautions shown: ", join(parts, "; "), "."));
  }
}

}  // namespace

void add_written_down(const State& state, bill::ServiceRecord& record) {
  auto& out = record.remarks;
  for (const auto& one : state.refused) {
    out.push_back(refusal_words(state, one));
  }
  add_cautions(state, record);
  for (const auto& one : state.testers) {
    out.push_back(cat("Tester: ", trim(cat(one.body.make, " ", one.body.number)),
                      one.body.calibrated.empty() ? "" : ", calibrated ", one.body.calibrated, "."));
  }
  for (const auto& one : state.photos) {
    out.push_back(cat("Photograph, ", at(one.stamp), ": ",
                      one.body.what.empty() ? std::string("the machine") : one.body.what, ", sum ",
                      one.body.sha256.substr(0, kShortSum), "."));
  }
  for (const auto& one : state.quotes_refused) {
    out.push_back(cat("The customer did not agree to the quote of record ",
                      integer_text(one.body.quote), ", ", at(one.stamp), "."));
  }
  for (const auto& one : state.ordered) {
    out.push_back(cat("Ordered, ", at(one.stamp), ": ", one.body.count, " x ", one.body.name,
                      one.body.stock.empty() ? "" : ", ", one.body.stock, "."));
  }
  for (const auto& one : state.papers) {
    out.push_back(cat("Paper, ", at(one.stamp), ": ", one.body.paper, " ", one.body.number, ", mark ",
                      one.body.mark.substr(0, one.body.mark.find('-') + 1 + kShortSum), ", sum ",
                      one.body.erased ? std::string(kErased)
                                      : one.body.sha256.substr(0, kShortSum), "."));
  }
}

}  // namespace kp::job
