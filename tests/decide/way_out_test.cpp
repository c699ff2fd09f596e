// No dead end: from every state that the stories of careful work reach at the small machines, and from
// what one more act of any kind makes of it, the guide proposes something that decide() accepts, and
// what it proposes leads to work with hands in and to a machine that may be left.

#include <doctest/doctest.h>

#include "decide/row_mutants.hpp"
#include "job/codec.hpp"
#include "job/unit_found.hpp"
#include "job/work.hpp"

using namespace kp;
using namespace kp::test;

namespace {

enum class Goal { hands_in, left };

/// What the technician has before the eyes: a job as it stands.
Work work_at(const SmallNode& node) {
  Work work;
  work.library = &small_library();
  work.state = node.state;
  work.wall = {node.eye.now, 0};
  work.mono_ms = node.eye.now - kBegin + 1;
  work.by = node.state.safety.worker.empty() ? node.eye.worker : node.state.safety.worker;
  return work;
}

bool may(const Work& work, const safety::Demand& demand) {
  return safety::permit(work.state.safety, job::ask_of(work.model(), work.state, demand, work.by),
                        work.clock(), work.law())
      .allowed;
}

std::vector<safety::Todo> todos_for(const Work& work, const safety::Demand& demand) {
  return safety::make_safe(work.state.safety, job::ask_of(work.model(), work.state, demand, work.by),
                           work.clock(), work.law(), job::supply_place(work.model(), work.state));
}

std::vector<safety::Todo> todos_for(const Work& work, Goal goal) {
  if (goal == Goal::hands_in) return todos_for(work, job::hands_demand());
  return safety::wind_up(work.state.safety, safety::Ending::not_to_be_used,
                         job::ask_of(work.model(), work.state, {}, work.by), work.clock(), work.law(),
                         job::supply_place(work.model(), work.state));
}

/// The card of the try says so where the door cannot be shut; the tester of a series stays the same.
job::Body answer(const Work& work, const safety::Todo& todo) {
  job::Body out = work.answer(todo);
  const bool open = work.pack().positions[to_size(work.state.unit.position)].door_open;
  if (auto* tried = std::get_if<safety::ControlsTried>(&out); tried != nullptr && open) {
    tried->answer = safety::Answer::tells_nothing;
  }
  if (auto* reading = std::get_if<safety::ReadingTaken>(&out)) reading->tester = "T1";
  return out;
}

/// What is done next. `waits`: after so long. Where nothing is proposed it is a note.
class Next {
 public:
  Next(const Work& work, Goal goal) : work_(work), goal_(goal) {}

  job::Body take() {
    const job::State& state = work_.state;
    if (state.outcome != job::Outcome::none) return job::VisitBegun{};
    if (state.unit_unseen && state.safety.prepared.holds()) return job::as_it_was_left(state);
    return first_of(todos_for(work_, goal_));
  }
  std::int64_t waits = 0;

 private:
  job::Body first_of(const std::vector<safety::Todo>& todos) {
    if (todos.empty() || ++depth_ > 4) return job::NoteAdded{};
    const safety::Todo& first = todos.front();
    switch (first.kind) {
      case safety::TodoKind::open_way: return step_of(work_.step_to(job::proof_targets(work_.model())));
      case safety::TodoKind::relieve: {
        const auto way = work_.step_to(job::relieve_targets(work_.model()));
        if (!way.empty()) return step_of(way);
        const auto before = todos_for(work_, job::relieve_demand(work_.model(), work_.state));
        return before.empty() ? answer(work_, first) : first_of(before);
      }
      case safety::TodoKind::watch:
        waits = kWatchMs;
        return answer(work_, first);
      case safety::TodoKind::end: {
        // What only the machine itself stands against is on its way home.
        safety::Demand leave;
        leave.act = safety::Act::leave;
        const auto home = work_.next_step(true);
        return may(work_, leave) || home.empty()
                   ? job::Body(job::JobEnded{job::Outcome::not_to_be_used, "a word"})
                   : step_of(home);
      }
      default: return answer(work_, first);
    }
  }
  /// The step, or what the gate wants before it.
  job::Body step_of(const std::vector<job::StepDone>& way) {
    if (way.empty()) return job::NoteAdded{};
    const job::StepDone& step = way.front();
    const int index = job::subject_index(work_.pack(), work_.state.unit, step.deed, step.what);
    const auto before = todos_for(work_, job::demand_of(work_.model(), work_.state, step.deed, index));
    return before.empty() ? job::Body(step) : first_of(before);
  }

