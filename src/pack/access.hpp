#pragma once

#include <vector>

namespace kp::pack {

/// Alternatives: one of these sets of parts must be away. Empty: nothing stands in front. A part
/// is away when it was removed, or an assembly that carries it was removed and does not carry what
/// is behind it too: a lid inside a module still covers the rotor when the module lies on a bench.
using Access = std::vector<std::vector<int>>;

}  // namespace kp::pack
