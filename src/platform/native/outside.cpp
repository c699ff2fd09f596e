#include <array>
#include <cstdio>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <utility>

#include <sys/random.h>

#include "platform/native/window.hpp"

namespace kp::native {
namespace {

std::int64_t milliseconds(clockid_t clock) {
  timespec now{};
  clock_gettime(clock, &now);
  return std::int64_t{now.tv_sec} * 1000 + now.tv_nsec / 1'000'000;
}

class SystemClock final : public port::Clock {
 public:
  port::ClockReading read() override {
    port::ClockReading reading;
    reading.wall.utc_ms = milliseconds(CLOCK_REALTIME);
    reading.mono_ms = milliseconds(CLOCK_BOOTTIME);
    const std::time_t seconds = reading.wall.utc_ms / 1000;
    std::tm local{};
    if (localtime_r(&seconds, &local) != nullptr) {
      reading.wall.offset_min = static_cast<int>(local.tm_gmtoff / 60);
    }
    return reading;
  }
};

class SystemIdentity final : public port::Identity {
 public:
  std::string fresh() override {
    std::array<unsigned char, 8> bytes{};
    std::size_t have = 0;
    while (have < bytes.size()) {
      const ssize_t got = getrandom(bytes.data() + have, bytes.size() - have, 0);
      if (got > 0) have += static_cast<std::size_t>(got);
    }
    std::string out;
    for (const unsigned char byte : bytes) {
      out += "0123456789abcdef"[byte >> 4U];
      out += "0123456789abcdef"[byte & 15U];
    }
    return out;
  }
};

class FolderShare final : public port::Share {
 public:
  explicit FolderShare(std::string folder) : folder_(std::move(folder)) {}

  int offer(const port::Document& document) override {
    ++offers_;
    std::string why = write(document);
    const port::Handing how = why.empty() ? port::Handing::completed : port::Handing::failed;
    handed_.push_back(port::Handed{offers_, how, std::move(why)});
    return offers_;
  }

  std::vector<port::Handed> take_handed() override { return std::exchange(handed_, {}); }

 private:
  /// Writes the document whole or not at all; what is wrong, or nothing.
  [[nodiscard]] std::string write(const port::Document& document) const {
    std::error_code trouble;
    std::filesystem::create_directories(folder_, trouble);
    // A name never leaves the folder, whatever it holds.
    const std::filesystem::path target =
        std::filesystem::path(folder_) / std::filesystem::path(document.name).filename();
    const std::filesystem::path part = target.string() + ".part";
    {
      std::ofstream out(part, std::ios::binary);
      out.write(document.bytes.data(), static_cast<std::streamsize>(document.bytes.size()));
      if (!out.flush()) {
        std::fprintf(stderr, "%s: cannot be written\n", target.c_str());
        return target.string() + " cannot be written. Make room, or choose another folder.";
      }
    }
    std::filesystem::rename(part, target, trouble);
    if (trouble) {
      std::fprintf(stderr, "%s: %s\n", target.c_str(), trouble.message().c_str());
      return target.string() + " cannot be written: " + trouble.message() + ".";
    }
    std::printf("%s\n", target.c_str());
    std::fflush(stdout);
    return {};
  }

  std::string folder_;
  int offers_ = 0;
  std::vector<port::Handed> handed_;
};

}  // namespace

std::unique_ptr<port::Clock> make_clock() { return std::make_unique<SystemClock>(); }
std::unique_ptr<port::Identity> make_identity() { return std::make_unique<SystemIdentity>(); }
std::unique_ptr<port::Share> make_share(const std::string& folder) {
  return std::make_unique<FolderShare>(folder);
}

}  // namespace kp::native
