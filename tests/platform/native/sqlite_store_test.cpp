#include "platform/native/sqlite_store.hpp"

#include <doctest/doctest.h>

#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include <sqlite3.h>
#include <sys/wait.h>
#include <unistd.h>

#include "base/text.hpp"
#include "journal/reader.hpp"
#include "journal/writer.hpp"
#include "port/store_contract.hpp"

using kp::native::SqliteStore;
using Strings = std::vector<std::string>;

namespace {

/// A folder that is there for one test.
class Folder {
 public:
  Folder() {
    std::string name = (std::filesystem::temp_directory_path() / "store-XXXXXX").string();
    path_ = mkdtemp(name.data());
  }
  ~Folder() {
    std::error_code error;
    std::filesystem::remove_all(path_, error);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  [[nodiscard]] std::string file() const { return (path_ / "ledger.db").string(); }
  [[nodiscard]] std::string path() const { return path_.string(); }

 private:
  std::filesystem::path path_;
};

std::unique_ptr<SqliteStore> opened(const std::string& path, std::int64_t most_pages = 0) {
  auto store = SqliteStore::open(path, {.most_pages = most_pages});
  if (!store) {
    MESSAGE(store.error().text());
    return nullptr;
  }
  return std::move(*store);
}

class Medium final : public kp::test::StoreMedium {
 public:
  std::unique_ptr<kp::port::Store> open() override { return opened(folder_.file()); }

 private:
  Folder folder_;
};

std::string code(kp::port::Store& store) {
  const auto done = store.take_completed();
  return done.back().error ? done.back().error->code : "done";
}

Strings lines(kp::port::Store& store, const std::string& job) {
  store.load(job);
  return store.take_completed().back().lines;
}

/// What somebody else does with the file.
bool run_sql(const std::string& file, const char* sql) {
  sqlite3* db = nullptr;
  const bool done = sqlite3_open(file.c_str(), &db) == SQLITE_OK &&
                    sqlite3_exec(db, sql, nullptr, nullptr, nullptr) == SQLITE_OK;
  sqlite3_close(db);
  return done;
}

/// The lines of a chained journal, so that what came back can be believed as a whole.
std::string line_after(std::uint32_t seq, const std::string& before) {
  kp::journal::Entry entry;
  entry.seq = seq;
  entry.life = "00000000000000aa";
  entry.kind = "test";
  entry.payload.set("format", kp::data::Value::of(1));
  if (seq > 1) {
    entry.prev = kp::journal::line_hash(before);
  }
  return kp::journal::write_line(entry);
}

/// Another process that holds the job and writes lines to it until it is killed; tells the number
/// of each one through a pipe once the store has said that it is durable.
struct Writer {
  pid_t process = -1;
  int told = -1;

