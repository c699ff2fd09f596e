#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/findings.hpp"
#include "cli/cli.hpp"
#include "job/state.hpp"

// One function a command; for the command line's own files only.

namespace kp::cli {

struct Wanted {
  std::string pack;
  std::vector<std::string> parts;
  bool json = false;
};

struct ReadWanted {
  std::string pack;
  std::vector<std::string> points;  ///< two ids of test points
  std::vector<std::string> clamp;   ///< ids of elements, for amperes
  std::string meter;
  std::string step;                 ///< id, number from 1, or empty: off
  std::vector<std::string> faults;
  std::vector<std::string> off;     ///< "heater/A"
  bool door_open = false;
  bool float_up = false;
  double celsius = 20;
  bool json = false;
};

struct StripWanted {
  std::string pack;
  std::string load;                 ///< a part or an element
  std::string step;
  std::vector<std::string> faults;
  double celsius = 20;
  bool svg = false;
  bool json = false;
};

struct FindWanted {
  std::string pack;
  std::string complaint;            ///< id, may be empty
  std::vector<std::string> readings;  ///< "heater-ohms=OL", "latch-look=bad"
  std::string rates;                ///< the shop's rate card, to weigh parts against time; may be empty
  bool json = false;
};

struct VerifyWanted {
  std::string path;
  std::string tip;                  ///< a mark as papers print it; may be empty
};

struct EraseWanted {
  std::string path;
  std::string out;                  ///< the file to write; empty: the same
  bool notes = false;               ///< notes too
  bool people = false;              ///< names of those who worked too
};

struct CompareWanted {
  std::string first, second;
};

int print_advice(const FindWanted& wanted, Files& files, Output& output);
int print_reading(const ReadWanted& wanted, Files& files, Output& output);
int print_strip(const StripWanted& wanted, Files& files, Output& output);
int check_pack(const std::string& pack, Files& files, Output& output);
int print_plan(const Wanted& wanted, bool back, Files& files, Output& output);
int verify_journal(const VerifyWanted& wanted, Files& files, Output& output);
int erase_parts(const EraseWanted& wanted, Files& files, Output& output);
int compare_journals(const CompareWanted& wanted, Files& files, Output& output);
int write_bill(const std::string& journal, const std::string& rates, const std::string& folder,
               Files& files, Output& output);

/// A word that names nothing, with the nearest that does, as a line.
[[nodiscard]] std::string no_such(const std::string& word, const std::string& what,
                                  const std::vector<std::string>& known);
template <class Things>
[[nodiscard]] std::vector<std::string> ids_of(const Things& things) {
  std::vector<std::string> out;
  for (const auto& thing : things) {
    out.push_back(thing.id);
  }
  return out;
}

/// A pack that loads; else the exit code, with what is wrong on `output`.
int read_pack(const std::string& name, Files& files, Output& output, pack::Pack& pack);
/// The text of a pack: a file's, or that of a pack that ships under this id.
Result<std::string> pack_text(const std::string& name, Files& files);
/// Each finding on a line of its own, behind the file's name.
void print_findings(const Findings& findings, const std::string& name, Output& output);
/// Ids of the drawings that ship.
[[nodiscard]] std::vector<std::string> drawing_ids(Files& files);

}  // namespace kp::cli
