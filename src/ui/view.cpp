#include "ui/view.hpp"

#include "base/text.hpp"
#include "ui/kit.hpp"

namespace kp::ui {
namespace {

constexpr std::string_view kStages[] = {"Arrive", "Make safe", "Find", "Open",
                                        "Swap",   "Close",     "Prove", "Bill"};

Energy energy_of(const safety::StripSide& side) {
  Energy out;
  out.closed = side.symbol == safety::Symbol::closed;
  out.proved = side.symbol == safety::Symbol::crossed;
  out.word = side.word;
  out.under = side.line;
  switch (side.meaning) {
    case safety::Meaning::danger: out.safety = Safety::danger; break;
    case safety::Meaning::not_proved: out.safety = Safety::unproved; break;
    case safety::Meaning::safe: out.safety = Safety::safe; break;
  }
  return out;
}

app::Action sheet_action(const app::Snapshot& snapshot, const char* name) {
  app::Action action;
  action.verb = name == nullptr ? app::Verb::close_sheet : app::Verb::show_sheet;
  if (name != nullptr) action.id = name;
  action.revision = snapshot.revision;
  return action;
}

NoticeKind kind_of(app::NoticeKind kind) {
  switch (kind) {
    case app::NoticeKind::trouble: return NoticeKind::danger;
    case app::NoticeKind::practice: return NoticeKind::info;
    case app::NoticeKind::advice: break;
  }
  return NoticeKind::warn;
}

}  // namespace

void View::bands(Ui& ui, const app::Snapshot& snapshot) {
  int index = 0;
  for (const app::Notice& one : snapshot.notices) {
    const Scope scope(ui, integer_text(index++));
    if (one.buttons.empty()) {
      (void)notice(ui, kind_of(one.kind), one.text);
    } else if (one.buttons.size() == 1) {
      if (notice(ui, kind_of(one.kind), one.text, one.buttons[0].label)) say(one.buttons[0].action);
    } else {
      (void)notice(ui, kind_of(one.kind), one.text);
      ui.gap(6);
      ui.columns({1, 1}, 8, [&](int column) {
        const app::Button& spec = one.buttons[to_size(column)];
        if (button(ui, Button{.label = spec.label, .look = Button::Look::outline, .height = 46})) {
          say(spec.action);
        }
      });
    }
    ui.gap(6);
  }
}

void View::sheet(Ui& ui, const app::Snapshot& snapshot) {
  const app::Sheet& spec = *snapshot.sheet;
  for (const std::string& refusal : snapshot.card.refusal) {
    (void)notice(ui, NoticeKind::warn, refusal);
    ui.gap(10);
  }
  for (const std::string& paragraph : spec.paragraphs) {
    words(ui, type::kText, ui.colors().ink, paragraph);
    ui.gap(10);
  }
  if (spec.rows_first) {
    rows(ui, spec.title, spec.rows, false);
    ui.gap(14);
  }
  texts(ui, spec.texts);
  if (!spec.rows_first) rows(ui, spec.title, spec.rows, false);
}

void View::sheet_foot(Ui& ui, const app::Snapshot& snapshot) {
  const app::Sheet& spec = *snapshot.sheet;
  for (std::size_t i = 0; i < spec.buttons.size(); ++i) {
    const app::Button& one = spec.buttons[i];
    bool pressed = false;
    if (one.hold) {
      const std::string key = cat("sheet/", one.label);
      Hold held;
      held.label = one.label;
      held.key = key;
      held.enabled = one.enabled;
      held.why_not = one.detail;
      held.from_ms = shown_ms_;
      pressed = hold(ui, held);
    } else {
      Button plain;
      plain.label = one.label;
      plain.hint = one.detail;
      plain.enabled = one.enabled;
      plain.look = Button::Look::outline;
      plain.height = 52;
      pressed = button(ui, plain);
    }
    if (pressed) say(one.action);
    ui.gap(8);
  }
}

bool View::back(const app::Snapshot& snapshot, Actions& out) {
  if (plan_open_) {
    plan_open_ = false;
    return true;
  }
  if (!snapshot.sheet) return false;
  out.push_back(sheet_action(snapshot, nullptr));
  return true;
}

void View::tell_strip(Ui& ui, const safety::Strip& strip) {
  const auto tell = [&](const safety::StripSide& side, std::string& said) {
    std::string now = cat(side.word, ". ", side.line);
    if (now == said) return;
    said = std::move(now);
    ui.announce(said, side.meaning == safety::Meaning::danger ? Urgency::danger : Urgency::rest);
  };
  tell(strip.power, power_said_);
  tell(strip.water, water_said_);
}

void View::draw(Ui& ui, const app::Snapshot& snapshot, const Drawings& drawings, Actions& out) {
  out_ = &out;
  drawings_ = &drawings;
  note_card(ui, snapshot);
  if (snapshot.page == app::Page::job) {
    tell_strip(ui, snapshot.strip);
  } else {
    power_said_.clear();   // the next job's strip is told from its beginning
    water_said_.clear();
  }
  const auto bands_part = [&] { bands(ui, snapshot); };
  const auto look_part = [&] { look(ui, snapshot); };
  const auto act_part = [&] { act(ui, snapshot); };
  const auto foot_part = [&] { foot(ui, snapshot); };
  const auto ways_part = [&] { ways(ui, snapshot.card); };
  const auto plan_part = [&] { plan(ui, snapshot, true); };
  const auto sheet_part = [&] { sheet(ui, snapshot); };
  const auto sheet_foot_part = [&] { sheet_foot(ui, snapshot); };
  const auto plan_sheet = [&] { plan(ui, snapshot, false); };

  Screen spec;
  spec.name = snapshot.page == app::Page::start ? Words("start") : Words(snapshot.stage_title);
  const bool job = snapshot.page == app::Page::job;
  spec.has_strip = job;
  spec.strip = Strip{energy_of(snapshot.strip.power), energy_of(snapshot.strip.water)};
  if (job) {
    spec.rail.stages.assign(std::begin(kStages), std::end(kStages));
    spec.rail.stage = std::clamp(snapshot.stage, 0, 7);
    if (to_size(spec.rail.stage) < snapshot.rail.size()) {
      spec.rail.within = static_cast<float>(snapshot.rail[to_size(spec.rail.stage)]);
    }
    spec.rail.where = snapshot.stage_where;
    spec.rail.clock = snapshot.clock;
    spec.rail.clock_stopped = !snapshot.clock_runs || snapshot.paused;
    spec.rail.pressable = !snapshot.plan.empty();
  }
  if (!snapshot.notices.empty()) spec.bands = bands_part;
  spec.look = look_part;
  spec.look_fills = snapshot.exploded.has_value();
  spec.look_least = spec.look_fills ? 150.0F : 88.0F;
  spec.act = act_part;
  spec.foot = foot_part;
  spec.ways = ways_part;
  if (!snapshot.plan.empty()) spec.aside = plan_part;
  Sheet open;
  if (snapshot.sheet) {
    open.title = snapshot.sheet->title;
    open.content = sheet_part;
    open.foot = sheet_foot_part;
    open.closes = false;
    spec.sheet = &open;
  } else if (plan_open_) {
    open.title = snapshot.plan_title;
    open.content = plan_sheet;
    spec.sheet = &open;
  }
  const ScreenTouched touched = screen(ui, spec);
  if (touched.power) say(sheet_action(snapshot, "power"));
  if (touched.water) say(sheet_action(snapshot, "water"));
  if (touched.stage >= 0 && !snapshot.plan.empty()) plan_open_ = true;
  if (touched.close_sheet) {
    if (snapshot.sheet) {
      say(sheet_action(snapshot, nullptr));
    } else {
      plan_open_ = false;
    }
  }
}

}  // namespace kp::ui
