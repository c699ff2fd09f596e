#include "platform/memory/memory_store.hpp"

#include <algorithm>
#include <utility>

#include "base/text.hpp"
#include "port/store_errors.hpp"

namespace kp::memory {

using port::Completion;
using port::Request;

std::int64_t MemoryMedium::used() const {
  std::size_t bytes = 0;
  for (const auto& job : jobs_) {
    for (const Line& line : job.second) {
      bytes += line.bytes.size();
    }
  }
  for (const auto& setting : settings_) {
    bytes += setting.first.size() + setting.second.size();
  }
  return static_cast<std::int64_t>(bytes);
}

bool MemoryMedium::fits(std::int64_t bytes) const { return room_ < 0 || used() + bytes <= room_; }

void MemoryMedium::let_go(int count) {
  for (; count > 0 && !waiting_.empty(); --count) {
    const Asked asked = std::move(waiting_.front());
    waiting_.pop_front();
    happen(asked);
  }
}

void MemoryMedium::let_all_go() {
  holding_ = false;
  let_go(to_int(waiting_.size()));
}

void MemoryMedium::crash(Unconfirmed unconfirmed) {
  if (unconfirmed == Unconfirmed::kept) {
    let_go(to_int(waiting_.size()));
  }
  waiting_.clear();
  for (auto& job : jobs_) {
    std::vector<Line>& lines = job.second;
    if (unconfirmed == Unconfirmed::lost) {
      const auto first = std::find_if(lines.begin(), lines.end(),
                                      [](const Line& line) { return !line.told; });
      lines.erase(first, lines.end());
    }
    for (Line& line : lines) {
      line.told = true;
    }
  }
  holders_.clear();
  for (auto& handle : handles_) {
    handle.second = Handle{};
    handle.second.alive = false;
  }
  fail_next_.clear();
  holding_ = false;
}

void MemoryMedium::let_die(std::uint32_t handle) {
  // Nobody is left to be told of its lines; whoever loads them next takes them as they are.
  for (const auto& appended : handles_[handle].appended) {
    for (Line& line : jobs_[appended.second]) {
      line.told = true;
    }
  }
  for (auto holder = holders_.begin(); holder != holders_.end();) {
    holder = holder->second == handle ? holders_.erase(holder) : std::next(holder);
  }
  handles_.erase(handle);
}

void MemoryMedium::ask(Asked asked) {
  if (holding_) {
    waiting_.push_back(std::move(asked));
  } else {
    happen(asked);
  }
}

void MemoryMedium::happen(const Asked& asked) {
  const auto found = handles_.find(asked.handle);
  if (found == handles_.end() || !found->second.alive) {
    return;
  }
  Completion done;
  done.request = asked.request;
  answer(asked, done);
  if (asked.kind == Kind::append && !done.error) {
    found->second.appended[asked.request] = asked.name;
  }
  found->second.finished.push_back(std::move(done));
}

std::optional<Error> MemoryMedium::append(const Asked& asked) {
  const auto holder = holders_.find(asked.name);
  if (holder == holders_.end() || holder->second != asked.handle) {
    return port::not_acquired_error(asked.name);
  }
  std::vector<Line>& lines = jobs_[asked.name];
  const auto last = static_cast<std::int64_t>(lines.size());
  if (asked.seq != last + 1) {
    return port::conflict_error(asked.name, asked.seq, last);
  }
  if (!fail_next_.empty()) {
    return port::store_error(std::exchange(fail_next_, {}), asked.name, asked.seq, "as told");
  }
  if (!fits(static_cast<std::int64_t>(asked.text.size()))) {
    return port::full_error();
  }
  lines.push_back(Line{asked.text, false});
  for (auto& handle : handles_) {
    if (handle.first != asked.handle && handle.second.watched == asked.name) {
      handle.second.changed = true;
    }
  }
  return std::nullopt;
}

std::optional<Error> MemoryMedium::erase(const Asked& asked) {
  const auto holder = holders_.find(asked.name);
  if (holder == holders_.end() || holder->second != asked.handle) {
    return port::not_acquired_error(asked.name);
  }
  std::vector<Line>& lines = jobs_[asked.name];
  const bool there = asked.seq >= 1 && asked.seq <= lines.size();
  if (!there || !port::is_erasure(lines[asked.seq - 1].bytes, asked.text)) {
    return port::conflict_error(asked.name, asked.seq, static_cast<std::int64_t>(lines.size()));
  }
  lines[asked.seq - 1].bytes = asked.text;
  return std::nullopt;
}

void MemoryMedium::look(const Asked& asked, Completion& done) const {
  if (const auto job = jobs_.find(asked.name); job != jobs_.end()) {
    done.last = static_cast<std::uint32_t>(job->second.size());
  }
  const auto holder = holders_.find(asked.name);
  if (holder == holders_.end()) {
    return;
  }
  const auto handle = handles_.find(holder->second);
  done.sign = holder->second == asked.handle ? std::string(port::kHere)
              : handle == handles_.end()
                  ? std::string()
                  : cat(std::int64_t{holder->second}, " ", std::int64_t{handle->second.signs});
}

void MemoryMedium::forget_all() {
  jobs_.clear();
  settings_.clear();
  for (auto& handle : handles_) {
    handle.second.appended.clear();
  }
}

void MemoryMedium::take_over(const Asked& asked) {
  std::uint32_t& holder = holders_[asked.name];
  const auto before = handles_.find(holder);
  if (holder != asked.handle && before != handles_.end()) {
    before->second.lost.push_back(asked.name);
  }
  holder = asked.handle;
}

void MemoryMedium::answer(const Asked& asked, Completion& done) {
  const bool of_job = asked.kind != Kind::list && asked.kind != Kind::put &&
                      asked.kind != Kind::get;
  if (of_job && !port::is_job_id(asked.name)) {
    done.error = port::bad_name_error(asked.name);
    return;
  }
  switch (asked.kind) {
    case Kind::list:
      for (const auto& job : jobs_) {
        if (!job.second.empty()) {
          done.lines.push_back(job.first);
        }
      }
      return;
    case Kind::acquire: {
      const auto holder = holders_.emplace(asked.name, asked.handle).first;
      if (holder->second != asked.handle) {
        done.error = port::held_error(asked.name);
      }
      return;
    }
    case Kind::take_over:
      take_over(asked);
      return;
    case Kind::release: {
      const auto holder = holders_.find(asked.name);
      if (holder != holders_.end() && holder->second == asked.handle) {
        holders_.erase(holder);
      }
      return;
    }
    case Kind::load: {
      const auto job = jobs_.find(asked.name);
      if (job != jobs_.end()) {
        for (const Line& line : job->second) {
          done.lines.push_back(line.bytes);
        }
      }
      return;
    }
    case Kind::append:
      done.error = append(asked);
      return;
    case Kind::erase:
      done.error = erase(asked);
      return;
    case Kind::look:
      look(asked, done);
      return;
    case Kind::put:
      if (!fits(static_cast<std::int64_t>(asked.name.size() + asked.text.size()))) {
        done.error = port::full_error();
        return;
      }
      settings_[asked.name] = asked.text;
      return;
    case Kind::get: {
      const auto setting = settings_.find(asked.name);
      done.text = setting == settings_.end() ? std::string() : setting->second;
      return;
    }
  }
}

MemoryStore::MemoryStore(std::shared_ptr<MemoryMedium> medium) : medium_(std::move(medium)) {
  handle_ = medium_->next_handle_++;
  medium_->handles_[handle_];
}

MemoryStore::~MemoryStore() { medium_->let_die(handle_); }

Request MemoryStore::ask(Kind kind, const std::string& name, std::uint32_t seq,
                         const std::string& text) {
  MemoryMedium::Asked asked;
  asked.kind = kind;
  asked.handle = handle_;
  asked.request = medium_->next_request_++;
  asked.name = name;
  asked.seq = seq;
  asked.text = text;
  const Request request = asked.request;
  medium_->ask(std::move(asked));
  return request;
}

Request MemoryStore::list() { return ask(Kind::list); }

Request MemoryStore::acquire(const std::string& job) {
  return ask(Kind::acquire, job);
}

Request MemoryStore::take_over(const std::string& job) {
  return ask(Kind::take_over, job);
}

Request MemoryStore::release(const std::string& job) {
  return ask(Kind::release, job);
}

Request MemoryStore::load(const std::string& job) {
  return ask(Kind::load, job);
}

Request MemoryStore::append(const std::string& job, std::uint32_t seq, const std::string& line) {
  return ask(Kind::append, job, seq, line);
}

Request MemoryStore::erase(const std::string& job, std::uint32_t seq, const std::string& kept) {
  return ask(Kind::erase, job, seq, kept);
}

Request MemoryStore::put(const std::string& key, const std::string& text) {
  return ask(Kind::put, key, 0, text);
}

Request MemoryStore::get(const std::string& key) {
  return ask(Kind::get, key);
}

Request MemoryStore::look(const std::string& job) {
  return ask(Kind::look, job);
}

void MemoryStore::watch(const std::string& job) {
  MemoryMedium::Handle& handle = medium_->handles_[handle_];
  handle.watched = job;
  handle.changed = false;
}

void MemoryStore::sign_of_life() { ++medium_->handles_[handle_].signs; }

std::vector<Completion> MemoryStore::take_completed() {
  MemoryMedium::Handle& handle = medium_->handles_[handle_];
  std::vector<Completion> out;
  for (Completion& done : handle.finished) {
    const auto appended = handle.appended.find(done.request);
    if (appended != handle.appended.end()) {
      // Lines are told in order, so the first one not told is the one that this completion is of.
      std::vector<MemoryMedium::Line>& lines = medium_->jobs_[appended->second];
      const auto line = std::find_if(lines.begin(), lines.end(),
                                     [](const MemoryMedium::Line& each) { return !each.told; });
      if (line != lines.end()) {
        line->told = true;
      }
      handle.appended.erase(appended);
    }
    out.push_back(std::move(done));
  }
  handle.finished.clear();
  return out;
}

std::vector<std::string> MemoryStore::take_lost() {
  return std::exchange(medium_->handles_[handle_].lost, {});
}

bool MemoryStore::take_changed() {
  return std::exchange(medium_->handles_[handle_].changed, false);
}

}  // namespace kp::memory
