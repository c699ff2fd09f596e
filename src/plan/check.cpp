#include <utility>

#include "base/text.hpp"
#include "plan/explain.hpp"
#include "plan/opening.hpp"
#include "plan/problem.hpp"
#include "plan/structure.hpp"

namespace kp::plan {
namespace {

class Checker {
 public:
  Checker(const Problem& problem, const Rules& rules, Findings& findings)
      : p_(problem), r_(rules), out_(findings) {
    State whole;
    whole.position = r_.home();
    s_ = opening(r_, whole);
    Scope scope;
    scope.jobs = ItemSet::up_to(r_.items());
    marks_ = landmarks(s_, scope);
  }

  void run() {
    for (int i = 0; i < r_.items(); ++i) item(i);
    for (int p = 0; p < r_.positions(); ++p) position(p);
    ways_home();
  }

 private:
  void add(const char* code, std::string pointer, std::string what, std::string remedy) {
    Finding finding;
    finding.code = code;
    finding.pointer = std::move(pointer);
    finding.what = std::move(what);
    finding.remedy = std::move(remedy);
    out_.add(std::move(finding));
  }

  void item(int i) {
    if (marks_.reached.test(i)) return;
    const bool joint = i < r_.joints();
    if (!joint && !p_.parts[to_size(i - r_.joints())].removable) return;
    const Reason reason = explain(r_, s_, marks_, i);
    const std::string pointer = joint ? cat("/joints/", i) : cat("/parts/", i - r_.joints());
    const std::string what = cat("nothing frees ", r_.item_name(i), ": ", reason.words);
    switch (reason.root) {
      case Reason::Root::circle:
        add("cyclic-cover", pointer, what, "Let one of them come away first");
        break;
      case Reason::Root::fixed:
        add("nothing-frees", pointer, what, "Let it come away, or give another way");
        break;
      case Reason::Root::position:
        add("nothing-frees", pointer, what, "Add a change of position, or allow another position");
        break;
      case Reason::Root::forbidden:
        add("nothing-frees", pointer, what, "Allow another position, or keep one of them fast");
        break;
    }
  }

  void position(int p) {
    if ((marks_.places >> static_cast<unsigned>(p) & 1U) != 0) return;
    const Reason reason = explain_position(r_, s_, marks_, p);
    add("position-unreachable", cat("/positions/", p),
        cat(r_.position_name(p), " is never taken: ", reason.words),
        reason.root == Reason::Root::forbidden ? "Let a change lead there with one of them fast"
                                               : "Add a change of position that leads there");
  }

  /// With everything released, can the unit be brought home from every position it can be in?
  void ways_home() {
    std::uint64_t home = std::uint64_t{1} << static_cast<unsigned>(r_.home());
    for (bool changed = true; changed;) {
      changed = false;
      for (const RuleTurn& turn : r_.turns()) {
        const std::uint64_t from = std::uint64_t{1} << static_cast<unsigned>(turn.from);
        if ((home & from) != 0 || (home >> static_cast<unsigned>(turn.to) & 1U) == 0) continue;
        if (!turn.stands(marks_.reached)) continue;
        home |= from;
        changed = true;
      }
    }
    for (int p = 0; p < r_.positions(); ++p) {
      const std::uint64_t bit = std::uint64_t{1} << static_cast<unsigned>(p);
      if ((marks_.places & bit) == 0 || (home & bit) != 0) continue;
      add("no-way-home", cat("/positions/", p),
          cat("no change of position leads from ", r_.position_name(p), " back to ",
              r_.position_name(r_.home())),
          "Add the change of position for the way back");
    }
  }

  const Problem& p_;
  const Rules& r_;
  Findings& out_;
  Sequence s_;
  Landmarks marks_;
};

}  // namespace

Findings check(const Problem& problem) {
  Findings findings;
  check_structure(problem, findings);
  if (!findings.all().empty()) return findings;
  const Result<Rules> rules = Rules::make(problem);
  if (!rules.has_value()) {
    Finding finding;
    finding.code = "too-large";
    finding.pointer = rules.error().where;
    finding.what = rules.error().what;
    finding.remedy = rules.error().remedy;
    findings.add(std::move(finding));
    return findings;
  }
  Checker(problem, rules.value(), findings).run();
  return findings;
}

}  // namespace kp::plan
