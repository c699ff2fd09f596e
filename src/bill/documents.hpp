#pragma once

#include <string>

#include "bill/invoice.hpp"
#include "bill/page.hpp"
#include "bill/quote.hpp"
#include "bill/service.hpp"
#include "bill/stored.hpp"

namespace kp::bill {

/// The papers of a job as pages. Nothing is computed here: every figure comes from its input.
/// A draft says so in its title. `work` gives the time bar and the remarks of the clock. `mark` is
/// number and sum of the record that issued the paper, empty for one that is not issued.
[[nodiscard]] Page invoice_page(const Invoice& invoice, const WorkRecord& work,
                                const std::string& mark = {});
[[nodiscard]] Page invoice_page(const StoredInvoice& paper, const std::string& mark);
[[nodiscard]] Page quote_page(const Quote& quote, const std::string& mark = {});

/// An invoice of which a journal of format 1 kept number and sum only.
struct UnrecordedInvoice {
  std::string shop;
  std::string number;
  std::string job;
  Moment issued;
  std::int64_t total_minor = 0;
  Currency currency;
  std::string mark;
};
[[nodiscard]] Page unrecorded_invoice_page(const UnrecordedInvoice& invoice);
[[nodiscard]] Page service_page(const ServiceRecord& record);
/// Waiting for parts: a tag to hang for each isolated energy.
[[nodiscard]] Page tag_page(const ServiceRecord& record);
/// Not to be used: the notice that the customer is handed and signs for.
[[nodiscard]] Page notice_page(const ServiceRecord& record);

/// A name for the file without its ending: "invoice-2026-0114". Only letters, digits, hyphens.
[[nodiscard]] std::string file_name(const Page& page);

}  // namespace kp::bill
