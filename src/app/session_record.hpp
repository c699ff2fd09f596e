#pragma once

#include <optional>
#include <string>
#include <vector>

#include "job/decide.hpp"
#include "job/personal.hpp"
#include "port/store.hpp"

// What the session keeps of records on their way and of what it asked its stores.

namespace kp::app {

/// A record on its way to the store.
struct Pending {
  port::Request request = 0;
  job::Stamp stamp;
  job::Body body;
  std::string line;                 ///< with its parts, as the store keeps it
  std::string tip;
  job::People people;               ///< with those that this record names first
  bool answered = false;
  std::optional<Error> failed;
};

/// An intent whose turn comes when what goes before it is durable.
struct Then {
  job::Body body;
  bool quiet = false;
};

/// The record that this life began, kept back until there is another one to stand behind it.
struct Owed {
  job::Stamp stamp;
  job::Resumed body;
};

/// What is not certain between the lines of the open job and its store.
struct Unsure {
  std::optional<job::Body> unkept;  ///< it ended a proof and could not be stored
  bool checking = false;            ///< the store is asked what it holds of what is pending
  bool in_doubt = false;            ///< that was not answered either
  int again = 0;                    ///< answers to come of lines that are written again
  std::optional<Error> again_failed;  ///< why they could not be
  bool rewrote = false;             ///< since the last press
  bool only_here = false;           ///< the store lost lines that this window still holds
  bool exported = false;            ///< since then
  bool kept_again = false;          ///< they are written again
};

/// Parts of the open job that are being erased.
struct Erasing {
  int open = 0;                     ///< answers to come
  std::optional<Error> failed;      ///< why one of them was not
};

enum class Ask {
  list, load_row, acquire, take_over, load, setting, look, follow, check, again, erase
};
struct Asked {
  Ask what = Ask::list;
  job::Mode mode = job::Mode::field;
  std::string job;
};

/// Whether `first` is how `lines` begin. Parts beside them do not count: they may be erased.
[[nodiscard]] bool begins_with(const std::vector<std::string>& lines,
                               const std::vector<std::string>& first);

}  // namespace kp::app
