#pragma once
// scene: part drawings, the exploded layout, what a canvas is to draw, and what a finger meets.
// It knows shapes with directions, not packs or jobs, and gives colours by role: the screen's
// theme turns roles into colours.

#include <optional>
#include <string>
#include <string_view>

namespace kp::scene {

/// What a colour is for. The first block is the palette of part drawings (eight greys from white
/// to ink, two warm tones, two hatched surfaces); the second is what a scene adds around them.
enum class Role {
  none,
  white,
  grey_1,
  grey_2,
  grey_3,
  grey_4,
  grey_5,
  grey_6,
  ink,
  warm_1,
  warm_2,
  rubber,  ///< hatched: grey_4 with ink lines
  cut,     ///< hatched: grey_1 with grey_6 lines

  line,         ///< outlines outside drawings, by night as light as ink is dark by day
  soft,         ///< secondary lines and words
  hairline,
  paper,
  accent,
  accent_tint,  ///< ground of a ring, fill of the target
  accent_deep,  ///< the target's darker faces
  signal_yellow,
  signal_black
};

/// "grey-3": for dumps and findings.
[[nodiscard]] std::string_view role_name(Role role);

/// The role that a colour of a drawing file stands for: "#E3DFD5" (any case, "#fff" too), "none",
/// "url(#rubber)". None for a colour that is not in the palette.
[[nodiscard]] std::optional<Role> drawing_role(std::string_view colour);
/// The day colour of a role of the first block, as it stands in a file; empty for the others.
[[nodiscard]] std::string_view drawing_colour(Role role);
/// All colours that a file may use, for a remedy.
[[nodiscard]] std::string drawing_colours();

/// How a hatched surface is drawn, in drawing units: 45 degree lines on a ground.
struct HatchStyle {
  Role ground = Role::none;
  Role line = Role::none;
  double spacing = 0;
  double width = 0;
};

/// None for a role that is not hatched.
[[nodiscard]] std::optional<HatchStyle> hatch_style(Role role);

}  // namespace kp::scene
