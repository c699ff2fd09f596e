#pragma once
// A made-up screen of the gallery behind a driver: what it draws, and what it sends back.

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "scene/svg.hpp"
#include "ui/driver.hpp"
#include "ui/gallery/screens.hpp"
#include "ui/view.hpp"

namespace kp::test {

inline const ui::Drawings& drawings() {
  static const ui::Drawings all = [] {
    ui::Drawings out;
    for (const auto& file : std::filesystem::directory_iterator(KP_SOURCE_DIR "/assets/parts")) {
      if (file.path().extension() != ".svg") continue;
      std::ifstream in(file.path(), std::ios::binary);
      const std::string text((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
      Findings findings;
      auto drawing = scene::read_drawing(file.path().stem().string(), text, findings);
      if (drawing.has_value()) out.emplace(file.path().stem().string(), std::move(drawing.value()));
    }
    return out;
  }();
  return all;
}

struct Stage {
  app::Snapshot snapshot;
  ui::View view;
  ui::Actions actions;
  std::vector<ui::Ui::TextRun> runs;
  Driver driver;

  explicit Stage(const std::string& name, ui::Vec size = ui::Vec{390, 844}, int percent = 100)
      : snapshot(gallery_screen(name, drawings())),
        driver([this, percent](ui::Ui& screen) {
          screen.taste.text_percent = percent;
          runs.clear();
          screen.runs = &runs;
          view.draw(screen, snapshot, drawings(), actions);
        }, size) {
    driver.run();
    driver.wait(kLooked);
  }
  /// Another screen in the same window: the fonts are baked once.
  void show(const std::string& name) {
    snapshot = gallery_screen(name, drawings());
    snapshot.revision = ++shown;
    driver.run();
    driver.wait(kLooked);
  }
  /// A person looks before pressing: a press right after a card came belongs to the card before.
  static constexpr double kLooked = 400;
  std::uint32_t shown = 100;
  [[nodiscard]] bool sent(app::Verb verb) const {
    return std::any_of(actions.begin(), actions.end(),
                       [&](const app::Action& one) { return one.verb == verb; });
  }
};

}  // namespace kp::test
