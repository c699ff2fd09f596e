#include "job/unit_found.hpp"

#include <algorithm>
#include <iterator>

namespace kp::job {

namespace {

/// What stands in `a` and not in `b`.
void add_missing(const std::set<std::string>& a, const std::set<std::string>& b, Differs how,
                 std::vector<Difference>& out) {
  for (const std::string& id : a) {
    if (b.count(id) == 0) {
      out.push_back({how, id});
    }
  }
}

void fill(const Unit& unit, UnitOpen& out) {
  out.position = unit.position;
  out.loose.assign(unit.loose.begin(), unit.loose.end());
  out.away.assign(unit.away.begin(), unit.away.end());
}

}  // namespace

std::vector<Difference> differences(const Unit& left, const Unit& found) {
  std::vector<Difference> out;
  if (!left.position.empty() && !found.position.empty() && left.position != found.position) {
    out.push_back({Differs::position, found.position});
  }
  add_missing(found.loose, left.loose, Differs::came_loose, out);
  add_missing(left.loose, found.loose, Differs::made_fast, out);
  add_missing(found.away, left.away, Differs::taken_away, out);
  add_missing(left.away, found.away, Differs::put_in, out);
  return out;
}

UnitAsFound as_it_was_left(const State& state) {
  UnitAsFound out;
  fill(state.as_left, out);
  return out;
}

Result<std::vector<Body>> going_on(const State& old, std::string_view tip, std::string_view job) {
  if (old.last_n == 0 || tip.empty()) {
    return fail("damaged", "The old journal was not read to its end", {},
                "Start a new job and find out how the machine stands.");
  }
  JobOpened opened;
  opened.job = std::string(job);
  opened.mode = old.mode;
  opened.shop = old.shop;
  opened.after_job = old.job;
  opened.after_tip = std::string(tip);
  std::vector<Body> out = {opened};
  const bool machine = !old.machine.pack.empty();
  if (machine) {
    out.emplace_back(old.machine);   // decide() fills in what the pack says of it today
  }
  const CustomerNoted& who = old.customer;
  if (!who.name.empty() || !who.address.empty() || !who.contact.empty()) {
    out.emplace_back(who);
  }
  if (!old.complaint.symptom.empty() || !old.complaint.words.empty()) {
    out.emplace_back(old.complaint);
  }
  // A quote is its paper: one of format 1 has none and is given anew.
  if (old.quoted && old.quote.paper.kind == data::Kind::object) {
    out.emplace_back(old.quote);
  }
  if (machine) {
    UnitAsLeft left;
    fill(old.as_left, left);
    out.emplace_back(std::move(left));
  }
  for (Body& body : out) {
    set_erased(body, false);   // what is carried over is all that the new record has
  }
  return out;
}

}  // namespace kp::job
