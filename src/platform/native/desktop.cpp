#include "platform/native/desktop.hpp"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <utility>

#include "platform/memory/memory_store.hpp"
#include "platform/memory/refused_store.hpp"
#include "platform/native/sqlite_store.hpp"
#include "platform/native/window.hpp"
#include "ui/app_program.hpp"

namespace kp::native {
namespace fs = std::filesystem;

std::vector<app::NamedBytes> read_assets(const std::string& folder) {
  std::vector<app::NamedBytes> files;
  std::error_code trouble;
  for (const char* part : {"packs", "parts", "demo", "strings"}) {
    for (fs::recursive_directory_iterator at(fs::path(folder) / part, trouble), end; at != end;
         at.increment(trouble)) {
      const std::string ending = at->path().extension().string();
      if (!at->is_regular_file() || (ending != ".json" && ending != ".svg")) continue;
      std::ifstream in(at->path(), std::ios::binary);
      files.push_back(app::NamedBytes{
          fs::relative(at->path(), folder, trouble).generic_string(),
          std::string(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>())});
    }
  }
  std::sort(files.begin(), files.end(),
            [](const app::NamedBytes& a, const app::NamedBytes& b) { return a.name < b.name; });
  return files;
}

std::string usual_data_folder() {
  // Single-threaded here, and read once.
  const char* data = std::getenv("XDG_DATA_HOME");
  if (data != nullptr && *data != '\0') return std::string(data) + "/kickplate";
  const char* home = std::getenv("HOME");
  return std::string(home != nullptr ? home : ".") + "/.local/share/kickplate";
}

namespace {

/// The store, or one that says on the screen why there is none.
std::unique_ptr<port::Store> open_store(const std::string& path) {
  auto store = SqliteStore::open(path);
  if (store.has_value()) return std::move(store.value());
  std::fprintf(stderr, "kickplate: %s: %s\n", path.c_str(), store.error().text().c_str());
  return std::make_unique<memory::RefusedStore>(store.error());
}

}  // namespace

int run_desktop(const Desktop& desktop) {
  const std::string data = desktop.data.empty() ? usual_data_folder() : desktop.data;
  std::error_code trouble;
  fs::create_directories(data, trouble);
  const auto field = open_store(data + "/jobs.sqlite");
  const auto practice = open_store(data + "/practice.sqlite");
  memory::MemoryStore spare;
  const auto clock = make_clock();
  const auto identity = make_identity();
  const auto share = make_share(data + "/documents");
  app::Outside outside;
  outside.field = field.get();
  outside.practice = practice.get();
  outside.spare = &spare;
  outside.clock = clock.get();
  outside.identity = identity.get();
  outside.share = share.get();
  ui::AppProgram program(app::load_content(read_assets(desktop.assets)), outside);
  program.start(desktop.demo);
  ui::Taste taste;
  taste.theme = desktop.theme == "night" ? ui::ThemeKind::night
                : desktop.theme == "sun" ? ui::ThemeKind::sun
                                         : ui::ThemeKind::day;
  taste.text_percent = desktop.text_percent;
  WindowOptions options;
  options.width = desktop.width;
  options.height = desktop.height;
  options.density = desktop.density;
  options.picture = desktop.picture;
  const auto ended = run_window(program, taste, options);
  if (!ended.has_value()) {
    std::fprintf(stderr, "kickplate: %s\n", ended.error().text().c_str());
    return 1;
  }
  return ended.value();
}

}  // namespace kp::native
