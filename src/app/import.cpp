#include "app/import.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "job/audit.hpp"
#include "journal/compare.hpp"
#include "journal/reader.hpp"
#include "journal/writer.hpp"

namespace kp::app {

namespace {

constexpr std::size_t kTipDigits = 8;

}  // namespace

std::string fork_id(const std::string& job, const std::string& tip) {
  return cat(job, "-fork-", tip.substr(0, kTipDigits));
}

Import::Import(port::Store& store, const std::string& text) : store_(&store) {
  const journal::Loaded loaded = journal::read(text);
  const journal::Judgement judgement = journal::judge(loaded, job::audit(loaded).further);
  const bool kept = std::holds_alternative<journal::Whole>(judgement) ||
                    std::holds_alternative<journal::Newer>(judgement);
  if (!kept || loaded.damage) {
    const journal::Verdict verdict = journal::verdict_of(judgement);
    refuse(cat(verdict.sentence, " ", verdict.remedy));
    return;
  }
  for (const journal::Entry& entry : loaded.entries) {
    theirs_.push_back(journal::write_entry(entry));
  }
  tip_ = loaded.tip_hash;
  const data::Value* id = loaded.entries.front().payload.find("job");
  job_ = id == nullptr ? std::string() : id->text;
  (void)store_->load(job_);
}

Arrived Import::poll() {
  for (const port::Completion& done : store_->take_completed()) {
    if (state_ == Arrived::waiting) {
      take(done);
    }
  }
  return state_;
}

void Import::refuse(const std::string& why) {
  state_ = Arrived::refused;
  why_ = why;
}

void Import::take(const port::Completion& done) {
  if (done.error) {
    refuse(done.error->text());
    return;
  }
  switch (step_) {
    case Step::load:
      take_ours(done.lines);
      return;
    case Step::load_fork:
      if (!done.lines.empty()) {
        state_ = Arrived::fork;   // it came before
        return;
      }
      keep(Arrived::fork, 0);
      return;
    case Step::acquire:
      step_ = Step::append;
      open_ = theirs_.size() - from_;
      for (std::size_t i = from_; i < theirs_.size(); ++i) {
        (void)store_->append(job_, static_cast<std::uint32_t>(i) + 1, theirs_[i]);
      }
      return;
    case Step::append:
      if (--open_ == 0) {
        state_ = wanted_;
        (void)store_->release(job_);
      }
      return;
  }
}

void Import::take_ours(const std::vector<std::string>& ours) {
  if (ours.empty()) {
    keep(Arrived::new_job, 0);
    return;
  }
  const journal::Loaded here = journal::read_lines(ours);
  if (here.damage) {
    refuse("The journal of this job is damaged here. Export it before anything is added.");
    return;
  }
  const journal::Comparison compared =
      journal::compare(here, journal::read(journal::to_file(theirs_)));
  // What was erased here stays erased, whatever comes from outside.
  std::copy_n(ours.begin(), compared.common, theirs_.begin());
  switch (compared.kinship) {
    case journal::Kinship::same:
    case journal::Kinship::first_longer:
      state_ = Arrived::known;
      return;
    case journal::Kinship::second_longer:
      parts_at_ = compared.common + 1;
      keep(Arrived::longer, compared.common);
      return;
    case journal::Kinship::fork:
    case journal::Kinship::strangers:
      parts_at_ = compared.common + 1;
      job_ = fork_id(job_, tip_);
      step_ = Step::load_fork;
      (void)store_->load(job_);
      return;
  }
}

void Import::keep(Arrived as, std::size_t from) {
  wanted_ = as;
  from_ = from;
  step_ = Step::acquire;
  (void)store_->acquire(job_);
}

}  // namespace kp::app
