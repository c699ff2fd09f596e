#pragma once
// port: the outside as interfaces. Above it there are only bytes, names and states to poll;
// nothing here knows where the program runs.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"

namespace kp::port {

/// Identifies a request to a store until its completion has been taken.
using Request = std::uint32_t;

/// What a finished request brought. Exactly one completion arrives for each request, in success
/// or in failure; `error` is empty on success.
struct Completion {
  Request request = 0;
  std::optional<Error> error;
  std::vector<std::string> lines;  ///< load: the journal's lines; list: the job ids
  std::string text;                ///< get: the value, empty when the key is unknown
  std::string sign;                ///< look: the writer, as it is told below
  std::uint32_t last = 0;          ///< look: the number of the journal's last line, 0: none
};

/// What look() says of a job's writer where it is this handle itself.
inline constexpr const char* kHere = "here";

/// What a medium says about its own keeping, where it says anything.
struct Keeping {
  std::optional<bool> persisted;     ///< false: it may throw everything away when short of room
  std::optional<double> free_bytes;  ///< room left
  std::optional<int> copies;         ///< places, each of which can stand in for the others
  std::string lost;                  ///< not empty: it says itself that it lost what it had kept

  bool operator==(const Keeping&) const = default;
};

/// Keeps journals (append only) and a few settings. The contract is the same for memory, SQLite
/// and IndexedDB, and one contract test runs against each of them.
///
/// - append is atomic and ordered: line `seq` (from 1) of a job is durable before its completion
///   says so, or it is not there at all. A `seq` that exists already, or leaves a gap, fails with
///   code `conflict` and writes nothing.
/// - acquire makes this process or tab the one writer of a job; another holder gives `held`.
///   append without it fails with `not-acquired`.
/// - take_over makes this one the writer whoever was it before. Once it is done, the one before
///   writes no further line, and is told so by take_lost().
/// - a full or refused medium fails with `full` or `refused`; nothing is lost that was durable.
/// - a line is bytes, kept as they are. A job that has no line is not listed; load of it brings
///   no lines and no error. list brings the ids in the order of their bytes.
/// - a job's id is 1 to 64 of a-z, 0-9 and '-'; anything else fails with `bad-name`.
/// - acquire of a job that is already ours succeeds. What a handle holds is let go when it is
///   destroyed and when its program dies, whatever way that comes about. A holder that lost a job
///   to another one gets `not-acquired` until it acquires the job anew.
/// - reading needs no acquire. What a reader sees is a prefix of the journal.
/// - look tells a reader how far a journal has come and whether it has a writer: `sign` is empty
///   where nobody holds the job, kHere where this handle does; else it is a text that changes each
///   time the holder, alive and looked at by somebody, has called sign_of_life().
/// - watch makes take_changed() tell of a job, one at a time, that its journal grew through another
///   handle: at the latest when take_changed() is called after that line was told to be durable, on
///   the web as soon as the browser brings the news. It is a hint: look() says what is.
/// - put is durable before its completion says so. get of an unknown key brings an empty text.
/// - an entry of the journal is a line, and behind a line feed each its parts (journal/FORMAT.md),
///   written and lost together. erase puts a shorter entry in its place, for good and in all copies:
///   the same line with fewer parts. Anything else fails with `conflict`, without acquire it fails
///   with `not-acquired`. What was erased comes back by no crash.
/// - requests complete in the order they were made. Nothing blocks on the web; a native store may
///   finish a request inside the call, its completion is still taken from take_completed().
class Store {
 public:
  virtual ~Store() = default;

  virtual Request list() = 0;
  virtual Request acquire(const std::string& job) = 0;
  virtual Request take_over(const std::string& job) = 0;
  virtual Request release(const std::string& job) = 0;
  virtual Request load(const std::string& job) = 0;
  virtual Request append(const std::string& job, std::uint32_t seq, const std::string& line) = 0;
  virtual Request erase(const std::string& job, std::uint32_t seq, const std::string& kept) = 0;
  virtual Request put(const std::string& key, const std::string& text) = 0;
  virtual Request get(const std::string& key) = 0;
  virtual Request look(const std::string& job) = 0;

  /// The job to be told of by take_changed(), instead of the one before; empty: none.
  virtual void watch(const std::string& job) = 0;
  /// This window is alive. Costs little and keeps nothing.
  virtual void sign_of_life() = 0;

  /// The requests that have finished since the last call, in order.
  virtual std::vector<Completion> take_completed() = 0;
  /// The jobs that were held here and that another one took over, since the last call.
  virtual std::vector<std::string> take_lost() = 0;
  /// True where the watched job's journal grew elsewhere since the last call or since watch().
  virtual bool take_changed() = 0;

  /// True where what is written outlives the program. Memory says false, and the screen says so.
  [[nodiscard]] virtual bool lasting() const = 0;
  [[nodiscard]] virtual Keeping keeping() const { return {}; }
};

}  // namespace kp::port
