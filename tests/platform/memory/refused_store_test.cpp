#include "platform/memory/refused_store.hpp"

#include <doctest/doctest.h>

TEST_CASE("a refused store refuses everything, once, in order, with its reason") {
  kp::memory::RefusedStore store(kp::Error{"refused", "no disk", {}, "Find one."});
  const kp::port::Request asked[] = {store.list(),           store.acquire("j"), store.take_over("j"),
                                     store.append("j", 1, "x"), store.load("j"),  store.release("j"),
                                     store.put("k", "v"),    store.get("k")};
  const auto done = store.take_completed();
  CHECK(done.size() == 8);
  for (std::size_t i = 0; i < done.size(); ++i) {
    CHECK(done[i].request == asked[i]);
    CHECK(done[i].error.value().what == "no disk");
    CHECK(done[i].lines.empty());
  }
  CHECK(store.take_completed().empty());
  CHECK(store.take_lost().empty());
}
