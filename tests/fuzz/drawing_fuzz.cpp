#include <cstddef>
#include <cstdint>
#include <string>

#include "fuzz/drawing_laws.hpp"

// A fixed name and signature of the fuzzing library.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  kp::test::drawing_laws(std::string(data, data + size));
  return 0;
}
