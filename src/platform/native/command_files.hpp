#pragma once

#include <string>

#include "cli/cli.hpp"

namespace kp::native {

/// The real files, for the command line. `assets` is the folder that ships.
class CommandFiles final : public cli::Files {
 public:
  explicit CommandFiles(std::string assets) : assets_(std::move(assets)) {}
  Result<std::string> read(const std::string& path) override;
  /// Through a file beside it that is renamed, so that a reader never sees half of it.
  Result<void> write(const std::string& path, const std::string& bytes) override;
  std::vector<app::NamedBytes> assets() override;

 private:
  std::string assets_;
};

}  // namespace kp::native
