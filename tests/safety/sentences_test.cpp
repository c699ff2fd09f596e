// Every built-in sentence: at most 20 words, verb first or a condition first, one instruction
// (ASD-STE100 rules 5.2 to 5.4; descriptions at most 25 words).

#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>

#include "base/text.hpp"
#include "safety/guide.hpp"
#include "safety/reach.hpp"

using namespace kp;

namespace {

const std::set<std::string>& first_words() {
  static const std::set<std::string> known = {
      "Add",     "Agree",   "Catch",   "Change",  "Choose",  "Count",  "Discharge", "Empty",
      "End",     "Enter",   "Fit",     "Get",     "Go",      "Hang",   "Hold",      "Inspect",
      "Isolate", "Keep",    "Let",     "List",    "Measure",  "Number",  "Open",   "Press",     "Prove",
      "Pull",    "Put",     "Read",    "Record",  "Relieve", "Repair", "Repeat",    "Secure",
      "See",     "Set",     "Shut",    "Stand",   "Start",   "Stop",   "Support",   "Take",
      "Tell",    "Touch",   "Try",     "Turn",    "Use",     "Wait",   "Watch",     "Wear",
      "Write",   "If",      "When",    "Before"};
  return known;
}

int count_words(const std::string& text) {
  int words = 0;
  for (const std::string& part : split(text, ' ')) {
    words += part.empty() ? 0 : 1;
  }
  return words;
}

std::vector<std::string> sentences_in(const std::string& text) {
  std::vector<std::string> out;
  std::string now;
  for (std::size_t i = 0; i < text.size(); ++i) {
    now += text[i];
    const bool stop = text[i] == '.' || text[i] == '?';
    if (stop && (i + 1 == text.size() || text[i + 1] == ' ')) {
      out.emplace_back(trim(now));
      now.clear();
    }
  }
  if (!trim(now).empty()) {
    out.emplace_back(trim(now));
  }
  return out;
}

// What is wrong with an instruction; empty: nothing. A question may follow it.
std::string fault_of(const std::string& text) {
  const std::vector<std::string> sentences = sentences_in(text);
  if (sentences.empty()) {
    return "empty";
  }
  for (std::size_t i = 0; i < sentences.size(); ++i) {
    const std::string& sentence = sentences[i];
    const bool question = i > 0 && sentence.back() == '?';
    const std::string first = split(sentence, ' ')[0];
    if (sentence.back() != '.' && !question) {
      return cat("no full stop: ", sentence);
    }
    if (count_words(sentence) > 20) {
      return cat("too long: ", sentence);
    }
    if (!question && first_words().count(first) == 0) {
      return cat("no command first: ", sentence);
    }
    if (sentence.find(" and then ") != std::string::npos) {
      return cat("two instructions: ", sentence);
    }
  }
  return "";
}

std::string fault_of_description(const std::string& text) {
  for (const std::string& sentence : sentences_in(text)) {
    if (count_words(sentence) > 25) {
      return cat("too long: ", sentence);
    }
    if (sentence.find(" and then ") != std::string::npos) {
      return cat("and then: ", sentence);
    }
  }
  return text.empty() ? "empty" : "";
}

}  // namespace

TEST_CASE("sentences: the lint finds what it must find") {
  CHECK(fault_of("Pull the plug out.").empty());
  CHECK(fault_of("If it hums, stop.").empty());
  CHECK_FALSE(fault_of("The plug is pulled.").empty());
  CHECK_FALSE(fault_of("Pull the plug and then wait.").empty());
  CHECK_FALSE(fault_of("Pull the plug").empty());
  CHECK_FALSE(fault_of("Pull a a a a a a a a a a a a a a a a a a a a.").empty());
}

TEST_CASE("sentences: cautions begin with the command") {
  for (const safety::ContactRule& rule : safety::contact_rules()) {
    CHECK(fault_of(rule.caution) == "");
    CHECK(fault_of_description(rule.why) == "");
  }
}

TEST_CASE("sentences: stations, verdicts, means and teaching") {
  for (int i = 0; i < safety::kStations; ++i) {
    const safety::StationWords& words = safety::words_of(static_cast<safety::Station>(i));
    CHECK(fault_of(words.ask) == "");
    CHECK(fault_of_description(words.why) == "");
  }
  for (int i = 0; i < safety::kProveVerdicts; ++i) {
    CHECK(fault_of(safety::words_of(static_cast<safety::ProveVerdict>(i)).remedy) == "");
  }
  for (const safety::MeansRule& rule : safety::means_rules()) {
    CHECK(fault_of_description(rule.why) == "");
    CHECK(std::string(rule.source).size() > 5);
  }
  for (const safety::Teaching& row : safety::teachings()) {
    CHECK(fault_of_description(row.text) == "");
    CHECK(std::string(row.source).size() > 5);
  }
}

TEST_CASE("sentences: every reason and every thing to do that the machine can give") {
  const safety::Policy policy;
  const std::vector<safety::Event> events = model::all_events();
  std::set<std::string> reasons;
  std::set<std::string> todos;
  std::set<std::string> hows;
  std::set<safety::EventKind> kinds;
  int unnamed = 0;
  const safety::Demand demand{{safety::Contact::stored_charge, safety::Contact::hot,
                               safety::Contact::heavy},
                              true, false, 2};
  const auto keep = [&](const std::vector<safety::Reason>& list) {
    for (const safety::Reason& reason : list) {
      reasons.insert(reason.sentence);
      unnamed += reason.code.empty() ? 1 : 0;
    }
  };
  const auto plan = [&](const std::vector<safety::Todo>& list) {
    for (const safety::Todo& todo : list) {
      todos.insert(todo.sentence);
      hows.insert(todo.how);
      kinds.insert(todo.kind);
      if (!todo.caution.sentence.empty()) {
        todos.insert(todo.caution.sentence);
      }
    }
  };
  int seen = 0;
  model::explore(
      [](model::Ev ev) {
        return ev != model::Ev::cool && ev != model::Ev::secure && ev != model::Ev::two_people &&
               ev != model::Ev::charge_gone && ev != model::Ev::prepare_cord;
      },
      false,
      [&](model::Bits, const safety::State& state) {
        if (++seen % 40 != 0) {
          return;
        }
        for (const safety::Event& event : events) {
          keep(safety::refusals(state, event, policy));
        }
        keep(safety::permit(state, demand, model::kNow, policy).reasons);
        keep(safety::permit(state, {{}, true, true, 3}, model::kNow - 1, policy).reasons);
        plan(safety::make_safe(state, demand, model::kNow, policy));
        plan(safety::make_safe(state, demand, model::kNow - 1, policy));
        plan(safety::wind_up(state, safety::Ending::repaired, model::kNow, policy));
        plan(safety::wind_up(state, safety::Ending::waiting_for_parts, model::kNow, policy));
      },
      [](model::Bits, const safety::State&, model::Ev, const model::Move&, model::Bits) {});
  MESSAGE(reasons.size() << " reasons and " << todos.size() << " things to do read");
  CHECK(reasons.size() > 30);
  CHECK(kinds.size() == 22);
  CHECK(unnamed == 0);
  for (const std::string& sentence : reasons) {
    // A refused means adds why it is refused; the first sentence is the instruction.
    const bool means = sentence.rfind("Choose another means. ", 0) == 0;
    CHECK(fault_of(means ? "Choose another means." : sentence) == "");
  }
  for (const std::string& sentence : todos) {
    CHECK(fault_of(sentence) == "");
  }
  for (const std::string& how : hows) {
    CHECK(fault_of_description(how) == "");
  }
}
