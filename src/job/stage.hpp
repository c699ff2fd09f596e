#pragma once
// job: one visit to one machine as a journal of events. decide() says what may happen, apply()
// says what then is; everything shown, planned or billed is a fold of the journal. It binds the
// engines to a pack and knows no screen, no store and no clock of its own.

#include <array>
#include <string>
#include <string_view>
#include <vector>

namespace kp::job {

/// The spine of the tool, in the order of the work.
enum class Stage { arrive, make_safe, find, open, swap, close, prove, bill };
inline constexpr int kStages = 8;

[[nodiscard]] std::string_view stage_title(Stage stage);   ///< "Make safe"
[[nodiscard]] std::string_view stage_word(Stage stage);    ///< "make-safe", as journals say it
[[nodiscard]] const std::vector<std::string>& stage_words();

/// How a job ends. An open job has none.
enum class Outcome { none, repaired, waiting_for_parts, not_to_be_used, no_fault_found };
[[nodiscard]] std::string_view outcome_title(Outcome outcome);
[[nodiscard]] const std::vector<std::string>& outcome_words();

/// What the clock counts towards. Paused time is waiting or unbilled, as the technician says.
enum class Phase { travel, diagnosis, labour, waiting, unbilled };
inline constexpr int kPhases = 5;
[[nodiscard]] std::string_view phase_title(Phase phase);
[[nodiscard]] const std::vector<std::string>& phase_words();

/// The phase that a stage starts in, until the technician says otherwise.
[[nodiscard]] Phase usual_phase(Stage stage);

enum class Mode { field, practice };
[[nodiscard]] const std::vector<std::string>& mode_words();

/// What hands do to the machine. turn: the unit to another position.
enum class Deed { turn, release, remove, swap, set, fasten };
[[nodiscard]] const std::vector<std::string>& deed_words();

}  // namespace kp::job