  const Work& work_;
  Goal goal_;
  int depth_ = 0;
};

bool is_there(const Work& work, const SmallNode& node, Goal goal) {
  if (goal == Goal::left) return node.eye.ended;
  return work.state.outcome == job::Outcome::none && !work.state.unit_unseen &&
         may(work, job::hands_demand());
}

class WayOut {
 public:
  WayOut(Site site, Goal goal) : job_(site), goal_(goal) {}

  /// Follows the guide; what went wrong, or nothing.
  std::string follow(SmallNode node) {
    constexpr int kMost = 80;
    std::vector<std::string> path;
    std::string last = node.last;
    for (int i = 0; i < kMost; ++i) {
      const Work work = work_at(node);
      const std::string key = SmallKey(node).take();
      if (good_.count(key) > 0 || is_there(work, node, goal_)) {
        good_.insert(path.begin(), path.end());
        longest_ = std::max(longest_, i);
        return "";
      }
      path.push_back(key);
      Next next(work, goal_);
      Intent intent{"the guide", next.take(), work.by};
      node.eye.now += next.waits;
      if (std::holds_alternative<job::NoteAdded>(intent.body)) {
        return cat("nothing is proposed after ", last);
      }
      const job::Decision decision = job_.ask(node, intent);
      if (says(decision, "not-bled") && decision.reasons.size() == 1) {
        node.eye.now += kWatchMs;   // the card says how long
        continue;
      }
      if (!decision.accepted()) {
        std::string out = cat(job::kind_of(intent.body), " after ", last, " is refused:");
        for (const safety::Reason& reason : decision.reasons) out += " " + reason.code;
        return out;
      }
      last += cat(" > ", job::kind_of(intent.body));
      node = job_.after(node, intent, decision);
      node.eye.now += 1000;
    }
    return cat("does not come to an end after ", last);
  }
  [[nodiscard]] int longest() const { return longest_; }

 private:
  SmallJob job_;
  Goal goal_;
  std::set<std::string> good_;
  int longest_ = 0;
};

/// The states of the stories, and what one more act makes of every `stride`th of them.
std::vector<SmallNode> some_nodes(Site site, int stride) {
  const SmallJob job(site);
  std::vector<SmallNode> out;
  std::set<std::string> known;
  const auto take = [&](SmallNode node) {
    if (known.insert(SmallKey(node).take()).second) out.push_back(std::move(node));
  };
  for (const Story& story : stories(site)) {
    std::string stuck;
    for (SmallNode& node : job.walk(story, stuck)) take(std::move(node));
  }
  std::string stuck;
  take(job.walk(found_tipping(), stuck).back());
  const std::size_t told = out.size();
  for (std::size_t i = 0; i < told; i += to_size(stride)) {
    const SmallNode node = out[i];
    for (const Intent& intent : SmallMoves(node.eye).take()) {
      const job::Decision decision = job.ask(node, intent);
      if (decision.accepted()) take(job.after(node, intent, decision));
    }
  }
  return out;
}

}  // namespace

TEST_CASE("decide: no dead end: the guide leads from every state to hands in, and to a machine left") {
  constexpr int kStride = 4;
  for (const Site site : {Site::cord, Site::fixed, Site::split}) {
    const std::vector<SmallNode> nodes = some_nodes(site, kStride);
    for (const Goal goal : {Goal::hands_in, Goal::left}) {
      WayOut way(site, goal);
      std::set<std::string> faults;
      for (const SmallNode& node : nodes) {
        const std::string fault = way.follow(node);
        if (!fault.empty()) faults.insert(fault);
      }
      for (const std::string& fault : faults) {
        FAIL_CHECK(std::string(kSites[static_cast<int>(site)]) << ": " << fault);
      }
      const std::string where = goal == Goal::left ? "a machine that is left" : "hands in";
      MESSAGE(std::string(kSites[static_cast<int>(site)]) << ": from " << nodes.size() << " states to "
              << where << ", at most "
              << way.longest() << " things told until a state that is known to lead there");
    }
    CHECK(nodes.size() > 500);
  }
}
