// The lower part: caution, sentence, how, what is entered, and the buttons.
#include <algorithm>

#include "base/text.hpp"
#include "ui/kit.hpp"
#include "ui/view.hpp"

namespace kp::ui {
namespace {

bool compact(const Ui& ui) { return ui.surface().size.y < 640; }

Signal signal_of(safety::SignalWord word) {
  switch (word) {
    case safety::SignalWord::danger: return Signal::danger;
    case safety::SignalWord::warning: return Signal::warning;
    case safety::SignalWord::caution: return Signal::caution;
    case safety::SignalWord::notice: break;
  }
  return Signal::notice;
}

std::string words_of(const safety::Caution& caution) {
  if (caution.wear.empty() || caution.sentence.find(caution.wear) != std::string::npos) {
    return caution.sentence;
  }
  return cat(caution.sentence, " Use: ", caution.wear, ".");
}

// The gravest first, whatever the order they came in. What has one word and one sign stands in one
// panel: two panels of one danger are read as one, and the second is not read.
void cautions(Ui& ui, const std::vector<safety::Caution>& all) {
  for (const safety::SignalWord word :
       {safety::SignalWord::danger, safety::SignalWord::warning, safety::SignalWord::caution,
        safety::SignalWord::notice}) {
    std::vector<std::pair<std::string, std::vector<std::string>>> panels;   // sign, sentences
    for (const safety::Caution& one : all) {
      if (one.word != word) continue;
      const auto same = std::find_if(panels.begin(), panels.end(),
                                     [&](const auto& panel) { return panel.first == one.sign; });
      if (same == panels.end()) {
        panels.push_back({one.sign, {words_of(one)}});
      } else {
        same->second.push_back(words_of(one));
      }
    }
    for (const auto& [sign, sentences] : panels) {
      const std::string text = join(sentences, " ");
      caution(ui, Caution{.signal = signal_of(word), .text = text, .sign = sign, .told = &sentences});
    }
  }
}

// "On the way back: each spring sits in its notch." as title and text.
void fact(Ui& ui, const std::string& text) {
  const std::size_t colon = text.find(": ");
  if (ui.surface().size.x >= metric::kThreePanes) {
    const bool titled = colon != std::string::npos && colon < 28;
    reason(ui, titled ? std::string_view(text).substr(0, colon) : "Know this",
           titled ? std::string_view(text).substr(colon + 2) : std::string_view(text));
    return;
  }
  words(ui, type::kNote, ui.colors().soft, text);
  ui.gap(5);
}

// A word that is too wide for its button would be broken in the middle.
float longest_word(const Ui& ui, std::string_view label) {
  float widest = 0;
  while (!label.empty()) {
    const std::size_t end = label.find(' ');
    widest = std::max(widest, ui.fonts.width(type::kTitle, label.substr(0, end)));
    label = end == std::string_view::npos ? std::string_view() : label.substr(end + 1);
  }
  return widest;
}

ReadingSpec reading_spec(const app::NumberField& number) {
  ReadingSpec spec;
  spec.label = number.label;
  spec.unit = number.unit;
  spec.low = number.least;
  spec.high = number.most;
  spec.over = number.open_loop;
  spec.over_word = number.open_word;
  spec.key = number.id;
  return spec;
}

}  // namespace

void View::text_field(Ui& ui, const app::TextField& spec) {
  Entry& entry = entries_[spec.id];
  if (entry.from != spec.value) {
    entry.from = spec.value;
    if (entry.text != spec.value) entry.text = spec.value;
  }
  Field field_spec;
  field_spec.label = spec.label;
  field_spec.key = spec.id;
  field_spec.mono = spec.mono;
  if (field(ui, field_spec, entry.text)) {
    app::Action action = spec.changed;
    action.text = entry.text;
    say(action);
  }
  if (!spec.hint.empty()) {
    ui.gap(6);
    words(ui, type::kNote, ui.colors().soft, spec.hint);
  }
  ui.gap(10);
}

void View::texts(Ui& ui, const std::vector<app::TextField>& fields) {
  for (const app::TextField& one : fields) text_field(ui, one);
}

bool View::words_beside(const Ui& ui, const app::Snapshot& snapshot) {
  return snapshot.card.number && !snapshot.exploded && ui.surface().size.y < 480 && ui.surface().size.x >= metric::kTwoPanes;
}

void View::card_words(Ui& ui, const app::Card& card) {
  cautions(ui, card.cautions);
  sentence(ui, card.sentence);
  if (card.number->label != card.sentence) heading(ui, card.number->label, type::kRowBold, 1);
  if (!card.number->band.empty()) {
    words(ui, type::kNote, ui.colors().soft, card.number->band);
  }
  how(ui, card.how);
  for (const std::string& one : card.facts) fact(ui, one);
}

// On a short screen the question, its field and the keypad stand fixed over the button: what scrolls
// away are the other words.
bool View::pad_pinned(const Ui& ui) { return compact(ui); }

void View::number_pad(Ui& ui, const app::Card& card) {
  const app::NumberField& number = *card.number;
  if (number_of_ != cat(card.id, number.id)) {
    number_of_ = cat(card.id, number.id);
    number_.clear();
  }
  (void)reading(ui, reading_spec(number), number_);
}

void View::number_act(Ui& ui, const app::Card& card, bool beside) {
  const app::NumberField& number = *card.number;
  const bool twice = number.label == card.sentence;
  if (!twice && !beside && !pad_pinned(ui)) {
    ui.gap(2);
    heading(ui, number.label, type::kRowBold, 1);
  }
  if (card.sentence.empty() && !beside) {
    how(ui, card.how);
    if (!card.how.empty()) ui.gap(-4);
  }
  if (!number.band.empty() && !beside) words(ui, type::kNote, ui.colors().soft, number.band);
  if (pad_pinned(ui)) return;
  ui.gap(10);
  number_pad(ui, card);
}

void View::number_foot(Ui& ui, const app::Card& card, bool beside) {
  const app::NumberField& number = *card.number;
  if (pad_pinned(ui)) {
    if (!beside && number.label != card.sentence) {
      heading(ui, number.label, type::kRowBold, 1);   // what is asked stays with its field
      ui.gap(4);
    }
    number_pad(ui, card);
    ui.gap(8);
  }
  const Reading entered = read_entry(reading_spec(number), number_);
  const std::string key = cat(card.id, "/enter");
  Button spec;
  spec.label = number.confirm;
  spec.key = key;
  spec.enabled = entered.usable();
  spec.busy = !card.saving.empty();
  spec.height = compact(ui) ? 52 : metric::kButton;
  if (!button(ui, spec) || too_soon(ui)) return;
  app::Action action =
      entered.kind == Reading::Kind::over ? number.entered_open_loop : number.entered;
  action.value = entered.value;
  say(action);
  number_.clear();
}

void View::act(Ui& ui, const app::Snapshot& snapshot) {
  const app::Card& card = snapshot.card;
  const Scope scope(ui, card.id);
  for (const std::string& refusal : card.refusal) {
    (void)notice(ui, NoticeKind::warn, refusal);
    ui.gap(10);
  }
  const bool beside = words_beside(ui, snapshot);
  if (!beside) {
    cautions(ui, card.cautions);
    sentence(ui, card.sentence);
    if (!card.number || !card.sentence.empty()) how(ui, card.how);
  }
  if (!beside) {
    for (const std::string& one : card.facts) fact(ui, one);
  }
  if (card.band) {
    const app::Band& good = *card.band;
    ui.gap(4);
    band(ui, good.from, good.to, good.left, good.words, good.right);
    ui.gap(4);
  }
  if (!card.outcomes.empty()) {
    list(ui, "What it may show", [&] {
      for (const app::Outcome& one : card.outcomes) outcome(ui, one.shown, one.leaves);
    });
    ui.gap(8);
  }
  if (!card.choices.empty()) rows(ui, card.sentence.empty() ? "Choices" : card.sentence, card.choices, false);
  for (const app::CheckBox& box : card.checks) {
    bool ticked = box.ticked;
    if (checkbox(ui, box.title, ticked, box.id)) say(box.tap);
    if (!box.detail.empty()) {
      const float used = ui.within(Box{ui.left() + 38, ui.y() - 8, ui.width() - 38, 0},
                                   [&] { words(ui, type::kNote, ui.colors().soft, box.detail); });
      ui.gap(used - 4);
    }
  }
  texts(ui, card.texts);
  if (card.signature) (void)signature(ui, "Signature", strokes_);
  if (card.number) number_act(ui, card, beside);
}

bool View::main_button(Ui& ui, const app::Card& card, const app::Button& spec, bool primary) {
  const std::string key = cat(card.id, "/", spec.action.id, "/", spec.label);
  const bool saving = primary && !card.saving.empty();
  if (spec.hold) {
    Hold held;
    held.label = spec.label;
    held.key = key;
    held.enabled = spec.enabled;
    held.busy = saving;
    held.from_ms = from_ms();
    if (!spec.enabled && !spec.detail.empty()) held.hint = spec.detail;
    return hold(ui, held);
  }
  Button plain;
  plain.label = spec.label;
  plain.hint = saving ? std::string_view(card.saving) : std::string_view(spec.detail);
  plain.key = key;
  plain.look = primary ? Button::Look::primary : Button::Look::outline;
  plain.enabled = spec.enabled;
  plain.busy = saving;
  plain.height = compact(ui) ? 60 : 72;
  return button(ui, plain);
}

void View::ways(Ui& ui, const app::Card& card) {
  if (card.ways_out.empty()) {
    ui.gap(16);
    return;
  }
  const Scope scope(ui, card.id);
  std::vector<std::string_view> labels;
  for (const app::Button& one : card.ways_out) labels.push_back(one.label);
  const int pressed = ways_out(ui, labels);
  if (pressed >= 0 && !too_soon(ui)) say(card.ways_out[to_size(pressed)].action);
}

double View::from_ms() const {
  constexpr double kSettleMs = 350;
  return std::max(card_ms_ + kSettleMs, shown_ms_);
}

bool View::too_soon(const Ui& ui) const { return ui.fired().from_ms < from_ms(); }

// What a confirmation stands on: when any of it changes, what was pressed before does not count.
// Lines that may count seconds (how, facts, the strip's small line) are not part of it.
void View::note_card(const Ui& ui, const app::Snapshot& snapshot) {
  const app::Card& card = snapshot.card;
  if (card_ != card.id) {
    card_ = card.id;
    touched_ = -1;   // another step: what was asked about is behind
    card_ms_ = ui.in().drawn_ms;
  }
  std::string said = cat(static_cast<std::int64_t>(snapshot.revision), "|", card.id, "|",
                         card.sentence, "|", snapshot.strip.power.word, "|",
                         snapshot.strip.water.word);
  for (const safety::Caution& one : card.cautions) said += cat("|", one.sentence);
  for (const std::string& one : card.refusal) said += cat("|", one);
  if (snapshot.sheet) said += cat("|", snapshot.sheet->title);
  if (said == said_) return;
  said_ = std::move(said);
  shown_ms_ = ui.in().drawn_ms;
}

void View::foot(Ui& ui, const app::Snapshot& snapshot) {
  const app::Card& card = snapshot.card;
  const Scope scope(ui, card.id);
  if (card.number) {
    number_foot(ui, card, words_beside(ui, snapshot));
  } else {
    const auto press = [&](const app::Button& spec, bool primary) {
      if (!main_button(ui, card, spec, primary) || too_soon(ui)) return;
      app::Action action = spec.action;
      if (primary && card.signature) {
        for (const Vec point : strokes_) {
          action.strokes.push_back(static_cast<double>(point.x));
          action.strokes.push_back(static_cast<double>(point.y));
        }
        strokes_.clear();
      }
      say(action);
    };
    constexpr float kGap = 10;
    const float third = (ui.width() - kGap) / 3;
    const bool beside = card.primary && card.secondary.size() == 1 &&
                        longest_word(ui, card.secondary.front().label) <= third - 20 &&
                        longest_word(ui, card.primary->label) <= 2 * third - 20;
    if (!beside) {
      for (const app::Button& one : card.secondary) {
        press(one, false);
        ui.gap(8);
      }
    }
    if (beside) {
      ui.columns({2, 1}, kGap, [&](int column) {
        press(column == 0 ? *card.primary : card.secondary.front(), column == 0);
      });
    } else if (card.primary) {
      app::Button primary = *card.primary;
      if (card.signature && strokes_.empty()) primary.enabled = false;
      press(primary, true);
    }
  }
}

}  // namespace kp::ui
