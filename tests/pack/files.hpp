#pragma once
// Files of the source tree as texts, for the pack's tests.

#include <cstdio>
#include <string>

namespace kp::test {

/// The whole file below the source tree; empty when it is not there.
inline std::string file_text(const std::string& path) {
  std::string out;
  std::FILE* file = std::fopen((std::string(KP_SOURCE_DIR) + "/" + path).c_str(), "rb");
  if (file == nullptr) {
    return out;
  }
  char buffer[4096];
  for (std::size_t read = 1; read > 0;) {
    read = std::fread(buffer, 1, sizeof buffer, file);
    out.append(buffer, read);
  }
  std::fclose(file);
  return out;
}

}  // namespace kp::test
