#pragma once

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "port/store.hpp"

namespace kp::memory {

/// Stands in for a store that could not be opened: every request fails with the reason, so that
/// the program can show it instead of not starting.
class RefusedStore final : public port::Store {
 public:
  explicit RefusedStore(Error reason) : reason_(std::move(reason)) {}

  port::Request list() override { return fail(); }
  port::Request acquire(const std::string&) override { return fail(); }
  port::Request take_over(const std::string&) override { return fail(); }
  port::Request release(const std::string&) override { return fail(); }
  port::Request load(const std::string&) override { return fail(); }
  port::Request append(const std::string&, std::uint32_t, const std::string&) override {
    return fail();
  }
  port::Request erase(const std::string&, std::uint32_t, const std::string&) override {
    return fail();
  }
  port::Request put(const std::string&, const std::string&) override { return fail(); }
  port::Request get(const std::string&) override { return fail(); }
  port::Request look(const std::string&) override { return fail(); }
  void watch(const std::string&) override {}
  void sign_of_life() override {}
  std::vector<port::Completion> take_completed() override;
  std::vector<std::string> take_lost() override { return {}; }
  bool take_changed() override { return false; }
  /// It would last if it could be opened; nothing is taken for kept in the meantime.
  [[nodiscard]] bool lasting() const override { return true; }

 private:
  port::Request fail();

  Error reason_;
  std::vector<port::Completion> finished_;
  port::Request next_ = 1;
};

}  // namespace kp::memory
