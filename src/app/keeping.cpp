#include "app/keeping.hpp"

#include <cstdint>
#include <utility>

#include "base/text.hpp"

namespace kp::app {
namespace {

constexpr double kMegabyte = 1'000'000;
/// A job is well below 1 MB; below this the device itself is about to be full. Ours, no source.
constexpr double kLittleRoom = 20 * kMegabyte;

}  // namespace

Notice plain_notice(NoticeKind kind, std::string text) {
  Notice notice;
  notice.kind = kind;
  notice.text = std::move(text);
  return notice;
}

void fill_keeping(Snapshot& out, const port::Keeping& keeping, bool any_jobs) {
  if (!keeping.lost.empty()) {
    out.notices.push_back(
        plain_notice(NoticeKind::trouble, cat(keeping.lost, " Jobs may be missing.")));
  }
  if (keeping.free_bytes && *keeping.free_bytes < kLittleRoom) {
    const auto megabytes = static_cast<std::int64_t>(*keeping.free_bytes / kMegabyte);
    out.notices.push_back(plain_notice(
        NoticeKind::advice,
        cat("Little room is left: ", megabytes, " MB. Free some space before you begin a job.")));
  }
  if (any_jobs && keeping.persisted && !*keeping.persisted) {
    out.card.facts.emplace_back(
        "This browser may clear jobs when it needs room. Export each finished job.");
  }
  if (any_jobs && keeping.copies && *keeping.copies < 2) {
    out.card.facts.emplace_back("Jobs are kept once: the second copy could not be written.");
  }
}

}  // namespace kp::app
