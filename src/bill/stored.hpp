#pragma once
// Papers as they were issued, as canonical JSON: what is printed of them is printed from this alone,
// whatever the shop's card, the program or the machine's pack say later. Three files: this one,
// stored_write.cpp and stored_read.cpp.

#include <optional>
#include <string>
#include <vector>

#include "base/findings.hpp"
#include "bill/invoice.hpp"
#include "bill/quote.hpp"
#include "data/value.hpp"

namespace kp::bill {

inline constexpr int kStoredFormat = 1;

/// An invoice with the times that its paper shows and the card that it was reckoned by.
struct StoredInvoice {
  Invoice invoice;   ///< never a draft
  std::vector<Segment> segments;
  std::vector<TimeCorrection> corrections;
  data::Value rates = data::Value::object();  ///< of write_rates(); kept for who asks, never printed
};

struct StoredQuote {
  Quote quote;
  data::Value rates = data::Value::object();
};

/// The paper as JSON. data::print() of it is canonical: the same paper gives the same bytes. The
/// member `customer` stands alone, so that it can be kept apart from the rest and be erased.
[[nodiscard]] data::Value write_paper(const StoredInvoice& paper);
[[nodiscard]] data::Value write_paper(const StoredQuote& paper);

/// Reads a paper back. Nothing is returned where there is a fault: those of data::Reader, and
/// `bad-fraction`, `bad-time`, `newer-format`, `too-many`. Numbers are in ranges in which no sum
/// overflows. A paper without `customer` is one whose customer was erased, and
/// says "erased" for a name.
[[nodiscard]] std::optional<StoredInvoice> read_invoice(const data::Value& value,
                                                        Findings& findings);
[[nodiscard]] std::optional<StoredQuote> read_quote(const data::Value& value, Findings& findings);

/// Holds a quote's sums against each other, as verify() does it for invoices: lines and tax make
/// the ends (`quote-sum`), and no end lies below the other (`quote-order`).
[[nodiscard]] Findings verify(const Quote& quote);

/// The card as the JSON that read_rates() reads.
[[nodiscard]] data::Value write_rates(const RateCard& card);

/// A fraction as "11/12", or "5" where it is whole.
[[nodiscard]] std::string ratio_text(Ratio value);

}  // namespace kp::bill
