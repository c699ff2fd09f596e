// Every act of the machine that ships and what it demands, held against tests/golden/acts. After an
// intended change, run with KP_WRITE_GOLDEN=1 and read the difference as a technician would.

#include <cstdio>
#include <cstdlib>
#include <string>

#include <doctest/doctest.h>

#include "job/acts_table.hpp"
#include "job/work.hpp"

namespace kp {
namespace {

TEST_CASE("acts: the table of every act with its demand is the one that was read") {
  const job::Model& model = test::shipped_library().models.front();
  const std::string path = cat(KP_SOURCE_DIR, "/tests/golden/acts/", model.pack.id, ".txt");
  const std::string text = test::acts_text(model);
  if (std::getenv("KP_WRITE_GOLDEN") != nullptr) {
    std::FILE* file = std::fopen(path.c_str(), "wb");
    REQUIRE(file != nullptr);
    std::fwrite(text.data(), 1, text.size(), file);
    std::fclose(file);
  }
  CHECK_MESSAGE(text == test::file_bytes(path),
                "Read the difference; run with KP_WRITE_GOLDEN=1 to renew tests/golden/acts.");
}

}  // namespace
}  // namespace kp
