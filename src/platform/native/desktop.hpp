#pragma once

#include <string>
#include <vector>

#include "app/content.hpp"

namespace kp::native {

/// How the desktop program was called.
struct Desktop {
  bool demo = false;
  std::string assets;      ///< folder with packs, parts, demo
  std::string data;        ///< folder of the store and the documents
  std::string theme = "day";
  int text_percent = 100;
  int width = 1440;
  int height = 900;
  double density = 0;
  std::string picture;
};

/// All files of the assets folder that the app reads, named as in "packs/pump-module/pack.json".
[[nodiscard]] std::vector<app::NamedBytes> read_assets(const std::string& folder);

/// $XDG_DATA_HOME/kickplate, or ~/.local/share/kickplate.
[[nodiscard]] std::string usual_data_folder();

/// Runs the desktop program; the exit code. What stands in the way is printed.
int run_desktop(const Desktop& desktop);

}  // namespace kp::native
