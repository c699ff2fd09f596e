#pragma once
// base: what every room may use. Results, findings, money, time, text, hashing.
// It knows nothing of machines, jobs or screens and includes nothing of ours.

#include <string>
#include <utility>

#include <tl/expected.hpp>

namespace kp {

/// Why something from outside could not be used. `what` says what is wrong, `where` names the
/// place (a file with line, a JSON pointer, a field), `remedy` says what to do. `code` is stable
/// and in kebab-case, for tests and for screens that treat one failure in their own way.
struct Error {
  std::string code;
  std::string what;
  std::string where;
  std::string remedy;

  /// One line for a person: "where: what. remedy". Parts that are empty are left out.
  [[nodiscard]] std::string text() const;
};

/// A value, or the Error that stood in its way. Ask has_value() before value().
template <class T>
class [[nodiscard]] Result : public tl::expected<T, Error> {
 public:
  using Base = tl::expected<T, Error>;
  using Base::Base;
};

/// The failed side of a Result, to be returned from a function.
[[nodiscard]] inline tl::unexpected<Error> fail(std::string code, std::string what,
                                                std::string where = {}, std::string remedy = {}) {
  return tl::unexpected<Error>(
      Error{std::move(code), std::move(what), std::move(where), std::move(remedy)});
}

[[nodiscard]] inline tl::unexpected<Error> fail(Error error) {
  return tl::unexpected<Error>(std::move(error));
}

}  // namespace kp
