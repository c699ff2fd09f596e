#pragma once

#include <initializer_list>
#include <utility>
#include <vector>

namespace kp::pack {

/// What hands meet at a part or joint. Safety derives every requirement from these tags.
enum class Contact { live, stored_charge, wet, hot, sharp, sprung, heavy, fragile };
inline constexpr int kContacts = 8;

/// One way past what stands in front: these parts are away, with the unit in one of `positions`
/// (empty: in every one). A door without its inner panel is open to hands only while it is open.
/// A list of parts alone is a way too.
struct Way {
  std::vector<int> parts;
  std::vector<int> positions;
  Way() = default;
  Way(std::initializer_list<int> away) : parts(away) {}
  Way(std::vector<int> away, std::vector<int> where = {})
      : parts(std::move(away)), positions(std::move(where)) {}
  friend bool operator==(const Way&, const Way&) = default;
};

/// Alternatives: one of these ways stands open. Empty: nothing stands in front. A part is away when
/// it was removed, or an assembly that carries it was removed and does not carry what is behind it
/// too: a lid inside a module still covers the rotor when the module lies on a bench.
using Access = std::vector<Way>;

}  // namespace kp::pack
