// find: which fault it may be after these readings, and what to do next.
#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "bill/rates.hpp"
#include "cli/commands.hpp"
#include "data/value.hpp"
#include "job/bind_find.hpp"
#include "job/bind_plan.hpp"
#include "pack/load.hpp"

namespace kp::cli {
namespace {

using data::Value;

constexpr double kLeastShown = 0.01;

/// "heater-ohms=OL", "latch-look=good", "supply-volts=121.5" as a record of the job.
bool read_reading(const pack::Pack& pack, const std::string& word, job::TestRecorded& out,
                  std::string& err) {
  const std::size_t sign = word.find('=');
  out.test = word.substr(0, sign);
  const int index = pack.test(out.test);
  if (index < 0) {
    err = no_such(out.test, "test", ids_of(pack.tests));
    return false;
  }
  const std::string value = sign == std::string::npos ? "" : word.substr(sign + 1);
  const pack::Test& test = pack.tests[to_size(index)];
  if (test.probe == pack::Probe::look) {
    out.looked = true;
    out.good = value == "good";
    if (!out.good && value != "bad") {
      err = cat("\"", word, "\": say ", test.id, "=good or ", test.id, "=bad.\n");
      return false;
    }
    return true;
  }
  if (lower(value) == "ol") {
    out.open_loop = true;
    return true;
  }
  const auto number = parse_number(value);
  if (!number.has_value() || number.value() < test.field_low || number.value() > test.field_high) {
    err = cat("\"", word, "\": give a number from ", number_text(test.field_low), " to ",
              number_text(test.field_high), " ", test.unit, ", or OL.\n");
    return false;
  }
  out.value = number.value();
  return true;
}

Value json_of(const job::Finding& finding, const find::Advice& advice,
              const std::vector<std::string>& reasons, const pack::Pack& pack) {
  Value out = Value::object();
  Value faults = Value::array();
  for (std::size_t i = 0; i < finding.faults.size(); ++i) {
    Value one = Value::object();
    const int fault = finding.faults[i];
    one.set("fault", Value::of(fault < 0 ? std::string("else") : pack.faults[to_size(fault)].id));
    one.set("p", Value::of(advice.belief.fault[i]));
    faults.push(std::move(one));
  }
  out.set("faults", std::move(faults));
  const char* const moves[] = {"test", "repair", "give-up", "nothing"};
  out.set("next", Value::of(std::string(moves[static_cast<int>(advice.move)])));
  if (advice.move == find::Move::test) {
    out.set("what", Value::of(pack.tests[to_size(finding.tests[to_size(advice.index)])].id));
  } else if (advice.move == find::Move::repair) {
    out.set("what", Value::of(pack.parts[to_size(finding.repair_parts[to_size(advice.index)])].id));
  }
  out.set("seconds", Value::of(advice.own_seconds));
  out.set("wayThereSeconds", Value::of(advice.move_seconds));
  out.set("expectedSeconds", Value::of(advice.expected_seconds));
  out.set("proved", Value::of(advice.proved));
  out.set("gap", Value::of(advice.gap));
  Value words = Value::array();
  for (const std::string& reason : reasons) words.push(Value::of(reason));
  out.set("reasons", std::move(words));
  return out;
}

}  // namespace

int print_advice(const FindWanted& wanted, Files& files, Output& output) {
  pack::Pack loaded;
  if (const int code = read_pack(wanted.pack, files, output, loaded); code != kDone) {
    return code;
  }
  job::FindTerms terms;
  if (!wanted.rates.empty()) {
    const auto text = files.read(wanted.rates);
    if (!text.has_value()) {
      output.err += cat(text.error().text(), "\n");
      return kUsage;
    }
    Findings findings;
    const auto card = bill::load_rates(text.value(), findings);
    if (!card.has_value()) {
      print_findings(findings, wanted.rates, output);
      return kFinding;
    }
    terms.labour_per_hour_minor = card->labour_per_hour_minor;
  }
  job::Library library;
  auto model = job::make_model(std::move(loaded));
  if (!model.has_value()) {
    output.err += cat(model.error().text(), "\n");
    return kFinding;
  }
  library.models.push_back(std::move(model.value()));
  const pack::Pack& pack = library.models.front().pack;
  if (pack.faults.empty()) {
    output.err += cat(wanted.pack, " has no faults to choose from.\n");
    return kFinding;
  }
  job::State state;
  state.model = 0;
  state.complaint.symptom = wanted.complaint;
  if (!wanted.complaint.empty() && pack.symptom(wanted.complaint) < 0) {
    output.err += no_such(wanted.complaint, "complaint", ids_of(pack.symptoms));
    return kUsage;
  }
  for (const std::string& word : wanted.readings) {
    job::TestRecorded body;
    std::string err;
    if (!read_reading(pack, word, body, err)) {
      output.err += err;
      return kUsage;
    }
    job::Stamp stamp;
    stamp.n = static_cast<std::uint32_t>(state.tests.size() + 1);
    state.tests.push_back({stamp, body});
  }
  const job::Settings settings;
  job::FindMemo memo(library.models.front());
  const job::Finding finding = job::bind_find(state, {&library, &settings}, terms, memo);
  const find::Advice advice = find::advise(finding.problem, finding.evidence);
  const auto reasons = find::explain(finding.problem, finding.evidence, advice);
  if (wanted.json) {
    output.out += cat(data::print(json_of(finding, advice, reasons, pack)), "\n");
  } else {
    std::vector<std::size_t> order(finding.faults.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
      return advice.belief.fault[a] > advice.belief.fault[b];
    });
    for (const std::size_t i : order) {
      if (advice.belief.fault[i] < kLeastShown) continue;
      output.out += cat(fixed_text(advice.belief.fault[i] * 100, 0), " %  ",
                        finding.problem.faults[i].name, "\n");
    }
    for (const std::string& reason : reasons) output.out += cat(reason, "\n");
    output.out += cat("Expected to a confirmed repair: ",
                      duration_words(std::llround(advice.expected_seconds)), ", ",
                      advice.proved ? "proved least"
                                    : cat("at most ", fixed_text(advice.gap * 100, 1), " % above the least"),
                      ".\n");
  }
  return advice.belief.fit == find::Fit::fits ? kDone : kFinding;
}

}  // namespace kp::cli
