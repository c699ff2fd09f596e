#pragma once
// The states of a job at a small machine that decide() and apply() reach, and every intent in each.

#include <deque>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "job/decide.hpp"
#include "decide/moves.hpp"
#include "decide/stories.hpp"

namespace kp::test {

inline constexpr std::int64_t kBegin = 1'793'500'000'000;
inline constexpr std::int64_t kWatchMs = 130'000;
inline constexpr std::int64_t kFiveHoursMs = 5 * 3'600'000;

struct SmallNode {
  job::State state;
  Eye eye;
  std::string last;   ///< what led here
};

/// A job at one machine under some rows of the gate.
class SmallJob {
 public:
  explicit SmallJob(Site site, safety::Rules rows = safety::rules(),
                    const job::Library& library = small_library())
      : site_(site), library_(&library) {
    settings_.rows = std::move(rows);
  }

  [[nodiscard]] job::Stamp stamp(const SmallNode& node, const std::string& by) const {
    return {node.state.last_n + 1, Moment{node.eye.now, 0}, node.eye.now - kBegin + 1,
            "00000000000000a1", by.empty() ? node.eye.worker : by};
  }
  [[nodiscard]] job::Decision ask(const SmallNode& node, const Intent& intent) const {
    return job::decide(node.state, intent.body, stamp(node, intent.by), context());
  }
  [[nodiscard]] SmallNode after(const SmallNode& node, const Intent& intent,
                                const job::Decision& decision) const {
    SmallNode out = node;
    for (const job::Body& event : decision.events) {
      job::apply(out.state, stamp(out, intent.by), event, context());
      out.eye.by = intent.by.empty() ? node.eye.worker : intent.by;
      std::visit(out.eye, event);
    }
    out.last = intent.name;
    return out;
  }

  /// A job at its door: the machine known, the complaint noted.
  [[nodiscard]] SmallNode opened() const {
    SmallNode node;
    node.eye.site = site_;
    node.eye.now = kBegin;
    job::JobOpened open;
    open.job = "small";
    const std::vector<job::Body> first{
        open, job::MachineIdentified{kSites[static_cast<int>(site_)], "", ""},
        job::ComplaintNoted{"dead", ""}, job::StageEntered{job::Stage::make_safe}};
    for (const job::Body& body : first) {
      const Intent intent{"open", body, ""};
      node = after(node, intent, ask(node, intent));
    }
    return node;
  }

  /// Each state of a story, the first included; it ends early where something is refused, and
  /// `stuck` then says where.
  std::vector<SmallNode> walk(const Story& story, std::string& stuck) const {
    std::vector<SmallNode> out{opened()};
    for (const std::string& word : story) {
      const bool reads = word.rfind("READ ", 0) == 0;
      const std::string place = reads ? word.substr(5) : "";
      const std::size_t times = reads ? owed_at(site_, place).size() : 1;
      for (std::size_t i = 0; i < times; ++i) {
        if (word == "WAIT") {
          out.push_back(later(out.back(), kWatchMs));
          continue;
        }
        const Intent intent = named(out.back(), reads ? "read-good " + place : word);
        const job::Decision decision = ask(out.back(), intent);
        if (!decision.accepted()) {
          stuck = cat(word, ":");
          for (const auto& reason : decision.reasons) stuck += " " + reason.code;
          return out;
        }
        out.push_back(after(out.back(), intent, decision));
      }
    }
    return out;
  }

  static Intent named(const SmallNode& node, const std::string& name) {
    for (Intent& one : SmallMoves(node.eye).take()) {
      if (one.name == name) return std::move(one);
    }
    return {cat("no intent ", name), job::NoteAdded{}, ""};
  }
  static SmallNode later(const SmallNode& node, std::int64_t ms) {
    SmallNode out = node;
    out.eye.now += ms;
    out.last = "later";
    return out;
  }

  [[nodiscard]] job::Context context() const { return {library_, &settings_}; }

 private:
  Site site_;
  const job::Library* library_;
  job::Settings settings_;
};

/// What tells two states apart: everything but when and by which record.
class SmallKey {
 public:
  explicit SmallKey(const SmallNode& node) : node_(node) {
    const safety::State& s = node.state.safety;
    add(static_cast<int>(node.state.stage), static_cast<int>(node.state.outcome), s.power, s.water,
        s.prepared.holds(), s.frame_first, s.frame_live, s.frame_nil.holds(), s.stopped.holds());
    add(s.exposed, s.means, s.isolated.holds(), s.control, s.tried, s.device_opened, s.people,
        s.propped.holds(), s.helpers.empty(), s.inspected.holds(), s.warned.holds());
    add(s.last_hands_in.holds(), s.gap_open, s.tagged.holds(), s.ending, node.state.unit_unseen,
        node.state.swapped.size(), node.state.tests.empty(), node.state.target_ids.size());
    for (const safety::Stamp* one : {&s.supply_dead, &s.relieved, &s.holding, &s.looked, &s.held, &s.neutral_quiet}) {
      age(*one);
    }
    for (const safety::GroupProof& group : s.groups) {
      text(group.id);
      age(group.dead);
      age(group.discharged);
    }
    for (const safety::Lock& lock : s.locks) text(lock.id + lock.owner);
    text(s.worker + s.secured_position + s.lock);
    for (const std::string& place : s.cooled_places) text(place);
    text(s.series.place);
    for (const safety::Reading& one : s.series.readings) {
      add(one.role, one.found);
      text(one.pair.a + one.pair.b);
    }
    if (!s.series.readings.empty()) age(node.eye.begun);
    unit();
    history();
  }
  [[nodiscard]] std::string take() { return std::move(key_); }

 private:
  template <class... All>
  void add(All... all) {
    ((key_ += static_cast<char>('0' + static_cast<int>(all))), ...);
  }
  void text(const std::string& words) { key_ += words + '|'; }
  void age(const safety::Stamp& stamp) { age(stamp.holds() ? stamp.at.utc_ms : Eye::kNever); }
  void age(std::int64_t at) {
    const std::int64_t ms = node_.eye.now - at;
    add(at == Eye::kNever ? 0 : ms < kWatchMs - 10'000 ? 1 : ms < 600'000 ? 2 : ms < Eye::kFourHours ? 3 : 4);
  }
  void unit() {
    text(node_.state.as_left.position);
    for (const std::string& id : node_.state.as_left.loose) text(id);
    for (const std::string& id : node_.state.as_left.away) text(id);
    for (const auto& one : node_.state.proved) text(one.body.test + one.body.left_out);
  }
  void history() {
    const Eye& eye = node_.eye;
    add(eye.supply(), eye.held, eye.by_hand, eye.tried, eye.exposed, eye.opened, eye.water,
        eye.release, eye.gap, eye.on, eye.parted, eye.locks.size(), eye.loose.size(),
        eye.away.size(), eye.place(kLoadPlace), eye.place(kBoxPlace), eye.empty(kLoadPlace));
    age(eye.neutral);
  }

  const SmallNode& node_;
  std::string key_;
};

}  // namespace kp::test
