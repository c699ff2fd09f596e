#pragma once
// The command line with files in memory over the content that ships.

#include <map>
#include <string>
#include <vector>

#include "app/shipped.hpp"
#include "cli/cli.hpp"
#include "data/value.hpp"

namespace kp::test {

class FakeFiles final : public cli::Files {
 public:
  Result<std::string> read(const std::string& path) override {
    const auto found = files.find(path);
    if (found == files.end()) {
      return fail("cannot-read", "The file cannot be read", path, "Check the path.");
    }
    return found->second;
  }
  Result<void> write(const std::string& path, const std::string& bytes) override {
    if (full) {
      return fail("cannot-write", "The disk is full", path, "Make room and try again.");
    }
    files[path] = bytes;
    return {};
  }
  std::vector<app::NamedBytes> assets() override { return shipped_files(false); }

  std::map<std::string, std::string> files;
  bool full = false;
};

struct Ran {
  int code = 0;
  cli::Output output;
};

inline Ran run(const std::vector<std::string>& words, FakeFiles& files) {
  Ran out;
  out.code = cli::run(words, files, out.output);
  return out;
}

inline bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// A member of an object, or nothing's value where there is none.
inline const data::Value& member(const data::Value& value, const char* name) {
  static const data::Value none;
  const data::Value* found = value.find(name);
  return found == nullptr ? none : *found;
}

}  // namespace kp::test
