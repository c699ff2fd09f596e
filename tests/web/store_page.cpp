// The program of the page that the tests of the browser's store open. Its first argument says what to do,
// its second names the database. It prints a line for each thing that a test looks at.

#include <cstdio>
#include <memory>
#include <string>

#include "base/text.hpp"
#include "journal/reader.hpp"
#include "journal/writer.hpp"
#include "platform/web/indexeddb_store.hpp"
#include "port/store_contract.hpp"

using kp::port::Completion;
using kp::web::IndexedDbStore;

namespace {

void say(const std::string& line) { std::printf("%s\n", line.c_str()); }

/// What the page does; go_on() is called whenever an answer may be there.
class Act {
 public:
  virtual ~Act() = default;
  virtual void go_on() = 0;
};

class Contract final : public Act, public kp::test::StoreMedium {
 public:
  explicit Contract(std::string database)
      : database_(std::move(database)),
        runner_(*this, kp::test::store_contract(), [this](const std::string& what, bool held) {
          ++count_;
          say(kp::cat(held ? "ok " : "not ok ", count_, " ", what));
        }) {}
  std::unique_ptr<kp::port::Store> open() override {
    return std::make_unique<IndexedDbStore>(database_);
  }
  void go_on() override {
    if (!done_ && runner_.go_on()) {
      done_ = true;
      say(kp::cat("done ", count_));
    }
  }

 private:
  std::string database_;
  kp::test::ScriptRunner runner_;
  int count_ = 0;
  bool done_ = false;
};

/// Opens the job, says what is there, and writes lines of a chain, `most` of them, each after the
/// one before is told. write_one() writes a further one.
class Writer final : public Act {
 public:
  Writer(const std::string& database, int most) : store_(database), left_(most) {
    store_.watch("kill");
    store_.acquire("kill");
    store_.load("kill");
  }
  void go_on() override {
    for (const Completion& done : store_.take_completed()) {
      take(done);
    }
    for (const std::string& job : store_.take_lost()) {
      say("lost " + job);
    }
    if (store_.take_changed()) {
      say("grown");
    }
  }
  /// Says what a look brings.
  void look() { looking_ = store_.look("kill"); }
  void sign() { store_.sign_of_life(); }
  /// Writes so many more by itself.
  void write_on(int count) {
    left_ = count - 1;
    write_one(0);
  }
  /// Takes the job over and loads it again.
  void take_over() {
    left_ = 0;
    taking_ = store_.take_over("kill");
    loading_ = store_.load("kill");
  }
  /// With `pad` bytes more in it than it needs.
  void write_one(int pad) {
    kp::journal::Entry entry;
    entry.seq = seq_ + 1;
    entry.life = "00000000000000aa";
    entry.kind = "test";
    entry.payload.set("format", kp::data::Value::of(1));
    entry.payload.set("pad", kp::data::Value::of(std::string(kp::to_size(pad), 'x')));
    entry.prev = seq_ == 0 ? std::string(kp::journal::kNoPrev) : kp::journal::line_hash(last_);
    next_ = kp::journal::write_line(entry);
    writing_ = true;
    store_.append("kill", seq_ + 1, next_);
  }

 private:
  void take(const Completion& done) {
    if (done.request == looking_) {
      say(kp::cat("look ", std::int64_t{done.last}, " ", done.sign.empty() ? "nobody" : done.sign));
    } else if (done.request == taking_) {
      say("take-over " + (done.error ? done.error->code : std::string("done")));
    } else if (done.request == loading_) {
      take_lines(done, "again ");
    } else if (!acquired_) {
      acquired_ = true;
      say("acquire " + (done.error ? done.error->code : std::string("done")));
    } else if (!loaded_) {
      take_lines(done, "lines ");
    } else if (writing_) {
      writing_ = false;
      say(done.error ? kp::cat("failed ", done.error->code, " ", done.error->text())
                     : kp::cat("durable ", std::int64_t{seq_ + 1}));
      if (done.error) {
        left_ = 0;
      } else {
        ++seq_;
        last_ = next_;
      }
    }
    if (loaded_ && !writing_ && left_ > 0) {
      --left_;
      write_one(0);
    }
  }
  void take_lines(const Completion& done, const char* word) {
    loaded_ = true;
    if (done.error) {
      say(kp::cat("failed ", done.error->code, " ", done.error->text()));
      return;
    }
    const kp::journal::Loaded loaded = kp::journal::read_lines(done.lines);
    seq_ = static_cast<std::uint32_t>(done.lines.size());
    last_ = done.lines.empty() ? std::string() : done.lines.back();
    say(kp::cat(word, std::int64_t{seq_}, loaded.damage ? " damaged" : " whole"));
    const kp::port::Keeping keeping = store_.keeping();
    say(kp::cat("copies ", keeping.copies.value_or(0), keeping.lost.empty() ? "" : " lost"));
  }

  IndexedDbStore store_;
  std::string last_;
  std::string next_;
  std::uint32_t seq_ = 0;
  kp::port::Request looking_ = 0;
  kp::port::Request taking_ = 0;
  kp::port::Request loading_ = 0;
  int left_ = 0;
  bool acquired_ = false;
  bool loaded_ = false;
  bool writing_ = false;
};

// The page's calls have nowhere else to find it.
std::unique_ptr<Act> act;
Writer* writer = nullptr;

}  // namespace

extern "C" {
void store_page_go_on() {
  if (act != nullptr) {
    act->go_on();
  }
}
void store_page_write_on(int count) {
  if (writer != nullptr) {
    writer->write_on(count);
  }
}
void store_page_take_over() {
  if (writer != nullptr) {
    writer->take_over();
  }
}
void store_page_look() {
  if (writer != nullptr) {
    writer->look();
  }
}
void store_page_sign() {
  if (writer != nullptr) {
    writer->sign();
  }
}
void store_page_write(int pad) {
  if (writer != nullptr) {
    writer->write_one(pad);
  }
}
}

int main(int count, char** words) {
  const std::string what = count > 1 ? words[1] : "";
  const std::string database = count > 2 ? words[2] : "store";
  if (what == "contract") {
    act = std::make_unique<Contract>(database);
  } else {
    auto made = std::make_unique<Writer>(database, what == "write" ? 1000000 : 0);
    writer = made.get();
    act = std::move(made);
  }
  act->go_on();
  return 0;
}
