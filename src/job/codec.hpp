#pragma once

#include <string_view>

#include "base/findings.hpp"
#include "base/result.hpp"
#include "data/value.hpp"
#include "job/event.hpp"

namespace kp::job {

/// The kind of a body as the journal names it.
[[nodiscard]] std::string_view kind_of(const Body& body);

/// The payload of a body as JSON. Texts, flags, lists and readings that are empty, false or 0 are
/// left out.
[[nodiscard]] data::Value encode(const Body& body);

/// Reads a body back. Flags and readings that are absent are false and 0, as they were left out;
/// other members get their default, unknown ones are passed over, so that journals of older and
/// newer programs load; each is told in `notes` (code `unknown-member`, pointer to it). Errors:
/// `unknown-kind`, `unknown-word`, `bad-payload` with the member as the place.
Result<Body> decode(std::string_view kind, const data::Value& payload, Findings& notes);
/// The same for whoever does not want to know.
Result<Body> decode(std::string_view kind, const data::Value& payload);

/// The body as the journal will give it back. Error `bad-payload` where it would not come back: a
/// number that is not finite.
Result<Body> canonical(const Body& body);

}  // namespace kp::job
