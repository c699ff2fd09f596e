#pragma once
// A window on a store, as a test drives it: a session with its own life, clock and papers.

#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "app/session.hpp"
#include "app/shipped.hpp"
#include "platform/memory/memory_store.hpp"
#include "support/outside.hpp"

namespace kp::test {

/// A window on a store: a session, its own life, its own papers.
struct Window {
  explicit Window(port::Store& field, std::uint64_t number = 0)
      : Window(field, shipped_content(), number) {}
  /// With packs of its own.
  Window(port::Store& field, const app::Content& content, std::uint64_t number = 0) {
    for (std::uint64_t i = 0; i < number * 100; ++i) {
      (void)identity.fresh();
    }
    session = std::make_unique<app::Session>(
        content, app::Outside{&field, &practice, &clock, &identity, &papers, &spare});
    session->start();
    settle();
  }
  Window(port::Store& field, port::Store& refused_practice) {
    session = std::make_unique<app::Session>(
        shipped_content(), app::Outside{&field, &refused_practice, &clock, &identity, &papers, &spare});
    session->start();
    settle();
  }

  void settle() const {
    while (session->poll()) {
    }
  }
  void note(std::string text) const { act(app::Verb::add_note, {}, false, std::move(text)); }
  void act(app::Verb verb, std::string id = {}, bool flag = false, std::string text = {}) const {
    app::Action action;
    action.verb = verb;
    action.id = std::move(id);
    action.flag = flag;
    action.text = std::move(text);
    action.revision = session->snapshot().revision;
    session->act(action);
    settle();
  }
  /// Somebody sees that something is not as the record thinks.
  void see(safety::Doubt what) const {
    app::Action action;
    action.verb = app::Verb::fact;
    action.fact = safety::Fact{safety::Doubted{what}};
    action.revision = session->snapshot().revision;
    session->act(action);
    settle();
  }
  [[nodiscard]] const app::Snapshot& seen() const { return session->snapshot(); }
  [[nodiscard]] bool says(const std::string& words) const {
    for (const app::Notice& notice : seen().notices) {
      if (notice.text.find(words) != std::string::npos) {
        return true;
      }
    }
    return false;
  }
  [[nodiscard]] bool offers(const std::string& label) const {
    for (const app::Notice& notice : seen().notices) {
      for (const app::Button& button : notice.buttons) {
        if (button.label == label) {
          return true;
        }
      }
    }
    return false;
  }
  [[nodiscard]] bool identified() const { return session->state().model >= 0; }

  memory::MemoryStore practice;
  memory::MemoryStore spare;
  FakeClock clock;
  CountedIdentity identity;
  KeptPapers papers;
  std::unique_ptr<app::Session> session;
};

inline std::vector<std::string> kept(const std::shared_ptr<memory::MemoryMedium>& medium, const std::string& job) {
  memory::MemoryStore reader(medium);
  reader.load(job);
  return reader.take_completed().back().lines;
}

inline bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace kp::test
