#include "app/tester.hpp"

#include "base/text.hpp"
#include "data/value.hpp"
#include "job/codec.hpp"

namespace kp::app {

std::string tester_text(const job::TesterNamed& named) {
  const std::string name(trim(cat(trim(named.make), " ", trim(named.number))));
  const std::string_view date = trim(named.calibrated);
  return cat(name, date.empty() ? "" : ", calibrated ", date);
}

job::TesterNamed tester_of(const std::string& text, const job::TesterNamed& kept) {
  if (tester_text(kept) != text) {
    return {{}, text, {}};
  }
  return {std::string(trim(kept.make)), std::string(trim(kept.number)),
          std::string(trim(kept.calibrated))};
}

std::string write_tester(const job::TesterNamed& named) { return data::print(job::encode(named)); }

job::TesterNamed read_tester(const std::string& kept) {
  const auto value = data::parse(kept);
  const auto body = value.has_value() ? job::decode(job::TesterNamed::kKind, value.value())
                                      : Result<job::Body>(fail("no-tester", "Nothing is kept"));
  const auto* named = body.has_value() ? std::get_if<job::TesterNamed>(&body.value()) : nullptr;
  return named == nullptr ? job::TesterNamed{} : *named;
}

}  // namespace kp::app
