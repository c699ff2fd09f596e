// What the person chooses about the screen: kept on the device, there again at the next start.

#include <doctest/doctest.h>

#include <memory>

#include "app/session.hpp"
#include "app/shipped.hpp"
#include "platform/memory/memory_store.hpp"
#include "support/outside.hpp"

using kp::app::Preferences;
using kp::app::Verb;

TEST_CASE("every choice on the sheet can be set, anything else changes nothing") {
  Preferences all;
  for (const kp::app::PreferenceChoice& one : kp::app::preference_choices()) {
    CHECK(kp::app::set_preference(all, one.key, one.value));
    CHECK(kp::app::preference(all, one.key) == one.value);
  }
  CHECK_FALSE(kp::app::set_preference(all, "look", "blue"));
  CHECK_FALSE(kp::app::set_preference(all, "colour", "night"));
  CHECK(kp::app::preference(all, "look") == "sun");
  CHECK(kp::app::preference(all, "colour").empty());
}

TEST_CASE("the screen chosen today is the screen tomorrow") {
  const kp::app::Content content = kp::app::load_content(kp::test::shipped_files(false));
  const auto medium = std::make_shared<kp::memory::MemoryMedium>();
  kp::memory::MemoryStore practice;
  kp::memory::MemoryStore spare;
  kp::test::FakeClock clock;
  kp::test::CountedIdentity identity;
  kp::test::KeptPapers papers;
  const auto start = [&](kp::memory::MemoryStore& field) {
    auto session = std::make_unique<kp::app::Session>(
        content, kp::app::Outside{&field, &practice, &clock, &identity, &papers, &spare});
    session->start();
    while (session->poll()) {
    }
    return session;
  };
  kp::memory::MemoryStore today(medium);
  const auto first = start(today);
  CHECK(first->snapshot().preferences.look.empty());
  kp::app::Action action;
  action.verb = Verb::set_preference;
  action.id = "look";
  action.text = "night";
  action.revision = first->snapshot().revision;
  first->act(action);
  while (first->poll()) {
  }
  CHECK(first->snapshot().preferences.look == "night");

  kp::memory::MemoryStore tomorrow(medium);
  CHECK(start(tomorrow)->snapshot().preferences.look == "night");
}
