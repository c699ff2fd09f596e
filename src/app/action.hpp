#pragma once

#include <cstdint>
#include <string>
#include <optional>
#include <vector>

#include "job/stage.hpp"
#include "safety/fact.hpp"

namespace kp::app {

/// What a person can ask for. The screen never composes one: it sends back the action that the
/// snapshot gave to the widget, filled with what was entered.
enum class Verb {
  none,
  // start page
  new_job, open_job, new_practice, open_demo, contact_sheet,
  // in any stage
  go_stage, show_sheet, close_sheet, pause, resume, leave_job, add_note, settle_gap,
  set_preference, export_journal, take_writer, go_on_new,
  // arrive
  plate_typed, choose_machine, choose_complaint, note_customer, give_quote,
  // make safe, and putting back
  fact, choose_means, choose_control, choose_connection, choose_support, choose_source,
  choose_function, tick_doubt, unit_found,
  // find
  choose_test, test_reading, test_open_loop, test_looked, test_impossible, take_back, choose_part, show_place,
  // open, swap, close
  steps_done, step_blocked, swap_done, tick_check,
  // prove
  prove_reading, prove_looked, prove_left_out, choose_prove, end_job,
  // bill
  sign, hand_over, issue_invoice, correct_time, set_word, next_visit
};

/// A deed of a card that confirms several in one motion.
struct DeedOf {
  job::Deed deed = job::Deed::release;
  std::string what;
};

/// `id` names the thing acted on; `text`, `value` and `strokes` are what the person entered;
/// `flag` is a yes or no. `revision` is the snapshot's: a tap that arrives twice, or late, finds
/// another revision and does nothing.
struct Action {
  Verb verb = Verb::none;
  std::string id;
  std::string text;
  double value = 0;
  bool flag = false;
  /// What is said of the energies; the session puts in what was entered.
  std::optional<safety::Fact> fact = std::nullopt;
  std::vector<DeedOf> deeds = {};   ///< of steps_done, in the order of the work
  std::vector<double> strokes = {};
  std::vector<std::uint32_t> times = {};   ///< one a pair of strokes, in ms from the first
  std::uint32_t revision = 0;
};

}  // namespace kp::app
