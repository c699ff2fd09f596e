#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/money.hpp"
#include "base/time.hpp"
#include "bill/rates.hpp"

namespace kp::bill {

enum class SegmentKind { travel, diagnosis, labour, waiting, unbilled };
inline constexpr int kSegmentKinds = 5;

/// A stretch of time as the job's clock found it. `counted_ms` is what counts where the clock had
/// to choose; without it the stretch counts from start to end. `flag` is its remark for the
/// sheet ("screen off 12:03 of it"). `unanswered`: the clock could not know and must be told.
struct Segment {
  SegmentKind kind = SegmentKind::labour;
  Moment start;
  Moment end;
  std::optional<std::int64_t> counted_ms;
  std::string flag;
  bool unanswered = false;

  [[nodiscard]] std::int64_t milliseconds() const {
    return counted_ms.value_or(end.utc_ms - start.utc_ms);
  }
};

/// A new record that adds time to a kind, or takes it away; nothing recorded is ever changed.
struct TimeCorrection {
  SegmentKind kind = SegmentKind::labour;
  std::int64_t seconds = 0;
  std::string reason;
  std::string by;
  Moment at;
};

/// A sum taken off the invoice (negative) or added to it, with its reason. It is taxed like lines
/// of `taxed_as`.
struct Change {
  std::string title;
  std::int64_t amount_minor = 0;
  LineKind taxed_as = LineKind::other;
  std::string reason;
  std::string by;
  Moment at;
};

struct PartUsed {
  std::string stock;
  std::string name;
  std::string note;
  Ratio quantity{1, 1};
  std::int64_t cost_minor = 0;  ///< of one, before the card's markup
};

struct Party {
  std::string name;
  std::vector<std::string> address;
  std::string country;
  std::string phone;
  std::string exempt_reason;  ///< not empty: no tax is taken from this customer, for this reason
};

struct Machine {
  std::string maker;
  std::string model;
  std::string serial;
  std::string title;
  std::string place;
};

enum class Outcome { repaired, waiting_for_parts, not_to_be_used, no_fault_found };

/// A moment that somebody knew: one that was never set cannot be written down.
class KnownMoment {
 public:
  KnownMoment(Moment at) : at_(at) {}
  [[nodiscard]] Moment get() const { return at_; }

 private:
  Moment at_;
};

/// The range that the customer agreed to. It covers what is billed from then on.
struct QuoteGiven {
  std::int64_t low_minor = 0;
  std::int64_t high_minor = 0;
  KnownMoment at;
  std::string agreed_by = {};
  std::int64_t billed_minor = 0;  ///< by earlier invoices under the same agreement, tax included
};

/// The work of one job, over all its visits, as far as it is billed.
struct WorkRecord {
  std::string job;
  Party customer;
  Machine machine;
  std::string complaint;
  std::string technician;
  std::vector<Segment> segments;
  std::vector<TimeCorrection> corrections;
  std::vector<PartUsed> parts;
  std::vector<Change> changes;
  int call_outs = 1;
  Ratio distance;  ///< travelled, in the card's unit
  std::optional<QuoteGiven> quote;
  std::int64_t paid_minor = 0;
  bool cash = false;  ///< the rest is paid in coins: the card's cash step applies
  Outcome outcome = Outcome::repaired;
  std::string note;  ///< the customer's or technician's words, any script
};

}  // namespace kp::bill
