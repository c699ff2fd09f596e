#include "port/store_errors.hpp"

#include <algorithm>

#include "base/text.hpp"

namespace kp::port {
namespace {

std::string job_place(std::string_view job) { return cat("job ", job); }

}  // namespace

bool is_job_id(std::string_view id) {
  if (id.empty() || id.size() > 64) {
    return false;
  }
  for (const char c : id) {
    if (!((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-')) {
      return false;
    }
  }
  return true;
}

Error bad_name_error(std::string_view job) {
  return Error{"bad-name", cat("\"", job, "\" cannot name a job"), {},
               "Use 1 to 64 of a-z, 0-9 and '-'."};
}

Error held_error(std::string_view job) {
  return Error{"held", "the job is open in another window", job_place(job),
               "Close it there, or take it over here."};
}

Error not_acquired_error(std::string_view job) {
  return Error{"not-acquired", "this window does not hold the job", job_place(job),
               "Export the job, then open it again."};
}

Error conflict_error(std::string_view job, std::uint32_t seq, std::int64_t last) {
  return Error{"conflict",
               cat("line ", std::int64_t{seq}, " cannot follow line ", last), job_place(job),
               "Export the job, then open it again."};
}

bool is_erasure(std::string_view stored, std::string_view kept) {
  // Each line of what is kept stands in what is stored, in the same order; the first one always.
  bool first = true;
  while (!kept.empty()) {
    const std::string_view wanted = kept.substr(0, kept.find('\n'));
    for (bool found = false; !found;) {
      if (stored.empty()) {
        return false;
      }
      const std::string_view have = stored.substr(0, stored.find('\n'));
      stored.remove_prefix(std::min(stored.size(), have.size() + 1));
      found = have == wanted;
      if (!found && first) {
        return false;
      }
      first = false;
    }
    kept.remove_prefix(std::min(kept.size(), wanted.size() + 1));
  }
  return !first;
}

Error full_error() {
  return Error{"full", "there is no room left to save", {},
               "Free some space. Export the job before you go on."};
}

Error refused_error(std::string_view why) {
  return Error{"refused", cat("this device does not save", why.empty() ? "" : ": ", why), {},
               "Export the job before you go on."};
}

Error store_error(std::string_view code, std::string_view job, std::uint32_t seq,
                  std::string_view why) {
  if (code == "bad-name") {
    return bad_name_error(job);
  }
  if (code == "held") {
    return held_error(job);
  }
  if (code == "not-acquired") {
    return not_acquired_error(job);
  }
  if (code == "conflict") {
    return conflict_error(job, seq, parse_integer(why).value_or(0));
  }
  if (code == "full") {
    return full_error();
  }
  return refused_error(why);
}

}  // namespace kp::port
