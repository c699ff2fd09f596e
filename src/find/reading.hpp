#pragma once

#include <string>
#include <vector>

#include "find/problem.hpp"

namespace kp::find {

/// What a display may show: [low, high] with the meter's error and resolution already in it;
/// infinity is an open loop (OL).
struct Band {
  double low = 0;
  double high = 0;
};

/// A reading's density: the band evenly, by its logarithm where it spans more than a decade; beside
/// each end a shoulder of share * |end| + least, which holds `edge` / 2 of the readings, for
/// tolerances that were set too narrow and leads that were not quite clean. Where a band ends at OL,
/// half the readings are OL and the rest lie up to `open_from`. The shares are ours, no source.
struct ReadingRule {
  double soft_share = 0.03;
  double soft_least = 0.1;     ///< in the unit of the reading, > 0
  double edge = 0.05;
  double open_from = 1e7;      ///< the display's largest number
  double lost_bits = 0.005;
  int most_outcomes = 8;
};

/// From what to what a reading is taken for one outcome.
struct Bin {
  double low = 0;              ///< low and high infinite: OL
  double high = 0;
  int outcome = 0;
};

/// A measuring test, cut where the bands of the faults begin and end. Neighbours that tell nearly the
/// same are joined (a join may lose ReadingRule::lost_bits of what the reading says of faults that are
/// all as likely, more where there would be more than `most_outcomes`); bins in which all faults stand
/// in one proportion are one outcome, since Bayes cannot tell them apart. The first outcome
/// is where a good unit reads most often; the last, "nothing known", is outside every band.
struct Bins {
  std::vector<Bin> bins;       ///< rising, OL last
  std::vector<Outcome> outcomes;
};

/// `faults`: the band of each fault. `unit` is put behind the numbers of an outcome's name.
[[nodiscard]] Bins bins_of(const Band& good, const std::vector<Band>& faults, const ReadingRule& rule,
                           const std::string& unit);

/// What a unit that reads in this band says to a test that was cut for others: an outcome each.
[[nodiscard]] std::vector<double> likelihood_of(const Bins& bins, const Band& band, const ReadingRule& rule);

/// The outcome that a display's number belongs to; infinity is OL.
[[nodiscard]] int outcome_of(const Bins& bins, double shown);

}  // namespace kp::find
