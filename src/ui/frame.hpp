#pragma once
// What every stage's screen has in common: the isolation strip, the rail of stages, and where
// "look", "act" and "foot" stand on a phone, a phone on its side and the shop's PC.

#include <string>
#include <string_view>
#include <vector>

#include "ui/kit.hpp"

namespace kp::ui {

enum class Safety { danger, unproved, safe };

/// One half of the isolation strip.
struct Energy {
  bool closed = true;            ///< the contact closed, the valve open: energy can pass
  bool proved = false;           ///< drawn crossed
  Words word{};         ///< "DEAD", "NOT PROVED", "LIVE", "SHUT", "OPEN"
  Words under{};        ///< "Power, proved 10:42"
  Safety safety = Safety::danger;
};
struct Strip {
  Energy power{};
  Energy water{};
};

struct Rail {
  std::vector<std::string_view> stages{};
  int stage = 0;                 ///< index of the present one
  float within = 0;              ///< share of it that is done
  Words where{};        ///< "7 of 19"
  Words clock{};        ///< "00:31:08"
  bool clock_stopped = false;
  bool pressable = false;        ///< the phone's rail opens the plan
};

struct Sheet {
  Words title{};
  FunctionRef<void()> content{};
  FunctionRef<void()> foot{};      ///< buttons, pinned
  bool closes = true;            ///< adds a Close button
  bool at_top = false;           ///< for typing: a phone's keyboard covers the lower half
};

struct Screen {
  Words name{};         ///< identity: changes with the screen, not with the step
  bool has_strip = true;         ///< false on pages without a machine
  Strip strip{};
  Rail rail{};
  FunctionRef<void()> bands{};     ///< notices under the rail
  FunctionRef<void()> look{};      ///< upper part: what you look at
  bool look_fills = false;       ///< a drawing: takes the room there is (ui.rest()), no scrolling
  float look_least = 120;        ///< the upper part gets no less before the parts scroll together
  FunctionRef<void()> aside{};     ///< the shop PC's left column, usually the plan
  FunctionRef<void()> act{};       ///< lower part: caution, sentence, how, entries
  FunctionRef<void()> foot{};      ///< what confirms: pinned to the screen's foot
  FunctionRef<void()> ways{};      ///< ways out under it; on a crowded screen they scroll with the act
  const Sheet* sheet = nullptr;  ///< open sheet; the rest is out of reach meanwhile
};

struct ScreenTouched {
  bool power = false;            ///< show the evidence of the proof
  bool water = false;
  bool close_sheet = false;
  int stage = -1;                ///< a stage's name on the shop PC, or the rail on a phone
};

ScreenTouched screen(Ui& ui, const Screen& spec);

}  // namespace kp::ui
