#pragma once
// The contract of port::Store as scripts. Each kind of store runs all of them on a fresh medium,
// in this order: the last ones look at what the first ones left.

#include <map>
#include <string>
#include <vector>

#include "base/text.hpp"
#include "port/store_runner.hpp"
#include "support/random.hpp"

namespace kp::test {

namespace contract {

/// Lines that a store could spoil: no UTF-8, a NUL, line feeds, quotes, nothing at all, and long.
inline std::vector<std::string> awkward_lines() {
  return {"{\"n\":1}", "Ω \"50 µF\" \\ \xF0\x9F\x94\xA7", std::string("a\0b", 3), "\xFF\xC3",
          "", " line\nfeed\r ", std::string(300000, 'x')};
}

inline Script beginning() {
  Script script("an empty medium");
  script.list(0, {}).load(0, "nobody", {}).get(0, "nothing", "");
  script.acquire(0, "nobody").load(0, "nobody", {}).release(0, "nobody").list(0, {});
  return script;
}

inline Script bytes_are_kept() {
  Script script("lines are kept as they are, in order, asked for all at once");
  const std::vector<std::string> lines = awkward_lines();
  script.acquire(0, "bytes");
  for (std::size_t i = 0; i < lines.size(); ++i) {
    script.append(0, "bytes", static_cast<std::uint32_t>(i) + 1, lines[i]);
  }
  script.load(0, "bytes", lines);
  script.together(0);
  script.close(0).load(0, "bytes", lines).list(0, {"bytes"});
  return script;
}

inline Script numbers_are_held() {
  Script script("a line follows the last one or is not written");
  script.acquire(0, "seq");
  script.append(0, "seq", 2, "gap", "conflict").append(0, "seq", 0, "none", "conflict");
  script.load(0, "seq", {}).append(0, "seq", 1, "one");
  script.append(0, "seq", 1, "again", "conflict").append(0, "seq", 3, "gap", "conflict");
  script.append(0, "seq", 2, "two").append(0, "seq", 1, "back", "conflict");
  script.load(0, "seq", {"one", "two"});
  const std::size_t first = script.steps().size();
  script.append(0, "seq", 3, "three").append(0, "seq", 3, "not three", "conflict");
  script.append(0, "seq", 4, "four").load(0, "seq", {"one", "two", "three", "four"});
  return script.together(first);
}

inline Script one_writer() {
  Script script("a job has one writer");
  script.append(0, "one", 1, "early", "not-acquired").acquire(0, "one").acquire(0, "one");
  script.append(0, "one", 1, "first").acquire(1, "one", "held");
  script.append(1, "one", 2, "no", "not-acquired").load(1, "one", {"first"});
  script.release(1, "one").append(0, "one", 2, "second");
  script.acquire(1, "two").append(1, "two", 1, "other job");
  script.release(0, "one").append(0, "one", 3, "late", "not-acquired");
  script.acquire(1, "one").append(1, "one", 3, "third").acquire(0, "one", "held");
  script.load(0, "one", {"first", "second", "third"});
  script.close(1).acquire(0, "one").append(0, "one", 4, "fourth").acquire(0, "two");
  script.load(0, "two", {"other job"}).load(1, "one", {"first", "second", "third", "fourth"});
  return script;
}

inline Script taken_over() {
  Script script("a job is taken over");
  script.acquire(0, "over").append(0, "over", 1, "first").acquire(1, "over", "held");
  script.take_over(1, "over").append(1, "over", 2, "second");
  script.append(0, "over", 2, "late", "not-acquired").append(0, "over", 3, "late", "not-acquired");
  script.lost(0, "over").acquire(0, "over", "held").release(0, "over");
  script.append(1, "over", 3, "third").load(0, "over", {"first", "second", "third"});
  script.take_over(0, "over").lost(1, "over").append(1, "over", 4, "late", "not-acquired");
  script.append(0, "over", 4, "fourth").take_over(0, "over").append(0, "over", 5, "fifth");
  script.release(0, "over").acquire(1, "over").append(1, "over", 6, "sixth");
  script.acquire(1, "kept").append(1, "kept", 1, "x").take_over(0, "kept").lost(1, "kept");
  script.append(1, "over", 7, "seventh").close(0).acquire(1, "kept").append(1, "kept", 2, "y");
  script.take_over(0, "new").append(0, "new", 1, "x").take_over(0, "A", "bad-name");
  return script;
}

inline Script followed() {
  Script script("a reader follows a writer");
  script.look(0, "seen", 0, "nobody").acquire(0, "seen").look(0, "seen", 0, "here");
  script.append(0, "seen", 1, "first").watch(1, "seen").look(1, "seen", 1, "elsewhere");
  script.append(0, "seen", 2, "second").grew(1).still(1).load(1, "seen", {"first", "second"});
  script.look(1, "seen", 2, "elsewhere").sign(0).heard(1, "seen").sign(0).heard(1, "seen");
  script.acquire(1, "unseen").append(1, "unseen", 1, "x").append(1, "unseen", 2, "y");
  script.still(1).release(1, "unseen");
  script.take_over(1, "seen").look(0, "seen", 2, "elsewhere").look(1, "seen", 2, "here");
  script.watch(0, "seen").append(1, "seen", 3, "third").grew(0).still(1);
  script.release(1, "seen").look(0, "seen", 3, "nobody").look(1, "seen", 3, "nobody");
  script.acquire(0, "seen").look(1, "seen", 3, "elsewhere").close(0);
  script.look(1, "seen", 3, "nobody").look_fails(1, "A", "bad-name");
  script.acquire(0, "seen").watch(1, "").append(0, "seen", 4, "fourth").still(1);
  return script;
}

inline Script erased() {
  Script script("parts behind a line are erased, and its line stays");
  script.acquire(0, "bare").append(0, "bare", 1, "one\nkept\ngone").append(0, "bare", 2, "two\ngone");
  script.append(0, "bare", 3, "three").erase(0, "bare", 1, "one\nkept");
  script.erase(0, "bare", 2, "two").erase(0, "bare", 2, "two");
  script.load(1, "bare", {"one\nkept", "two", "three"});
  // Nothing is put in, nothing is changed, and the line itself cannot go.
  script.erase(0, "bare", 1, "one\nkept\ngone", "conflict").erase(0, "bare", 1, "on", "conflict");
  script.erase(0, "bare", 1, "kept", "conflict").erase(0, "bare", 3, "", "conflict");
  script.erase(0, "bare", 1, "one\nkep", "conflict").erase(0, "bare", 4, "four", "conflict");
  script.erase(0, "bare", 0, "none", "conflict").erase(1, "bare", 1, "one", "not-acquired");
  script.erase(0, "A", 1, "x", "bad-name").close(0);
  script.load(0, "bare", {"one\nkept", "two", "three"}).acquire(1, "bare");
  script.erase(1, "bare", 1, "one").append(1, "bare", 4, "four");
  script.load(0, "bare", {"one", "two", "three", "four"});
  return script;
}

inline Script names() {
  Script script("a job's id is plain");
  const std::string long_name(64, 'a');
  for (const char* bad : {"", "A", "a/b", "../a", "a b", "a_b"}) {
    script.acquire(0, bad, "bad-name").load(0, bad, {}, "bad-name");
    script.append(0, bad, 1, "x", "bad-name").release(0, bad, "bad-name");
  }
  script.acquire(0, long_name + "a", "bad-name");
  script.acquire(0, long_name).append(0, long_name, 1, "x").load(0, long_name, {"x"});
  return script;
}

inline Script settings() {
  Script script("settings are kept and are no jobs");
  script.put(0, "units", "metric").get(0, "units", "metric").get(1, "units", "metric");
  script.put(1, "units", "Ω").get(0, "units", "Ω").put(0, "bytes", "x\xFF").put(0, "Any key!", "");
  script.close(0).get(0, "units", "Ω").get(0, "bytes", "x\xFF").get(0, "Any key!", "");
  script.load(0, "units", {});
  return script;
}

inline Script listing() {
  Script script("jobs with lines are listed by the bytes of their ids");
  script.acquire(0, "z-9").append(0, "z-9", 1, "x").acquire(0, "empty").acquire(0, "a-10");
  script.append(0, "a-10", 1, "x").acquire(0, "a-9").append(0, "a-9", 1, "x");
  script.list(0, {"a-10", "a-9", std::string(64, 'a'), "bare", "bytes", "kept", "new", "one", "over",
                  "seen", "seq", "two", "unseen", "z-9"});
  return script;
}

/// What the contract says, in the plainest way: the other side of the random dialogue.
struct Model {
  std::map<std::string, std::vector<std::string>> jobs;
  std::map<std::string, int> holders;

