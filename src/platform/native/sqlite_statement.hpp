#pragma once
// SQLite as this folder speaks to it: statements with their values, transactions that are taken
// back unless they were committed, and its failures in the words of port.

#include <cstdint>
#include <optional>
#include <string>

#include <sqlite3.h>

#include "base/text.hpp"
#include "port/store_errors.hpp"

namespace kp::native {

inline Error error_of(sqlite3* db) {
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

inline std::optional<Error> run(sqlite3* db, const char* sql) {
  if (sqlite3_exec(db, sql, nullptr, nullptr, nullptr) != SQLITE_OK) {
    return error_of(db);
  }
  return std::nullopt;
}

inline std::int64_t pragma(sqlite3* db, const char* sql) {
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

}  // namespace kp::native
