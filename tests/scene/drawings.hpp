#pragma once
// The drawings of assets/parts, for tests that hold over all of them.

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <utility>
#include <vector>

#include "scene/svg.hpp"

namespace kp::test {

inline std::string file_text(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

/// Name and text of every file in assets/parts, by name.
inline std::vector<std::pair<std::string, std::string>> part_files() {
  std::vector<std::pair<std::string, std::string>> out;
  const std::filesystem::path folder = std::filesystem::path(KP_SOURCE_DIR) / "assets" / "parts";
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (entry.path().extension() == ".svg") {
      out.emplace_back(entry.path().stem().string(), file_text(entry.path()));
    }
  }
  std::sort(out.begin(), out.end());
  return out;
}

/// All drawings that read without a fault.
inline std::vector<scene::Drawing> part_drawings() {
  std::vector<scene::Drawing> out;
  for (const auto& [name, text] : part_files()) {
    Findings findings;
    if (auto drawing = scene::read_drawing(name, text, findings)) {
      out.push_back(std::move(*drawing));
    }
  }
  return out;
}

}  // namespace kp::test
