// A job begins: a new one, the demo, or one that goes on with a journal of an older format.
#include <algorithm>
#include <utility>

#include "app/session.hpp"
#include "base/text.hpp"
#include "job/unit_found.hpp"
#include "journal/format.hpp"

namespace kp::app {

namespace {

std::string digits_of(std::string date) {
  date.erase(std::remove(date.begin(), date.end(), '-'), date.end());
  return date;
}

}  // namespace

std::string Session::new_job_id() {
  return cat(digits_of(date_text(stamp_now(1).at)), "-", outside_.identity->fresh().substr(0, 4));
}

void Session::create(job::Mode mode, bool demo) {
  job::JobOpened opened;
  opened.job = new_job_id();
  opened.mode = mode;
  opened.shop = content_.has_rates ? content_.rates.shop.name : std::string();
  std::vector<job::Body> first = {opened};
  if (demo) {
    for (job::Body& body : demo_records(content_)) {
      first.push_back(std::move(body));
    }
  }
  begin(mode, opened.job, std::move(first));
}

void Session::begin(job::Mode mode, const std::string& job, std::vector<job::Body> first) {
  leave();
  mode_ = mode;
  open_ = true;
  wanted_ = job;
  tip_ = std::string(journal::kNoPrev);
  people_ = {};
  queued_.assign(first.begin() + 1, first.end());
  ask(store().acquire(job), {Ask::acquire, mode, {}});
  standing_.write();
  (void)propose(first.front(), true);
}

/// A journal of an older format is kept as it is: a new one names its tip.
void Session::go_on_in_new() {
  if (apart_ != Apart::older) {
    return;
  }
  const std::string job = new_job_id();
  Result<std::vector<job::Body>> first = job::going_on(state_, tip_, job);
  if (!first.has_value()) {
    local_.refusal = {first.error().text()};
    dirty_ = true;
    return;
  }
  begin(mode_, job, std::move(first.value()));
}

}  // namespace kp::app
