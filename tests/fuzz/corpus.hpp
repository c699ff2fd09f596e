#pragma once

#include <algorithm>
#include <filesystem>
#include <string>
#include <vector>

#include "support/files.hpp"

namespace kp::test {

/// What the fuzz targets start from and what they once found, by folder of tests/fuzz/corpus.
inline std::vector<std::string> corpus(const std::string& folder) {
  std::vector<std::string> paths;
  std::error_code error;
  const std::string root = KP_SOURCE_DIR "/tests/fuzz/corpus/" + folder;
  for (const auto& entry : std::filesystem::directory_iterator(root, error)) {
    paths.push_back(entry.path().string());
  }
  std::sort(paths.begin(), paths.end());
  std::vector<std::string> out;
  for (const std::string& path : paths) {
    out.push_back(file_bytes(path));
  }
  return out;
}

}  // namespace kp::test
