#pragma once

#include "app/snapshot.hpp"
#include "port/store.hpp"

namespace kp::app {

/// What the start page says of how jobs are kept: nothing where all is well. `any_jobs`: there are
/// some that could be lost.
void fill_keeping(Snapshot& out, const port::Keeping& keeping, bool any_jobs);

/// A notice without buttons.
[[nodiscard]] Notice plain_notice(NoticeKind kind, std::string text);

}  // namespace kp::app
