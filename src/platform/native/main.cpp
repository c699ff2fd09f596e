// kickplate: the desktop program.
#include <cstdio>
#include <cstdlib>
#include <string>

#include "cli/cli.hpp"
#include "platform/native/command_files.hpp"
#include "platform/native/desktop.hpp"

#ifndef KP_ASSETS
#define KP_ASSETS "assets"
#endif

namespace {

constexpr char kUsage[] =
    "usage: kickplate [--demo] [--assets FOLDER] [--data FOLDER] [--theme day|night|sun]\n"
    "                 [--text 100|130|170] [--size WIDTHxHEIGHT] [--density N] [--picture FILE]\n";

int run_command(int count, char** words) {
  kp::native::CommandFiles files(KP_ASSETS);
  kp::cli::Output output;
  const int code = kp::cli::run(std::vector<std::string>(words + 1, words + count), files, output);
  std::fputs(output.out.c_str(), stdout);
  std::fputs(output.err.c_str(), stderr);
  return code;
}

}  // namespace

int main(int count, char** words) {
  if (count > 1 && kp::cli::is_command(words[1])) {
    return run_command(count, words);
  }
  kp::native::Desktop desktop;
  desktop.assets = KP_ASSETS;
  for (int i = 1; i < count; ++i) {
    const std::string word = words[i];
    if (word == "--demo") {
      desktop.demo = true;
      continue;
    }
    if (i + 1 >= count) {
      std::fputs(kUsage, stderr);
      return 2;
    }
    const std::string value = words[++i];
    if (word == "--assets") {
      desktop.assets = value;
    } else if (word == "--data") {
      desktop.data = value;
    } else if (word == "--theme") {
      desktop.theme = value;
    } else if (word == "--text") {
      desktop.text_percent = std::atoi(value.c_str());
    } else if (word == "--density") {
      desktop.density = std::atof(value.c_str());
    } else if (word == "--picture") {
      desktop.picture = value;
    } else if (word == "--size" &&
               std::sscanf(value.c_str(), "%dx%d", &desktop.width, &desktop.height) == 2) {
      continue;
    } else {
      std::fputs(kUsage, stderr);
      return 2;
    }
  }
  return kp::native::run_desktop(desktop);
}
