// What a person asked for: either something of the screen alone, or a record to be decided.
#include <algorithm>
#include <utility>

#include "app/papers.hpp"
#include "app/todo_fields.hpp"
#include "app/session.hpp"
#include "base/sha256.hpp"
#include "base/text.hpp"
#include "job/bind_plan.hpp"
#include "job/unit_found.hpp"
#include "journal/writer.hpp"

namespace kp::app {

namespace {

constexpr int kMostLetters = 400;

template <class Enum>
Enum word_to(const std::vector<std::string>& words, const std::string& word, Enum fallback) {
  const auto found = std::find(words.begin(), words.end(), word);
  return found == words.end() ? fallback : static_cast<Enum>(to_int(to_size(found - words.begin())));
}

/// The refit checks of a deed that are ticked.
std::vector<std::string> checks_of(const pack::Pack& pack, const Local& local, const DeedOf& deed) {
  std::vector<std::string> out;
  const bool joint = deed.deed == job::Deed::fasten;
  const int index = joint ? pack.joint(deed.what) : pack.part(deed.what);
  if (index < 0 || (!joint && deed.deed != job::Deed::set)) {
    return out;
  }
  for (const int check :
       joint ? pack.joints[to_size(index)].refit_checks : pack.parts[to_size(index)].refit_checks) {
    const std::string& id = pack.refit_checks[to_size(check)].id;
    if (local.ticks.count(id) != 0) {
      out.push_back(id);
    }
  }
  return out;
}

}  // namespace

/// What a person typed comes in here and nowhere else: turned direction is taken out, and what is
/// too long is refused in words, never cut.
void Session::act(const Action& told) {
  Action action = told;
  action.text = without_direction(told.text);
  if (const int letters = code_points(action.text); letters > kMostLetters) {
    local_.refusal = {cat("Write at most ", kMostLetters, " letters. This has ", letters, ".")};
    dirty_ = true;
    return;
  }
  if (act_start(action)) {
    return;
  }
  if (!open_) {
    return;
  }
  if (act_local(action)) {
    dirty_ = true;
    return;
  }
  if (action.revision != revision_) {
    return;  // a second delivery of a tap, or one that was meant for an older picture
  }
  if (action.verb == Verb::go_on_new) {
    go_on_in_new();
    return;
  }
  if (action.verb == Verb::hand_over) {
    hand_over(action.id);
    return;
  }
  if (action.verb == Verb::steps_done) {
    std::vector<job::Body> steps;
    for (const DeedOf& one : action.deeds) {
      job::StepDone body;
      body.deed = one.deed;
      body.what = one.what;
      if (state_.model >= 0) {
        body.checks = checks_of(content_.library.models[to_size(state_.model)].pack, local_, one);
      }
      steps.emplace_back(std::move(body));
    }
    (void)propose_all(steps);
    return;
  }
  const std::optional<job::Body> body = body_of(action);
  if (body.has_value() && action.verb == Verb::give_quote && !action.flag) {
    // "Not agreed" is an answer: the quote as it was given, and that it was refused.
    (void)propose_all({body.value(), job::QuoteRefused{}});
    return;
  }
  if (body.has_value() && propose(body.value())) {
    local_.sheet.clear();
    if (action.verb == Verb::correct_time || action.verb == Verb::settle_gap) {
      local_.minutes.clear();
      local_.reason.clear();
    }
  }
}

bool Session::act_start(const Action& action) {
  switch (action.verb) {
    case Verb::new_job:
      create(job::Mode::field, false);
      return true;
    case Verb::new_practice:
      create(job::Mode::practice, true);
      return true;
    case Verb::open_demo:
      create(job::Mode::field, true);
      return true;
    case Verb::open_job:
      open(action.id, action.flag ? job::Mode::practice : job::Mode::field);
      return true;
    case Verb::leave_job:
      if (unsure_.only_here && !unsure_.exported) {
        local_.refusal = {"Export the job first: only this window still holds all of it."};
        dirty_ = true;
        return true;
      }
      leave();
      ask_lists();
      return true;
    case Verb::take_writer:
      take_over_here();
      return true;
    case Verb::export_journal:
      export_journal();
      return true;
    case Verb::set_word:
      set_word(action.id, action.text);
      dirty_ = true;
      return true;
    case Verb::set_preference:
      if (set_preference(preferences_, action.id, action.text)) {
        ask(outside_.field->put(action.id, action.text), {Ask::setting, job::Mode::field, {}});
      }
      dirty_ = true;
      return true;
    case Verb::show_sheet:
      local_.sheet = action.id;
      dirty_ = true;
      return true;
    case Verb::close_sheet:
      local_.sheet.clear();
      dirty_ = true;
      return true;
    default:
      return false;
  }
}

void Session::set_word(const std::string& id, const std::string& text) {
  const std::map<std::string, std::string*> words = {
      {"lock", &local_.lock},       {"tag", &local_.tag},
      {"stock", &local_.stock},     {"price", &local_.price},
      {"note", &local_.note},       {"measure", &local_.measure},
      {"helper", &local_.helper},   {"new-person", &local_.new_person},
      {"minutes", &local_.minutes}, {"reason", &local_.reason},
      {"tester-make", &local_.tester_make}, {"tester-number", &local_.tester_number},
      {"tester-date", &local_.tester_date},
      {"serial", &local_.serial}};
  const auto found = words.find(id);
  if (found != words.end()) {
    *found->second = text;
  } else if (id.rfind("reckon-", 0) == 0) {
    local_.reckon[id.substr(std::string("reckon-").size())] = text;
  } else if (id == "tester" && !trim(text).empty()) {
    tester_ = std::string(trim(text));
    ask(outside_.field->put("tester", tester_), {Ask::setting, job::Mode::field, {}});
  } else if (id == "person" && !trim(text).empty()) {
    person_ = std::string(trim(text));
    ask(outside_.field->put("person", person_), {Ask::setting, job::Mode::field, {}});
  }
}

bool Session::act_local(const Action& action) {
  switch (action.verb) {
    case Verb::plate_typed:
      local_.plate = action.text;
      local_.machine.clear();
      return true;
    case Verb::choose_machine:
      local_.machine = action.id;
      return !action.flag;
    case Verb::choose_complaint:
      if (action.id.empty() && !action.flag) {
        local_.words = action.text;
        return true;
      }
      local_.symptom = action.id;
      return !action.flag;
    case Verb::note_customer:
      if (action.id == "later") {
        local_.customer_skipped = true;
        return true;
      }
      if (!action.flag) {
        std::string& field = action.id == "name"      ? local_.name
                             : action.id == "address" ? local_.address
                                                      : local_.contact;
        field = action.text;
        return true;
      }
      return false;
    case Verb::choose_means:
      for (const safety::MeansRule& rule : safety::means_rules()) {
        if (action.id == rule.word) local_.means = rule.means;
      }
      return true;
    case Verb::choose_control:
      for (int i = 0; i < safety::kControls; ++i) {
        const auto one = static_cast<safety::Control>(i);
        if (action.id == safety::words(one)) local_.control = one;
      }
      return true;
    case Verb::choose_support:
      for (int i = 0; i < safety::kSupports; ++i) {
        const auto one = static_cast<safety::Support>(i);
        if (action.id == safety::words(one)) local_.support = one;
      }
      return true;
    case Verb::choose_source:
      local_.source = action.id == safety::words(safety::Source::proving_unit)
                          ? safety::Source::proving_unit
                          : safety::Source::outlet;
      local_.sheet.clear();
      return true;
    case Verb::choose_connection:
      if (action.id == "cord" || action.id == "fixed") {
        local_.connection =
            action.id == "cord" ? safety::Connection::cord : safety::Connection::fixed;
      } else {
        local_.built_in = action.id != "free-standing";
      }
      return true;
    case Verb::tick_doubt:
      local_.frame_first = !local_.frame_first;
      return true;
    case Verb::choose_function:
      if (const auto function = parse_integer(action.id)) {
        local_.function = static_cast<safety::MeterFunction>(static_cast<int>(function.value()));
      }
      local_.sheet.clear();
      return true;
    case Verb::choose_test:
      local_.test = action.id;
      local_.sheet.clear();
      return true;
    case Verb::show_place:
      local_.place = action.flag;
      return true;
    case Verb::choose_prove:
      local_.prove = action.id;
      return true;
    case Verb::tick_check:
      if (local_.ticks.erase(action.id) == 0) {
        local_.ticks.insert(action.id);
      }
      return true;
    default:
      return false;
  }
}

std::optional<job::Body> Session::body_of(const Action& action) {
  const pack::Pack* pack =
      state_.model < 0 ? nullptr : &content_.library.models[to_size(state_.model)].pack;
  switch (action.verb) {
    case Verb::choose_machine: {
      const int model = content_.library.find(action.id);
      return job::MachineIdentified{
          action.id,
          model < 0 ? std::string() : content_.library.models[to_size(model)].pack.about.version,
          local_.plate, {}, {}, {}, local_.serial};
    }
    case Verb::choose_complaint:
      return job::ComplaintNoted{action.id, local_.words};
    case Verb::note_customer:
      return job::CustomerNoted{local_.name, local_.address, local_.contact};
    case Verb::give_quote: {
      return quote_body(action);
    }
    case Verb::go_stage:
      return job::StageEntered{word_to(job::stage_words(), action.id, state_.stage)};
    case Verb::unit_found: {
      job::UnitAsFound found = job::as_it_was_left(state_);
      for (std::vector<std::string>* ids : {&found.loose, &found.away}) {
        ids->erase(std::remove_if(ids->begin(), ids->end(),
                                  [&](const std::string& id) {
                                    return local_.ticks.count(cat("not-so-", id)) != 0;
                                  }),
                   ids->end());
      }
      return found;
    }
    case Verb::fact:
      return job::body_of(filled(action, local_, tester_));
    case Verb::test_reading:
    case Verb::test_open_loop:
    case Verb::test_looked: {
      job::TestRecorded body;
      body.test = action.id;
      body.open_loop = action.verb == Verb::test_open_loop;
      body.looked = action.verb == Verb::test_looked;
      body.good = action.flag;
      body.value = body.open_loop || body.looked ? 0 : action.value;
      local_.test.clear();
      local_.place = false;   // what the answer changed is seen first
      return body;
    }
    case Verb::test_impossible:
      local_.test.clear();
      return job::TestImpossible{action.id, action.text};
    case Verb::take_back:
      return job::TestTakenBack{
          static_cast<std::uint32_t>(parse_integer(action.id).value_or(0))};
    case Verb::choose_part:
      return job::TargetsChosen{{action.id}, fault_of(action.id, action.text), action.text};
    case Verb::step_blocked: {
      job::StepBlocked body;
      const std::size_t slash = action.id.find('/');
      body.deed = word_to(job::deed_words(), action.id.substr(0, slash), job::Deed::release);
      body.what = slash == std::string::npos ? std::string() : action.id.substr(slash + 1);
      body.reason = action.text;
      return body;
    }
    case Verb::swap_done:
      return swap_body(action, pack);
    case Verb::prove_left_out: {
      job::ProveRecorded body;
      body.test = action.id;
      body.left_out = action.text;
      local_.prove.clear();
      return body;
    }
    case Verb::prove_reading:
    case Verb::prove_looked: {
      job::ProveRecorded body;
      body.test = action.id;
      body.value = action.verb == Verb::prove_reading ? action.value : 0;
      body.passed = action.flag;
      local_.prove.clear();
      return body;
    }
    case Verb::end_job:
      return job::JobEnded{word_to(job::outcome_words(), action.id, job::Outcome::none),
                           local_.note};
    case Verb::sign: {
      job::Signed body;
      body.name = state_.customer.name;
      body.strokes = action.strokes;
      if (action.id == "none") {
        local_.sheet = "unsigned";
        dirty_ = true;
        return std::nullopt;
      }
      return body;
    }
    case Verb::pause:
      return job::PhaseStarted{word_to(job::phase_words(), action.id, job::Phase::waiting),
                               action.text, 0, false};
    case Verb::resume:
      return job::PhaseStarted{job::usual_phase(state_.stage), "resumed", 0, false};
    case Verb::add_note:
      return job::NoteAdded{action.text};
    case Verb::correct_time:
      return job::TimeCorrected{word_to(job::phase_words(), action.id, job::Phase::labour),
                                static_cast<std::int64_t>(action.value * 60'000), action.text};
    case Verb::settle_gap:
      return job::GapSettled{static_cast<std::uint32_t>(parse_integer(action.id).value_or(0)),
                             static_cast<std::int64_t>(action.value * 60'000), "answered"};
    case Verb::next_visit:
      return job::VisitBegun{};
    default:
      return std::nullopt;
  }
}

}  // namespace kp::app
