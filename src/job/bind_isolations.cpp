#include "job/bind_isolations.hpp"

#include <algorithm>
#include <string_view>
#include <utility>

#include "base/text.hpp"
#include "job/apply.hpp"

namespace kp::job {

namespace {

using bill::EnergyKind;

std::string volts_text(const safety::ReadingTaken& reading) {
  if (reading.shown.none_lit) {
    return "no step lit";
  }
  const bool ohms = reading.function == safety::MeterFunction::ohms;
  return cat(number_text(reading.shown.volts), ohms ? " Ω" : " V");
}

/// "behind the access panel": a place by its id, which names the covers in front of it.
std::string place_named(const std::string& id) {
  constexpr std::string_view kBehind = "behind:";
  if (id.rfind(kBehind, 0) != 0) {
    return id;
  }
  std::string out = cat("behind the ", id.substr(kBehind.size()));
  std::replace(out.begin(), out.end(), '-', ' ');
  return out;
}

std::string title_of(const safety::ReadingTaken& reading) {
  switch (reading.role) {
    case safety::Role::known_before:
      return "Tester on the known source";
    case safety::Role::known_after:
      return "Tester on the known source again";
    case safety::Role::earth_shown:
      return "Earth to a second earth";
    case safety::Role::pair:
      return cat(place_named(reading.place), ": ", reading.a, " to ", reading.b);
    case safety::Role::pair_dc:
      return cat(place_named(reading.place), ": ", reading.a, " to ", reading.b, ", DC");
  }
  return {};
}

std::string limit_of(const safety::ReadingTaken& reading, const safety::Policy& policy) {
  switch (reading.role) {
    case safety::Role::known_before:
    case safety::Role::known_after:
      return cat(number_text(reading.band_low), " to ", number_text(reading.band_high), " V");
    case safety::Role::earth_shown:
      return cat("below ", number_text(policy.earth_ohm), " Ω");
    case safety::Role::pair:
    case safety::Role::pair_dc:
      return cat("at most ", number_text(policy.nil_volts), " V");
  }
  return {};
}

bool is_good(safety::Found found) {
  return found == safety::Found::source_good || found == safety::Found::earth_good ||
         found == safety::Found::nil;
}

class Isolations {
 public:
  explicit Isolations(const State& state)
      : state_(state), policy_(safety::bounded(state.law.policy)) {
    for (const auto& one : state.facts) {
      safety::apply(safe_, safety::Change(one.body), safety_stamp(one.stamp));
      at_ = one.stamp;
      std::visit(*this, one.body);
      note_loss();
    }
  }

  [[nodiscard]] std::vector<bill::IsolationTaken> take() {
    for (Side* side : {&power_, &water_}) {
      close(*side);
    }
    std::vector<bill::IsolationTaken> out = std::move(power_.done);
    out.insert(out.end(), water_.done.begin(), water_.done.end());
    out.insert(out.end(), other_.begin(), other_.end());
    return out;
  }

