// table: screens with made-up figures, for looking at.
#include "ui/gallery/screens.hpp"

#include "base/text.hpp"

namespace kp::test {
namespace {

using app::Mark;
using app::Row;
using app::Snapshot;
using app::Verb;

app::Action act(Verb verb, std::string id = {}) {
  app::Action action;
  action.verb = verb;
  action.id = std::move(id);
  action.revision = 7;
  return action;
}

app::Button tap(std::string label, Verb verb, std::string id = {}) {
  app::Button button;
  button.label = std::move(label);
  button.action = act(verb, std::move(id));
  return button;
}

app::Button held(std::string label, Verb verb, std::string id) {
  app::Button button = tap("Hold: " + label, verb, std::move(id));
  button.detail = "slide off to cancel";
  button.hold = true;
  return button;
}

Row line(std::string id, std::string title, Mark mark, std::string figure = {},
         std::string detail = {}, int number = 0) {
  Row row;
  row.id = std::move(id);
  row.title = std::move(title);
  row.mark = mark;
  row.figure = std::move(figure);
  row.detail = std::move(detail);
  row.number = number;
  return row;
}

safety::Caution caution(std::string sentence,
                        safety::SignalWord word = safety::SignalWord::warning,
                        std::string sign = {}) {
  safety::Caution out;
  out.word = word;
  out.sentence = std::move(sentence);
  out.sign = std::move(sign);
  return out;
}

void strip(Snapshot& out, const char* power, const char* power_line, safety::Meaning power_is,
           const char* water, const char* water_line, safety::Meaning water_is) {
  const auto side = [](const char* word, const char* text, safety::Meaning meaning) {
    safety::StripSide one;
    one.word = word;
    one.line = text;
    one.meaning = meaning;
    one.symbol = meaning == safety::Meaning::danger ? safety::Symbol::closed
                 : meaning == safety::Meaning::safe ? safety::Symbol::crossed
                                                    : safety::Symbol::open;
    return one;
  };
  out.strip.power = side(power, power_line, power_is);
  out.strip.water = side(water, water_line, water_is);
}

Snapshot stage(int index, const char* title, const char* where, const char* clock, double share) {
  Snapshot out;
  out.revision = 7;
  out.page = app::Page::job;
  out.stage = index;
  out.stage_title = title;
  out.stage_where = where;
  out.clock = clock;
  out.clock_runs = true;
  out.rail.assign(8, 0.0);
  for (int i = 0; i < index; ++i) out.rail[static_cast<std::size_t>(i)] = 1;
  out.rail[static_cast<std::size_t>(index)] = share;
  strip(out, "DEAD", "Power, proved 10:42", safety::Meaning::safe, "SHUT", "Water, relieved 10:44",
        safety::Meaning::safe);
  out.card.id = title;
  return out;
}

Snapshot arrive() {
  Snapshot out = stage(0, "Arrive", "which machine", "00:01:12", 0.5);
  strip(out, "LIVE", "Power, taken as live", safety::Meaning::danger, "OPEN", "Water, taken as on",
        safety::Meaning::danger);
  out.heading = "Type the model from the plate";
  out.heading_detail = "Top edge of the door, with the door open";
  app::TextField field;
  field.id = "plate";
  field.label = "Model";
  field.value = "CB 41O-P";
  field.mono = true;
  field.hint = "Read as CB 410-P: O for 0";
  field.changed = act(Verb::plate_typed);
  out.field = field;
  const auto machine = [&](const char* id, const char* title, const char* detail,
                           const char* drawing, Mark mark) {
    Row row = line(id, title, mark, {}, detail);
    row.drawing = drawing;
    row.tap = act(Verb::choose_machine, id);
    out.rows.push_back(row);
  };
  machine("pump", "Pump module, fixed riser", "CB 410 to 430 · built in · 120 V",
          "layout-pump-module", Mark::chosen);
  machine("trap", "Settling trap, telescopic riser", "CB 400 · on castors · 120 V",
          "layout-telescopic", Mark::choice);
  machine("rear", "Pump module, rear feed", "CB 450, 470 · electronic · 120 V", "layout-rear-feed",
          Mark::choice);
  out.card.cautions = {caution("Take it as live until you have proved it dead.",
                               safety::SignalWord::danger, "W012")};
  out.card.primary = tap("This is the machine", Verb::choose_machine, "pump");
  out.card.ways_out = {tap("No plate", Verb::show_sheet, "features"),
                       tap("Photograph it", Verb::show_sheet, "photo"),
                       tap("Not listed", Verb::show_sheet, "none")};
  return out;
}

Snapshot make_safe() {
  Snapshot out = stage(1, "Make safe", "prove it dead", "00:06:51", 0.55);
  strip(out, "NOT PROVED", "Power, isolated 10:39", safety::Meaning::not_proved, "SHUT",
        "Water, relieved 10:44", safety::Meaning::safe);
  out.rows = {line("1", "Tester on a known live point", Mark::done, "121 V", {}, 1),
              line("2", "Line to neutral", Mark::done, "0.0 V", {}, 2),
              line("3", "Line to earth", Mark::now, {}, {}, 3),
              line("4", "Neutral to earth", Mark::todo, {}, {}, 4),
              line("5", "Tester on the known point again", Mark::todo, {}, {}, 5)};
  app::NumberField number;
  number.id = "line-earth";
  number.label = "Touch line and earth. What does it read?";
  number.unit = "V~";
  number.most = 1000;
  number.entered = act(Verb::fact, "2");
  number.confirm = "Next reading";
  out.card.number = number;
  return out;
}

Snapshot find() {
  Snapshot out = stage(2, "Find", "dishes wet and cold", "00:12:40", 0.4);
  const auto suspect = [&](const char* id, const char* title, const char* part, double share,
                           const char* figure, Mark mark) {
    Row row = line(id, title, mark, figure, part);
    row.group = "What fits, by experience";
    row.bar = share;
    row.tap = act(Verb::choose_part, id);
    out.rows.push_back(row);
  };
  suspect("heater", "Heater open", "heater", 0.46, "46 %", Mark::chosen);
  suspect("stat", "Thermostat stuck open", "thermostat", 0.21, "21 %", Mark::choice);
  suspect("cam", "Timer contact 4 burnt", "timer", 0.17, "17 %", Mark::choice);
  suspect("fuse", "Thermal fuse open", "thermal fuse", 0.11, "11 %", Mark::choice);
  suspect("else", "Anything else", "", 0.05, "5 %", Mark::choice);
  out.card.sentence = "Measure the heater before you reach it.";
  out.card.how = "Heater, A to B, good 13.7 to 16.0 Ω";
  out.card.primary = tap("Do this test", Verb::choose_test, "heater-ohm");
  out.card.secondary = {tap("Reach it", Verb::choose_part, "heater")};
  out.card.ways_out = {tap("Other tests", Verb::show_sheet, "tests"),
                       tap("Other part", Verb::show_sheet, "parts"),
                       tap("No fault", Verb::go_stage, "prove")};
  return out;
}

// The heater's strip with the probes at its two ends, and what a reading would leave.
Snapshot advice() {
  using app::CircuitKind;
  Snapshot out = find();
  for (Row& row : out.rows) {
    row.detail.clear();
    row.tap.reset();
    row.mark = Mark::none;
  }
  app::CircuitView strip;
  strip.caption = "Heat, step 9: the one live path";
  strip.spoken = "Heat, step 9: door switch closed, cam 4 closed, fuse, thermostat open, heater";
  strip.meter = "Ω";
  strip.cells = 5;
  const auto symbol = [&](CircuitKind kind, const char* name, double along, bool closed = true) {
    app::CircuitSymbol one;
    one.kind = kind;
    one.name = name;
    one.along = along + 0.5;
    one.closed = closed;
    one.load = kind == CircuitKind::heater;
    one.suspect = one.load;
    strip.symbols.push_back(one);
  };
  symbol(CircuitKind::contact, "door", 0);
  symbol(CircuitKind::cam, "cam 4", 1);
  symbol(CircuitKind::fuse, "thermal fuse", 2);
  symbol(CircuitKind::thermostat, "stat", 3, false);
  symbol(CircuitKind::heater, "heater", 4);
  for (int i = 0; i <= 5; ++i) {
    app::CircuitPoint point;
    point.name = cat("Point ", std::string(1, static_cast<char>('1' + i)));
    point.along = i;
    point.letter = i == 4 ? "A" : i == 5 ? "B" : "";
    if (i > 0) point.tap = act(Verb::show_sheet, "point");
    strip.points.push_back(point);
  }
  out.circuit = strip;
  app::ChartView chart;
  for (int i = 0; i < 16; ++i) chart.steps.push_back(cat("Step name ", std::string(1, static_cast<char>('a' + i))));
  chart.present = 8;
  const auto cam = [&](const char* name, unsigned on, bool near = false) {
    app::ChartView::Line row{name, {}, near};
    for (unsigned i = 0; i < 16; ++i) row.on.push_back(((on >> i) & 1U) != 0);
    chart.lines.push_back(row);
  };
  cam("Cam 1, timer motor", 0x7FFF);
  cam("Cam 2, fill valve", 0x1111);
  cam("Cam 3, motor wash", 0x3BB8);
  cam("Cam 4, heater", 0x0F00, true);
  cam("Cam 5, dispenser", 0x0040);
  out.chart = chart;
  out.card = {};
  out.card.id = "advice";
  out.card.sentence = "Next: heater, A to B, in ohms";
  out.card.how = "Pull one lead off the heater first.";
  out.card.facts = {"2 min, after the toe panel that you need off anyway."};
  out.card.band = app::Band{0.38, 0.58, "0", "good 13.7 to 16.0 Ω", "OL"};
  out.card.outcomes = {{"OL or far above", "heater 97 %"},
                       {"In the band", "thermostat 43 %, cam 34 %"},
                       {"Under 13 Ω", "shorted turn 88 %"}};
  out.card.primary = tap("Enter reading", Verb::choose_test, "heater-ohm");
  out.card.secondary = {tap("OL", Verb::test_open_loop, "heater-ohm")};
  out.card.ways_out = {tap("Other tests", Verb::show_sheet, "tests"),
                       tap("Why this one", Verb::show_sheet, "why"),
                       tap("I know it", Verb::show_sheet, "parts")};
  return out;
}

Snapshot test_card() {
  Snapshot out = find();
  out.card = {};
  out.card.id = "test";
  out.card.cautions = {caution("Stored charge. Wait and measure before you touch.",
                               safety::SignalWord::warning, "W012")};
  app::NumberField number;
  number.id = "heater-ohm";
  number.label = "Heater, A to B. What does it read?";
  number.unit = "Ω";
  number.most = 10000000;
  number.open_loop = true;
  number.band = "good 13.7 to 16.0 Ω";
  number.entered = act(Verb::test_reading, "heater-ohm");
  number.entered_open_loop = act(Verb::test_open_loop, "heater-ohm");
  number.confirm = "Keep the reading";
  out.card.number = number;
  out.card.ways_out = {tap("Other tests", Verb::show_sheet, "tests"),
                       tap("Not now", Verb::choose_test)};
  return out;
}

struct Shown {
  const char* drawing;
  const char* name;
  double y;
  double away;
  scene::ItemState state;
};

void exploded(Snapshot& out, const ui::Drawings& drawings) {
  using scene::ItemState;
  const Shown shown[] = {
      {"hub-cap", "hub cap", -60, -1, ItemState::removed},
      {"lower-arm", "lower arm", -44, -1, ItemState::removed},
      {"screen", "screen", -30, -1, ItemState::at_rest},
      {"housing", "housing", -10, 1, ItemState::at_rest},
      {"separator-plate", "plate", 12, 1, ItemState::at_rest},
      {"chopper", "chopper", 20, 1, ItemState::at_rest},
      {"sump", "sump", 40, 1, ItemState::at_rest},
      {"motor", "motor", 90, 1, ItemState::at_rest},
      {"motor-mount", "motor mount", 130, 1, ItemState::at_rest},
  };
  app::Exploded view;
  view.about = act(Verb::show_sheet, "item-");
  view.caption = "Where the probes go";
  view.name = "Exploded view: screen, housing, sump, motor";
  int id = 0;
  for (const Shown& one : shown) {
    scene::Item item;
    item.id = id++;
    item.name = one.name;
    const auto found = drawings.find(one.drawing);
    item.drawing = found == drawings.end() ? nullptr : &found->second;
    item.home = scene::Vec(0, one.y);
    item.away = scene::Vec(0, one.away);
    item.state = one.state;
    if (id > 1) item.covered_by = {one.away < 0 ? id - 2 : id};
    if (one.away > 0 && id == 9) item.covered_by.clear();
    view.items.push_back(item);
  }
  scene::Item spring;
  spring.id = 20;
  spring.name = "saddle";
  const auto found = drawings.find("saddle-spring");
  spring.drawing = found == drawings.end() ? nullptr : &found->second;
  spring.home = scene::Vec(70, -6);
  spring.copies = {scene::Vec(-70, -6)};
  spring.away = scene::Vec(0, 1);
  spring.state = ItemState::next;
  spring.count = 3;
  spring.fastener = true;
  view.items.push_back(spring);
  out.exploded = std::move(view);
}

void plan(Snapshot& out) {
  out.plan_title = "Plan to the heater";
  out.plan_detail = "27 min, proved shortest";
  const auto step = [&](const char* group, const char* title, Mark mark) {
    Row row = line(title, title, mark);
    row.group = group;
    out.plan.push_back(row);
  };
  step("In its place · screwdriver", "Toe panel, 2 screws", Mark::done);
  step("In its place · screwdriver", "Worktop fixing, 2 screws", Mark::done);
  step("Pulled out · adjustable spanner", "Water supply, 1 nut", Mark::done);
  step("Pulled out · adjustable spanner", "Drain hose, 1 clamp", Mark::done);
  step("Pulled out · adjustable spanner", "Supply leads, 3", Mark::done);
  step("On its back, two people · hook tool", "Hub cap", Mark::done);
  step("On its back, two people · hook tool", "Saddle springs, 3", Mark::now);
  step("On its back, two people · hook tool", "Drain hose at the pump", Mark::todo);
  step("On its back, two people · hook tool", "Pump module out", Mark::todo);
  step("On its back · adjustable spanner", "Heater leads, 2", Mark::todo);
  step("On its back · adjustable spanner", "Heater leg nuts, 2", Mark::todo);
  step("Upright, door open · by hand", "Heater off its clip, 1", Mark::todo);
  step("Upright, door open · by hand", "Heater out", Mark::target);
}

Snapshot open(const ui::Drawings& drawings) {
  Snapshot out = stage(3, "Open", "7 of 19", "00:31:08", 0.38);
  exploded(out, drawings);
  plan(out);
  out.card.cautions = {caution("Sharp rim under the tub. Wear gloves.", safety::SignalWord::caution,
                               "W022")};
  out.card.sentence = "Unhook the three saddle springs.";
  out.card.how = "Hook tool · unit on its back · about 15 s each";
  out.card.facts = {"On the way back: Each spring sits in its notch."};
  out.card.primary = held("springs unhooked", Verb::steps_done, "saddle");
  out.card.ways_out = {tap("Why this step", Verb::show_sheet, "why"),
                       tap("Can't do it", Verb::show_sheet, "cannot"),
                       tap("Pause", Verb::show_sheet, "pause")};
  return out;
}

Snapshot close(const ui::Drawings& drawings) {
  Snapshot out = stage(5, "Close", "14 of 19", "00:58:20", 0.7);
  exploded(out, drawings);
  plan(out);
  out.card.sentence = "Wet the sealing ring.";
  out.card.how = "A dry ring tears and leaks on the first fill.";
  app::CheckBox ring;
  ring.id = "ring";
  ring.title = "Ring sits all round";
  ring.ticked = true;
  ring.tap = act(Verb::tick_check, "ring");
  out.card.checks = {ring};
  out.card.primary = held("wetted, sits all round", Verb::steps_done, "ring");
  out.card.ways_out = {tap("Why this step", Verb::show_sheet, "why"),
                       tap("Ring is torn", Verb::show_sheet, "cannot"),
                       tap("Pause", Verb::show_sheet, "pause")};
  return out;
}

Snapshot prove() {
  Snapshot out = stage(6, "Prove", "before power goes back", "01:06:02", 0.35);
  out.rows = {line("1", "Earth, plug pin to frame", Mark::done, "0.11 Ω", "at most 0.30"),
              line("2", "Insulation, 500 V", Mark::done, "> 20 MΩ", "at least 1.0"),
              line("3", "Nothing loose, nothing left inside", Mark::done),
              line("4", "Hoses: clamps on, no kink", Mark::now),
              line("5", "Fill and wait two minutes: dry", Mark::todo),
              line("6", "Heats: 49 to 60 °C", Mark::todo),
              line("7", "Drains, no return", Mark::todo),
              line("8", "Level, fixed, does not tip", Mark::todo)};
  out.card.sentence = "Run a finger along each hose.";
  out.card.how = "Clamp past the bead, no kink behind the pump.";
  out.card.primary = held("hoses right", Verb::prove_looked, "hoses");
  out.card.ways_out = {tap("Why", Verb::show_sheet, "why"), tap("Not right", Verb::prove_looked),
                       tap("Pause", Verb::show_sheet, "pause")};
  return out;
}

Snapshot bill() {
  Snapshot out = stage(7, "Bill", "quoted 210 to 265", "01:24:55", 0.6);
  strip(out, "LIVE", "Power, back on 11:52", safety::Meaning::danger, "OPEN",
        "Water, back on 11:49", safety::Meaning::danger);
  app::BillView view;
  view.bar = {{"travel", 0.075, 0}, {"diagnosis", 0.115, 1}, {"labour", 0.165, 2},
              {"labour", 0.235, 2}, {"labour", 0.135, 2},    {"labour", 0.155, 2},
              {"waiting", 0.085, 3}};
  view.lines = {line("1", "Call-out", Mark::none, "65.00"),
                line("2", "Labour, 1.2 h at 95.00", Mark::none, "114.00", "66 min, by six minutes"),
                line("3", "Heater element", Mark::none, "48.75", "HE-120-9"),
                line("4", "Pump seal", Mark::none, "11.20", "while it was open"),
                line("5", "Sales tax 8.25 %", Mark::none, "4.95", "on parts")};
  view.total_label = "To pay";
  view.total = "243.90 USD";
  out.bill = view;
  out.card.signature = true;
  out.card.primary = tap("Hand over invoice and record", Verb::sign);
  out.card.ways_out = {tap("Change a line", Verb::show_sheet, "time"),
                       tap("Credit", Verb::show_sheet, "credit"), tap("Not now", Verb::sign, "none")};
  return out;
}

Snapshot start() {
  Snapshot out;
  out.revision = 7;
  out.heading = "Kickplate";
  out.heading_detail = "Safe repair of domestic dishwashers, from plate to bill.";
  Row job = line("job", "R. Ashdown, heater", Mark::choice, "10:42", "CB 410-P · Open, 7 of 19");
  job.group = "Jobs";
  job.tap = act(Verb::open_job, "job");
  out.rows = {job};
  out.card.id = "start";
  out.card.cautions = {caution("Follow local codes. Leave licensed work to licensed people.")};
  out.card.primary = tap("New job", Verb::new_job);
  out.card.secondary = {tap("Practice", Verb::new_practice)};
  out.card.ways_out = {tap("Demo job", Verb::open_demo), tap("Settings", Verb::show_sheet)};
  return out;
}

Snapshot sheet(const ui::Drawings& drawings) {
  Snapshot out = open(drawings);
  app::Sheet over;
  over.title = "Why can it not be done?";
  over.paragraphs = {"The plan then takes another way, if there is one."};
  for (const char* reason : {"Seized or rounded off", "Not there", "Broken", "Not as drawn"}) {
    over.buttons.push_back(tap(reason, Verb::step_blocked, reason));
  }
  over.buttons.push_back(tap("Back", Verb::close_sheet));
  out.sheet = over;
  return out;
}

Snapshot trouble(const ui::Drawings& drawings) {
  Snapshot out = open(drawings);
  app::Notice notice;
  notice.kind = app::NoticeKind::trouble;
  notice.text = "Not saved, so not confirmed: the store of this browser is full.";
  notice.buttons = {tap("Export", Verb::export_journal)};
  out.notices = {notice};
  out.card.refusal = {"Prove it dead again: the unit was left alone for 12 minutes."};
  return out;
}

Snapshot paused() {
  Snapshot out = stage(3, "Open", "7 of 19", "00:31:08", 0.38);
  out.paused = true;
  out.card.sentence = "Paused. The clock counts as waiting.";
  out.card.how = "A long pause makes the proof old: it is asked for again.";
  out.card.primary = tap("Go on", Verb::resume);
  out.card.ways_out = {tap("End the visit", Verb::show_sheet, "end"),
                       tap("All jobs", Verb::leave_job)};
  return out;
}

// Every drawing there is, in one list.
Snapshot parts(const ui::Drawings& drawings) {
  Snapshot out = find();
  app::Sheet sheet;
  sheet.title = "Parts";
  for (const auto& [id, drawing] : drawings) {
    Row row = line("part-" + id, id, Mark::choice, {}, "10-1");
    row.drawing = id;
    row.tap = act(Verb::choose_part, id);
    sheet.rows.push_back(row);
  }
  sheet.buttons = {tap("Back", Verb::close_sheet)};
  out.sheet = sheet;
  return out;
}

// Every word and every sign at once, as no card shows them.
Snapshot cautions(const ui::Drawings& drawings) {
  using safety::SignalWord;
  Snapshot out = open(drawings);
  out.card.id = "cautions";
  out.card.facts.clear();
  out.card.cautions = {
      caution("Keep hands out until the power is proved dead.", SignalWord::danger, "W012"),
      caution("Let hot parts cool and measure them before you touch them.", SignalWord::warning, "W017"),
      caution("Secure the load before you move it.", SignalWord::warning, "W024"),
      caution("Keep fingers away from cut edges.", SignalWord::caution, "W022"),
      caution("Wipe up water at once.", SignalWord::caution, "W011"),
      caution("Wear gloves.", SignalWord::caution, "M009"),
      caution("Wear eye protection.", SignalWord::caution, "M004"),
      caution("Support the part with both hands.", SignalWord::notice, "W001")};
  return out;
}

}  // namespace

const std::vector<std::string>& gallery_names() {
  static const std::vector<std::string> names{"arrive", "make-safe", "find",  "advice", "test",
                                              "open",   "close",     "prove", "bill",
                                              "start",  "sheet",     "trouble", "paused",
                                              "parts", "cautions"};
  return names;
}

app::Snapshot gallery_screen(const std::string& name, const ui::Drawings& drawings) {
  if (name == "arrive") return arrive();
  if (name == "cautions") return cautions(drawings);
  if (name == "make-safe") return make_safe();
  if (name == "find") return find();
  if (name == "advice") return advice();
  if (name == "test") return test_card();
  if (name == "close") return close(drawings);
  if (name == "prove") return prove();
  if (name == "bill") return bill();
  if (name == "start") return start();
  if (name == "sheet") return sheet(drawings);
  if (name == "trouble") return trouble(drawings);
  if (name == "paused") return paused();
  if (name == "parts") return parts(drawings);
  return open(drawings);
}

}  // namespace kp::test
