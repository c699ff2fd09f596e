#include "base/sha256.hpp"

#include <doctest/doctest.h>

#include <string>

// FIPS 180-4's example values, from memory of the NIST example pages "SHA-256" (one block, two
// blocks, empty message) and of the million-letter vector of FIPS 180-2 appendix B.3. The same
// digests come out of coreutils' sha256sum.
TEST_CASE("sha256 gives the published digests") {
  CHECK(kp::sha256_hex("") ==
        "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  CHECK(kp::sha256_hex("abc") ==
        "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(kp::sha256_hex("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
        "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  CHECK(kp::sha256_hex("abcdefghbcdefghicdefghijdefghijkefghijklfghijklmghijklmnhijklmnoijklmnop"
                       "jklmnopqklmnopqrlmnopqrsmnopqrstnopqrstu") ==
        "cf5b16a778af8380036ce59e7b0492370b249b11e8f07a51afac45037afee9d1");
  CHECK(kp::sha256_hex(std::string(1000000, 'a')) ==
        "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

TEST_CASE("sha256 sees every byte, also beyond ASCII and NUL") {
  CHECK(kp::sha256_hex(std::string_view("\0", 1)) != kp::sha256_hex(""));
  CHECK(kp::sha256_hex("\xFF") != kp::sha256_hex("\x7F"));
  const std::string long_text(1025, 'x');
  std::string changed = long_text;
  changed.back() = 'y';
  CHECK(kp::sha256_hex(long_text) != kp::sha256_hex(changed));
}
