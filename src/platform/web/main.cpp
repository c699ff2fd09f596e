// The page's start: content in, stores opened, the app behind the screens.
#include <memory>
#include <string>
#include <string_view>

#include <emscripten.h>

#include "platform/memory/memory_store.hpp"
#include "platform/web/bundle.hpp"
#include "platform/web/indexeddb_store.hpp"
#include "platform/web/page.hpp"
#include "ui/app_program.hpp"

namespace {

using namespace kp;

// Everything outlives the page's scripts, so it is made once and never taken down.
struct Tool {
  web::IndexedDbStore field{"kickplate"};
  web::IndexedDbStore practice{"kickplate-practice"};
  memory::MemoryStore spare;
  std::unique_ptr<port::Clock> clock = web::make_clock();
  std::unique_ptr<port::Identity> identity = web::make_identity();
  std::unique_ptr<port::Share> share = web::make_share();
};

bool has_word(std::string_view text, std::string_view word) {
  return text.find(word) != std::string_view::npos;
}

}  // namespace

extern "C" EMSCRIPTEN_KEEPALIVE void kp_start(const char* content, int size, const char* wishes) {
  auto* tool = new Tool;
  const std::string_view wish(wishes);
  ui::Taste taste;
  taste.theme = has_word(wish, "night") ? ui::ThemeKind::night
                : has_word(wish, "sun") ? ui::ThemeKind::sun
                                        : ui::ThemeKind::day;
  taste.text_percent = has_word(wish, "170") ? 170 : has_word(wish, "130") ? 130 : 100;
  taste.reduced_motion = has_word(wish, "still");
  app::Outside outside;
  outside.field = &tool->field;
  outside.practice = &tool->practice;
  outside.spare = &tool->spare;
  outside.clock = tool->clock.get();
  outside.identity = tool->identity.get();
  outside.share = tool->share.get();
  auto program = std::make_unique<ui::AppProgram>(
      app::load_content(web::read_bundle(std::string_view(content, static_cast<std::size_t>(size)))),
      outside);
  program->start(has_word(wish, "demo"));
  web::run(std::move(program), taste);
}
