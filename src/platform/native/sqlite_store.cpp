#include "platform/native/sqlite_store.hpp"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <utility>

#include <fcntl.h>
#include <sqlite3.h>
#include <unistd.h>

#include "base/text.hpp"
#include "port/store_errors.hpp"

namespace kp::native {
namespace {

using port::Completion;
using port::Request;

// "Kpl1", so that the file is not taken for another program's; and the number of its tables' form.
constexpr std::int64_t kApplication = 0x4B706C31;
constexpr std::int64_t kForm = 1;
constexpr int kBusyMs = 3000;

constexpr const char* kTables =
    "CREATE TABLE IF NOT EXISTS job (id INTEGER PRIMARY KEY, name TEXT NOT NULL UNIQUE);"
    "CREATE TABLE IF NOT EXISTS line (job INTEGER NOT NULL REFERENCES job (id), seq INTEGER NOT "
    "NULL, bytes BLOB NOT NULL, PRIMARY KEY (job, seq)) WITHOUT ROWID;"
    "CREATE TABLE IF NOT EXISTS setting (name BLOB PRIMARY KEY, value BLOB NOT NULL) WITHOUT "
    "ROWID;";

Error error_of(sqlite3* db) {
  const int code = db == nullptr ? SQLITE_NOMEM : sqlite3_errcode(db);
  if (code == SQLITE_FULL) {
    return port::full_error();
  }
  return port::refused_error(db == nullptr ? sqlite3_errstr(code) : sqlite3_errmsg(db));
}

/// One statement of SQL with its values. A failure stays until it is asked for.
class Statement {
 public:
  Statement(sqlite3* db, const char* sql) : db_(db) {
    sqlite3_prepare_v2(db, sql, -1, &statement_, nullptr);
  }
  ~Statement() { sqlite3_finalize(statement_); }
  Statement(const Statement&) = delete;
  Statement& operator=(const Statement&) = delete;

  Statement& bind(std::int64_t value) {
    sqlite3_bind_int64(statement_, ++bound_, value);
    return *this;
  }
  /// The bytes must stay where they are until the statement is gone.
  Statement& bind_text(const std::string& value) {
    sqlite3_bind_text(statement_, ++bound_, value.data(), to_int(value.size()), nullptr);
    return *this;
  }
  Statement& bind_bytes(const std::string& value) {
    sqlite3_bind_blob(statement_, ++bound_, value.data(), to_int(value.size()), nullptr);
    return *this;
  }

  /// True where there is a further row.
  bool next() {
    const int code = statement_ == nullptr ? sqlite3_errcode(db_) : sqlite3_step(statement_);
    failed_ = code != SQLITE_ROW && code != SQLITE_DONE;
    return code == SQLITE_ROW;
  }
  std::optional<Error> run() {
    while (next()) {
    }
    return error();
  }
  [[nodiscard]] std::optional<Error> error() const {
    return failed_ ? std::optional<Error>(error_of(db_)) : std::nullopt;
  }

  [[nodiscard]] std::int64_t number(int column) const {
    return sqlite3_column_int64(statement_, column);
  }
  [[nodiscard]] std::string bytes(int column) const {
    const void* data = sqlite3_column_blob(statement_, column);
    const int size = sqlite3_column_bytes(statement_, column);
    return data == nullptr ? std::string() : std::string(static_cast<const char*>(data), to_size(size));
  }

 private:
  sqlite3* db_;
  sqlite3_stmt* statement_ = nullptr;
  int bound_ = 0;
  bool failed_ = false;
};

std::optional<Error> run(sqlite3* db, const char* sql) {
  if (sqlite3_exec(db, sql, nullptr, nullptr, nullptr) != SQLITE_OK) {
    return error_of(db);
  }
  return std::nullopt;
}

std::int64_t pragma(sqlite3* db, const char* sql) {
  Statement statement(db, sql);
  return statement.next() ? statement.number(0) : 0;
}

/// A writing transaction: taken back unless it was committed.
class Change {
 public:
  explicit Change(sqlite3* db) : db_(db), error_(run(db, "BEGIN IMMEDIATE")) {}
  ~Change() {
    if (sqlite3_get_autocommit(db_) == 0) {
      sqlite3_exec(db_, "ROLLBACK", nullptr, nullptr, nullptr);
    }
  }
  Change(const Change&) = delete;
  Change& operator=(const Change&) = delete;

  [[nodiscard]] const std::optional<Error>& error() const { return error_; }
  std::optional<Error> commit() { return run(db_, "COMMIT"); }

 private:
  sqlite3* db_;
  std::optional<Error> error_;
};

/// Locks or unlocks one byte of the file. These locks belong to the open file and not to the
/// process, so two handles of one program keep each other out as well.
bool set_lock(int file, std::int64_t place, short kind) {
  struct flock lock {};
  lock.l_type = kind;
  lock.l_whence = SEEK_SET;
  lock.l_start = place;
  lock.l_len = 1;
  return fcntl(file, F_OFD_SETLK, &lock) == 0;
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
  store->lock_file_ = ::open((path + ".lock").c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0644);
  if (store->lock_file_ < 0) {
    return fail(port::refused_error(std::strerror(errno)));
  }
  return store;
}

std::optional<Error> SqliteStore::set_up(Limits limits) {
  sqlite3_busy_timeout(db_, kBusyMs);
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
                          "PRAGMA foreign_keys = ON"}) {
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

SqliteStore::~SqliteStore() {
  if (lock_file_ >= 0) {
    ::close(lock_file_);
  }
  sqlite3_close(db_);
}

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

std::optional<Error> SqliteStore::take_hold(const std::string& job) {
  if (!port::is_job_id(job)) {
    return port::bad_name_error(job);
  }
  if (held(job) != nullptr) {
    return std::nullopt;
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
  if (!set_lock(lock_file_, place, F_WRLCK)) {
    return errno == EAGAIN || errno == EACCES ? port::held_error(job)
                                              : port::refused_error(std::strerror(errno));
  }
  held_.push_back(Held{job, place});
  return std::nullopt;
}

Request SqliteStore::acquire(const std::string& job) {
  Completion done;
  done.error = take_hold(job);
  return finish(std::move(done));
}

Request SqliteStore::release(const std::string& job) {
  Completion done;
  if (!port::is_job_id(job)) {
    done.error = port::bad_name_error(job);
  } else if (const Held* mine = held(job)) {
    set_lock(lock_file_, mine->place, F_UNLCK);
    held_.erase(held_.begin() + (mine - held_.data()));
  }
  return finish(std::move(done));
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
  return change.commit();
}

Request SqliteStore::append(const std::string& job, std::uint32_t seq, const std::string& line) {
  Completion done;
  done.error = write_line(job, seq, line);
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

std::vector<Completion> SqliteStore::take_completed() { return std::exchange(finished_, {}); }

}  // namespace kp::native
