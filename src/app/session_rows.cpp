// The jobs of the start page, each from its own journal.
#include <algorithm>

#include "app/session.hpp"
#include "base/text.hpp"
#include "job/replay.hpp"
#include "journal/reader.hpp"

namespace kp::app {

void Session::take_row(const Asked& asked, const port::Completion& done) {
  const journal::Loaded loaded = journal::read_lines(done.lines);
  const job::Replayed replayed = job::replay(loaded, content_.library);
  const job::State& state = replayed.state;
  Row row;
  row.id = asked.job;
  row.group = asked.mode == job::Mode::practice ? "Practice" : "Jobs";
  row.title = state.customer.erased ? cat("Job ", asked.job, ", customer erased")
              : state.customer.name.empty() ? cat("Job ", asked.job) : state.customer.name;
  const pack::Pack* pack =
      state.model < 0 ? nullptr : &content_.library.models[to_size(state.model)].pack;
  const int symptom = pack == nullptr ? -1 : pack->symptom(state.complaint.symptom);
  row.detail = symptom < 0 ? (pack == nullptr ? std::string("Machine not known yet")
                                              : pack->about.title)
                           : pack->symptoms[to_size(symptom)].title;
  row.figure = std::string(state.outcome == job::Outcome::none
                               ? job::stage_title(state.stage)
                               : job::outcome_title(state.outcome));
  if (!state.job.empty() && state.job != asked.job) {
    row.detail = cat("Fork of job ", state.job, ": two devices went on with it");
  }
  row.mark = replayed.damage.has_value() ? Mark::failed
             : state.outcome == job::Outcome::none ? Mark::now
                                                   : Mark::done;
  Action tap;
  tap.verb = Verb::open_job;
  tap.id = asked.job;
  tap.flag = asked.mode == job::Mode::practice;
  row.tap = tap;
  jobs_.push_back(std::move(row));
  // Field jobs before practice, the newest first: job numbers begin with the day.
  std::stable_sort(jobs_.begin(), jobs_.end(), [](const Row& a, const Row& b) {
    return a.group != b.group ? a.group < b.group : a.id > b.id;
  });
}

}  // namespace kp::app
