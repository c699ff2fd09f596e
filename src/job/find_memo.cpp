#include "job/find_memo.hpp"

#include <algorithm>
#include <limits>

#include "base/text.hpp"
#include "job/bind_circuit.hpp"

namespace kp::job {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

std::optional<find::Band> band_of(const circuit::Band& band) {
  const bool there = band.state == circuit::State::shown || band.state == circuit::State::over;
  if (!there || !band.bounded) {
    return std::nullopt;
  }
  return find::Band{band.shown_low, band.shown_high};
}

bool same(const circuit::Reading& a, const circuit::Reading& b) {
  return a.state == b.state && a.exact == b.exact;
}

}  // namespace

const std::optional<find::Band>& FindMemo::good(int test) {
  const auto known = good_.find(test);
  if (known != good_.end()) {
    return known->second;
  }
  const pack::Test& one = model_->pack.tests[to_size(test)];
  return good_.emplace(test, band_of(good_band(model_->pack, model_->netlist, one))).first->second;
}

const find::Band& FindMemo::with_faults(int test, std::vector<int> faults) {
  std::sort(faults.begin(), faults.end());
  const auto known = faulty_.find({test, faults});
  if (known != faulty_.end()) {
    return known->second;
  }
  const pack::Pack& pack = model_->pack;
  const pack::Test& one = pack.tests[to_size(test)];
  if (typical_.find(test) == typical_.end()) {
    typical_.emplace(test, reading_of(pack, model_->netlist, one, {}));
  }
  const find::Band everything{0, kInfinity};
  find::Band band = good(test).value_or(everything);
  // One solve tells whether the probes see the faults at all; a band takes many.
  if (!same(typical_.at(test), reading_of(pack, model_->netlist, one, faults))) {
    band = band_of(fault_band(pack, model_->netlist, one, faults)).value_or(everything);
  }
  return faulty_.emplace(std::pair{test, std::move(faults)}, band).first->second;
}

}  // namespace kp::job
