#pragma once
// Files of the project for tests: KP_SOURCE_DIR is the project's folder.

#include <cstdio>
#include <string>

namespace kp::test {

/// The bytes of a file, empty when it cannot be read.
inline std::string file_bytes(const std::string& path) {
  std::string out;
  if (std::FILE* file = std::fopen(path.c_str(), "rb")) {
    char buffer[65536];
    std::size_t got = 0;
    while ((got = std::fread(buffer, 1, sizeof buffer, file)) > 0) {
      out.append(buffer, got);
    }
    std::fclose(file);
  }
  return out;
}

}  // namespace kp::test
