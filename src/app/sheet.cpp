// The sheets over the lower part: why, cannot, pause, end, evidence, lists to choose from.
#include <algorithm>

#include "app/desk.hpp"
#include "app/step_words.hpp"
#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/bind_safety.hpp"

namespace kp::app {

namespace {

Button close_button(const Desk& desk) { return tap_button("Back", desk.action(Verb::close_sheet)); }

bool next_words(const Desk& desk, StepWords& out) {
  const plan::Plan* way =
      desk.state->stage == job::Stage::close ? desk.way_back : desk.way_in;
  if (way == nullptr || desk.pack() == nullptr) {
    return false;
  }
  for (const plan::Step& step : way->steps) {
    if (words_of(*desk.pack(), step, out)) {
      return true;
    }
  }
  return false;
}

void why(Sheet& sheet, const Snapshot& snapshot, const Desk& desk) {
  sheet.title = "Why this";
  const job::State& state = *desk.state;
  StepWords words;
  const bool hands = state.stage == job::Stage::open || state.stage == job::Stage::close;
  if (!snapshot.card.why.empty()) {
    if (hands && next_words(desk, words)) {
      sheet.paragraphs.push_back(cat("No hand goes in before this is done. Waiting: ",
                                     words.sentence));
    }
    sheet.paragraphs.push_back(snapshot.card.why);
  } else if (hands && next_words(desk, words)) {
    if (!words.why.empty()) {
      sheet.paragraphs.push_back(words.why);
    }
    const auto demand = job::demand_of(
        *desk.model(), state, words.deed,
        job::subject_index(*desk.pack(), state.unit, words.deed, words.what));
    for (const safety::Contact contact : demand.contacts) {
      sheet.paragraphs.push_back(safety::rule_of(contact).why);
    }
    if (!snapshot.plan_detail.empty()) {
      sheet.paragraphs.push_back(cat("The plan: ", snapshot.plan_detail, "."));
    }
  }
  if (state.stage == job::Stage::prove) {
    for (const pack::ProveTest& test : desk.pack()->prove_tests) {
      if (snapshot.card.id == cat("prove-", test.id)) {
        sheet.paragraphs.push_back(cat("Limit: ", test.source));
      }
    }
    sheet.buttons.push_back(tap_button("Reckon", desk.action(Verb::show_sheet, "reckon")));
  }
  if (sheet.paragraphs.empty()) {
    sheet.paragraphs.emplace_back("It is the next thing that the machine's state allows.");
  }
}

void cannot(Sheet& sheet, const Desk& desk) {
  StepWords words;
  if (!next_words(desk, words)) {
    return;
  }
  sheet.title = cat("Why can it not be done? ", words.title);
  const std::string id =
      cat(job::deed_words()[to_size(static_cast<int>(words.deed))], "/", words.what);
  for (const char* reason : {"Seized or rounded off", "Not there", "Broken", "Not as drawn"}) {
    sheet.buttons.push_back(tap_button(reason, desk.action(Verb::step_blocked, id, reason)));
  }
  sheet.paragraphs.emplace_back("The plan then takes another way, if there is one.");
}

void pause(Sheet& sheet, const Desk& desk) {
  sheet.title = "Pause";
  sheet.paragraphs.emplace_back("Stay in sight of the lock, or the proof is void.");
  sheet.buttons.push_back(
      tap_button("Waiting", desk.action(Verb::pause, "waiting", "waiting")));
  sheet.buttons.push_back(
      tap_button("I leave the machine", desk.fact(safety::Doubted{safety::Doubt::left})));
  sheet.buttons.push_back(
      tap_button("Hand over to another", desk.action(Verb::show_sheet, "hand-over")));
  sheet.buttons.push_back(tap_button("End the visit", desk.action(Verb::show_sheet, "end")));
}

/// "Loose: a, b and 3 more. Out: c." Empty where nothing is open.
std::string open_words(const Desk& desk) {
  constexpr std::size_t kMost = 5;
  std::string out;
  const auto tell = [&out](const char* title, std::vector<std::string> names) {
    if (names.empty()) {
      return;
    }
    const std::size_t more = names.size() > kMost ? names.size() - kMost : 0;
    names.resize(names.size() - more);
    out += cat(out.empty() ? "" : " ", title, join(names, ", "),
               more == 0 ? std::string() : cat(" and ", to_int(more), " more"), ".");
  };
  const pack::Pack& pack = *desk.pack();
  std::vector<std::string> loose;
  std::vector<std::string> away;
  desk.state->unit.released.each([&](int joint) { loose.push_back(pack.joints[to_size(joint)].name); });
  desk.state->unit.removed.each([&](int part) { away.push_back(pack.parts[to_size(part)].name); });
  tell("Loose: ", std::move(loose));
  tell("Out: ", std::move(away));
  return out;
}

void end_visit(Sheet& sheet, const Desk& desk) {
  sheet.title = "How does the visit end?";
  sheet.paragraphs.emplace_back(
      "Left isolated: lock and tag stay, the water stays shut, and the papers say so.");
  TextField note;
  note.id = "note";
  note.label = "What is missing, or what is dangerous";
  note.value = desk.local->note;
  note.changed = desk.action(Verb::set_word, "note");
  TextField tag;
  tag.id = "tag";
  tag.label = "Number or words on the tag";
  tag.value = desk.local->tag;
  tag.changed = desk.action(Verb::set_word, "tag");
  sheet.texts = {note, tag};
  if (!desk.state->safety.tagged.holds()) {
    Button hung = tap_button("Tag hangs on the lock", desk.fact(safety::TagHung{}));
    sheet.buttons.push_back(hung);
  }
  const std::string open = open_words(desk);
  if (!open.empty() && !desk.state->safety.barred.holds()) {
    sheet.paragraphs.push_back(cat("Shut or bar each opening, so that nobody reaches in. ", open));
    sheet.buttons.push_back(hold_button("openings are barred", desk.fact(safety::OpeningsBarred{})));
  }
  Button waiting = hold_button("waiting for parts", desk.action(Verb::end_job, "waiting-for-parts"));
  Button unusable = hold_button("not to be used", desk.action(Verb::end_job, "not-to-be-used"));
  sheet.buttons.push_back(waiting);
  sheet.buttons.push_back(unusable);
}

void meter(Sheet& sheet, const Desk& desk) {
  sheet.title = "Which tester?";
  TextField id;
  id.id = "tester";
  id.label = "Make and number; date of its calibration";
  id.value = desk.tester;
  id.changed = desk.action(Verb::set_word, "tester");
  sheet.texts = {id};
  for (int index = 0; index < safety::kMeterFunctions; ++index) {
    const auto function = static_cast<safety::MeterFunction>(index);
    Row row = row_of(cat("function-", index), safety::words(function),
                     function == desk.local->function ? Mark::chosen : Mark::choice);
    row.group = "What it is set to";
    row.detail = safety::can_prove(function) ? "can prove dead" : "cannot prove dead";
    row.tap = desk.action(Verb::choose_function, integer_text(index));
    sheet.rows.push_back(row);
  }
  for (const auto source : {safety::Source::outlet, safety::Source::proving_unit}) {
    const bool outlet = source == safety::Source::outlet;
    Row row = row_of(safety::words(source), outlet ? "Another outlet" : "Proving unit",
                     source == desk.local->source ? Mark::chosen : Mark::choice);
    row.group = "What the known source is";
    row.detail = outlet ? "not on the breaker that is off" : "50 V or more, its own band";
    row.tap = desk.action(Verb::choose_source, row.id);
    sheet.rows.push_back(row);
  }
}

/// What somebody sees that is not as the record thinks: recorded at once, never refused.
void alarm(Sheet& sheet, const Desk& desk) {
  sheet.title = "What is wrong?";
  sheet.paragraphs.emplace_back("Hands back first. It is recorded, and proofs are given up.");
  const std::pair<safety::Doubt, const char*> all[] = {
      {safety::Doubt::power_found_on, "Power is on"},
      {safety::Doubt::water_found_on, "Water is on"},
      {safety::Doubt::lock_found_off, "My lock is off"},
      {safety::Doubt::sight_lost, "I lost sight of the plug"},
      {safety::Doubt::device_opened, "A breaker opened by itself"}};
  for (const auto& [what, title] : all) {
    sheet.buttons.push_back(tap_button(title, desk.fact(safety::Doubted{what})));
  }
  sheet.buttons.push_back(
      tap_button("A lock here is not mine", desk.action(Verb::show_sheet, "foreign-lock")));
}

void hand_over(Sheet& sheet, const Desk& desk) {
  sheet.title = "Hand over to another person";
  sheet.paragraphs.emplace_back(
      "The new lock goes on before the old one comes off. The new person proves again.");
  TextField name;
  name.id = "new-person";
  name.label = "Name of the person who takes over";
  name.value = desk.local->new_person;
  name.changed = desk.action(Verb::set_word, "new-person");
  TextField lock;
  lock.id = "lock";
  lock.label = "Number on their lock";
  lock.value = desk.local->lock;
  lock.mono = true;
  lock.changed = desk.action(Verb::set_word, "lock");
  sheet.texts = {name, lock};
  sheet.buttons.push_back(hold_button("handed over", desk.fact(safety::HandedOn{})));
}

void foreign_lock(Sheet& sheet, const Desk& desk) {
  sheet.title = "A lock that is not mine";
  sheet.paragraphs.emplace_back("Only its owner, or the owner's employer, takes it off.");
  TextField lock;
  lock.id = "lock";
  lock.label = "Number on the lock";
  lock.value = desk.local->lock;
  lock.mono = true;
  lock.changed = desk.action(Verb::set_word, "lock");
  TextField owner;
  owner.id = "new-person";
  owner.label = "Whose it is";
  owner.value = desk.local->new_person;
  owner.changed = desk.action(Verb::set_word, "new-person");
  sheet.texts = {lock, owner};
  sheet.buttons.push_back(tap_button("It hangs here", desk.fact(safety::ForeignLock{})));
}

void features(Sheet& sheet, const Desk& desk) {
  sheet.title = "What can you see?";
  for (const job::Model& model : desk.content->library.models) {
    for (const std::string& feature : model.pack.features) {
      Row row = row_of(cat("feature-", to_int(sheet.rows.size())), feature, Mark::none);
      row.group = model.pack.about.title;
      sheet.rows.push_back(row);
    }
  }
}

void reopen(Sheet& sheet, const Desk& desk) {
  sheet.title = "Open again";
  sheet.paragraphs.emplace_back("Power and water were back, so make it safe again first.");
  sheet.buttons.push_back(
      tap_button("Find the fault again", desk.action(Verb::go_stage, "make-safe")));
}

void settings(Sheet& sheet, const Desk& desk) {
  sheet.title = "Settings";
  TextField person;
  person.id = "person";
  person.label = "Your name, as records carry it";
  person.changed = desk.action(Verb::set_word, "person");
  sheet.texts = {person};
  for (const PreferenceChoice& one : preference_choices()) {
    const bool chosen = preference(*desk.preferences, one.key) == one.value;
    Row row = row_of(cat(one.key, "-", one.value), one.title, chosen ? Mark::chosen : Mark::choice);
    row.group = one.group;
    row.tap = desk.action(Verb::set_preference, one.key, one.value);
    sheet.rows.push_back(row);
  }
}

}  // namespace

void fill_sheet(Snapshot& out, const Desk& desk) {
  const std::string& name = desk.local->sheet;
  if (name.empty() || name == "unsigned") {
    return;
  }
  Sheet sheet;
  const bool job = desk.pack() != nullptr;
  if (name == "settings") {
    settings(sheet, desk);
  } else if (name == "features") {
    features(sheet, desk);
  } else if (name == "power") {
    fill_evidence_sheet(sheet, desk, out.strip.power, true);
  } else if (name == "water") {
    fill_evidence_sheet(sheet, desk, out.strip.water, false);
  } else if (name == "gap") {
    fill_gap_sheet(sheet, desk);
  } else if (name == "time") {
    fill_time_sheet(sheet, desk);
  } else if (job && name == "why") {
    why(sheet, out, desk);
  } else if (job && name == "cannot") {
    cannot(sheet, desk);
  } else if (name == "pause") {
    pause(sheet, desk);
  } else if (job && name == "end") {
    end_visit(sheet, desk);
  } else if (name == "meter") {
    meter(sheet, desk);
  } else if (job && name == "alarm") {
    alarm(sheet, desk);
  } else if (job && name == "hand-over") {
    hand_over(sheet, desk);
  } else if (job && name == "foreign-lock") {
    foreign_lock(sheet, desk);
  } else if (name == "reopen") {
    reopen(sheet, desk);
  } else if (job) {
    fill_find_sheet(sheet, desk);
  }
  if (sheet.title.empty()) {
    return;
  }
  // The reason stands where the person looks, not behind the sheet.
  sheet.paragraphs.insert(sheet.paragraphs.begin(), desk.local->refusal.begin(),
                          desk.local->refusal.end());
  sheet.buttons.push_back(close_button(desk));
  out.sheet = std::move(sheet);
}

}  // namespace kp::app
