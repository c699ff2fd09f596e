#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "port/store.hpp"

struct sqlite3;

namespace kp::native {

/// Keeps journals and settings in one SQLite file. Write-ahead log with full sync: a completion
/// comes after the line is on the disk. Beside the file stands `<file>.lock`, in which each job
/// held has one locked byte; the system lets go of it when the program ends, however it ends.
class SqliteStore final : public port::Store {
 public:
  /// `most_pages` bounds the file's size in pages of 4096 bytes, 0: by the disk alone.
  struct Limits {
    std::int64_t most_pages = 0;
  };

  /// Opens the file or makes it; its folder must exist. Errors: `refused` with the reason, also
  /// for a file that is no store or that a newer program wrote; such a file is left as it is.
  static Result<std::unique_ptr<SqliteStore>> open(const std::string& path, Limits limits);
  static Result<std::unique_ptr<SqliteStore>> open(const std::string& path) {
    return open(path, Limits{});
  }
  ~SqliteStore() override;
  SqliteStore(const SqliteStore&) = delete;
  SqliteStore& operator=(const SqliteStore&) = delete;

  port::Request list() override;
  port::Request acquire(const std::string& job) override;
  port::Request release(const std::string& job) override;
  port::Request load(const std::string& job) override;
  port::Request append(const std::string& job, std::uint32_t seq, const std::string& line) override;
  port::Request put(const std::string& key, const std::string& text) override;
  port::Request get(const std::string& key) override;
  std::vector<port::Completion> take_completed() override;
  [[nodiscard]] bool lasting() const override { return true; }

 private:
  struct Held {
    std::string job;
    std::int64_t place = 0;  ///< the locked byte
  };

  SqliteStore() = default;
  port::Request finish(port::Completion done);
  std::optional<Error> set_up(Limits limits);
  std::optional<Error> take_hold(const std::string& job);
  std::optional<Error> write_line(const std::string& job, std::uint32_t seq,
                                  const std::string& line);
  [[nodiscard]] const Held* held(const std::string& job) const;

  sqlite3* db_ = nullptr;
  int lock_file_ = -1;
  std::vector<Held> held_;
  std::vector<port::Completion> finished_;
  port::Request next_ = 1;
};

}  // namespace kp::native
