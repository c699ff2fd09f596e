#include "app/find_words.hpp"

#include <cmath>

#include "base/text.hpp"
#include "job/bind_circuit.hpp"

namespace kp::app {

std::string percent_text(double share) {
  const double percent = share * 100;
  if (percent > 99) return "> 99 %";   // nothing is sure before it is confirmed
  if (percent < 1 && share > 0) return "< 1 %";
  return cat(fixed_text(percent, 0), " %");
}

std::string lower_first(const std::string& title) {
  const bool word = title.size() > 1 && lower(title.substr(1, 1)) == title.substr(1, 1);
  return word ? cat(lower(title.substr(0, 1)), title.substr(1)) : title;
}

bool may_be_open(const pack::Test& test) {
  return test.probe == pack::Probe::ohm || test.probe == pack::Probe::continuity ||
         (test.probe == pack::Probe::other && test.unit == "M\u03A9");
}

std::string band_text(const pack::Test& test) { return cat("good ", job::band_words(test)); }

std::string reading_text(const pack::Test& test, const job::TestRecorded& kept) {
  if (kept.looked) {
    const std::string& seen = kept.good ? test.good : test.bad;
    return !seen.empty() ? seen : kept.good ? "good" : "not good";
  }
  return kept.open_loop ? "OL" : job::quantity_words(kept.value, kept.unit);
}

bool is_good(const pack::Test& test, const job::TestRecorded& kept) {
  return kept.looked ? kept.good : job::in_band(test, kept.value, kept.open_loop);
}

std::string meter_text(const pack::Test& test) {
  switch (test.probe) {
    case pack::Probe::volt_live: return "V~";
    case pack::Probe::volt_low_live: return "V~ low";
    case pack::Probe::ampere_live: return "A~";
    case pack::Probe::ohm: return "\u03A9";
    case pack::Probe::continuity: return "\u03A9";
    case pack::Probe::other: return test.unit;
    case pack::Probe::look: break;
  }
  return {};
}

}  // namespace kp::app
