#pragma once

#include <set>
#include <string>
#include <utility>
#include <vector>

#include "job/state.hpp"
#include "port/store.hpp"

namespace kp::app {

/// The name under which a store keeps the canonical print of the pack with that hash.
[[nodiscard]] std::string pack_key(const std::string& sha);

/// The packs that jobs stand on, by their hash: which of them a store keeps, and the open job's own
/// one, which stands in the library in the place of the one that ships until the job is left.
class PackShelf {
 public:
  /// The job's records name a pack by hash, and the library has another of that id, or none.
  [[nodiscard]] static bool is_missing(const job::StandsOn& on, const job::Library& library);

  /// The store is to be asked for it: once an opening. `lines` are taken when it has answered.
  [[nodiscard]] bool look_for(const std::string& sha, const std::vector<std::string>& lines);
  [[nodiscard]] std::vector<std::string> take_lines() { return std::exchange(lines_, {}); }
  /// Believes what the store had only if its hash is that of the records and the program can read
  /// it; puts it into the library then. Else why_not() says what was wrong with it.
  void take(const port::Completion& done, const job::StandsOn& on, job::Library& library);
  /// Why the pack of the open job is not here, and what to do.
  [[nodiscard]] std::string why_not(const job::State& state, const job::Library& library) const;
  /// The library as it ships. True where it was another.
  bool give_back(job::Library& library);

  /// The pack of that hash is to be put in the store of that mode, unless it stands there: true
  /// once, until forget().
  [[nodiscard]] bool keep(job::Mode mode, const std::string& sha) {
    return kept_.insert({mode, sha}).second;
  }
  void forget(job::Mode mode, const std::string& sha) { kept_.erase({mode, sha}); }

 private:
  std::string looked_for_;             ///< hash that the store was asked for in this opening
  std::vector<std::string> lines_;
  std::string wrong_;                  ///< with what the store had
  int lent_ = -1;                      ///< index of the job's own pack in the library
  std::vector<job::Model> shipped_;    ///< the one in whose place it stands; none: it was added
  std::set<std::pair<job::Mode, std::string>> kept_;
};

}  // namespace kp::app
