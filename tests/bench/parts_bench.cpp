// Each part of the packs that ship as the sole target of a plan, in and back: one line a part, and
// the worst of them.

#include <algorithm>
#include <string>

#include "job/work.hpp"
#include "support/bench.hpp"

int main() {
  using namespace kp;
  constexpr double kTargetUs = 5'000;
  for (const job::Model& model : test::shipped_library().models) {
    const plan::State whole = job::initial_unit(model);
    for (int part = 0; part < to_int(model.pack.parts.size()); ++part) {
      if (!model.pack.parts[to_size(part)].removable) {
        continue;
      }
      plan::Targets targets;
      targets.parts = {part};
      const plan::Plan in = plan::reach(model.rules, whole, targets);
      plan::State open = whole;
      for (const plan::Step& step : in.steps) {
        open = model.rules.apply(open, plan::Action{step.kind, step.subject});
      }
      const plan::Plan back = plan::refit(model.rules, open);
      const std::string name = cat(model.pack.id, " ", model.pack.parts[to_size(part)].id, " ",
                                   duration_text(in.cost_ms), in.proved ? "" : " NOT PROVED");
      test::bench(cat("reach ", name).c_str(), 5, kTargetUs,
                  [&] { test::keep(plan::reach(model.rules, whole, targets)); });
      test::bench(cat("refit ", name, back.proved ? "" : " NOT PROVED").c_str(), 5, kTargetUs,
                  [&] { test::keep(plan::refit(model.rules, open)); });
    }
  }
  return 0;
}
