#pragma once

#include "app/desk.hpp"

namespace kp::app {

/// What a thing of safety's lists asks besides a hold: a choice, a number, words.
void fill_todo_fields(Card& card, const Desk& desk, const safety::Todo& todo);

/// The action's fact with what the person entered and chose: the number, the tester, lock and tag.
[[nodiscard]] safety::Fact filled(const Action& action, const Local& local,
                                  const std::string& tester);

}  // namespace kp::app
