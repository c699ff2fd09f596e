// Every built-in sentence: at most 20 words, the command first, one instruction (ASD-STE100 rules
// 5.2 to 5.4; descriptions at most 25 words). And the rows as text.

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "base/text.hpp"
#include "safety/guide_words.hpp"

using namespace kp;
using namespace kp::safety;

namespace {

const std::set<std::string>& first_words() {
  static const std::set<std::string> known = {
      "Add",   "Check", "Choose", "Discharge", "Do",   "End",   "Enter", "Fasten",  "Fit",
      "Get",   "Go",    "Hands",  "Hang",      "Hold", "If",    "Inspect", "Isolate", "Join",
      "Keep",  "Let",   "List",   "Lock",      "Look", "Lead",  "Measure", "Open",  "Part",
      "Press", "Prop",  "Prove",  "Put",       "Read", "Record", "Relieve", "Say",  "Secure",
      "Set",   "Shut",  "Stand",  "Start",     "Stop", "Support", "Take", "Touch",  "Treat",
      "Use",   "Wait",  "Warn",   "Watch",     "Write"};
  return known;
}

std::vector<std::string> sentences_in(const std::string& text) {
  std::vector<std::string> out(1);
  for (std::size_t i = 0; i < text.size(); ++i) {
    out.back() += text[i];
    const bool stop = text[i] == '.' || text[i] == '?';
    if (stop && i + 1 < text.size() && text[i + 1] == ' ') {
      out.emplace_back();
    }
  }
  for (std::string& one : out) {
    one = std::string(trim(one));
  }
  return out;
}

int words_in(const std::string& sentence) { return to_int(split(sentence, ' ').size()); }

// What is wrong with an instruction; empty: nothing. A remark or question may follow the command.
std::string fault_of(const std::string& text) {
  const std::vector<std::string> all = sentences_in(text);
  for (const std::string& sentence : all) {
    if (sentence.empty() || (sentence.back() != '.' && sentence.back() != '?')) {
      return cat("no full stop: ", sentence);
    }
    if (words_in(sentence) > 20) {
      return cat("too long: ", sentence);
    }
    if (sentence.find(" and then ") != std::string::npos) {
      return cat("two instructions: ", sentence);
    }
  }
  std::string first = split(all.front(), ' ').front();
  first.erase(std::remove_if(first.begin(), first.end(),
                             [](char c) { return c == ',' || c == ':' || c == '.'; }),
              first.end());
  return first_words().count(first) == 0 && first != "Direct" ? cat("no command first: ", text) : "";
}

std::string fault_of_description(const std::string& text) {
  for (const std::string& sentence : sentences_in(text)) {
    if (sentence.empty() || words_in(sentence) > 25) {
      return cat("empty or too long: ", text);
    }
  }
  return "";
}

}  // namespace

TEST_CASE("words: the lint finds what it must find") {
  CHECK(fault_of("Stop the machine.") == "");
  CHECK(fault_of("Press start. Does anything happen?") == "");
  CHECK_FALSE(fault_of("The plug is pulled.") == "");
  CHECK_FALSE(fault_of("Take the plug and then wait.") == "");
  CHECK_FALSE(fault_of("Take the plug") == "");
  CHECK_FALSE(fault_of("Take a a a a a a a a a a a a a a a a a a a a.") == "");
}

TEST_CASE("words: every guard has a word, a code, one instruction and a source") {
  std::set<std::string> names;
  for (int i = 0; i < kGuards; ++i) {
    const GuardWords& row = words_of(static_cast<Guard>(i));
    CHECK(fault_of(row.sentence) == "");
    CHECK(std::string(row.code).size() > 4);
    CHECK(std::string(row.source).size() > 5);
    CHECK(names.insert(row.word).second);
    Guard back = Guard::job_open;
    CHECK(guard_of(row.word, back));
    CHECK(back == static_cast<Guard>(i));
  }
}

TEST_CASE("words: cautions, means, teaching and each thing to do") {
  for (const ContactRule& rule : contact_rules()) {
    CHECK(fault_of(rule.caution).rfind("no full stop", 0) != 0);
    CHECK(words_in(rule.caution) <= 20);
    CHECK(fault_of_description(rule.why) == "");
  }
  for (const MeansRule& rule : means_rules()) {
    CHECK(fault_of_description(rule.why) == "");
    CHECK(std::string(rule.source).size() > 5);
  }
  for (const Teaching& row : teachings()) {
    CHECK(fault_of_description(row.text) == "");
    CHECK(std::string(row.source).size() > 5);
  }
  for (const Means means : {Means::plug_out, Means::breaker_off}) {
    State state;
    state.means = means;
    for (int i = 0; i < kTodoKinds; ++i) {
      const auto kind = static_cast<TodoKind>(i);
      if (kind == TodoKind::take_reading) {
        continue;
      }
      const Todo todo = todo_of(kind, state);
      CHECK(fault_of(todo.sentence) == "");
      CHECK(fault_of_description(todo.how) == "");
      CHECK(fault_of_description(todo.why) == "");
    }
    for (int role = 0; role < kRoles; ++role) {
      for (const bool low : {false, true}) {
        const Todo todo =
            reading_of({kSupply, {}, false, true}, {static_cast<Role>(role), {"L1", "E"}, low}, state);
        CHECK(fault_of(todo.sentence) == "");
        CHECK(fault_of_description(todo.how) == "");
        CHECK(fault_of_description(todo.why) == "");
      }
    }
  }
}

TEST_CASE("rows: each act has rows, each guard is used, each number is used once") {
  ActSet acts = 0;
  std::set<int> numbers;
  std::set<Guard> guards;
  for (const Row& row : rules()) {
    CHECK(row.acts != 0);
    acts |= row.acts;
    guards.insert(row.guard);
    CHECK(numbers.insert(row.number).second);
  }
  CHECK(acts == (ActSet{1} << kActs) - 1);
  CHECK(to_int(guards.size()) == kGuards);
}

TEST_CASE("rows: an act without rows is refused") {
  Law law;
  for (Row& row : law.rows) {
    row.acts &= ~act_bit(Act::look_outside);
  }
  Ask ask;
  ask.demand.act = Act::look_outside;
  const Verdict verdict = permit({}, ask, {1, 1}, law);
  CHECK_FALSE(verdict.allowed);
  REQUIRE(verdict.reasons.size() == 1);
  CHECK(verdict.reasons[0].code == "no-rule");
  law.rows.clear();
  ask.demand.act = Act::hands_in;
  CHECK_FALSE(permit({}, ask, {1, 1}, law).allowed);
}

TEST_CASE("rows: as text and back, and what this program does not know is told") {
  bool all_known = false;
  CHECK(rows_of(rows_text(rules()), all_known) == rules());
  CHECK(all_known);
  for (const char* line : {"12 held-by-magic hands-in", "12 held juggle", "0 held hands-in",
                           "x held hands-in", "12 held", "", "12 held hands-in extra",
                           "-4 held hands-in"}) {
    std::vector<std::string> text = rows_text(rules());
    text.insert(text.begin() + 1, line);
    CHECK(rows_of(text, all_known) == rules());
    CHECK_FALSE(all_known);
  }
  for (int i = 0; i < kActs; ++i) {
    Act back = Act::look_outside;
    CHECK(safety::act_of(std::string_view(words(static_cast<Act>(i))), back));
    CHECK(back == static_cast<Act>(i));
  }
}
