#include "platform/web/page.hpp"
#include "platform/web/page_calls.hpp"

namespace kp::web {
namespace {

class PageClock final : public port::Clock {
 public:
  port::ClockReading read() override {
    port::ClockReading reading;
    reading.wall.utc_ms = static_cast<std::int64_t>(kp_page_wall());
    reading.wall.offset_min = kp_page_offset_min();
    reading.mono_ms = static_cast<std::int64_t>(kp_page_now());
    reading.hidden = kp_page_was_hidden() != 0;
    return reading;
  }
};

class PageIdentity final : public port::Identity {
 public:
  std::string fresh() override {
    unsigned char bytes[8] = {};
    kp_page_random(bytes, 8);
    std::string out;
    for (const unsigned char byte : bytes) {
      out += "0123456789abcdef"[byte >> 4U];
      out += "0123456789abcdef"[byte & 15U];
    }
    return out;
  }
};

class PageShare final : public port::Share {
 public:
  void offer(const port::Document& document) override {
    kp_page_share(document.name.c_str(), document.mime.c_str(), document.bytes.data(),
                  static_cast<int>(document.bytes.size()));
  }
};

}  // namespace

std::unique_ptr<port::Clock> make_clock() { return std::make_unique<PageClock>(); }
std::unique_ptr<port::Identity> make_identity() { return std::make_unique<PageIdentity>(); }
std::unique_ptr<port::Share> make_share() { return std::make_unique<PageShare>(); }
void wake() { kp_page_wake(); }

}  // namespace kp::web
