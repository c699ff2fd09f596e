#pragma once
// Files for tests: whole texts, and the names in a folder, in order.

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <string>
#include <vector>

namespace kp::test {

inline std::string read_file(const std::string& path) {
  std::string out;
  std::FILE* file = std::fopen(path.c_str(), "rb");
  if (file == nullptr) {
    return out;
  }
  char buffer[4096];
  for (std::size_t count = 1; count > 0;) {
    count = std::fread(buffer, 1, sizeof buffer, file);
    out.append(buffer, count);
  }
  std::fclose(file);
  return out;
}

inline std::vector<std::string> files_in(const std::string& folder) {
  std::vector<std::string> out;
  std::error_code error;
  for (const auto& entry : std::filesystem::directory_iterator(folder, error)) {
    out.push_back(entry.path().string());
  }
  std::sort(out.begin(), out.end());
  return out;
}

}  // namespace kp::test
