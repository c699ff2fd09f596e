// Two windows on one job: what this one knows, how it follows the one that writes, and how it shows
// that it lives itself.
#include <algorithm>
#include <string_view>
#include <utility>

#include "app/session.hpp"

namespace kp::app {

bool begins_with(const std::vector<std::string>& lines, const std::vector<std::string>& first) {
  const auto line = [](const std::string& stored) {
    return std::string_view(stored).substr(0, stored.find('\n'));
  };
  return lines.size() >= first.size() &&
         std::equal(first.begin(), first.end(), lines.begin(),
                    [&](const std::string& a, const std::string& b) { return line(a) == line(b); });
}

Knowledge Session::knowledge() {
  if (!open_) {
    return Knowledge::known;
  }
  if (!trouble_.empty() && !elsewhere_) {
    const bool read = apart_ != Apart::none && apart_ != Apart::damaged;
    return read ? Knowledge::apart : Knowledge::damaged;
  }
  const port::ClockReading now = outside_.clock->read();
  if (const Knowledge standing = standing_.knowledge(now); standing != Knowledge::known) {
    return standing;
  }
  if (unsure_.in_doubt || unsure_.checking) {
    return Knowledge::stale;
  }
  if (unsure_.unkept || ends_a_proof()) {
    return Knowledge::unsaved;
  }
  return now.wall.utc_ms < state_.safety.newest.utc_ms ? Knowledge::clock_doubt : Knowledge::known;
}

bool Session::ends_a_proof() {
  if (pending_.empty()) {
    return false;
  }
  const safety::Now now = job::now_of(stamp_now(state_.last_n + 1));
  job::State after = state_;
  for (const Pending& pending : pending_) {
    job::apply(after, pending.stamp, pending.body, context());
  }
  return loses_green(safety::summarise(state_.safety, now, settings_.safety),
                     safety::summarise(after.safety, now, settings_.safety));
}

bool Session::follow(bool at_once) {
  if (!open_) {
    return false;
  }
  const port::ClockReading now = outside_.clock->read();
  bool asked = false;
  if (elsewhere_ && store().take_changed()) {
    standing_.doubt();
    read_on();
    asked = true;
    dirty_ = true;
  }
  const bool follows = standing_.next_ms(now) >= 0;
  if (follows && (at_once || standing_.look_due(now))) {
    look();
    asked = true;
  }
  if (!hidden_ && trouble_.empty() && standing_.sign_due(now)) {
    store().sign_of_life();
  }
  return asked;
}

void Session::look() {
  standing_.looked(outside_.clock->read());
  ask(store().look(open_job()), {Ask::look, mode_, open_job()});
}

void Session::read_on() {
  ask(store().load(open_job()), {Ask::follow, mode_, open_job()});
  look();
}

void Session::take_look(const port::Completion& done) {
  if (done.error) {
    standing_.not_told();
    return;
  }
  const std::size_t have = lines_.size() + unread_.size();
  standing_.told(done.sign, done.last == have, outside_.clock->read());
  if (!elsewhere_ && done.sign != port::kHere) {
    lose();
  } else if (done.last > have && pending_.empty()) {
    read_on();
  } else if (done.last < have && pending_.empty() && !elsewhere_ && !unsure_.rewrote) {
    write_again(done.last);
  }
}

void Session::take_followed(const port::Completion& done) {
  if (done.error || !begins_with(done.lines, lines_)) {
    standing_.doubt();
    return;
  }
  if (done.lines.size() > lines_.size() && pending_.empty()) {
    (void)take_lines(done.lines);
    ++revision_;
    dirty_ = true;
  }
}

void Session::lose() {
  elsewhere_ = true;
  trouble_ = "This job was taken over in another window. Here it can only be read.";
  queued_.clear();
  after_issue_.clear();
  then_.reset();
  owed_.reset();
  if (unsure_.in_doubt) {
    unsure_.in_doubt = false;
    drop_pending(pending_.front().failed.value_or(Error{}));
  }
  read_only();
  dirty_ = true;
  ++revision_;
}

void Session::read_only() {
  standing_.read();
  store().watch(open_job());
}

void Session::take_lost(job::Mode mode) {
  for (const std::string& job : store_of(mode).take_lost()) {
    if (open_ && mode == mode_ && job == open_job() && !elsewhere_) {
      lose();
    }
  }
}

}  // namespace kp::app
