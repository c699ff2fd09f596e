// Personal parts that are erased from the open job, with its record kept.
#include "app/session.hpp"
#include "journal/writer.hpp"

namespace kp::app {

void Session::erase(const std::vector<std::string>& whose) {
  if (!open_ || !trouble_.empty() || !pending_.empty() || erasing_.open > 0) {
    return;
  }
  erasing_ = {};
  for (std::size_t i = 0; i < lines_.size(); ++i) {
    const std::string kept = journal::without_parts(lines_[i], whose);
    if (kept != lines_[i]) {
      ++erasing_.open;
      ask(store().erase(open_job(), static_cast<std::uint32_t>(i) + 1, kept),
          {Ask::erase, mode_, open_job()});
    }
  }
  dirty_ = true;
}

/// What stands in the store afterwards is what counts, so all of it is read again.
void Session::take_erased(const port::Completion& done) {
  if (!erasing_.failed) {
    erasing_.failed = done.error;
  }
  if (--erasing_.open > 0) {
    return;
  }
  local_.refusal.clear();
  if (erasing_.failed) {
    local_.refusal = {"Not all of it is erased. Erase again.", erasing_.failed->text()};
  }
  opening_ = true;
  ask(store().load(wanted_), {Ask::load, mode_, wanted_});
}

}  // namespace kp::app
