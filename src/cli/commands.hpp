#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/cli.hpp"
#include "job/state.hpp"

// One function a command; for the command line's own files only.

namespace kp::cli {

struct Wanted {
  std::string pack;
  std::vector<std::string> parts;
  bool json = false;
};

int check_pack(const std::string& pack, Files& files, Output& output);
int print_plan(const Wanted& wanted, bool back, Files& files, Output& output);
int verify_journal(const std::string& path, Files& files, Output& output);
int write_bill(const std::string& journal, const std::string& rates, const std::string& folder,
               Files& files, Output& output);

/// The text of a pack: a file's, or that of a pack that ships under this id.
Result<std::string> pack_text(const std::string& name, Files& files);
/// Ids of the drawings that ship.
[[nodiscard]] std::vector<std::string> drawing_ids(Files& files);

}  // namespace kp::cli
