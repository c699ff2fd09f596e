#pragma once

#include <cstdint>
#include <vector>

#include "find/advise.hpp"
#include "job/apply.hpp"
#include "job/bind_test.hpp"
#include "job/find_memo.hpp"

namespace kp::job {

/// What finding a fault is asked to weigh beside the pack.
struct FindTerms {
  std::int64_t labour_per_hour_minor = 0;  ///< turns the price of a part into seconds; 0: prices count nothing
  int most_faults = 14;                    ///< faults looked at one by one; the rest are "anything else"
};

/// Where a test is made or a part is reached, and the plan to it from the unit as it is.
struct Standing {
  plan::Targets targets;
  Wiring wiring;
  bool running = false;      ///< with power on
  bool closed = false;       ///< the whole unit together
  plan::Plan way;
};

/// The pack, the complaint, the readings and the unit as it stands, as find's plain problem. Lists
/// of the problem and of the pack are told apart by these indices.
struct Finding {
  find::Problem problem;
  std::vector<find::Evidence> evidence;
  std::vector<int> faults;         ///< fault of the pack, -1: anything else
  std::vector<int> tests;          ///< test of the pack
  std::vector<find::Bins> bins;    ///< of each test on the circuit; empty for others
  std::vector<int> repair_parts;   ///< part of the pack
  std::vector<int> repair_mends;   ///< fault of the pack that is mended in place; -1: a new part
  std::vector<Standing> standings; ///< [0] is now
};

/// Seconds that are ours, common practice, no source: power put back for a run, machine made dead
/// and proved again, a part exchanged once it is reached, and a repair confirmed.
inline constexpr int kPowerBackSeconds = 60;
inline constexpr int kProveDeadSeconds = 240;
inline constexpr int kExchangeSeconds = 60;
inline constexpr int kConfirmSeconds = 300;
/// What handing the machine to somebody who knows more is reckoned at.
inline constexpr int kHandOverSeconds = 4 * 3600;

/// The pack must have faults. `now` decides whether hands may go in at once.
///
/// Faults are those that cause the complaint or that are likely with it, `most_faults` at most; all
/// others are one fault more, "Anything else", that reads as a good unit. When the readings leave
/// little but that, all faults are taken in. A part that was swapped while the search goes on is a
/// repair that did not help.
[[nodiscard]] Finding bind_find(const State& state, const Context& context,
                                const FindTerms& terms, FindMemo& memo);

}  // namespace kp::job
