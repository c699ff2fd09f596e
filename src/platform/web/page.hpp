#pragma once
// platform/web: the page. Own shim of Pointer Events, a loop that stops when nothing is due, the
// mirror of the semantics list in real elements, documents as Blobs. Functions named kp_page_*
// are JavaScript (web/bridge.js), functions named kp_on_* are called by it.

#include <memory>

#include "port/outside.hpp"
#include "ui/front.hpp"
#include "ui/program.hpp"

namespace kp::web {

/// Takes the program and starts drawing. Never fails: without WebGL the mirror shows the page.
void run(std::unique_ptr<ui::Program> program, const ui::Taste& taste);

/// Draws soon; for what finishes outside a frame (a store's completion).
void wake();

[[nodiscard]] std::unique_ptr<port::Clock> make_clock();
[[nodiscard]] std::unique_ptr<port::Identity> make_identity();
[[nodiscard]] std::unique_ptr<port::Share> make_share();

}  // namespace kp::web
