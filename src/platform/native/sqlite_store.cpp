#include "platform/native/sqlite_store.hpp"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <utility>

#include <sqlite3.h>

#include "base/text.hpp"
#include "platform/native/sqlite_statement.hpp"
#include "port/store_errors.hpp"

namespace kp::native {
namespace {

using port::Completion;
using port::Request;

// "Kpl1", so that the file is not taken for another program's; and the number of its tables' form.
constexpr std::int64_t kApplication = 0x4B706C31;
constexpr std::int64_t kForm = 2;
constexpr int kWaitMs = 1;
constexpr int kMostWaits = 3000;

constexpr const char* kTables =
    "CREATE TABLE IF NOT EXISTS job (id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE);"
    "CREATE TABLE IF NOT EXISTS line (job INTEGER NOT NULL REFERENCES job (id), seq INTEGER NOT "
    "NULL, bytes BLOB NOT NULL, PRIMARY KEY (job, seq)) WITHOUT ROWID;"
    "CREATE TABLE IF NOT EXISTS writer (job INTEGER PRIMARY KEY REFERENCES job (id), holder INTEGER "
    "NOT NULL);"
    "CREATE TABLE IF NOT EXISTS setting (name BLOB PRIMARY KEY, value BLOB NOT NULL) WITHOUT "
    "ROWID;";

/// Asks again each millisecond for some seconds. SQLite's own way asks less and less often, so that
/// a process that writes without a pause could keep another one out for good.
int ask_again(void*, int asked) {
  if (asked >= kMostWaits) {
    return 0;
  }
  sqlite3_sleep(kWaitMs);
  return 1;
}

/// The writer that the table names; 0: none.
std::int64_t writer_of(sqlite3* db, std::int64_t job) {
  Statement row(db, "SELECT holder FROM writer WHERE job = ?");
  return row.bind(job).next() ? row.number(0) : 0;
}

}  // namespace

Result<std::unique_ptr<SqliteStore>> SqliteStore::open(const std::string& path, Limits limits) {
  std::unique_ptr<SqliteStore> store(new SqliteStore);
  const int flags = SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE | SQLITE_OPEN_FULLMUTEX;
  if (sqlite3_open_v2(path.c_str(), &store->db_, flags, nullptr) != SQLITE_OK) {
    return fail(error_of(store->db_));
  }
  if (auto error = store->set_up(limits)) {
    return fail(std::move(*error));
  }
  if (!store->life_.open(path + ".lock")) {
    return fail(port::refused_error(std::strerror(errno)));
  }
  return store;
}

std::optional<Error> SqliteStore::set_up(Limits limits) {
  sqlite3_busy_handler(db_, ask_again, nullptr);
  const std::int64_t application = pragma(db_, "PRAGMA application_id");
  const std::int64_t form = pragma(db_, "PRAGMA user_version");
  const std::int64_t tables = pragma(db_, "SELECT count(*) FROM sqlite_schema");
  if (sqlite3_errcode(db_) != SQLITE_OK && sqlite3_errcode(db_) != SQLITE_ROW &&
      sqlite3_errcode(db_) != SQLITE_DONE) {
    return error_of(db_);
  }
  if (tables > 0 && application != kApplication) {
    return port::refused_error("the file belongs to another program");
  }
  if (form > kForm) {
    return port::refused_error("the file was written by a newer program");
  }
  for (const char* sql : {"PRAGMA journal_mode = WAL", "PRAGMA synchronous = FULL",
                          // What is erased is overwritten in the file, not only unlinked.
                          "PRAGMA secure_delete = ON", "PRAGMA foreign_keys = ON"}) {
    if (auto error = run(db_, sql)) {
      return error;
    }
  }
  if (form < kForm) {
    Change change(db_);
    if (change.error()) {
      return change.error();
    }
    const std::string marks = cat("PRAGMA application_id = ", kApplication,
                                  "; PRAGMA user_version = ", kForm, ";");
    for (const char* sql : {kTables, marks.c_str()}) {
      if (auto error = run(db_, sql)) {
        return error;
      }
    }
    if (auto error = change.commit()) {
      return error;
    }
  }
  if (limits.most_pages > 0) {
    return run(db_, cat("PRAGMA max_page_count = ", limits.most_pages).c_str());
  }
  return std::nullopt;
}

SqliteStore::~SqliteStore() { sqlite3_close(db_); }

Request SqliteStore::finish(Completion done) {
  done.request = next_++;
  finished_.push_back(std::move(done));
  return finished_.back().request;
}

const SqliteStore::Held* SqliteStore::held(const std::string& job) const {
  const auto found = std::find_if(held_.begin(), held_.end(),
                                  [&job](const Held& each) { return each.job == job; });
  return found == held_.end() ? nullptr : &*found;
}

Request SqliteStore::list() {
  Completion done;
  Statement rows(db_,
                 "SELECT CAST(name AS BLOB) FROM job WHERE EXISTS (SELECT 1 FROM line WHERE "
                 "line.job = job.id) ORDER BY name");
  while (rows.next()) {
    done.lines.push_back(rows.bytes(0));
  }
  done.error = rows.error();
  return finish(std::move(done));
}

std::optional<Error> SqliteStore::take_hold(const std::string& job, bool from_anyone) {
  if (!port::is_job_id(job)) {
    return port::bad_name_error(job);
  }
  Change change(db_);
  if (change.error()) {
    return change.error();
  }
  Statement named(db_, "INSERT OR IGNORE INTO job (name) VALUES (?)");
  if (auto error = named.bind_text(job).run()) {
    return error;
  }
  Statement found(db_, "SELECT id FROM job WHERE name = ?");
  if (!found.bind_text(job).next()) {
    return error_of(db_);
  }
  const std::int64_t place = found.number(0);
  const std::int64_t writer = writer_of(db_, place);
  if (writer != life_.me()) {
    if (writer != 0 && !from_anyone && life_.lives(writer)) {
      return port::held_error(job);
    }
    Statement write(db_, "INSERT OR REPLACE INTO writer (job, holder) VALUES (?, ?)");
    if (auto error = write.bind(place).bind(life_.me()).run()) {
      return error;
    }
  }
  if (auto error = change.commit()) {
    return error;
  }
  if (held(job) == nullptr) {
    held_.push_back(Held{job, place});
  }
  return std::nullopt;
}

Request SqliteStore::acquire(const std::string& job) {
  Completion done;
  done.error = take_hold(job, false);
  return finish(std::move(done));
}

Request SqliteStore::take_over(const std::string& job) {
  Completion done;
  done.error = take_hold(job, true);
  return finish(std::move(done));
}

Request SqliteStore::release(const std::string& job) {
  Completion done;
  if (!port::is_job_id(job)) {
    done.error = port::bad_name_error(job);
  } else if (const Held* mine = held(job)) {
    Statement free(db_, "DELETE FROM writer WHERE job = ? AND holder = ?");
    done.error = free.bind(mine->place).bind(life_.me()).run();
    held_.erase(held_.begin() + (mine - held_.data()));
  }
  return finish(std::move(done));
}

std::vector<std::string> SqliteStore::take_lost() {
  std::vector<std::string> lost;
  if (const std::int64_t changes = pragma(db_, "PRAGMA data_version"); changes != seen_changes_) {
    seen_changes_ = changes;
    for (std::size_t i = held_.size(); i-- > 0;) {
      if (writer_of(db_, held_[i].place) != life_.me()) {
        lost.push_back(held_[i].job);
        held_.erase(held_.begin() + static_cast<std::ptrdiff_t>(i));
      }
    }
  }
  return lost;
}

Request SqliteStore::load(const std::string& job) {
  Completion done;
  if (!port::is_job_id(job)) {
    done.error = port::bad_name_error(job);
    return finish(std::move(done));
  }
  Statement rows(db_,
                 "SELECT bytes FROM line WHERE job = (SELECT id FROM job WHERE name = ?) "
                 "ORDER BY seq");
  rows.bind_text(job);
  while (rows.next()) {
    done.lines.push_back(rows.bytes(0));
  }
  done.error = rows.error();
  if (done.error) {
    done.lines.clear();
  }
  return finish(std::move(done));
}

std::optional<Error> SqliteStore::write_line(const std::string& job, std::uint32_t seq,
                                             const std::string& line) {
  if (!port::is_job_id(job)) {
    return port::bad_name_error(job);
  }
  const Held* mine = held(job);
  if (mine == nullptr) {
    return port::not_acquired_error(job);
  }
  Change change(db_);
  if (change.error()) {
    return change.error();
  }
  if (writer_of(db_, mine->place) != life_.me()) {
    return port::not_acquired_error(job);
  }
  Statement last(db_, "SELECT max(seq) FROM line WHERE job = ?");
  if (!last.bind(mine->place).next()) {
    return error_of(db_);
  }
  if (std::int64_t{seq} != last.number(0) + 1) {
    return port::conflict_error(job, seq, last.number(0));
  }
  Statement insert(db_, "INSERT INTO line (job, seq, bytes) VALUES (?, ?, ?)");
  if (auto error = insert.bind(mine->place).bind(std::int64_t{seq}).bind_bytes(line).run()) {
    return error;
  }
  if (auto error = change.commit()) {
    return error;
  }
  if (job == watched_) {
    watched_last_ = seq;
  }
  return std::nullopt;
}

Request SqliteStore::append(const std::string& job, std::uint32_t seq, const std::string& line) {
  Completion done;
  done.error = write_line(job, seq, line);
  return finish(std::move(done));
}

std::optional<Error> SqliteStore::erase_parts(const std::string& job, std::uint32_t seq,
                                              const std::string& kept) {
  const Held* mine = held(job);
  if (mine == nullptr) {
    return port::not_acquired_error(job);
  }
  Change change(db_);
  if (change.error()) {
    return change.error();
  }
  if (writer_of(db_, mine->place) != life_.me()) {
    return port::not_acquired_error(job);
  }
  std::string stored;
  {
    Statement row(db_, "SELECT bytes FROM line WHERE job = ? AND seq = ?");
    stored = row.bind(mine->place).bind(std::int64_t{seq}).next() ? row.bytes(0) : std::string();
    if (row.error()) {
      return row.error();
    }
  }
  if (!port::is_erasure(stored, kept)) {
    std::optional<Error> error;
    const std::int64_t last = last_line(job, error);
    return error ? error : port::conflict_error(job, seq, last);
  }
  {
    Statement update(db_, "UPDATE line SET bytes = ? WHERE job = ? AND seq = ?");
    if (auto error = update.bind_bytes(kept).bind(mine->place).bind(std::int64_t{seq}).run()) {
      return error;
    }
  }
  if (auto error = change.commit()) {
    return error;
  }
  // The log beside the file still holds what the line was.
  Statement log(db_, "PRAGMA wal_checkpoint(TRUNCATE)");
  if (log.next() && log.number(0) != 0) {
    return port::refused_error("another window reads; close it and erase again");
  }
  return log.error();
}

Request SqliteStore::erase(const std::string& job, std::uint32_t seq, const std::string& kept) {
  Completion done;
  done.error = port::is_job_id(job) ? erase_parts(job, seq, kept) : port::bad_name_error(job);
  return finish(std::move(done));
}

Request SqliteStore::put(const std::string& key, const std::string& text) {
  Completion done;
  Statement insert(db_, "INSERT OR REPLACE INTO setting (name, value) VALUES (?, ?)");
  done.error = insert.bind_bytes(key).bind_bytes(text).run();
  return finish(std::move(done));
}

Request SqliteStore::get(const std::string& key) {
  Completion done;
  Statement row(db_, "SELECT value FROM setting WHERE name = ?");
  if (row.bind_bytes(key).next()) {
    done.text = row.bytes(0);
  }
  done.error = row.error();
  return finish(std::move(done));
}

std::uint32_t SqliteStore::last_line(const std::string& job, std::optional<Error>& error) {
  Statement row(db_,
                "SELECT coalesce(max(seq), 0) FROM line WHERE job = "
                "(SELECT id FROM job WHERE name = ?)");
  const std::int64_t last = row.bind_text(job).next() ? row.number(0) : 0;
  error = row.error();
  return static_cast<std::uint32_t>(last);
}

std::string SqliteStore::sign_of(std::int64_t writer) const {
  if (writer == life_.me()) {
    return port::kHere;
  }
  return writer != 0 && life_.lives(writer) ? cat(writer, " ", life_.signs_of(writer))
                                            : std::string();
}

Request SqliteStore::look(const std::string& job) {
  Completion done;
  if (!port::is_job_id(job)) {
    done.error = port::bad_name_error(job);
    return finish(std::move(done));
  }
  done.last = last_line(job, done.error);
  Statement row(db_,
                "SELECT holder FROM writer WHERE job = (SELECT id FROM job WHERE name = ?)");
  done.sign = sign_of(row.bind_text(job).next() ? row.number(0) : 0);
  if (!done.error) {
    done.error = row.error();
  }
  return finish(std::move(done));
}

void SqliteStore::watch(const std::string& job) {
  watched_ = job;
  std::optional<Error> error;
  watched_changes_ = -1;
  watched_last_ = job.empty() ? 0 : last_line(job, error);
}

void SqliteStore::sign_of_life() { life_.sign(); }

bool SqliteStore::take_changed() {
  const std::int64_t changes = watched_.empty() ? -1 : pragma(db_, "PRAGMA data_version");
  if (changes == watched_changes_) {
    return false;
  }
  watched_changes_ = changes;
  std::optional<Error> error;
  const std::uint32_t last = last_line(watched_, error);
  return !error && std::exchange(watched_last_, last) < last;
}

std::vector<Completion> SqliteStore::take_completed() { return std::exchange(finished_, {}); }

}  // namespace kp::native
