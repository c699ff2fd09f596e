#pragma once
// Drawings on the screen: roles become colours of the theme, the scene's lines become ImGui's, and
// fingers become pan, zoom and a touched part.

#include <optional>
#include <string>

#include "scene/layout.hpp"
#include "scene/paint.hpp"
#include "scene/view.hpp"
#include "ui/ui.hpp"

namespace kp::ui {

[[nodiscard]] Color role_color(scene::Role role, const Ui& ui);

/// Paints through the kit; `origin` is the place of the drawing's (0, 0) on the screen.
class Painter final : public scene::Canvas {
 public:
  Painter(Ui& ui, Vec origin) : ui_(ui), origin_(origin) {}
  void triangles(std::span<const scene::Vec> points, scene::Role role) override;
  void polyline(std::span<const scene::Vec> points, bool closed, scene::Role role,
                double width) override;
  void circle(scene::Vec centre, double radius, scene::Role fill, scene::Role border,
              double width) override;
  void text(scene::Vec at, scene::Anchor anchor, double size, bool strong, scene::Role role,
            std::string_view words) override;

 private:
  Ui& ui_;
  Vec origin_;
};

/// One drawing, fitted into the box: thumbnails of cards and rows.
void draw_picture(Ui& ui, const scene::Drawing& drawing, Box box);

/// A scene that is dragged, pinched, zoomed by wheel, and touched: returns the item touched.
/// `view` is the screen's own. `name` is what a reader hears of it.
std::optional<int> scene_view(Ui& ui, std::string_view name, const scene::Scene& scene,
                              scene::View& view, Box box);

}  // namespace kp::ui
