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
  int offer(const port::Document& document) override {
    ++offers_;
    kp_page_share(offers_, document.name.c_str(), document.mime.c_str(), document.bytes.data(),
                  static_cast<int>(document.bytes.size()));
    return offers_;
  }

  std::vector<port::Handed> take_handed() override {
    std::vector<port::Handed> out;
    int how = 0;
    for (int offer = kp_page_handed(&how); offer > 0; offer = kp_page_handed(&how)) {
      out.push_back(port::Handed{offer,
                                 how == 0   ? port::Handing::completed
                                 : how == 1 ? port::Handing::let_out
                                            : port::Handing::failed,
                                 {}});
    }
    return out;
  }

 private:
  int offers_ = 0;
};

}  // namespace

std::unique_ptr<port::Clock> make_clock() { return std::make_unique<PageClock>(); }
std::unique_ptr<port::Identity> make_identity() { return std::make_unique<PageIdentity>(); }
std::unique_ptr<port::Share> make_share() { return std::make_unique<PageShare>(); }
void wake() { kp_page_wake(); }

}  // namespace kp::web