  void operator()(const safety::Isolated& fact) {
    close(power_);
    auto& power = open(power_, "Electricity", EnergyKind::electricity);
    power.how = safety::rule_of(fact.means).title;
    power.by = at_.by;
    power.isolated = at_.at;
  }
  void operator()(const safety::HeldFast& fact) {
    auto& power = open(power_, "Electricity", EnergyKind::electricity);
    power.how += cat(power.how.empty() ? "" : "; ", safety::title(fact.control),
                     fact.lock.empty() ? "" : ", lock ", fact.lock,
                     fact.tag.empty() ? "" : ", tag ", fact.tag,
                     fact.measure.empty() ? "" : "; ", fact.measure);
  }
  void operator()(const safety::ReadingTaken& fact) {
    auto& power = open(power_, "Electricity", EnergyKind::electricity);
    bill::ReadingTaken reading;
    reading.title = title_of(fact);
    reading.value = cat(volts_text(fact), ", tester ", fact.tester);
    reading.limit = limit_of(fact, policy_);
    reading.source = "29 CFR 1910.333(b)(2)(iv)(B); limit stricter, ours";
    reading.pass = is_good(fact.found);
    reading.at = at_.at;
    power.evidence.push_back(std::move(reading));
    if (fact.proves && fact.place == safety::kSupply) {
      power.proved = at_.at;
    }
  }
  void operator()(const safety::NeutralRead& fact) {
    auto& power = open(power_, "Electricity", EnergyKind::electricity);
    bill::ReadingTaken reading;
    reading.title = "Current in the house's neutral";
    reading.value = cat(number_text(fact.amperes), " A, clamp ", fact.tester);
    reading.limit = "0.0 A";
    reading.source = "common practice, no source";
    reading.pass = fact.quiet;
    reading.at = at_.at;
    power.evidence.push_back(std::move(reading));
  }
  void operator()(const safety::WaterShut& fact) {
    close(water_);
    auto& water = open(water_, "Water", EnergyKind::water);
    water.how = fact.valve;
    water.by = at_.by;
    water.isolated = at_.at;
    // Under pressure no joint dripped, and none is opened after that: nothing is left to relieve.
    for (const auto& test : state_.proved) {
      const bool dry = test.body.act == safety::Act::static_test && test.body.passed;
      if (dry && standing_n_ > 0 && test.stamp.n > standing_n_ && test.stamp.n < at_.n) {
        water.proved = test.stamp.at;
      }
    }
    standing_n_ = 0;
  }
  void operator()(const safety::Relieved&) {
    open(water_, "Water", EnergyKind::water).proved = at_.at;
  }
  void operator()(const safety::PowerOn&) { give_back(power_); }
  void operator()(const safety::WaterOn& fact) {
    give_back(water_);
    standing_n_ = fact.still ? at_.n : 0;
  }
  void operator()(const safety::Discharged& fact) {
    add_other("Stored charge", cat(place_named(fact.place), ": ", number_text(fact.dc_volts),
                                   " V DC left, tester ", fact.tester));
  }
  void operator()(const safety::OpeningsBarred& fact) {
    add_other("Left open", cat("openings barred: ", to_int(fact.loose.size()), " joints loose, ",
                               to_int(fact.away.size()), " parts out"));
  }
  void operator()(const safety::Cooled& fact) {
    add_other("Heat", cat(place_named(fact.place), ": ", number_text(fact.celsius), " °C"));
  }
  void operator()(const safety::Secured& fact) {
    add_other("Weight", cat(fact.position, ": ", safety::words(fact.how)));
  }
  template <class T>
  void operator()(const T&) {}

 private:
  struct Side {
    std::vector<bill::IsolationTaken> done;
    bill::IsolationTaken now;
    bool begun = false;
  };

  static bill::IsolationTaken& open(Side& side, const char* title, EnergyKind kind) {
    if (!side.begun) {
      side.now = {};
      side.now.title = title;
      side.now.energy = kind;
      side.begun = true;
    }
    return side.now;
  }
  static void close(Side& side) {
    if (side.begun) {
      side.done.push_back(std::move(side.now));
      side.begun = false;
    }
  }
  void give_back(Side& side) const {
    if (side.begun) {
      side.now.restored = at_.at;
    } else if (!side.done.empty() && !side.done.back().restored.has_value()) {
      side.done.back().restored = at_.at;
    }
    close(side);
  }
  void add_other(const char* title, std::string how) {
    bill::IsolationTaken other;
    other.title = title;
    other.energy = EnergyKind::other;
    other.how = std::move(how);
    other.by = at_.by;
    other.isolated = at_.at;
    other.proved = at_.at;
    other_.push_back(std::move(other));
  }
  /// A proof that was lost is closed with the reason; what comes after is another.
  void note_loss() {
    if (safe_.lost_at.event != static_cast<std::int64_t>(at_.n)) {
      return;
    }
    const bool water = safe_.lost == safety::Loss::found_wet || safe_.lost == safety::Loss::seeps ||
                       safe_.lost == safety::Loss::water_back;
    Side& side = water ? water_ : power_;
    const bool given = safe_.lost == safety::Loss::power_back || safe_.lost == safety::Loss::lock_off ||
                       safe_.lost == safety::Loss::water_back;
    if (side.begun && !given) {
      side.now.voided = safety::title(safe_.lost);
      close(side);
    }
  }

  const State& state_;
  safety::Policy policy_;
  safety::State safe_;
  std::uint32_t standing_n_ = 0;   ///< record that put the water on with the power dead; 0: it is not
  Stamp at_;
  Side power_, water_;
  std::vector<bill::IsolationTaken> other_;
};

}  // namespace

std::vector<bill::IsolationTaken> bind_isolations(const State& state) {
  return Isolations(state).take();
}

std::string near_miss_words(const std::string& code) {
  if (code == "live-on-isolated") return "voltage was read on the isolated machine.";
  if (code == "controls-answered") return "the machine answered when it was tried.";
  if (code == "neutral-carries") return "the neutral of the isolated machine carried current.";
  if (code == "frame-live") return "bare metal stood under voltage.";
  if (code == "tester-failed") return "the tester failed during a proof.";
  if (code == "power-found-on") return "power was found on again.";
  if (code == "water-found-on") return "water was found on again.";
  if (code == "lock-found-off") return "a lock was found off.";
  return cat(code, ".");
}

}  // namespace kp::job
