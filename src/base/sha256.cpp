#include "base/sha256.hpp"

#include <array>

#include <sodium/crypto_hash_sha256.h>

namespace kp {

std::string sha256_hex(std::string_view bytes) {
  // The library wants unsigned bytes and takes no null pointer; feeding it in pieces through a
  // buffer of our own needs no reinterpreting cast.
  crypto_hash_sha256_state state;
  crypto_hash_sha256_init(&state);
  std::array<unsigned char, 512> piece{};
  while (!bytes.empty()) {
    const std::size_t count = bytes.size() < piece.size() ? bytes.size() : piece.size();
    for (std::size_t i = 0; i < count; ++i) {
      piece[i] = static_cast<unsigned char>(bytes[i]);
    }
    crypto_hash_sha256_update(&state, piece.data(), count);
    bytes.remove_prefix(count);
  }
  std::array<unsigned char, crypto_hash_sha256_BYTES> digest{};
  crypto_hash_sha256_final(&state, digest.data());

  constexpr std::string_view kDigits = "0123456789abcdef";
  std::string out;
  out.reserve(2 * digest.size());
  for (const unsigned char byte : digest) {
    out += kDigits[byte >> 4U];
    out += kDigits[byte & 15U];
  }
  return out;
}

}  // namespace kp
