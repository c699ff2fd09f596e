#pragma once
// Who lives: a file beside the store in which each open store has one locked byte, and counts its
// signs of life.

#include <cstdint>
#include <string>

#include <fcntl.h>
#include <sqlite3.h>
#include <unistd.h>

#include "base/text.hpp"

namespace kp::native {

/// The system lets go of the byte when the program ends, however it ends. Signs are written at the
/// file's beginning and not synced: no disk has to turn for them.
class LifeFile {
 public:
  LifeFile() = default;
  ~LifeFile() {
    if (file_ >= 0) {
      ::close(file_);
    }
  }
  LifeFile(const LifeFile&) = delete;
  LifeFile& operator=(const LifeFile&) = delete;

  /// False with the reason in errno.
  bool open(const std::string& path) {
    file_ = ::open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0644);
    // Drawn at random from so many that two do not meet; if they do, the lock says so.
    for (int tries = 0; file_ >= 0 && tries < 8; ++tries) {
      std::uint64_t drawn = 0;
      sqlite3_randomness(sizeof drawn, &drawn);
      me_ = static_cast<std::int64_t>(drawn >> 2U) + 1;
      struct flock lock = one_byte(me_);
      if (fcntl(file_, F_OFD_SETLK, &lock) == 0) {
        return true;
      }
    }
    return false;
  }

  /// The name under which this one is known to the others; above 0.
  [[nodiscard]] std::int64_t me() const { return me_; }

  /// Whether another open file has that one's byte locked. These locks belong to the open file and
  /// not to the process, so two handles of one program see each other as well. Where the system
  /// cannot say, it may have.
  [[nodiscard]] bool lives(std::int64_t other) const {
    struct flock lock = one_byte(other);
    return fcntl(file_, F_OFD_GETLK, &lock) != 0 || lock.l_type != F_UNLCK;
  }

  void sign() {
    const Signs signs{me_, ++signs_};
    // Where it cannot be written, this one is taken for silent.
    (void)!pwrite(file_, &signs, sizeof signs, place_of(me_));
  }

  /// How often that one has signed, as far as the file says.
  [[nodiscard]] std::int64_t signs_of(std::int64_t other) const {
    Signs signs;
    const bool its_own =
        pread(file_, &signs, sizeof signs, place_of(other)) == to_int(sizeof signs) &&
        signs.who == other;
    return its_own ? signs.count : 0;
  }

 private:
  struct Signs {
    std::int64_t who = 0;
    std::int64_t count = 0;
  };
  /// Two that meet in one place hide each other's signs: then a reader takes a living writer for
  /// silent, which is the safe mistake.
  static constexpr std::int64_t kPlaces = 1021;

  static std::int64_t place_of(std::int64_t who) {
    return (who % kPlaces) * static_cast<std::int64_t>(sizeof(Signs));
  }
  static struct flock one_byte(std::int64_t place) {
    struct flock lock {};
    lock.l_type = F_WRLCK;
    lock.l_whence = SEEK_SET;
    lock.l_start = place;
    lock.l_len = 1;
    return lock;
  }

  int file_ = -1;
  std::int64_t me_ = 0;
  std::int64_t signs_ = 0;
};

}  // namespace kp::native
