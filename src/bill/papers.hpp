#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "bill/page.hpp"
#include "bill/record.hpp"

// What the papers share; for the pages' own files only.

namespace kp::bill {

/// The head with the shop's lines; the caller adds title, number and facts.
[[nodiscard]] Letterhead letterhead(const Shop& shop);

/// Customer and machine side by side; what is not known is left out.
[[nodiscard]] Columns who_and_what(const Party& customer, const Machine& machine);

/// What a time of day needs beside it, so that it can be read in one way only.
struct Stamps {
  bool date = false;    ///< the work went over more than one day
  bool offset = false;  ///< the local clock was set within the work
};

[[nodiscard]] Stamps stamps_for(const WorkRecord& work);

/// "10:42" in the moment's own local time, with date and offset where they are needed, each
/// parted by `between`: "2026-03-04 10:42 -05:00". "" for nothing.
[[nodiscard]] std::string stamp(const std::optional<Moment>& moment, Stamps stamps,
                                std::string_view between = " ");

/// "2026-03-04 10:42", with the offset where it is needed.
[[nodiscard]] std::string day_and_time(Moment moment, bool offset = false);

/// The statement that every paper about the work carries.
[[nodiscard]] std::string codes_prevail();

/// Where a paper's facts can be looked up: the mark is number and sum of a record.
[[nodiscard]] std::string kept_in_journal(const std::string& job, const std::string& mark);

/// From the first to the last recorded moment of each day, one sentence; "" without segments.
[[nodiscard]] std::string recorded_times(const WorkRecord& work);

/// The corrections and remarks of the clock, one sentence each.
[[nodiscard]] std::vector<std::string> time_remarks(const WorkRecord& work);

}  // namespace kp::bill
