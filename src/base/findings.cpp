#include "base/findings.hpp"

#include <algorithm>
#include <tuple>
#include <utility>

#include "base/result.hpp"
#include "base/text.hpp"

namespace kp {

std::string Finding::text() const {
  std::string where;
  if (line > 0) {
    where = cat("line ", line);
  }
  if (!pointer.empty()) {
    where += cat(where.empty() ? "" : ", ", pointer);
  }
  return Error{code, what, where, remedy}.text();
}

void Findings::add(Finding finding) { all_.push_back(std::move(finding)); }

int Findings::faults() const {
  return static_cast<int>(std::count_if(all_.begin(), all_.end(), [](const Finding& finding) {
    return finding.severity == Severity::fault;
  }));
}

bool Findings::has(const std::string& code) const {
  return std::any_of(all_.begin(), all_.end(),
                     [&code](const Finding& finding) { return finding.code == code; });
}

void Findings::sort() {
  std::stable_sort(all_.begin(), all_.end(), [](const Finding& a, const Finding& b) {
    return std::tie(a.line, a.column, a.pointer, a.what, a.remedy) <
           std::tie(b.line, b.column, b.pointer, b.what, b.remedy);
  });
}

}  // namespace kp
