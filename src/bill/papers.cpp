#include "bill/papers.hpp"

#include "base/text.hpp"

namespace kp::bill {
namespace {

void add(std::vector<std::string>& lines, const std::string& text) {
  if (!trim(text).empty()) {
    lines.push_back(text);
  }
}

std::string labelled(const char* label, const std::string& text) {
  return trim(text).empty() ? std::string() : cat(label, " ", text);
}

}  // namespace

Letterhead letterhead(const Shop& shop) {
  Letterhead head;
  head.shop = shop.name;
  add(head.shop_lines, join(shop.address, ", "));
  const bool both = !shop.phone.empty() && !shop.email.empty();
  add(head.shop_lines, cat(shop.phone, both ? ", " : "", shop.email));
  add(head.shop_lines, shop.licence);
  add(head.shop_lines, labelled("Registered", shop.legal_id));
  add(head.shop_lines, labelled("Tax number", shop.tax_id));
  return head;
}

Columns who_and_what(const Party& customer, const Machine& machine) {
  Columns columns;
  Columns::Column who{"Customer", {}};
  add(who.lines, customer.name);
  for (const std::string& line : customer.address) {
    add(who.lines, line);
  }
  add(who.lines, customer.phone);
  Columns::Column what{"Machine", {}};
  add(what.lines, std::string(trim(cat(machine.maker, " ", machine.model))));
  add(what.lines, machine.title);
  add(what.lines, labelled("Serial", machine.serial));
  add(what.lines, machine.place);
  columns.columns = {std::move(who), std::move(what)};
  return columns;
}

Stamps stamps_for(const WorkRecord& work) {
  Stamps stamps;
  std::optional<Moment> seen;
  for (const Segment& segment : work.segments) {
    for (const Moment& moment : {segment.start, segment.end}) {
      if (seen) {
        stamps.offset = stamps.offset || seen->offset_min != moment.offset_min;
        stamps.date = stamps.date || date_text(*seen) != date_text(moment);
      }
      seen = moment;
    }
  }
  return stamps;
}

std::string stamp(const std::optional<Moment>& moment, Stamps stamps, std::string_view between) {
  if (!moment) {
    return {};
  }
  std::string text = clock_text(*moment);
  if (stamps.date) {
    text = cat(date_text(*moment), between, text);
  }
  if (stamps.offset) {
    const std::string full = rfc3339(*moment);
    text += cat(between, full.back() == 'Z' ? std::string("UTC") : full.substr(full.size() - 6));
  }
  return text;
}

std::string day_and_time(Moment moment, bool offset) {
  return stamp(moment, Stamps{true, offset});
}

std::string codes_prevail() {
  return "Local codes and licensed practice prevail over this paper. Where they ask for more, "
         "do more.";
}

std::string kept_in_journal(const std::string& job, const std::string& mark) {
  return cat("Kept in the journal of job ", job, ", mark ", mark, ".");
}

std::string recorded_times(const WorkRecord& work) {
  const bool offset = stamps_for(work).offset;
  std::vector<std::string> days;
  std::string day;
  Moment last;
  for (const Segment& segment : work.segments) {
    if (date_text(segment.start) != day) {
      day = date_text(segment.start);
      days.push_back(day_and_time(segment.start, offset));
      last = segment.end;
    }
    last = segment.end.utc_ms > last.utc_ms ? segment.end : last;
    const auto to = days.back().find(" to ");
    days.back() = cat(days.back().substr(0, to), " to ", stamp(last, Stamps{false, offset}));
  }
  return days.empty() ? std::string() : cat("Recorded ", join(days, ", "), ".");
}

std::vector<std::string> time_remarks(const WorkRecord& work) {
  const Stamps stamps = stamps_for(work);
  std::vector<std::string> remarks;
  for (const Segment& segment : work.segments) {
    if (segment.unanswered) {
      remarks.push_back(cat("From ", stamp(segment.start, stamps), ", ",
                            segment_word(segment.kind), ": not known how long. Not counted."));
    } else if (!segment.flag.empty()) {
      remarks.push_back(cat("From ", stamp(segment.start, stamps), ", ",
                            segment_word(segment.kind), ": ", segment.flag, "."));
    }
  }
  for (const TimeCorrection& correction : work.corrections) {
    const bool less = correction.seconds < 0;
    remarks.push_back(cat(less ? "Less " : "More ", segment_word(correction.kind), ", ",
                          duration_words(less ? -correction.seconds : correction.seconds), ": ",
                          correction.reason, correction.by.empty() ? "" : " (", correction.by,
                          correction.by.empty() ? "" : ")", "."));
  }
  return remarks;
}

}  // namespace kp::bill
