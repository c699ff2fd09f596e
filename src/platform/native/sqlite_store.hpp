#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "platform/native/life_file.hpp"
#include "port/store.hpp"

namespace kp::native {

/// Keeps journals and settings in one SQLite file. Write-ahead log with full sync: a completion
/// comes after the line is on the disk. A table names the writer of each job. Beside the file stands
/// `<file>.lock`, which says who lives; what one that died held is free.
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
  port::Request take_over(const std::string& job) override;
  port::Request release(const std::string& job) override;
  port::Request load(const std::string& job) override;
  port::Request append(const std::string& job, std::uint32_t seq, const std::string& line) override;
  port::Request erase(const std::string& job, std::uint32_t seq, const std::string& kept) override;
  port::Request put(const std::string& key, const std::string& text) override;
  port::Request get(const std::string& key) override;
  port::Request look(const std::string& job) override;
  void watch(const std::string& job) override;
  void sign_of_life() override;
  std::vector<port::Completion> take_completed() override;
  std::vector<std::string> take_lost() override;
  bool take_changed() override;
  [[nodiscard]] bool lasting() const override { return true; }

 private:
  struct Held {
    std::string job;
    std::int64_t place = 0;  ///< its row
  };

  SqliteStore() = default;
  port::Request finish(port::Completion done);
  std::optional<Error> set_up(Limits limits);
  std::optional<Error> take_hold(const std::string& job, bool from_anyone);
  std::optional<Error> write_line(const std::string& job, std::uint32_t seq,
                                  const std::string& line);
  std::optional<Error> erase_parts(const std::string& job, std::uint32_t seq,
                                   const std::string& kept);
  [[nodiscard]] const Held* held(const std::string& job) const;
  [[nodiscard]] std::string sign_of(std::int64_t writer) const;
  /// The number of the job's last line; 0 where it has none. An error goes to `error`.
  std::uint32_t last_line(const std::string& job, std::optional<Error>& error);

  sqlite3* db_ = nullptr;
  LifeFile life_;                  ///< its name is the one in the table of writers
  std::int64_t seen_changes_ = -1; ///< of the file by others, when it was looked at last
  std::vector<Held> held_;
  std::string watched_;
  std::uint32_t watched_last_ = 0; ///< its last line, when it was looked at
  std::int64_t watched_changes_ = -1;
  std::vector<port::Completion> finished_;
  port::Request next_ = 1;
};

}  // namespace kp::native
