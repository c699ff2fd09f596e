#include "app/kept_journal.hpp"

#include "base/text.hpp"
#include "base/time.hpp"
#include "job/bind_isolations.hpp"

namespace kp::app {

namespace {

std::string joint_name(const pack::Pack* pack, const std::string& id) {
  const int joint = pack == nullptr ? -1 : pack->joint(id);
  return joint < 0 ? id : pack->joints[to_size(joint)].name;
}

std::string part_name(const pack::Pack* pack, const std::string& id) {
  const int part = pack == nullptr ? -1 : pack->part(id);
  return part < 0 ? id : pack->parts[to_size(part)].name;
}

void add(Snapshot& out, const char* group, std::string title, std::string detail, std::string figure) {
  Row row = row_of(cat("kept-", to_int(out.rows.size())), std::move(title), Mark::none);
  row.group = group;
  row.detail = std::move(detail);
  row.figure = std::move(figure);
  out.rows.push_back(std::move(row));
}

/// What of it is open is what whoever goes on must know first.
void tell_unit(Snapshot& out, const Desk& desk) {
  constexpr const char* kGroup = "The machine, as these records leave it";
  const job::Unit& unit = desk.state->as_left;
  std::vector<std::string> away;
  std::vector<std::string> loose;
  for (const std::string& id : unit.away) {
    away.push_back(part_name(desk.pack(), id));
  }
  for (const std::string& id : unit.loose) {
    loose.push_back(joint_name(desk.pack(), id));
  }
  if (!away.empty()) {
    add(out, kGroup, "Out", join(away, ", "), {});
  }
  if (!loose.empty()) {
    add(out, kGroup, "Loose", join(loose, ", "), {});
  }
}

void tell_energies(Snapshot& out, const job::State& state) {
  constexpr const char* kGroup = "Power and water, as it was said then";
  for (const auto& one : state.said) {
    add(out, kGroup, job::format1::words_of(one.body), one.stamp.by, clock_text(one.stamp.at));
  }
  if (!state.said.empty()) {
    return;   // the facts that it meant would say it twice
  }
  for (const bill::IsolationTaken& one : job::bind_isolations(state)) {
    add(out, kGroup, one.title, cat(one.how, one.by.empty() ? "" : cat(", ", one.by)),
        one.isolated ? clock_text(*one.isolated) : std::string());
  }
}

}  // namespace

std::string words_of(Apart apart) {
  switch (apart) {
    case Apart::older:
      return "This job has an older format. Here it can only be read.";
    case Apart::newer:
      return "A newer program wrote this job. Here it can only be read.";
    case Apart::none:
    case Apart::fork:
    case Apart::damaged:
    case Apart::no_pack:
      break;
  }
  return {};
}

void fill_kept_journal(Snapshot& out, const Desk& desk, Apart apart) {
  const job::State& state = *desk.state;
  out.heading = state.customer.name.empty() ? cat("Job ", state.job) : state.customer.name;
  out.heading_detail = desk.pack() != nullptr ? desk.pack()->about.title
                       : state.machine.title.empty() ? state.machine.pack
                                                     : state.machine.title;
  tell_unit(out, desk);
  tell_energies(out, state);
  Card card;
  card.refusal = std::move(out.card.refusal);
  out.card = std::move(card);
  out.card.id = "kept-journal";
  out.card.sentence = "Read it. Nothing can be added to it here.";
  out.card.how = "What it says of power and water proves nothing now.";
  if (apart == Apart::older) {
    out.card.sentence = "Go on in a new job.";
    out.card.how = "It names this one and takes over the machine as it was left. Nothing counts as proved.";
    out.card.primary = tap_button("Go on in a new job", desk.action(Verb::go_on_new));
  }
}

}  // namespace kp::app
