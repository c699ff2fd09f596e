#pragma once
// A dialogue with a store, written down as steps with what each must bring. The same script runs
// where a store answers at once and where answers come through an event loop.

#include <cstdint>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "port/store.hpp"

namespace kp::test {

/// What the handles of one script share. open() gives a further handle, as another window would.
class StoreMedium {
 public:
  virtual ~StoreMedium() = default;
  virtual std::unique_ptr<port::Store> open() = 0;
};

struct Step {
  enum class Do {
    acquire, release, load, append, erase, put, get, list, take_over, lost, close, look, watch, grew,
    still, sign, heard
  };
  Do what = Do::list;
  int who = 0;                      ///< which handle
  std::string name;                 ///< job or key
  std::uint32_t seq = 0;
  std::string text;
  std::string code;                 ///< the expected error's code, empty for success
  std::vector<std::string> lines;   ///< the expected lines (load) or ids (list)
  std::string value;                ///< the expected text (get); nobody, here, elsewhere (look)
  bool with_next = false;           ///< the next step is asked before this one's answer came
};

class Script {
 public:
  explicit Script(std::string title) : title_(std::move(title)) {}

  Script& acquire(int who, std::string job, std::string code = {}) {
    return add(Step::Do::acquire, who, std::move(job), 0, {}, std::move(code));
  }
  Script& take_over(int who, std::string job, std::string code = {}) {
    return add(Step::Do::take_over, who, std::move(job), 0, {}, std::move(code));
  }
  /// The handle is told, sooner or later, that it lost the job.
  Script& lost(int who, std::string job) {
    return add(Step::Do::lost, who, std::move(job), 0, {}, {});
  }
  Script& release(int who, std::string job, std::string code = {}) {
    return add(Step::Do::release, who, std::move(job), 0, {}, std::move(code));
  }
  Script& append(int who, std::string job, std::uint32_t seq, std::string line,
                 std::string code = {}) {
    return add(Step::Do::append, who, std::move(job), seq, std::move(line), std::move(code));
  }
  /// What the entry becomes, with parts taken out.
  Script& erase(int who, std::string job, std::uint32_t seq, std::string kept,
                std::string code = {}) {
    return add(Step::Do::erase, who, std::move(job), seq, std::move(kept), std::move(code));
  }
  Script& put(int who, std::string key, std::string text, std::string code = {}) {
    return add(Step::Do::put, who, std::move(key), 0, std::move(text), std::move(code));
  }
  Script& load(int who, std::string job, std::vector<std::string> lines, std::string code = {}) {
    add(Step::Do::load, who, std::move(job), 0, {}, std::move(code));
    steps_.back().lines = std::move(lines);
    return *this;
  }
  Script& list(int who, std::vector<std::string> ids) {
    add(Step::Do::list, who, {}, 0, {}, {});
    steps_.back().lines = std::move(ids);
    return *this;
  }
  Script& get(int who, std::string key, std::string value) {
    add(Step::Do::get, who, std::move(key), 0, {}, {});
    steps_.back().value = std::move(value);
    return *this;
  }
  /// `writer`: "nobody", "here", "elsewhere"; `last`: the number of the last line.
  Script& look(int who, std::string job, std::uint32_t last, std::string writer) {
    add(Step::Do::look, who, std::move(job), last, {}, {});
    steps_.back().value = std::move(writer);
    return *this;
  }
  Script& look_fails(int who, std::string job, std::string code) {
    return add(Step::Do::look, who, std::move(job), 0, {}, std::move(code));
  }
  Script& watch(int who, std::string job) {
    return add(Step::Do::watch, who, std::move(job), 0, {}, {});
  }
  /// The handle hears, sooner or later, that the job it watches grew.
  Script& grew(int who) { return add(Step::Do::grew, who, {}, 0, {}, {}); }
  /// Nothing of it is heard; asked of a store that heard of an earlier line already.
  Script& still(int who) { return add(Step::Do::still, who, {}, 0, {}, {}); }
  Script& sign(int who) { return add(Step::Do::sign, who, {}, 0, {}, {}); }
  /// What `who` sees of the job's writer becomes, sooner or later, another sign than it was last.
  Script& heard(int who, std::string job) {
    return add(Step::Do::heard, who, std::move(job), 0, {}, {});
  }
  /// The handle is destroyed; the next step of the same number opens a new one.
  Script& close(int who) { return add(Step::Do::close, who, {}, 0, {}, {}); }
  /// The steps from `first` on, of one handle, are asked without waiting for an answer.
  Script& together(std::size_t first) {
    for (std::size_t i = first; i + 1 < steps_.size(); ++i) {
      steps_[i].with_next = true;
    }
    return *this;
  }

  /// Steps that follow each other on one handle are asked together, where `chance` says so.
  template <class Chance>
  Script& together_by(Chance chance) {
    for (std::size_t i = 0; i + 1 < steps_.size(); ++i) {
      const bool asks = is_request(steps_[i]) && is_request(steps_[i + 1]);
      steps_[i].with_next = asks && steps_[i].who == steps_[i + 1].who && chance();
    }
    return *this;
  }

  static bool is_request(const Step& step) {
    return step.what <= Step::Do::take_over || step.what == Step::Do::look;
  }
  [[nodiscard]] const std::string& title() const { return title_; }
  [[nodiscard]] const std::vector<Step>& steps() const { return steps_; }

 private:
  Script& add(Step::Do what, int who, std::string name, std::uint32_t seq, std::string text,
              std::string code) {
    Step step;
    step.what = what;
    step.who = who;
    step.name = std::move(name);
    step.seq = seq;
    step.text = std::move(text);
    step.code = std::move(code);
    steps_.push_back(std::move(step));
    return *this;
  }

  std::string title_;
  std::vector<Step> steps_;
};

}  // namespace kp::test
