#pragma once
// A journal that comes from outside into a store: from another device, or from a kept export.

#include <cstdint>
#include <string>
#include <vector>

#include "port/store.hpp"

namespace kp::app {

enum class Arrived {
  waiting,    ///< the store has not answered yet
  refused,    ///< it is no whole journal, or the store cannot take it; `why` says what to do
  new_job,    ///< the store had none of it
  known,      ///< the store holds all of it already
  longer,     ///< it went on where the store's ended, and the rest was added
  fork        ///< two devices went on with one job: it is kept as a job of its own, never merged
};

/// Brings one exported file into a store. Drive it with poll() until it waits no more. The store is a
/// handle of its own, which nobody else polls.
class Import {
 public:
  Import(port::Store& store, const std::string& text);

  /// Takes what the store has finished.
  Arrived poll();
  [[nodiscard]] Arrived state() const { return state_; }
  [[nodiscard]] const std::string& job() const { return job_; }    ///< the id it is kept under
  /// The first record that only this journal has; 0 where there is none.
  [[nodiscard]] std::uint32_t parts_at() const { return parts_at_; }
  [[nodiscard]] const std::string& why() const { return why_; }

 private:
  enum class Step { load, load_fork, acquire, append };

  void take(const port::Completion& done);
  void take_ours(const std::vector<std::string>& ours);
  void keep(Arrived as, std::size_t from);
  void refuse(const std::string& why);

  port::Store* store_;
  std::vector<std::string> theirs_;   ///< entries of the file, as a store keeps them
  std::string tip_;
  std::string job_, why_;
  Arrived state_ = Arrived::waiting;
  Arrived wanted_ = Arrived::new_job; ///< what it is once all is kept
  Step step_ = Step::load;
  std::size_t from_ = 0;              ///< the first entry to append
  std::size_t open_ = 0;              ///< appends that are not answered
  std::uint32_t parts_at_ = 0;
};

/// The id under which a fork is kept beside the job: the job's own, and the beginning of the sum of
/// its last record, so that the same fork finds itself again.
[[nodiscard]] std::string fork_id(const std::string& job, const std::string& tip);

}  // namespace kp::app
