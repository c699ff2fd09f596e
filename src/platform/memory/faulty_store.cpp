#include "platform/memory/faulty_store.hpp"

#include <utility>

#include "base/text.hpp"
#include "port/store_errors.hpp"

namespace kp::memory {
namespace {

const char* word(FaultyStore::Ask kind) {
  switch (kind) {
    case FaultyStore::Ask::list:
      return "list";
    case FaultyStore::Ask::acquire:
      return "acquire";
    case FaultyStore::Ask::take_over:
      return "take-over";
    case FaultyStore::Ask::release:
      return "release";
    case FaultyStore::Ask::load:
      return "load";
    case FaultyStore::Ask::append:
      return "append";
    case FaultyStore::Ask::erase:
      return "erase";
    case FaultyStore::Ask::put:
      return "put";
    case FaultyStore::Ask::get:
      return "get";
    case FaultyStore::Ask::look:
      return "look";
  }
  return "";
}

}  // namespace

void FaultyStore::fail(Ask kind, std::string code, int count) {
  faults_[kind] = Fault{std::move(code), count, false};
}

void FaultyStore::fail_after(Ask kind, std::string code, int count) {
  faults_[kind] = Fault{std::move(code), count, true};
}

port::Request FaultyStore::pass(Ask kind, const std::string& name, std::uint32_t seq,
                                const std::function<port::Request()>& to_inner) {
  asked_.push_back(cat(word(kind), name.empty() ? "" : " ", name,
                       seq > 0 ? cat(" ", std::int64_t{seq}) : std::string()));
  Open open;
  open.mine = next_++;
  Fault& fault = faults_[kind];
  if (fault.left > 0) {
    --fault.left;
    open.told = port::store_error(fault.code, name, seq, "as told");
  }
  if (open.told && !fault.happens) {
    open.done.error = std::move(open.told);
    open.finished = true;
  } else {
    open.inner = to_inner();
  }
  open_.push_back(std::move(open));
  return open_.back().mine;
}

port::Request FaultyStore::list() {
  return pass(Ask::list, {}, 0, [this]() { return inner_->list(); });
}

port::Request FaultyStore::acquire(const std::string& job) {
  return pass(Ask::acquire, job, 0, [this, &job]() { return inner_->acquire(job); });
}

port::Request FaultyStore::take_over(const std::string& job) {
  return pass(Ask::take_over, job, 0, [this, &job]() { return inner_->take_over(job); });
}

port::Request FaultyStore::release(const std::string& job) {
  return pass(Ask::release, job, 0, [this, &job]() { return inner_->release(job); });
}

port::Request FaultyStore::load(const std::string& job) {
  return pass(Ask::load, job, 0, [this, &job]() { return inner_->load(job); });
}

port::Request FaultyStore::append(const std::string& job, std::uint32_t seq,
                                  const std::string& line) {
  return pass(Ask::append, job, seq,
              [this, &job, seq, &line]() { return inner_->append(job, seq, line); });
}

port::Request FaultyStore::erase(const std::string& job, std::uint32_t seq,
                                 const std::string& kept) {
  return pass(Ask::erase, job, seq,
              [this, &job, seq, &kept]() { return inner_->erase(job, seq, kept); });
}

port::Request FaultyStore::put(const std::string& key, const std::string& text) {
  return pass(Ask::put, key, 0, [this, &key, &text]() { return inner_->put(key, text); });
}

port::Request FaultyStore::get(const std::string& key) {
  return pass(Ask::get, key, 0, [this, &key]() { return inner_->get(key); });
}

port::Request FaultyStore::look(const std::string& job) {
  return pass(Ask::look, job, 0, [this, &job]() { return inner_->look(job); });
}

std::vector<port::Completion> FaultyStore::take_completed() {
  for (port::Completion& done : inner_->take_completed()) {
    for (Open& open : open_) {
      if (open.inner == done.request && !open.finished) {
        open.done = std::move(done);
        if (open.told) {
          open.done = {};
          open.done.error = std::move(open.told);
        }
        open.finished = true;
        break;
      }
    }
  }
  // In the order in which they were asked: one that failed here waits for those before it.
  std::vector<port::Completion> out;
  while (!keeping_ && !open_.empty() && open_.front().finished) {
    open_.front().done.request = open_.front().mine;
    out.push_back(std::move(open_.front().done));
    open_.pop_front();
  }
  return out;
}

}  // namespace kp::memory
