// find: which fault it may be after these readings, and what to do next.
#include <algorithm>
#include <cmath>

#include "base/text.hpp"
#include "cli/commands.hpp"
#include "data/value.hpp"
#include "job/bind_find.hpp"
#include "job/bind_plan.hpp"
#include "pack/load.hpp"

namespace kp::cli {
namespace {

using data::Value;

constexpr std::int64_t kHourMinor = 9500;   // an invented rate, as the demo's rate card has it
constexpr double kLeastShown = 0.01;

/// "heater-ohms=OL", "latch-look=good", "supply-volts=121.5" as a record of the job.
bool read_reading(const pack::Pack& pack, const std::string& word, job::TestRecorded& out,
                  std::string& err) {
  const std::size_t sign = word.find('=');
  out.test = word.substr(0, sign);
  const int index = pack.test(out.test);
  if (index < 0) {
    std::vector<std::string> ids;
    for (const pack::Test& test : pack.tests) ids.push_back(test.id);
    const auto near = nearest(out.test, ids);
    err = cat("\"", out.test, "\" is no test.",
              near.has_value() ? cat(" Did you mean \"", near.value(), "\"?") : "", "\n");
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
  const auto text = pack_text(wanted.pack, files);
  if (!text.has_value()) {
    output.err += cat(text.error().text(), "\n");
    return kUsage;
  }
  pack::Loaded loaded = pack::load(text.value());
  if (!loaded.pack.has_value()) {
    print_findings(loaded.findings, wanted.pack, output);
    return kFinding;
  }
  job::Library library;
  auto model = job::make_model(std::move(loaded.pack.value()));
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
    std::vector<std::string> ids;
    for (const pack::Symptom& symptom : pack.symptoms) ids.push_back(symptom.id);
    const auto near = nearest(wanted.complaint, ids);
    output.err += cat("\"", wanted.complaint, "\" is no complaint.",
                      near.has_value() ? cat(" Did you mean \"", near.value(), "\"?") : "", "\n");
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
  job::FindTerms terms;
  terms.labour_per_hour_minor = kHourMinor;
  const job::Finding finding = job::bind_find(state, {&library, &settings}, 0, terms, memo);
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
