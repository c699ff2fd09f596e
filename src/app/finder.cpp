#include "app/finder.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "job/bind_circuit.hpp"

namespace kp::app {
namespace {

/// Choices that the search looks into: enough that a shipped pack's advice is proved or close to it.
constexpr std::uint64_t kOpenings = 4000;

}  // namespace

void Finder::think(const job::State& state, const job::Context& context,
                   std::int64_t labour_per_hour_minor) {
  job::FindTerms terms;
  terms.labour_per_hour_minor = labour_per_hour_minor;
  finding_ = job::bind_find(state, context, terms, memo_);
  find::AdviseOptions options;
  options.openings = kOpenings;
  advice_ = find::advise(finding_.problem, finding_.evidence, options);
  reasons_ = find::explain(finding_.problem, finding_.evidence, advice_);
}

int Finder::test(int pack_test) const {
  const auto found = std::find(finding_.tests.begin(), finding_.tests.end(), pack_test);
  return found == finding_.tests.end() ? -1 : static_cast<int>(found - finding_.tests.begin());
}

int Finder::advised_test() const {
  return advice_.move == find::Move::test ? finding_.tests[to_size(advice_.index)] : -1;
}

const std::optional<ChosenStrip>& Finder::strip(int pack_test) {
  const auto known = strips_.find(pack_test);
  if (known != strips_.end()) {
    return known->second;
  }
  const pack::Pack& pack = model_->pack;
  const pack::Test* test = pack_test < 0 ? nullptr : &pack.tests[to_size(pack_test)];
  int wanted = -1;
  if (test != nullptr) {
    const std::vector<int> loads = job::loads_of(pack, test->part);
    wanted = loads.empty() ? -1 : loads.front();
  }
  std::optional<ChosenStrip> strip;
  if (test == nullptr || test->on_circuit()) {
    strip = strip_for(pack, model_->netlist, test, wanted);
  }
  return strips_.emplace(pack_test, std::move(strip)).first->second;
}

const std::optional<ChosenStrip>& Finder::advised_strip() {
  if (advice_.move != find::Move::repair) {
    return strip(advised_test());
  }
  const int part = finding_.repair_parts[to_size(advice_.index)];
  const auto known = part_strips_.find(part);
  if (known != part_strips_.end()) {
    return known->second;
  }
  std::vector<int> elements;
  for (int i = 0; i < to_int(model_->pack.circuit.elements.size()); ++i) {
    if (model_->pack.circuit.elements[to_size(i)].part == part) {
      elements.push_back(i);
    }
  }
  return part_strips_.emplace(part, strip_through(model_->pack, model_->netlist, elements)).first->second;
}

}  // namespace kp::app
