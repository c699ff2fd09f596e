#include "platform/web/indexeddb_store.hpp"

#include <cstring>
#include <string_view>
#include <utility>

#include "base/check.hpp"
#include "base/text.hpp"
#include "port/store_errors.hpp"

// web/store.js. Texts end with a NUL; bytes are copied within the call.
extern "C" {
int kp_store_open(const char* database);
void kp_store_close(int store);
void kp_store_ask(int store, const char* what, std::uint32_t request, const char* key,
                  const char* bytes, int size, std::uint32_t seq);
void kp_store_watch(int store, const char* job);
void kp_store_alive(int store);
int kp_store_next_size(int store);  // 0 where nothing has finished
void kp_store_take(int store, char* place);
int kp_store_persisted(int store);  // -1 unknown
int kp_store_copies(int store);     // -1 unknown
int kp_store_lost(int store);       // 1: the browser says that it lost what it had kept
double kp_store_free(int store);    // below 0 unknown
}

namespace kp::web {
namespace {

using port::Completion;
using port::Request;

/// Reads an answer as web/store.js packs it.
class Unpacker {
 public:
  explicit Unpacker(std::string_view bytes) : rest_(bytes) {}

  std::uint32_t number() {
    std::uint32_t value = 0;
    KP_CHECK(rest_.size() >= sizeof value);
    std::memcpy(&value, rest_.data(), sizeof value);
    rest_.remove_prefix(sizeof value);
    return value;
  }
  std::string piece() {
    const std::size_t size = number();
    KP_CHECK(rest_.size() >= size);
    std::string out(rest_.substr(0, size));
    rest_.remove_prefix(size);
    return out;
  }

 private:
  std::string_view rest_;
};

}  // namespace

IndexedDbStore::IndexedDbStore(const std::string& database)
    : store_(kp_store_open(database.c_str())) {}

IndexedDbStore::~IndexedDbStore() { kp_store_close(store_); }

Request IndexedDbStore::ask(const char* what, const std::string& name, const std::string& bytes,
                            std::uint32_t seq) {
  const Request request = next_++;
  asked_[request] = Asked{name, seq};
  kp_store_ask(store_, what, request, name.c_str(), bytes.data(), to_int(bytes.size()), seq);
  return request;
}

Request IndexedDbStore::ask_job(const char* what, const std::string& job, const std::string& bytes,
                                std::uint32_t seq) {
  if (port::is_job_id(job)) {
    return ask(what, job, bytes, seq);
  }
  // Refused behind what was asked before, so that answers keep their order.
  const Request request = ask("refuse", "bad-name");
  asked_[request].name = job;
  return request;
}

Request IndexedDbStore::list() { return ask("list", {}); }

Request IndexedDbStore::acquire(const std::string& job) { return ask_job("acquire", job); }

Request IndexedDbStore::take_over(const std::string& job) { return ask_job("take-over", job); }

Request IndexedDbStore::release(const std::string& job) { return ask_job("release", job); }

Request IndexedDbStore::load(const std::string& job) { return ask_job("load", job); }

Request IndexedDbStore::append(const std::string& job, std::uint32_t seq,
                               const std::string& line) {
  return ask_job("append", job, line, seq);
}

Request IndexedDbStore::erase(const std::string& job, std::uint32_t seq, const std::string& kept) {
  return ask_job("erase", job, kept, seq);
}

Request IndexedDbStore::put(const std::string& key, const std::string& text) {
  return ask("put", key, text);
}

Request IndexedDbStore::get(const std::string& key) { return ask("get", key); }

Request IndexedDbStore::look(const std::string& job) {
  const Request request = ask_job("look", job);
  asked_[request].look = true;
  return request;
}

void IndexedDbStore::watch(const std::string& job) {
  watched_ = job;
  changed_ = false;
  kp_store_watch(store_, job.c_str());
}

void IndexedDbStore::sign_of_life() { kp_store_alive(store_); }

void IndexedDbStore::take_answers() {
  while (const int size = kp_store_next_size(store_)) {
    std::string bytes(to_size(size), '\0');
    kp_store_take(store_, bytes.data());
    Unpacker unpack(bytes);
    Completion done;
    done.request = unpack.number();
    const std::uint32_t pieces = unpack.number();
    const std::string code = unpack.piece();
    const std::string why = unpack.piece();
    done.text = unpack.piece();
    for (std::uint32_t i = 3; i < pieces; ++i) {
      done.lines.push_back(unpack.piece());
    }
    if (done.request == 0) {
      if (code == "grown") {
        changed_ = changed_ || why == watched_;
      } else {
        lost_.push_back(why);
      }
      continue;
    }
    const Asked asked = std::move(asked_[done.request]);
    asked_.erase(done.request);
    if (!code.empty()) {
      done.error = port::store_error(code, asked.name, asked.seq, why);
    } else if (asked.look) {
      done.sign = std::exchange(done.text, {});
      done.last = static_cast<std::uint32_t>(parse_integer(done.lines.front()).value_or(0));
      done.lines.clear();
    }
    completed_.push_back(std::move(done));
  }
}

std::vector<Completion> IndexedDbStore::take_completed() {
  take_answers();
  return std::exchange(completed_, {});
}

std::vector<std::string> IndexedDbStore::take_lost() {
  take_answers();
  return std::exchange(lost_, {});
}

bool IndexedDbStore::take_changed() {
  take_answers();
  return std::exchange(changed_, false);
}

port::Keeping IndexedDbStore::keeping() const {
  port::Keeping keeping;
  if (const int persisted = kp_store_persisted(store_); persisted >= 0) {
    keeping.persisted = persisted == 1;
  }
  if (const double room = kp_store_free(store_); room >= 0) {
    keeping.free_bytes = room;
  }
  if (const int copies = kp_store_copies(store_); copies >= 0) {
    keeping.copies = copies;
  }
  if (kp_store_lost(store_) != 0) {
    keeping.lost = "The browser lost what was kept here.";
  }
  return keeping;
}

}  // namespace kp::web
