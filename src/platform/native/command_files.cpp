#include "platform/native/command_files.hpp"

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>

#include "base/text.hpp"
#include "platform/native/desktop.hpp"

namespace kp::native {

Result<std::string> CommandFiles::read(const std::string& path) {
  std::FILE* file = std::fopen(path.c_str(), "rb");
  if (file == nullptr) {
    return fail("cannot-read", std::strerror(errno), path, "Check the name of the file.");
  }
  std::string out;
  char buffer[65536];
  std::size_t got = 0;
  while ((got = std::fread(buffer, 1, sizeof buffer, file)) > 0) {
    out.append(buffer, got);
  }
  const bool broken = std::ferror(file) != 0;
  std::fclose(file);
  if (broken) {
    return fail("cannot-read", "It is a folder, or it cannot be read", path, "Name a file.");
  }
  return out;
}

Result<void> CommandFiles::write(const std::string& path, const std::string& bytes) {
  std::error_code ignored;
  std::filesystem::create_directories(std::filesystem::path(path).parent_path(), ignored);
  const std::string beside = cat(path, ".part");
  std::FILE* file = std::fopen(beside.c_str(), "wb");
  if (file == nullptr) {
    return fail("cannot-write", std::strerror(errno), path, "Name a folder you may write to.");
  }
  const bool whole = std::fwrite(bytes.data(), 1, bytes.size(), file) == bytes.size();
  const bool closed = std::fclose(file) == 0;
  if (!whole || !closed || std::rename(beside.c_str(), path.c_str()) != 0) {
    const std::string why = std::strerror(errno);
    std::remove(beside.c_str());
    return fail("cannot-write", why, path, "Make room on the disk.");
  }
  return {};
}

std::vector<app::NamedBytes> CommandFiles::assets() { return read_assets(assets_); }

}  // namespace kp::native
