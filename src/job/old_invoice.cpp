#include "job/old_invoice.hpp"

#include "job/bind_bill.hpp"
#include "job/format1_read.hpp"
#include "job/replay.hpp"

namespace kp::job {

std::vector<bill::OldInvoice> old_invoices(const journal::Loaded& loaded, const State& state,
                                           const Context& context) {
  std::vector<bill::OldInvoice> out;
  if (format_of(loaded) != format1::kFormat) {
    return out;
  }
  const bill::WorkRecord work = bind_all_work(state, context);
  for (const journal::Entry& entry : loaded.entries) {
    Findings notes;
    const auto record = format1::read(entry, notes);
    if (!record.has_value()) {
      break;   // replay() stops there too
    }
    const auto* body = std::get_if<Body>(&record.value());
    const auto* issued = body == nullptr ? nullptr : std::get_if<InvoiceIssued>(body);
    if (issued == nullptr) {
      continue;
    }
    bill::OldInvoice one;
    one.number = issued->number;
    one.issued = entry.at;
    one.total_minor = issued->total_minor;
    one.currency = issued->currency;
    one.shop = state.shop;
    one.job = state.job;
    one.technician = entry.by;
    one.customer = work.customer;
    one.machine = work.machine;
    out.push_back(std::move(one));
  }
  return out;
}

}  // namespace kp::job
