// Display lists as text. With KP_GOLDEN_WRITE set in the environment the files are written anew.
#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>
#include <string>
#include <vector>

#include "scene/drawings.hpp"
#include "scene/layout.hpp"
#include "scene/svg.hpp"
#include "scene/symbols.hpp"

using kp::scene::Drawing;
using kp::scene::Isolation;
using kp::scene::Item;
using kp::scene::ItemState;
using kp::scene::Vec;
using kp::scene::Viewport;

namespace {

void check_golden(const std::string& name, const std::string& text) {
  const std::string path = std::string(KP_SOURCE_DIR) + "/tests/golden/scene/" + name + ".txt";
  if (std::getenv("KP_GOLDEN_WRITE") != nullptr) {
    std::ofstream(path, std::ios::binary) << text;
  }
  CHECK(kp::test::file_text(path) == text);
}

Drawing read(const std::string& name, const std::string& body) {
  kp::Findings findings;
  auto drawing = kp::scene::read_drawing(
      name, "<svg viewBox=\"-90 -30 180 60\"><title>" + name + "</title>" + body + "</svg>",
      findings);
  for (const kp::Finding& finding : findings.all()) {
    CHECK_MESSAGE(false, finding.text());
  }
  return drawing ? *drawing : Drawing{};
}

std::vector<Drawing> four_parts() {
  const std::string ink = "stroke=\"#1B2126\" stroke-width=\"1.5\"/>";
  return {read("plate", "<rect x=\"-50\" y=\"-6\" width=\"100\" height=\"12\" fill=\"#E3DFD5\" " + ink),
          read("floor",
               "<path d=\"M-80-8H-40V8H-80zM40-8H80V8H40z\" fill=\"url(#cut)\" " + ink),
          read("pump", "<path d=\"M-30-20H30V20H-30zM30-4H44V6H30z\" fill=\"#D2CDC1\" " + ink),
          read("hook", "<path d=\"M-3-14H3V14H-3z\" fill=\"#B9B4A8\" " + ink)};
}

std::vector<Item> small_machine(const std::vector<Drawing>& drawings) {
  std::vector<Item> items(4);
  const char* names[] = {"cover plate", "floor", "pump", "hook"};
  const Vec homes[] = {Vec(0, -14), Vec(0, 0), Vec(0, 20), Vec(36, 20)};
  const Vec ways[] = {Vec(0, -1), Vec(0, 0), Vec(0, 1), Vec(0, 1)};
  for (int i = 0; i < 4; ++i) {
    Item& item = items[static_cast<std::size_t>(i)];
    item.id = i;
    item.name = names[i];
    item.drawing = &drawings[static_cast<std::size_t>(i)];
    item.home = homes[i];
    item.away = ways[i];
  }
  items[0].state = ItemState::removed;
  items[3].state = ItemState::next;
  items[3].fastener = true;
  items[3].count = 4;
  items[3].holds = {1, 2};
  return items;
}

}  // namespace

TEST_CASE("golden: a small machine taken apart") {
  const std::vector<Drawing> drawings = four_parts();
  std::vector<Item> items = small_machine(drawings);
  const Viewport phone;
  check_golden("apart", dump(layout(items, 1, phone).list));
  check_golden("home", dump(layout(items, 0, phone).list));
  items[3].state = ItemState::removed;
  items[2].state = ItemState::target;
  Viewport desk;
  desk.width = 680;
  desk.height = 700;
  desk.side = kp::scene::CalloutSide::both;
  check_golden("target", dump(layout(items, 1, desk).list));
  items[2].state = ItemState::moving;
  check_golden("moving", dump(layout(items, 1, desk).list));
}

TEST_CASE("golden: symbols of the isolation strip") {
  std::string all;
  for (const Isolation state : {Isolation::passing, Isolation::cut_off, Isolation::proved}) {
    kp::scene::DisplayList list;
    switch_symbol(list, Vec(34, 20), 68, state);
    valve_symbol(list, Vec(34, 60), 68, state);
    all += dump(list) + "\n";
  }
  kp::scene::DisplayList sign;
  warning_sign(sign, Vec(10, 0), 17.5);
  check_golden("symbols", all + dump(sign));
}
