#pragma once

#include <algorithm>
#include <functional>
#include <map>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "base/text.hpp"
#include "port/store_script.hpp"

namespace kp::test {

/// Runs scripts one after another. go_on() returns true when all are done; where it returns false,
/// answers are still to come, and it is called again when some may be there.
class ScriptRunner {
 public:
  /// Told once a step: what was asked and what came, and whether that is what must come.
  using Report = std::function<void(const std::string& what, bool held)>;

  ScriptRunner(StoreMedium& medium, std::vector<Script> scripts, Report report)
      : medium_(&medium), scripts_(std::move(scripts)), report_(std::move(report)) {}

  bool go_on() {
    for (; script_ < scripts_.size(); ++script_, step_ = 0, handles_.clear(), heard_.clear(), signs_.clear()) {
      const std::vector<Step>& steps = scripts_[script_].steps();
      while (step_ < steps.size() || !open_.empty()) {
        if (open_.empty() && !Script::is_request(steps[step_])) {
          if (!do_without_answer(steps[step_])) {
            return false;
          }
          continue;
        }
        if (open_.empty()) {
          ask_next(steps);
        }
        if (!take()) {
          return false;
        }
      }
    }
    return true;
  }

  [[nodiscard]] std::string waiting_for() const {
    return open_.empty() ? std::string() : describe(*open_.front().step);
  }

 private:
  /// As often as a sign that is on its way is looked for; ours.
  static constexpr int kMostLooks = 5000;

  struct Open {
    const Step* step = nullptr;
    port::Request request = 0;
  };

  port::Store& handle(int who) {
    if (handles_.size() <= to_size(who)) {
      handles_.resize(to_size(who) + 1);
    }
    std::unique_ptr<port::Store>& store = handles_[to_size(who)];
    if (store == nullptr) {
      store = medium_->open();
    }
    return *store;
  }

  /// A step that is no request; false where it waits for something that is still to come.
  bool do_without_answer(const Step& step) {
    port::Store& store = handle(step.who);
    switch (step.what) {
      case Step::Do::close:
        handles_[to_size(step.who)] = nullptr;
        break;
      case Step::Do::lost:
        if (!hear_of_loss(step)) return false;
        break;
      case Step::Do::watch:
        store.watch(step.name);
        break;
      case Step::Do::sign:
        store.sign_of_life();
        break;
      case Step::Do::grew:
        if (!store.take_changed()) return false;
        report_(title() + describe(step), true);
        break;
      case Step::Do::still:
        report_(title() + describe(step), !store.take_changed());
        break;
      default:
        // heard: looked again and again, as a sign may come late.
        open_.push_back(Open{&step, store.look(step.name)});
        break;
    }
    ++step_;
    return true;
  }

  void ask_next(const std::vector<Step>& steps) {
    bool more = true;
    while (more && step_ < steps.size()) {
      const Step& step = steps[step_++];
      open_.push_back(Open{&step, ask(handle(step.who), step)});
      more = step.with_next;
    }
  }

  /// True once the loss was told; what was told besides is kept for later steps.
  bool hear_of_loss(const Step& step) {
    for (std::string& job : handle(step.who).take_lost()) {
      heard_.push_back(cat("handle ", step.who, " lost ", job));
    }
    const auto found =
        std::find(heard_.begin(), heard_.end(), cat("handle ", step.who, " lost ", step.name));
    if (found == heard_.end()) {
      return false;
    }
    report_(title() + *found, true);
    heard_.erase(found);
    return true;
  }

  static port::Request ask(port::Store& store, const Step& step) {
    switch (step.what) {
      case Step::Do::acquire:
        return store.acquire(step.name);
      case Step::Do::take_over:
        return store.take_over(step.name);
      case Step::Do::release:
        return store.release(step.name);
      case Step::Do::load:
        return store.load(step.name);
      case Step::Do::append:
        return store.append(step.name, step.seq, step.text);
      case Step::Do::erase:
        return store.erase(step.name, step.seq, step.text);
      case Step::Do::put:
        return store.put(step.name, step.text);
      case Step::Do::get:
        return store.get(step.name);
      case Step::Do::look:
        return store.look(step.name);
      default:
        break;
    }
    return store.list();
  }

  /// Takes what has come for the handle that is waited for; true when nothing is open any more.
  bool take() {
    for (const port::Completion& done : handle(open_.front().step->who).take_completed()) {
      if (open_.empty()) {
        report_(title() + "an answer came that nobody asked for", false);
        continue;
      }
      const Open open = open_.front();
      open_.erase(open_.begin());
      std::string& seen = signs_[cat(open.step->who, " ", open.step->name)];
      if (open.step->what == Step::Do::heard && done.sign == seen && ++looked_ < kMostLooks) {
        open_.push_back(Open{open.step, handle(open.step->who).look(open.step->name)});
        continue;
      }
      if (open.step->what == Step::Do::heard) {
        report_(title() + describe(*open.step), looked_ < kMostLooks && !done.sign.empty());
        looked_ = 0;
        seen = done.sign;
        continue;
      }
      if (open.step->what == Step::Do::look) {
        seen = done.sign;
      }
      judge(*open.step, open.request == done.request, done);
    }
    return open_.empty();
  }

  void judge(const Step& step, bool in_order, const port::Completion& done) {
    const std::string code = done.error ? done.error->code : std::string();
    std::string what = title() + describe(step) + (code.empty() ? " is done" : " fails: " + code);
    bool held = in_order && code == step.code;
    if (!in_order) {
      what += ", out of order";
    }
    if (step.what == Step::Do::look) {
      const std::string writer = done.sign.empty()            ? "nobody"
                                 : done.sign == port::kHere ? "here"
                                                            : "elsewhere";
      what += cat(", line ", std::int64_t{done.last}, ", ", writer);
      held = held && (!step.code.empty() || (done.last == step.seq && writer == step.value));
    } else if (step.code.empty() && (done.lines != step.lines || done.text != step.value)) {
      held = false;
      what += cat(", brings ", to_int(done.lines.size()), " lines [", join(done.lines, "|"),
                  "] and \"", done.text, "\"");
    }
    if (done.error && (done.error->what.empty() || done.error->remedy.empty())) {
      held = false;
      what += ", without words for a person";
    }
    report_(what, held);
  }

  [[nodiscard]] std::string title() const { return scripts_[script_].title() + ": "; }

  static std::string describe(const Step& step) {
    static const char* const kWords[] = {"acquire",   "release", "load",  "append",
                                         "erase",     "put",       "get",     "list",  "take over",
                                         "lost",      "close",   "look",  "watch",
                                         "hears of a line", "hears of nothing", "sign", "hears"};
    return cat("handle ", step.who, " ", kWords[static_cast<int>(step.what)], " ", step.name,
               step.seq > 0 ? cat(" ", std::int64_t{step.seq}) : std::string());
  }

  StoreMedium* medium_;
  std::vector<Script> scripts_;
  Report report_;
  std::vector<std::unique_ptr<port::Store>> handles_;
  std::vector<Open> open_;
  std::vector<std::string> heard_;
  std::map<std::string, std::string> signs_;   ///< the last sign that a handle saw of a job's writer
  int looked_ = 0;
  std::size_t script_ = 0;
  std::size_t step_ = 0;
};

}  // namespace kp::test
