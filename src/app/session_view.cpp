// The snapshot: frame, stage, plan, sheet, and what must be said of saving.
#include "app/keeping.hpp"
#include "app/session.hpp"
#include "base/text.hpp"

namespace kp::app {

namespace {

void fill_stage(Snapshot& out, const Desk& desk) {
  switch (desk.state->stage) {
    case job::Stage::arrive:
      fill_arrive(out, desk);
      return;
    case job::Stage::make_safe:
      fill_make_safe(out, desk);
      return;
    case job::Stage::find:
      fill_find(out, desk);
      return;
    case job::Stage::open:
    case job::Stage::close:
      fill_hands(out, desk);
      return;
    case job::Stage::swap:
      fill_swap(out, desk);
      return;
    case job::Stage::prove:
      fill_prove(out, desk);
      return;
    case job::Stage::bill:
      fill_bill(out, desk);
      return;
  }
}

/// With trouble nothing can be confirmed, and the screen says why and what to do.
void bar_from_writing(Snapshot& out, const Desk& desk, const std::string& trouble,
                      bool elsewhere) {
  Notice notice;
  notice.kind = NoticeKind::trouble;
  notice.text = trouble;
  notice.buttons.push_back(elsewhere
                               ? tap_button("Take over here", desk.action(Verb::take_writer))
                               : tap_button("Export", desk.action(Verb::export_journal)));
  notice.buttons.push_back(tap_button("All jobs", desk.action(Verb::leave_job)));
  out.notices.push_back(notice);
  if (out.card.primary.has_value()) {
    out.card.primary->enabled = false;
    out.card.primary->detail = "read-only";
  }
  out.card.number.reset();
  out.card.secondary.clear();
}

void fill_paused(Snapshot& out, const Desk& desk) {
  out.card = {};
  out.card.id = "paused";
  out.card.sentence = "Paused. The clock counts as waiting.";
  out.card.how = "Over five minutes it is asked whether you stayed at the machine.";
  out.card.primary = tap_button("Go on", desk.action(Verb::resume));
  out.card.ways_out = {tap_button("End the visit", desk.action(Verb::show_sheet, "end")),
                       tap_button("All jobs", desk.action(Verb::leave_job))};
}

/// Nothing is confirmed by nobody: the name is asked once and kept on this device.
void fill_name(Snapshot& out, const Desk& desk) {
  out.card = {};
  out.card.id = "who";
  out.card.sentence = "Write your name, as the record carries it.";
  out.card.how = "It is asked once on this device. Settings change it.";
  TextField name;
  name.id = "person";
  name.label = "Your name";
  name.changed = desk.action(Verb::set_word, "person");
  out.card.texts.push_back(name);
  out.card.ways_out = {tap_button("All jobs", desk.action(Verb::leave_job))};
}

}  // namespace

void Session::rebuild_start() {
  Snapshot out;
  fill_start(out, content_, jobs_, revision_);
  if (opening_) {
    out.card.saving = "Opening";
  }
  if (!not_begun_.empty()) {
    out.notices.push_back(plain_notice(NoticeKind::trouble, not_begun_));
  }
  if (!refused_.empty()) {
    // A real job's steps could never be confirmed, so none is begun.
    out.notices.push_back(plain_notice(
        NoticeKind::trouble,
        cat("No job can be kept here: ", refused_, ". ", "Use an ordinary window, or another device.",
            outside_.practice->lasting() ? "" : " Practice works until this is closed.")));
    out.card.primary->enabled = false;
    out.card.primary->detail = "not kept here";
    out.card.ways_out.erase(out.card.ways_out.begin());
  } else if (!outside_.field->lasting()) {
    out.notices.push_back(plain_notice(
        NoticeKind::trouble,
        "Nothing can be kept here: jobs are lost when this is closed. Export each job."));
  }
  for (const std::string& reason : local_.refusal) {
    out.card.refusal.push_back(reason);
  }
  fill_keeping(out, keeping_, !jobs_.empty());
  fill_sheet(out, desk());
  snapshot_ = std::move(out);
}

void Session::fill_unsure(Snapshot& out, const Desk& now) const {
  const auto with_export = [&](std::string text) {
    out.notices.push_back(plain_notice(NoticeKind::trouble, std::move(text)));
    out.notices.back().buttons.push_back(tap_button("Export", now.action(Verb::export_journal)));
  };
  if (unsure_.only_here && unsure_.again == 0) {
    with_export("This device has lost the job, and only this window holds it. Export it now.");
  } else if (unsure_.kept_again) {
    out.notices.push_back(plain_notice(
        NoticeKind::advice, "This device had lost the job. It is written again from this window."));
  }
  if (unsure_.in_doubt) {
    with_export(cat("It is not known yet whether this is saved: ", unsaved_, " Press again to see."));
  } else if (!unsaved_.empty()) {
    with_export(cat("Not saved, so not confirmed: ", unsaved_));
  }
}

/// The reason stands on a sheet's button before it is tried.
void Session::say_why_not(Snapshot& out) {
  if (!out.sheet.has_value() || !trouble_.empty()) {
    return;
  }
  const Local kept = local_;   // asking what a press would record must leave no trace
  for (Button& button : out.sheet->buttons) {
    const std::optional<job::Body> body = body_of(button.action);
    local_ = kept;
    if (!body.has_value()) {
      continue;
    }
    const job::Decision decision =
        job::decide(state_, body.value(), stamp_now(state_.last_n + 1), context());
    if (!decision.accepted() && !decision.reasons.empty()) {
      button.enabled = false;
      button.detail = decision.reasons.front().sentence;
    }
  }
}

void Session::rebuild(const job::Stamp&) {
  if (!open_) {
    rebuild_start();
    return;
  }
  Snapshot out;
  const Desk now = desk();
  fill_frame(out, now);
  if (now.practice() && !store().lasting()) {
    out.notices.push_back(plain_notice(
        NoticeKind::advice, "Practice is not kept here. It is lost when this is closed."));
  }
  if (apart_ == Apart::none) {
    fill_stage(out, now);
    fill_plan(out, now);
  }
  if (apart_ == Apart::none && out.paused && state_.outcome == job::Outcome::none) {
    fill_paused(out, now);
  }
  if (apart_ == Apart::none && person_.empty() && state_.outcome == job::Outcome::none && state_.last_n > 0) {
    fill_name(out, now);
  }
  fill_sheet(out, now);
  for (const std::string& reason : local_.refusal) {
    out.card.refusal.push_back(reason);
  }
  if (!pending_.empty() && !unsure_.in_doubt) {
    out.card.saving = "Saving";
  }
  fill_unsure(out, now);
  if (!trouble_.empty()) {
    const bool silent = elsewhere_ && shown_knowledge_ == Knowledge::silent;
    bar_from_writing(out, now, cat(trouble_, silent ? " That window is silent." : ""), elsewhere_);
    if (apart_ != Apart::none) {
      fill_kept_journal(out, now, apart_);
    }
  }
  say_why_not(out);
  snapshot_ = std::move(out);
}

}  // namespace kp::app