  std::string append(int who, const std::string& job, std::uint32_t seq, const std::string& line) {
    const auto holder = holders.find(job);
    if (holder == holders.end() || holder->second != who) return "not-acquired";
    if (seq != jobs[job].size() + 1) return "conflict";
    jobs[job].push_back(line);
    return {};
  }
  /// The other one, where it lost the job by that; -1: nobody.
  int take_over(int who, const std::string& job) {
    const auto holder = holders.find(job);
    const int before = holder == holders.end() || holder->second == who ? -1 : holder->second;
    holders[job] = who;
    return before;
  }
  std::string acquire(int who, const std::string& job) {
    return holders.emplace(job, who).first->second == who ? "" : "held";
  }
  void release(int who, const std::string& job) {
    const auto holder = holders.find(job);
    if (holder != holders.end() && holder->second == who) holders.erase(holder);
  }
  void close(int who) {
    for (const char* job : {"r1", "r2", "r3"}) release(who, job);
  }
};

/// Two handles, three jobs, and whatever comes: each answer must be the one of the model.
inline Script random_dialogue(std::uint64_t seed, int length) {
  Random random(seed);
  Script script(cat("a dialogue at random, seed ", static_cast<std::int64_t>(seed)));
  Model model;
  for (int i = 0; i < length; ++i) {
    const int who = random.between(0, 1);
    const std::string job = cat("r", random.between(1, 3));
    const int kind = random.between(0, 19);
    if (kind < 1) {
      const int before = model.take_over(who, job);
      script.take_over(who, job);
      if (before >= 0) {
        script.lost(before, job);
      }
    } else if (kind < 5) {
      script.acquire(who, job, model.acquire(who, job));
    } else if (kind < 6) {
      model.release(who, job);
      script.release(who, job);
    } else if (kind < 15) {
      const int off = random.chance(0.8) ? 1 : random.between(0, 3);
      const auto seq = static_cast<std::uint32_t>(to_int(model.jobs[job].size()) + off);
      const std::string line = cat("line ", i);
      const std::string code = model.append(who, job, seq, line);
      script.append(who, job, seq, line, code);
    } else if (kind < 19) {
      script.load(who, job, model.jobs[job]);
    } else {
      model.close(who);
      script.close(who);
    }
  }
  return script.together_by([&random]() { return random.chance(0.4); });
}

}  // namespace contract

inline std::vector<Script> store_contract() {
  using namespace contract;
  std::vector<Script> scripts = {beginning(), bytes_are_kept(), numbers_are_held(), one_writer(),
                                 taken_over(), followed(),      erased(),           names(),     settings(),
                                 listing()};
  scripts.push_back(random_dialogue(1, 300));
  return scripts;
}

}  // namespace kp::test
