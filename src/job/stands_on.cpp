// What a record was decided under, and the law that follows from it.
#include "base/text.hpp"
#include "job/apply.hpp"

namespace kp::job {

StandsOn stands_on_of(const Context& context, std::string_view pack) {
  const Settings& settings = *context.settings;
  const safety::Policy policy = safety::bounded(settings.safety);
  StandsOn out;
  const int model = pack.empty() ? -1 : context.library->find(pack);
  if (model >= 0) {
    const Model& one = context.library->models[to_size(model)];
    out.pack = one.pack.id;
    out.pack_version = one.pack.about.version;
    out.pack_sha = one.sha;
    out.drawings_sha = context.library->drawings_sha;
  }
  out.rates_sha = settings.rates_sha;
  out.program = settings.program;
  out.live_from_volts = policy.live_from_volts;
  out.nil_volts = policy.nil_volts;
  out.earth_ohm = policy.earth_ohm;
  out.charge_gone_volts = policy.charge_gone_volts;
  out.cooled_below_celsius = policy.cooled_below_celsius;
  out.prove_seconds = policy.prove_seconds;
  out.pause_seconds = policy.pause_seconds;
  out.proof_seconds = policy.proof_seconds;
  out.look_seconds = policy.look_seconds;
  out.watch_seconds = policy.watch_seconds;
  out.clock_agree_ms = settings.clock.agree_ms;
  out.clock_gap_ms = settings.clock.longest_gap_ms;
  out.rows = safety::rows_text(settings.rows);
  return out;
}

safety::Law law_of(const StandsOn& fact, bool& all_known) {
  safety::Law law;
  law.policy.live_from_volts = fact.live_from_volts;
  law.policy.nil_volts = fact.nil_volts;
  law.policy.earth_ohm = fact.earth_ohm;
  law.policy.charge_gone_volts = fact.charge_gone_volts;
  law.policy.cooled_below_celsius = fact.cooled_below_celsius;
  law.policy.prove_seconds = fact.prove_seconds;
  law.policy.pause_seconds = fact.pause_seconds;
  law.policy.proof_seconds = fact.proof_seconds;
  law.policy.look_seconds = fact.look_seconds;
  law.policy.watch_seconds = fact.watch_seconds;
  law.rows = safety::rows_of(fact.rows, all_known);
  return law;
}

}  // namespace kp::job
