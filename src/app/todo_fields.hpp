#pragma once

#include "app/desk.hpp"

namespace kp::app {

/// What a thing of safety's lists asks besides a hold: a choice, a number, words.
void fill_todo_fields(Card& card, const Desk& desk, const safety::Todo& todo);

// The parts of it that are about the supply: todo_supply.cpp.
[[nodiscard]] TextField text_field(const Desk& desk, const char* id, const char* label,
                                   const std::string& value);
void fill_tester(Card& card, const Desk& desk);
void fill_prepare(Card& card, const Desk& desk);
void fill_isolate(Card& card, const Desk& desk);
void fill_hold(Card& card, const Desk& desk);
/// Something said that the supply is not the one that was parted, and it was not isolated since.
[[nodiscard]] bool said_live(const safety::State& safe);
/// And there is voltage on it: nothing runs that could be stopped, people come off it.
[[nodiscard]] bool hands_back(const safety::State& safe);
void fill_hands_back(Card& card, const Desk& desk);

/// The action's fact with what the person entered and chose: the number, the tester, lock and tag.
[[nodiscard]] safety::Fact filled(const Action& action, const Local& local,
                                  const std::string& tester);

}  // namespace kp::app
