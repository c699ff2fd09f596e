#pragma once

#include "port/outside.hpp"
#include "port/store.hpp"

namespace kp::app {

/// What the session needs of the place where it runs. All outlive it. `practice` is a store of its
/// own, so that no trainee's job can be taken for a real one. Where it is refused, practice goes on
/// in `spare`, if there is one: nothing depends on it later. A real job never does.
struct Outside {
  port::Store* field = nullptr;
  port::Store* practice = nullptr;
  port::Clock* clock = nullptr;
  port::Identity* identity = nullptr;
  port::Share* share = nullptr;
  port::Store* spare = nullptr;
};

}  // namespace kp::app
