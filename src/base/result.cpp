#include "base/result.hpp"

#include "base/text.hpp"

namespace kp {

std::string Error::text() const {
  std::string out;
  if (!where.empty()) {
    out = cat(where, what.empty() && remedy.empty() ? "" : ": ");
  }
  out += what;
  if (!remedy.empty()) {
    if (!what.empty()) {
      out += what.back() == '.' || what.back() == '?' || what.back() == '!' ? " " : ". ";
    }
    out += remedy;
  }
  return out;
}

}  // namespace kp
