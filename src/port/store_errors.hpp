#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "base/result.hpp"

// The failures of a store, in one wording for all of them: screens and tests tell them apart by
// code, and a person reads the same words on the phone and on the shop's computer.

namespace kp::port {

/// 1 to 64 of a-z, 0-9 and '-'.
[[nodiscard]] bool is_job_id(std::string_view id);

[[nodiscard]] Error bad_name_error(std::string_view job);      ///< `bad-name`
[[nodiscard]] Error held_error(std::string_view job);          ///< `held`
[[nodiscard]] Error not_acquired_error(std::string_view job);  ///< `not-acquired`
/// `conflict`: line `seq` was to follow `last`.
[[nodiscard]] Error conflict_error(std::string_view job, std::uint32_t seq, std::int64_t last);
/// Whether `kept` is the entry `stored` with parts taken out of it and nothing else changed.
[[nodiscard]] bool is_erasure(std::string_view stored, std::string_view kept);
[[nodiscard]] Error full_error();                              ///< `full`
/// `refused`, with what the medium said about it.
[[nodiscard]] Error refused_error(std::string_view why);

/// The error that goes with a code of the contract, for stores that are told codes and words from
/// somewhere else. An unknown code becomes `refused`.
[[nodiscard]] Error store_error(std::string_view code, std::string_view job, std::uint32_t seq,
                                std::string_view why);

}  // namespace kp::port
