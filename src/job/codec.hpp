#pragma once

#include <string_view>

#include "base/result.hpp"
#include "data/value.hpp"
#include "job/event.hpp"

namespace kp::job {

/// The kind of a body as the journal names it.
[[nodiscard]] std::string_view kind_of(const Body& body);

/// The payload of a body as JSON; members that hold their default are left out.
[[nodiscard]] data::Value encode(const Body& body);

/// Reads a body back. Members that are absent get their default, unknown ones are ignored, so that
/// journals of older and newer programs load. Errors: `unknown-kind`, `bad-payload` with the place.
Result<Body> decode(std::string_view kind, const data::Value& payload);

}  // namespace kp::job
