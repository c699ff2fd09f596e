// The sheet behind the strip: what stands for dead and shut, and every series of readings by place.
#include "app/desk.hpp"
#include "app/place_words.hpp"
#include "base/text.hpp"
#include "base/time.hpp"

namespace kp::app {

namespace {

bool is_good(safety::Found found) {
  return found == safety::Found::source_good || found == safety::Found::earth_good ||
         found == safety::Found::nil;
}

std::string what_was_read(const job::Model& model, const safety::State& safe,
                          const safety::ReadingTaken& reading) {
  switch (reading.role) {
    case safety::Role::known_before:
      return "Known source before";
    case safety::Role::known_after:
      return "Known source after";
    case safety::Role::earth_shown:
      return "Earth to a second earth";
    case safety::Role::pair:
    case safety::Role::pair_dc:
      return cat(place_words(model, safe, reading.a), " to ", place_words(model, safe, reading.b),
                 reading.role == safety::Role::pair_dc ? ", DC" : "");
  }
  return {};
}

std::string figure_of(const safety::ReadingTaken& reading) {
  if (reading.shown.none_lit) {
    return "none lit";
  }
  return cat(fixed_text(reading.shown.volts, 1),
             reading.function == safety::MeterFunction::ohms ? " Ω" : " V");
}

/// A series is what was read at one place from its known source on.
class AllSeries {
 public:
  explicit AllSeries(const Desk& desk) : desk_(&desk) {}

  void add(const job::Stamp& stamp, const safety::ReadingTaken& reading) {
    if (reading.role == safety::Role::known_before || reading.place != place_ || first_ == rows.size()) {
      place_ = reading.place;
      first_ = rows.size();
      begun_ = cat(place_words(*desk_->model(), desk_->state->safety, place_), " · ",
                   clock_text(stamp.at));
    }
    Row row = row_of(cat("series-", integer_text(stamp.n)),
                     what_was_read(*desk_->model(), desk_->state->safety, reading),
                     is_good(reading.found) ? Mark::done : Mark::failed);
    row.detail = cat(reading.tester, ", ", clock_text(stamp.at));
    row.figure = figure_of(reading);
    rows.push_back(row);
    name(reading.proves ? state_of(stamp) : std::string(" · not finished"));
  }
  void begin_anew() { first_ = rows.size(); }

  std::vector<Row> rows;

 private:
  [[nodiscard]] std::string state_of(const job::Stamp& stamp) const {
    const safety::State& safe = desk_->state->safety;
    const bool lost = safe.lost != safety::Loss::none && safe.lost_at.event > std::int64_t{stamp.n};
    return lost ? " · proved, given up later" : " · proved dead";
  }
  void name(const std::string& how_it_stands) {
    for (std::size_t i = first_; i < rows.size(); ++i) {
      rows[i].group = cat(begun_, how_it_stands);
    }
  }

  const Desk* desk_;
  std::string place_;
  std::string begun_;
  std::size_t first_ = 0;
};

}  // namespace

void fill_evidence_sheet(Sheet& sheet, const Desk& desk, const safety::StripSide& side, bool power) {
  sheet.title = power ? "Electricity" : "Water";
  sheet.paragraphs = side.evidence;
  if (power && desk.model() != nullptr) {
    AllSeries all(desk);
    for (const auto& fact : desk.state->facts) {
      if (const auto* reading = std::get_if<safety::ReadingTaken>(&fact.body)) {
        all.add(fact.stamp, *reading);
      } else if (std::holds_alternative<safety::SeriesRestarted>(fact.body)) {
        all.begin_anew();
      }
    }
    sheet.rows = std::move(all.rows);
  }
  if (sheet.paragraphs.empty() && sheet.rows.empty()) {
    sheet.paragraphs.emplace_back("Nothing is shown yet. Take it as live.");
  }
}

}  // namespace kp::app
