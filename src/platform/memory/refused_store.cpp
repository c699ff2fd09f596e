#include "platform/memory/refused_store.hpp"

#include <utility>

namespace kp::memory {

port::Request RefusedStore::fail() {
  port::Completion done;
  done.request = next_++;
  done.error = reason_;
  finished_.push_back(std::move(done));
  return finished_.back().request;
}

std::vector<port::Completion> RefusedStore::take_completed() {
  return std::exchange(finished_, {});
}

}  // namespace kp::memory
