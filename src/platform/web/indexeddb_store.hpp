#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "port/store.hpp"

namespace kp::web {

/// Keeps journals and settings in one IndexedDB database of the browser. A completion comes after
/// its transaction is complete with strict durability. A job is held by a lock of the browser,
/// which goes with the page. Nothing blocks: `Module.kpWake` of the page is called when something
/// has finished, and take_completed() brings it.
class IndexedDbStore final : public port::Store {
 public:
  explicit IndexedDbStore(const std::string& database);
  ~IndexedDbStore() override;
  IndexedDbStore(const IndexedDbStore&) = delete;
  IndexedDbStore& operator=(const IndexedDbStore&) = delete;

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

  /// The browser is asked to keep for good once a line was kept. Where it has buckets, a second
  /// copy is kept in one: web/copy.js says why.
  [[nodiscard]] port::Keeping keeping() const override;

 private:
  struct Asked {
    std::string name;
    std::uint32_t seq = 0;
    bool look = false;
  };

  port::Request ask(const char* what, const std::string& name, const std::string& bytes = {},
                    std::uint32_t seq = 0);
  port::Request ask_job(const char* what, const std::string& job, const std::string& bytes = {},
                        std::uint32_t seq = 0);

  void take_answers();

  int store_ = 0;
  std::map<port::Request, Asked> asked_;
  std::vector<port::Completion> completed_;
  std::vector<std::string> lost_;
  std::string watched_;
  bool changed_ = false;
  port::Request next_ = 1;
};

}  // namespace kp::web
