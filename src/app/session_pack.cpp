// The pack that a job stands on: kept in the job's store under its hash, and taken from there where
// the one that ships is another.
#include "app/session.hpp"

namespace kp::app {

/// What is pressed meanwhile would be decided under the wrong pack, so the job is not open yet.
bool Session::fetch_pack(const std::vector<std::string>& lines) {
  const std::string sha = state_.stands_on.pack_sha;
  if (!shelf_.look_for(sha, lines)) {
    return false;
  }
  open_ = false;
  opening_ = true;
  ask(store().get(pack_key(sha)), {Ask::pack, mode_, wanted_});
  return true;
}

void Session::take_pack(const port::Completion& done) {
  port::Completion loaded;
  loaded.lines = shelf_.take_lines();
  shelf_.take(done, state_.stands_on, content_.library);
  finder_.reset();   // it points into the library
  finder_model_ = -1;
  take_loaded(loaded);
}

/// It is looked for first: the same pack is not written again for every job. One that came from the
/// store stands there.
void Session::keep_pack() {
  const std::string& sha = state_.stands_on.pack_sha;
  if (content_.prints.count(sha) != 0 && shelf_.keep(mode_, sha)) {
    ask(store().get(pack_key(sha)), {Ask::keep, mode_, sha});
  }
}

void Session::take_kept(const Asked& asked, const port::Completion& done) {
  const std::string& print = content_.prints.at(asked.job);
  if (done.error) {
    shelf_.forget(asked.mode, asked.job);   // it is tried again with the next job
  } else if (asked.what == Ask::keep && done.text != print) {
    ask(store_of(asked.mode).put(pack_key(asked.job), print), {Ask::kept, asked.mode, asked.job});
  }
}

}  // namespace kp::app
