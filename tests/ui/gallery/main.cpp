// The gallery as a page: ?screen=open&theme=night. Not shipped; the browser tests look at it.
#include <cstdio>
#include <memory>
#include <string>
#include <string_view>

#include <emscripten.h>

#include "app/content.hpp"
#include "platform/web/bundle.hpp"
#include "platform/web/page.hpp"
#include "ui/gallery/screens.hpp"
#include "ui/program.hpp"
#include "ui/view.hpp"

namespace {

using namespace kp;

class Gallery final : public ui::Program {
 public:
  Gallery(app::Content content, const std::string& name)
      : content_(std::move(content)),
        snapshot_(test::gallery_screen(name, content_.drawings)) {}

  double think() override { return -1; }
  void draw(ui::Ui& ui) override {
    ui::Actions actions;
    view_.draw(ui, snapshot_, content_.drawings, actions);
    for (const app::Action& action : actions) {
      std::printf("action %d %s %s %g\n", static_cast<int>(action.verb), action.id.c_str(),
                  action.text.c_str(), action.value);
      for (app::CheckBox& box : snapshot_.card.checks) {
        if (action.verb == app::Verb::tick_check) box.ticked = !box.ticked;
      }
      ui.when.now();
    }
  }

 private:
  app::Content content_;
  app::Snapshot snapshot_;
  ui::View view_;
};

}  // namespace

extern "C" EMSCRIPTEN_KEEPALIVE void kp_start(const char* content, int size, const char* wishes) {
  const std::string wish(wishes);
  ui::Taste taste;
  taste.theme = wish.find("night") == 0 ? ui::ThemeKind::night
                : wish.find("sun") == 0 ? ui::ThemeKind::sun
                                        : ui::ThemeKind::day;
  taste.text_percent = wish.find(" 170") != std::string::npos   ? 170
                       : wish.find(" 130") != std::string::npos ? 130
                                                                : 100;
  const std::string name = wish.substr(wish.rfind(' ') + 1);
  web::run(std::make_unique<Gallery>(
               app::load_content(web::read_bundle(
                   std::string_view(content, static_cast<std::size_t>(size)))),
               name),
           taste);
}
