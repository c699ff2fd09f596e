// What is recorded with what a person confirms, and before it: the tester that a reading names, and
// the cautions that stood on the card of an act with hands in.
#include <algorithm>
#include <iterator>

#include "app/session.hpp"
#include "app/tester.hpp"
#include "job/wanted.hpp"

namespace kp::app {

namespace {

bool reads(const job::Body& intent) {
  return std::holds_alternative<safety::ReadingTaken>(intent) ||
         std::holds_alternative<safety::FrameRead>(intent) ||
         std::holds_alternative<safety::Discharged>(intent);
}

bool same(const job::TesterNamed& a, const job::TesterNamed& b) {
  return a.make == b.make && a.number == b.number && a.calibrated == b.calibrated;
}

bool is_shown(const std::vector<safety::Caution>& card, const safety::Caution& one) {
  return std::any_of(card.begin(), card.end(), [&](const safety::Caution& other) {
    return other.word == one.word && other.sentence == one.sentence;
  });
}

/// Each is recorded once a job for a kind of act, and again where a graver word stands with it.
bool is_told(const std::vector<job::CautionShown>& told, safety::Act act, safety::SignalWord word,
             const std::string& contact) {
  return std::any_of(told.begin(), told.end(), [&](const job::CautionShown& one) {
    return one.act == act && one.word >= word &&
           std::find(one.contacts.begin(), one.contacts.end(), contact) != one.contacts.end();
  });
}

/// To the records of this card, which begin at `first`.
void add(std::vector<job::CautionShown>& told, std::ptrdiff_t first, safety::SignalWord word,
         const job::Wanted& wanted, const std::string& contact) {
  const auto found =
      std::find_if(told.begin() + first, told.end(), [&](const job::CautionShown& one) {
        return one.word == word && one.act == wanted.demand.act;
      });
  if (found != told.end()) {
    found->contacts.push_back(contact);
  } else {
    told.push_back({word, wanted.demand.act, wanted.what, {contact}});
  }
}

}  // namespace

/// The records that go before these, in their order.
std::vector<job::Body> Session::beside(const std::vector<job::Body>& intents) {
  std::vector<job::Body> out;
  if (!tester_.empty() && std::any_of(intents.begin(), intents.end(), reads)) {
    const job::TesterNamed tester = tester_of(tester_, tester_named_);
    const bool known =
        std::any_of(state_.testers.begin(), state_.testers.end(),
                    [&](const auto& one) { return same(one.body, tester); });
    if (!known) {
      out.emplace_back(tester);
    }
  }
  std::vector<job::CautionShown> told;
  for (const auto& one : state_.cautions) {
    told.push_back(one.body);
  }
  const auto first = static_cast<std::ptrdiff_t>(told.size());
  for (const job::Body& intent : intents) {
    const auto wanted = job::wanted_of(state_, intent, context());
    if (!wanted || snapshot_.card.cautions.empty()) {
      continue;
    }
    const safety::Situation situation = desk().situation(wanted->demand);
    for (const safety::Contact contact : wanted->demand.contacts) {
      const std::string name = safety::words(contact);
      for (const safety::Caution& one : safety::cautions_of({contact}, situation)) {
        if (one.word >= safety::SignalWord::warning && is_shown(snapshot_.card.cautions, one) &&
            !is_told(told, wanted->demand.act, one.word, name)) {
          add(told, first, one.word, *wanted, name);
        }
      }
    }
  }
  out.insert(out.end(), told.begin() + first, told.end());
  return out;
}

/// Puts them behind what is stood on, as far as they may be recorded.
void Session::add_beside(const std::vector<job::Body>& intents, std::vector<job::Body>& events) {
  const bool stands = !events.empty() && std::holds_alternative<job::StandsOn>(events.front());
  auto at = events.begin() + (stands ? 1 : 0);
  for (const job::Body& body : beside(intents)) {
    const job::Decision decision =
        job::decide(state_, body, stamp_now(state_.last_n + 1), context());
    if (decision.accepted()) {
      at = std::next(events.insert(at, decision.events.back()));
    }
  }
}

}  // namespace kp::app
