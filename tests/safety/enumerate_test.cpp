// The order of safety, 1.7: I1 to I11 in every state that can be reached, said by an onlooker.

#include <doctest/doctest.h>

#include <map>

#include "model/explore.hpp"

using namespace kp;
using namespace kp::model;

TEST_CASE("enumerate: no accepted act breaks an invariant at a cord, fixed or split supply") {
  for (const Site site : {Site::cord, Site::fixed, Site::split}) {
    const std::vector<Move> moves = Moves(site).take();
    int states = 0;
    std::map<std::string, int> breaches;
    for (unsigned walk = 0; walk < std::size(kWalks); ++walk) {
      const int seen = explore(site, 1U << walk, moves, {}, 200000,
          [&](const Node& node, const Move& move, const Toy& after, const safety::Ask& ask,
              const safety::Verdict& verdict) {
            if (verdict.allowed) {
              const char* what = breach({move, node.toy, after, node.seen, ask.by});
              if (*what != '\0') {
                ++breaches[cat(move.name, ": ", what)];
              }
            }
          },
          [](const Node&, const Move&, const Node&) { return true; });
      MESSAGE(std::string(kSites[static_cast<int>(site)]) << ", " << std::string(kWalks[walk]) << ": " << seen << " states");
      states += seen;
    }
    for (const auto& [what, times] : breaches) {
      MESSAGE(what << " x" << times);
    }
    CHECK(breaches.empty());
  }
}
