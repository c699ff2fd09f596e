#pragma once

#include <cstdint>
#include <deque>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "app/content.hpp"
#include "app/desk.hpp"
#include "app/kept_journal.hpp"
#include "app/outside.hpp"
#include "app/session_record.hpp"
#include "app/snapshot.hpp"
#include "app/standing.hpp"
#include "job/decide.hpp"

namespace kp::app {

/// One session of the tool. Drive it with act() and poll(); draw snapshot(). A record is shown as
/// true only after its store has said that it is durable.
class Session {
 public:
  Session(Content content, Outside outside, job::Settings settings = {});

  /// Asks the stores which jobs there are. With `demo` the demo job is opened at once.
  void start(bool demo = false);
  /// Does what a person asked for, if it may be done; refusals stand on the next snapshot's card.
  void act(const Action& action);
  /// Takes what the stores have finished; true when something changed.
  bool poll();
  /// Takes the personal parts of these (job/personal.hpp) out of the open job, for good. What the
  /// store says of it is on the next snapshots; the safety record stays. No screen asks for it yet.
  void erase(const std::vector<std::string>& whose);
  /// The page was hidden or the screen went off, or came back.
  void set_hidden(bool hidden);

  /// What there is to see now. Made new when something changed or the shown second passed.
  const Snapshot& snapshot();
  /// Milliseconds until the picture changes by itself; negative: not before something happens.
  [[nodiscard]] std::int64_t next_change_ms();

  [[nodiscard]] const job::State& state() const { return state_; }
  [[nodiscard]] const Content& content() const { return content_; }
  /// The lines of the open job that are durable.
  [[nodiscard]] const std::vector<std::string>& lines() const { return lines_; }
  [[nodiscard]] bool saving() const { return !pending_.empty(); }

 private:
  [[nodiscard]] port::Store& store() const;
  [[nodiscard]] port::Store& store_of(job::Mode mode) const;
  [[nodiscard]] job::Context context() const { return {&content_.library, &settings_}; }
  [[nodiscard]] job::Stamp stamp_now(std::uint32_t n);
  [[nodiscard]] Desk desk();

  void ask(port::Request request, Asked asked);
  void ask_lists();
  void open(const std::string& job, job::Mode mode);
  void create(job::Mode mode, bool demo);
  void begin(job::Mode mode, const std::string& job, std::vector<job::Body> first);
  void go_on_in_new();
  [[nodiscard]] std::string new_job_id();
  void leave();
  void not_begun(const Error& why);
  void take_over_here();
  void take_lost(job::Mode mode);
  void lose();
  void read_only();
  [[nodiscard]] Knowledge knowledge();
  [[nodiscard]] bool ends_a_proof();
  bool follow(bool at_once = false);
  void look();
  void read_on();
  void take_look(const port::Completion& done);
  void take_followed(const port::Completion& done);
  void note_unstored(std::string line);
  /// What an export must hold besides the journal: damaged lines, lines that were not stored.
  [[nodiscard]] port::Document rest_of_journal() const;
  /// The id that the store keeps it under; a fork's journal names another job.
  [[nodiscard]] const std::string& open_job() const { return wanted_; }
  void rebuild_start();
  void take_lists(const Asked& asked, const port::Completion& done);
  void take_row(const Asked& asked, const port::Completion& done);
  void take_acquired(const Asked& asked, const port::Completion& done);
  void take_taken_over(const port::Completion& done);
  void take_loaded(const port::Completion& done);
  /// The state of these lines; false where they cannot be believed to their end.
  bool take_lines(const std::vector<std::string>& lines);
  void resume(const std::vector<std::string>& lines);
  void take_answer(const Asked& asked, const port::Completion& done);
  void take_of_open(const Asked& asked, const port::Completion& done);
  bool take_append(const port::Completion& done);

