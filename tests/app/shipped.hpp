#pragma once
// The content that ships, read from the project's assets.

#include <set>
#include <string>
#include <vector>

#include "app/content.hpp"
#include "support/files.hpp"

namespace kp::test {

/// The drawings that a pack's text names.
inline std::set<std::string> drawings_named_in(const std::string& pack) {
  std::set<std::string> out;
  for (const std::string key : {"\"drawing\": \"", "\"thumbnail\": \""}) {
    for (std::size_t at = pack.find(key); at != std::string::npos; at = pack.find(key, at + 1)) {
      const std::size_t begin = at + key.size();
      out.insert(pack.substr(begin, pack.find('"', begin) - begin));
    }
  }
  return out;
}

/// Packs, rates and the demo, without drawings where a test needs none.
inline std::vector<app::NamedBytes> shipped_files(bool drawings) {
  const std::string assets = std::string(KP_SOURCE_DIR) + "/assets/";
  std::vector<app::NamedBytes> files;
  for (const char* name : {"packs/pump-module/pack.json", "demo/rates.json", "demo/job.json"}) {
    files.push_back({name, file_bytes(assets + name)});
  }
  for (const std::string& id : drawings_named_in(files.front().bytes)) {
    const std::string name = "parts/" + id + ".svg";
    // Without drawings a minimal square stands for each, so that the pack's check finds them.
    files.push_back({name, drawings ? file_bytes(assets + name)
                                    : "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"-2 -2 "
                                      "4 4\"><path d=\"M-1 -1H1V1H-1z\" fill=\"#E3DFD5\"/></svg>"});
  }
  return files;
}

/// The content that ships, read once, without drawings.
inline const app::Content& shipped_content() {
  static const app::Content content = app::load_content(shipped_files(false));
  return content;
}

}  // namespace kp::test