  Writer(const std::string& file, int most) {
    int ends[2] = {-1, -1};
    if (pipe(ends) != 0) {
      return;
    }
    told = ends[0];
    process = fork();
    if (process == 0) {
      write_lines(file, most, ends[1]);
    }
    ::close(ends[1]);
  }
  [[noreturn]] static void write_lines(const std::string& file, int most, int out) {
    const auto store = opened(file);
    if (store == nullptr) {
      _exit(1);
    }
    store->acquire("kill");
    const Strings there = lines(*store, "kill");
    std::string last = there.empty() ? std::string() : there.back();
    auto seq = static_cast<std::uint32_t>(there.size());
    for (int left = most; left > 0; --left) {
      last = line_after(++seq, last);
      store->append("kill", seq, last);
      if (code(*store) != "done" || write(out, &seq, sizeof seq) != sizeof seq) {
        _exit(1);
      }
    }
    // It writes no more, and still holds its job.
    for (;;) {
      pause();
    }
  }
  /// The number of the next line that was told; 0 at the end.
  std::uint32_t next() const {
    std::uint32_t seq = 0;
    return read(told, &seq, sizeof seq) == static_cast<ssize_t>(sizeof seq) ? seq : 0;
  }
  /// Kills without warning; what was told until then, the last number of it.
  std::uint32_t kill_it(std::uint32_t last) {
    ::kill(process, SIGKILL);
    waitpid(process, nullptr, 0);
    while (const std::uint32_t more = next()) {
      last = more;
    }
    ::close(told);
    return last;
  }
};

}  // namespace

TEST_CASE("SQLite keeps the contract of a store") {
  Medium medium;
  kp::test::ScriptRunner runner(
      medium, kp::test::store_contract(),
      [](const std::string& what, bool held) { CHECK_MESSAGE(held, what); });
  CHECK(runner.go_on());
}

TEST_CASE("what is written outlives the store") {
  const Folder folder;
  {
    const auto store = opened(folder.file());
    CHECK(store->lasting());
    store->acquire("j");
    store->append("j", 1, "one");
    store->put("units", "metric");
    CHECK(code(*store) == "done");
    // The write-ahead log is there while the store is open.
    CHECK(std::filesystem::exists(folder.file() + "-wal"));
  }
  const auto store = opened(folder.file());
  CHECK(lines(*store, "j") == Strings{"one"});
  store->get("units");
  CHECK(store->take_completed().back().text == "metric");
}

TEST_CASE("killed at any moment, all that was told to be durable is there, and the job is free") {
  const Folder folder;
  std::uint32_t told_before = 0;
  kp::test::Random random(9);
  CAPTURE(random.seed());
  for (int round = 0; round < 8; ++round) {
    Writer writer(folder.file(), 1000000);
    std::uint32_t told = told_before;
    for (int wait = random.between(1, 12); wait > 0; --wait) {
      told = writer.next();
    }
    CHECK(told > told_before);
    told = writer.kill_it(told);

    const auto store = opened(folder.file());
    const Strings kept = lines(*store, "kill");
    CHECK(kept.size() >= told);
    CHECK(kept.size() <= told + 1);
    const kp::journal::Loaded loaded = kp::journal::read_lines(kept);
    CHECK_FALSE(loaded.damage.has_value());
    CHECK(loaded.entries.size() == kept.size());
    store->acquire("kill");
    CHECK(code(*store) == "done");
    told_before = static_cast<std::uint32_t>(kept.size());
  }
}

TEST_CASE("a second process reads and does not write, until the first one is gone") {
  const Folder folder;
  Writer writer(folder.file(), 1);
  CHECK(writer.next() == 1);
  const auto store = opened(folder.file());
  store->acquire("kill");
  CHECK(code(*store) == "held");
  store->append("kill", 2, "two");
  CHECK(code(*store) == "not-acquired");
  CHECK(lines(*store, "kill").size() == 1);
  store->acquire("other");
  CHECK(code(*store) == "done");
  writer.kill_it(1);
  store->acquire("kill");
  CHECK(code(*store) == "done");
  store->append("kill", 2, "two");
  CHECK(code(*store) == "done");
}

TEST_CASE("a second process takes the job over in the middle of the first one's writing") {
  const Folder folder;
  for (int round = 0; round < 5; ++round) {
    Writer writer(folder.file(), 1000000);
    std::uint32_t told = writer.next();
    CHECK(told > 0);
    const auto store = opened(folder.file());
    store->acquire("kill");
    CHECK(code(*store) == "held");
    store->take_over("kill");
    CHECK(code(*store) == "done");
    const Strings there = lines(*store, "kill");
    // The first one is refused its next line and ends; what it told until then is there.
    while (const std::uint32_t more = writer.next()) {
      told = more;
    }
    CHECK(there.size() == told);
    store->append("kill", told + 1, line_after(told + 1, there.back()));
    CHECK(code(*store) == "done");
    CHECK_FALSE(kp::journal::read_lines(lines(*store, "kill")).damage.has_value());
    CHECK(store->take_lost().empty());
    writer.kill_it(told);
  }
}

TEST_CASE("a full file is told, nothing is lost, and it goes on when there is room again") {
  const Folder folder;
  Strings kept;
  {
    const auto store = opened(folder.file(), 40);
    store->acquire("j");
    CHECK(code(*store) == "done");
    std::string told = "done";
    while (told == "done" && kept.size() < 200) {
      const std::string line(2000, static_cast<char>('a' + static_cast<int>(kept.size() % 26)));
      store->append("j", static_cast<std::uint32_t>(kept.size()) + 1, line);
      told = code(*store);
      if (told == "done") {
        kept.push_back(line);
      }
    }
    CHECK(told == "full");
    CHECK(kept.size() > 10);
    CHECK(kept.size() < 100);
    CHECK(lines(*store, "j") == kept);
    store->put("key", std::string(5000, 'x'));
    CHECK(code(*store) == "full");
  }
  const auto store = opened(folder.file());
  CHECK(lines(*store, "j") == kept);
  store->acquire("j");
  store->append("j", static_cast<std::uint32_t>(kept.size()) + 1, "more");
  CHECK(code(*store) == "done");
}

TEST_CASE("what is erased stands in no byte of the files any more") {
  const Folder folder;
  const auto bytes = [&folder] {
    std::string all;
    for (const auto& one : std::filesystem::directory_iterator(folder.path())) {
      std::ifstream in(one.path(), std::ios::binary);
      all.append(std::istreambuf_iterator<char>(in), {});
    }
    return all;
  };
  auto store = opened(folder.file());
  store->acquire("bare");
  // Short ones and one that needs pages of its own.
  for (std::uint32_t seq = 1; seq <= 3; ++seq) {
    store->append("bare", seq, kp::cat("line\n", std::string(seq == 3 ? 20'000 : 9, '.'), "N. Osei"));
    CHECK(code(*store) == "done");
  }
  CHECK(bytes().find("Osei") != std::string::npos);
  for (std::uint32_t seq = 1; seq <= 3; ++seq) {
    store->erase("bare", seq, "line");
    CHECK(code(*store) == "done");
  }
  CHECK(bytes().find("Osei") == std::string::npos);
  CHECK(lines(*store, "bare") == Strings{"line", "line", "line"});
  store.reset();
  CHECK(bytes().find("Osei") == std::string::npos);
}

TEST_CASE("what is no store is refused with the reason, and left as it is") {
  const Folder folder;
  const auto why = [](const std::string& path) {
    const auto store = SqliteStore::open(path);
    return store ? std::string("opened") : store.error().code + " | " + store.error().what;
  };
  CHECK(why(folder.path() + "/no/such/folder/ledger.db") ==
        "refused | this device does not save: unable to open database file");
  const std::string text_file = folder.path() + "/letter.txt";
  const std::string text(5000, 'x');
  std::ofstream(text_file) << text;
  CHECK(why(text_file) == "refused | this device does not save: file is not a database");
  CHECK(std::filesystem::file_size(text_file) == text.size());
  CHECK(why(folder.path()) == "refused | this device does not save: unable to open database file");

  const std::string other = folder.path() + "/other.db";
  CHECK(run_sql(other, "CREATE TABLE line (a); INSERT INTO line VALUES (1)"));
  CHECK(why(other) ==
        "refused | this device does not save: the file belongs to another program");

  opened(folder.file());
  CHECK(run_sql(folder.file(), "PRAGMA user_version = 3"));
  CHECK(why(folder.file()) ==
        "refused | this device does not save: the file was written by a newer program");
}

TEST_CASE("a file that may only be read is refused, and told") {
  if (geteuid() == 0) {
    MESSAGE("skipped: this user may write everything");
    return;
  }
  const Folder folder;
  opened(folder.file());
  std::filesystem::permissions(folder.file(), std::filesystem::perms::owner_read);
  CHECK(SqliteStore::open(folder.file()).error().code == "refused");
}
