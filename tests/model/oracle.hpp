#pragma once
// A second, separately written model of the gate: a state is a set of bits, an event is a row of
// masks. It shares no code with src/safety; the tests hold every transition of both together.

#include <cstdint>

namespace kp::model {

using Bits = std::uint64_t;

enum Bit : int {
  kPrepared, kWorker, kFixed, kStopped,
  kLive, kIso, kDead, kTest,               // exactly one
  kByLock, kTried,
  kS1, kS2, kS3, kS4, kBad,                // good readings so far, or a verdict that is not dead
  kLate, kProofOld,
  kWOn, kWShut, kWRel, kWTest,             // exactly one
  kWOld, kCharge, kChargeOld, kCooled, kSecured, kTwo,
  kInsp, kPanels, kClear, kLockOwn, kLockOther, kTag, kHands,
  kRepaired, kNoFault, kWaiting, kNotUsed,
  kBits
};

template <class... B>
constexpr Bits of(B... bits) {
  return (Bits{0} | ... | (Bits{1} << static_cast<int>(bits)));
}

enum class Ev {
  prepare_fixed, prepare_cord, prepare_other_person, stop,
  iso_lock, iso_plug, iso_door, iso_other_person,
  try_quiet, try_answered,
  k1_ok, k1_fail, k1_ohms, ln_ok, ln_live, ln_other_meter, le_ok, le_live, le_ohms, ne_ok, ne_live,
  ne_ghost, k2_ok, k2_fail, k2_other_meter, k2_other_person, restart,
  shut, relieve, shut_earlier,
  charge_gone, charge_left, cool, still_hot, secure, posture, two_people, one_person,
  step_plain, step_charge, step_hot, step_heavy, step_two, step_running, step_other_person,
  inspect, panels, clear, unlock_own, unlock_other_self, unlock_other_owner, unlock_supervisor,
  power_back, water_back, tag, end_repaired, end_no_fault, end_waiting, end_not_used,
  found_live, found_wet, re_energised, left_alone, taken_over, resumed_short, resumed_long,
  clock_doubt, fact_earlier, reopen, reopen_other,
  pass_ten_minutes, pass_half_day,
  count
};
inline constexpr int kEvents = static_cast<int>(Ev::count);

// Guards: all of `all`, none of `none`, at least one of `any` (if any is not empty).
// Effect: swap the two locks' owners, clear, set. The first row that fits counts; none: refused.
struct Row {
  Ev event;
  Bits all;
  Bits none;
  Bits any;
  Bits clear;
  Bits set;
  bool swap_locks = false;
};

inline constexpr Bits kPower = of(kLive, kIso, kDead, kTest);
inline constexpr Bits kWater = of(kWOn, kWShut, kWRel, kWTest);
inline constexpr Bits kSeq = of(kS1, kS2, kS3, kS4, kBad, kLate, kProofOld);
inline constexpr Bits kOff = of(kIso, kDead);
inline constexpr Bits kEnded = of(kRepaired, kNoFault, kWaiting, kNotUsed);
inline constexpr Bits kGo = of(kPrepared, kWorker);
inline constexpr Bits kRelease = of(kInsp, kPanels, kClear);
inline constexpr Bits kCharges = of(kCharge, kChargeOld);
inline constexpr Bits kPowerGone =
    kPower | kSeq | kCharges | of(kByLock, kTried, kCooled, kStopped, kTag);
inline constexpr Bits kWaterGone = kWater | of(kWOld);
inline constexpr Bits kSightGone = kWaterGone | kRelease | of(kSecured, kTwo);
inline constexpr Bits kProofGone = kSeq | kCharges | of(kDead, kTried);
inline constexpr Bits kBothOff = of(kDead, kWRel);
inline constexpr Bits kOld = of(kProofOld, kWOld);
inline constexpr Bits kStart = of(kLive, kWOn, kFixed);

inline constexpr Row kRows[] = {
    {Ev::prepare_fixed, 0, kEnded | of(kFixed), kOff | of(kTest),
     kPowerGone | kRelease, of(kLive, kFixed) | kGo},
    {Ev::prepare_fixed, 0, kEnded, 0, 0, of(kFixed) | kGo},
    {Ev::prepare_cord, of(kFixed), kEnded, kOff | of(kTest),
     kPowerGone | kRelease | of(kFixed), of(kLive) | kGo},
    {Ev::prepare_cord, 0, kEnded, 0, of(kFixed), kGo},
    {Ev::prepare_other_person, 0, kEnded | of(kWorker), 0, 0, of(kFixed) | kGo},
    {Ev::stop, kGo, kEnded, 0, 0, of(kStopped)},
    {Ev::iso_lock, kGo | of(kStopped), kEnded, 0,
     kPower | kSeq | kCharges | kRelease | of(kTried, kTag), of(kIso, kByLock, kLockOwn)},
    {Ev::iso_plug, kGo | of(kStopped), kEnded | of(kFixed), 0,
     kPower | kSeq | kCharges | kRelease | of(kTried, kTag, kByLock), of(kIso)},
    {Ev::try_quiet, kGo, kEnded, kOff, 0, of(kTried)},
    {Ev::try_answered, kGo, kEnded, kOff, kPowerGone | kRelease, of(kLive)},

    {Ev::k1_ok, kGo | of(kTried), kEnded | of(kS1, kS2, kS3, kS4), kOff, kSeq | of(kDead),
     of(kIso, kS1)},
    {Ev::k1_fail, kGo | of(kTried), kEnded | of(kS1, kS2, kS3, kS4), kOff, kSeq | of(kDead),
     of(kIso, kBad)},
    {Ev::k1_ohms, kGo | of(kTried), kEnded | of(kS1, kS2, kS3, kS4), kOff, kSeq | of(kDead),
     of(kIso, kBad)},
    {Ev::ln_ok, kGo | of(kS1), kEnded | of(kLate), 0, of(kS1), of(kS2)},
    {Ev::ln_ok, kGo | of(kS1), kEnded, 0, kSeq, of(kBad)},
    {Ev::ln_live, kGo | of(kS1), kEnded, 0, kPowerGone | kRelease, of(kLive)},
    {Ev::ln_other_meter, kGo | of(kS1), kEnded, 0, kSeq, of(kBad)},
    {Ev::le_ok, kGo | of(kS2), kEnded | of(kLate), 0, of(kS2), of(kS3)},
    {Ev::le_ok, kGo | of(kS2), kEnded, 0, kSeq, of(kBad)},
    {Ev::le_live, kGo | of(kS2), kEnded, 0, kPowerGone | kRelease, of(kLive)},
    {Ev::le_ohms, kGo | of(kS2), kEnded, 0, kSeq, of(kBad)},
    {Ev::ne_ok, kGo | of(kS3), kEnded | of(kLate), 0, of(kS3), of(kS4)},
    {Ev::ne_ok, kGo | of(kS3), kEnded, 0, kSeq, of(kBad)},
    {Ev::ne_live, kGo | of(kS3), kEnded, 0, kPowerGone | kRelease, of(kLive)},
    {Ev::ne_ghost, kGo | of(kS3), kEnded, 0, kSeq, of(kBad)},
    {Ev::k2_ok, kGo | of(kS4), kEnded | of(kLate), 0, kSeq | of(kIso), of(kDead)},
    {Ev::k2_ok, kGo | of(kS4), kEnded, 0, kSeq, of(kBad)},
    {Ev::k2_fail, kGo | of(kS4), kEnded, 0, kSeq, of(kBad)},
    {Ev::k2_other_meter, kGo | of(kS4), kEnded, 0, kSeq, of(kBad)},
    {Ev::restart, kGo, kEnded, kOff, kSeq | of(kDead), of(kIso)},

    {Ev::shut, kGo, kEnded, 0, kWaterGone, of(kWShut)},
    {Ev::relieve, kGo, kEnded, of(kWShut, kWRel), kWaterGone, of(kWRel)},
    {Ev::charge_gone, kGo, kEnded, kOff, of(kChargeOld), of(kCharge)},
    {Ev::cool, kGo, kEnded, kOff, 0, of(kCooled)},
    {Ev::secure, kGo, kEnded, 0, 0, of(kSecured)},
    {Ev::posture, kGo, kEnded, 0, of(kSecured), 0},
    {Ev::two_people, kGo, kEnded, 0, 0, of(kTwo)},
    {Ev::one_person, kGo, kEnded, 0, of(kTwo), 0},

    {Ev::step_plain, kGo | kBothOff, kEnded | kOld, 0, kRelease, of(kHands)},
    {Ev::step_charge, kGo | kBothOff | of(kCharge), kEnded | kOld | of(kChargeOld), 0, kRelease,
     of(kHands)},
    {Ev::step_hot, kGo | kBothOff | of(kCooled), kEnded | kOld, 0, kRelease, of(kHands)},
    {Ev::step_heavy, kGo | kBothOff | of(kSecured), kEnded | kOld, 0, kRelease, of(kHands)},
    {Ev::step_two, kGo | kBothOff | of(kTwo), kEnded | kOld, 0, kRelease, of(kHands)},
    {Ev::step_running, kGo | of(kPanels, kClear), kEnded, of(kTest, kWTest), 0, 0},

    {Ev::inspect, kGo, kEnded, 0, 0, of(kInsp)},
    {Ev::panels, kGo, kEnded, 0, 0, of(kPanels)},
    {Ev::clear, kGo, kEnded, 0, 0, of(kClear)},
    {Ev::unlock_own, kGo | of(kInsp, kClear, kLockOwn, kByLock), kEnded, 0,
     kPowerGone | of(kLockOwn), of(kLive)},
    {Ev::unlock_own, kGo | of(kInsp, kClear, kLockOwn), kEnded, 0, of(kLockOwn), 0},
    {Ev::unlock_other_owner, of(kPrepared, kInsp, kClear, kLockOther), kEnded, 0, of(kLockOther), 0},
    {Ev::unlock_supervisor, kGo | of(kInsp, kClear, kLockOther), kEnded, 0, of(kLockOther), 0},
    {Ev::power_back, kGo | kRelease, kEnded | of(kLockOwn, kLockOther, kTest), 0, kPowerGone,
     of(kTest)},
    {Ev::water_back, kGo | kRelease, kEnded | of(kWTest), 0, kWaterGone | of(kCooled), of(kWTest)},

    {Ev::tag, kGo, kEnded, kOff, 0, of(kTag)},
    {Ev::end_repaired, of(kInsp), kEnded | kOff | of(kLockOwn, kLockOther, kWShut, kWRel), 0, 0,
     of(kRepaired)},
    {Ev::end_repaired, 0, kEnded | kOff | of(kLockOwn, kLockOther, kWShut, kWRel, kHands), 0, 0,
     of(kRepaired)},
    {Ev::end_no_fault, of(kInsp), kEnded | kOff | of(kLockOwn, kLockOther, kWShut, kWRel), 0, 0,
     of(kNoFault)},
    {Ev::end_no_fault, 0, kEnded | kOff | of(kLockOwn, kLockOther, kWShut, kWRel, kHands), 0, 0,
     of(kNoFault)},
    {Ev::end_waiting, kGo | of(kTag), kEnded | of(kWOn, kWTest), kOff, 0, of(kWaiting)},
    {Ev::end_not_used, kGo | of(kTag), kEnded | of(kWOn, kWTest), kOff, 0, of(kNotUsed)},

    {Ev::found_live, 0, 0, 0, kPowerGone | kRelease, of(kLive)},
    {Ev::re_energised, 0, 0, 0, kPowerGone | kRelease, of(kLive)},
    {Ev::found_wet, 0, 0, 0, kWaterGone | kRelease | of(kCooled), of(kWOn)},
    {Ev::left_alone, of(kByLock), 0, 0, kSightGone | kProofGone, of(kIso, kWOn)},
    {Ev::left_alone, 0, 0, 0, kSightGone | kPowerGone, of(kLive, kWOn)},
    {Ev::resumed_long, of(kByLock), 0, 0, kSightGone | kProofGone, of(kIso, kWOn)},
    {Ev::resumed_long, 0, 0, 0, kSightGone | kPowerGone, of(kLive, kWOn)},
    {Ev::clock_doubt, of(kByLock), 0, 0, kSightGone | kProofGone, of(kIso, kWOn)},
    {Ev::clock_doubt, 0, 0, 0, kSightGone | kPowerGone, of(kLive, kWOn)},
    {Ev::fact_earlier, of(kByLock), 0, 0, kSightGone | kProofGone, of(kIso, kWOn)},
    {Ev::fact_earlier, 0, 0, 0, kSightGone | kPowerGone, of(kLive, kWOn)},
    {Ev::resumed_short, 0, 0, 0, 0, 0},
    {Ev::taken_over, 0, 0, 0, kSightGone | kPowerGone | of(kPrepared), of(kLive, kWOn, kWorker),
     true},
    {Ev::reopen, 0, 0, 0, kSightGone | kPowerGone | kEnded | of(kPrepared),
     of(kLive, kWOn, kWorker)},
    {Ev::reopen_other, 0, 0, 0, kSightGone | kPowerGone | kEnded | of(kPrepared),
     of(kLive, kWOn, kWorker), true},
};

struct Outcome {
  bool accepted = false;
  Bits next = 0;
};

inline Outcome passed(Bits bits, bool half_day) {
  if ((bits & of(kS1, kS2, kS3, kS4)) != 0) {
    bits |= of(kLate);
  }
  if (half_day) {
    bits |= (bits & of(kDead)) != 0 ? of(kProofOld) : 0;
    bits |= (bits & of(kWRel)) != 0 ? of(kWOld) : 0;
    bits |= (bits & of(kCharge)) != 0 ? of(kChargeOld) : 0;
  }
  return {true, bits};
}

inline Bits swapped(Bits bits) {
  const bool own = (bits & of(kLockOwn)) != 0;
  const bool other = (bits & of(kLockOther)) != 0;
  bits &= ~of(kLockOwn, kLockOther);
  return bits | (own ? of(kLockOther) : 0) | (other ? of(kLockOwn) : 0);
}

inline constexpr int kRowCount = static_cast<int>(sizeof(kRows) / sizeof(kRows[0]));

/// The first row of each event, kRowCount where it has none; rows of one event stand together.
struct FirstRows {
  int of_event[kEvents] = {};
  constexpr FirstRows() {
    for (int& first : of_event) {
      first = kRowCount;
    }
    for (int i = kRowCount - 1; i >= 0; --i) {
      of_event[static_cast<int>(kRows[i].event)] = i;
    }
  }
};
inline constexpr FirstRows kFirstRows;

inline Outcome step(Bits bits, Ev event) {
  if (event == Ev::pass_ten_minutes || event == Ev::pass_half_day) {
    return passed(bits, event == Ev::pass_half_day);
  }
  for (int i = kFirstRows.of_event[static_cast<int>(event)]; i < kRowCount; ++i) {
    const Row& row = kRows[i];
    if (row.event != event) {
      break;
    }
    const bool fits = (bits & row.all) == row.all && (bits & row.none) == 0 &&
                      (row.any == 0 || (bits & row.any) != 0);
    if (fits) {
      const Bits before = row.swap_locks ? swapped(bits) : bits;
      return {true, (before & ~row.clear) | row.set};
    }
  }
  return {false, bits};
}

}  // namespace kp::model
