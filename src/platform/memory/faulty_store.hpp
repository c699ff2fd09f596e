#pragma once

#include <deque>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "port/store.hpp"

namespace kp::memory {

/// Another store with faults put in front of it, for tests of whoever uses a store.
class FaultyStore final : public port::Store {
 public:
  enum class Ask { list, acquire, take_over, release, load, append, erase, put, get, look };

  /// `inner` outlives this.
  explicit FaultyStore(port::Store& inner) : inner_(&inner) {}

  /// The next `count` requests of that kind do not reach the inner store; they fail with the code.
  void fail(Ask kind, std::string code, int count = 1);
  /// As fail(), but they do reach the inner store and happen there: the answer alone is wrong.
  void fail_after(Ask kind, std::string code, int count = 1);
  /// Completions are kept back until release_completions().
  void keep_completions() { keeping_ = true; }
  void release_completions() { keeping_ = false; }
  /// What was asked, as "append job 3", "put key", in order.
  [[nodiscard]] const std::vector<std::string>& asked() const { return asked_; }

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
  void watch(const std::string& job) override { inner_->watch(job); }
  void sign_of_life() override { inner_->sign_of_life(); }
  std::vector<port::Completion> take_completed() override;
  std::vector<std::string> take_lost() override { return inner_->take_lost(); }
  bool take_changed() override { return inner_->take_changed(); }
  [[nodiscard]] bool lasting() const override { return inner_->lasting(); }
  [[nodiscard]] port::Keeping keeping() const override { return keeping_told_; }
  /// What keeping() says from now on.
  void tell_keeping(port::Keeping keeping) { keeping_told_ = std::move(keeping); }

 private:
  struct Fault {
    std::string code;
    int left = 0;
    bool happens = false;
  };
  /// A request as its asker knows it; `inner` is 0 where it was failed here.
  struct Open {
    port::Request mine = 0;
    port::Request inner = 0;
    port::Completion done;
    std::optional<Error> told;   ///< what is told instead of the inner store's answer
    bool finished = false;
  };

  port::Request pass(Ask kind, const std::string& name, std::uint32_t seq,
                     const std::function<port::Request()>& to_inner);

  port::Store* inner_;
  std::map<Ask, Fault> faults_;
  std::deque<Open> open_;
  std::vector<std::string> asked_;
  port::Request next_ = 1;
  bool keeping_ = false;
  port::Keeping keeping_told_;
};

}  // namespace kp::memory