  /// Decides, and on acceptance writes. `quiet`: no refusal on the card. True when accepted.
  bool propose(const job::Body& intent, bool quiet = false);
  [[nodiscard]] bool means(const job::Body& intent, const Pending& pending) const;
  void record_refusal(const job::Body& intent, const job::Decision& decision);
  /// The same for what is one motion: all of it, or nothing and the reasons.
  bool propose_all(const std::vector<job::Body>& intents);
  void write(const std::vector<job::Body>& bodies);
  void add_pending(job::Stamp stamp, const job::Body& body);
  void confirm_first();
  void all_kept();
  void drop_pending(const Error& why);
  void check();
  void take_check(const port::Completion& done);
  /// Writes the lines from that index on into a store that lost them, and what is on its way.
  void write_again(std::size_t from);
  void take_again(const port::Completion& done);
  void take_erased(const port::Completion& done);
  void note_screen();
  void settle();
  void replan();
  void replan_test();
  /// What waits for a record to be durable: papers of an issued invoice, the demo.s next record.
  void go_on();
  void hand_over(const std::string& id);
  void issue(const std::vector<std::string>& papers);
  void offer(const std::vector<std::string>& papers);
  /// What the platform says became of offered papers: those of the open job become records.
  bool take_handed();
  void write_handed();
  void export_journal();
  bool act_start(const Action& action);
  bool act_local(const Action& action);
  void set_word(const std::string& id, const std::string& text);
  std::optional<job::Body> body_of(const Action& action);
  job::Body quote_body(const Action& action);
  std::optional<job::Body> swap_body(const Action& action, const pack::Pack* pack);
  [[nodiscard]] std::string fault_of(const std::string& part, const std::string& mend) const;
  void fill_unsure(Snapshot& out, const Desk& now) const;
  void rebuild(const job::Stamp& now);
  void say_why_not(Snapshot& out);

  Content content_;
  Outside outside_;
  job::Settings settings_;

  std::string life_;
  std::string person_;               ///< who works; empty: asked before the first confirmation
  std::string tester_;               ///< kept per device
  job::Mode mode_ = job::Mode::field;
  std::map<port::Request, Asked> asked_field_;
  std::map<port::Request, Asked> asked_practice_;
  std::vector<Row> jobs_;

  bool open_ = false, opening_ = false;
  std::string wanted_;               ///< the job being opened
  std::string trouble_;              ///< why the open job cannot be written, empty: it can
  Apart apart_ = Apart::none;        ///< why its journal is only read
  bool elsewhere_ = false;           ///< another window writes it; it may be taken over
  std::string refused_;              ///< why no real job can be kept here, empty: they can
  std::string not_begun_;            ///< why the last new job was not begun
  port::Keeping keeping_;            ///< as it was looked at last
  job::State state_;
  std::vector<std::string> lines_;
  std::string tip_;
  job::People people_;
  std::deque<Pending> pending_;
  std::deque<job::Body> queued_;     ///< records that begin a job and are still to be made
  std::map<int, job::HandedOver> offered_;  ///< papers of the open job, by the offer's number
  std::vector<job::Body> handed_;           ///< that left, and are not recorded yet
  std::vector<std::string> after_issue_;  ///< papers to offer once the invoice is recorded
  std::string unsaved_;              ///< why the last record was not kept
  std::vector<std::string> unstored_;     ///< its lines: decided, not stored, so not confirmed
  std::vector<std::string> unread_;       ///< lines of a damaged journal from the damage on
  Standing standing_;
  Knowledge shown_knowledge_ = Knowledge::known;
  std::optional<Owed> owed_;
  std::optional<Then> then_;
  Unsure unsure_;
  Erasing erasing_;

  plan::Plan way_in_, way_back_, way_to_test_;
  std::string way_test_;             ///< the test it leads to, from the unit after that record
  std::uint32_t way_test_for_ = 0, planned_for_ = 0;
  std::optional<Finder> finder_;
  int finder_model_ = -1;
  bool planned_ = false;

  Local local_;
  Snapshot snapshot_;
  Preferences preferences_;
  bool dirty_ = true, hidden_ = false;   ///< hidden: the screen is away
  std::uint32_t revision_ = 1;
  std::int64_t shown_second_ = -1;
};

}  // namespace kp::app
