// The whole plan as a list: what was done, what comes, grouped by position and tool.
#include "app/desk.hpp"

#include "app/step_words.hpp"
#include "base/text.hpp"
#include "base/time.hpp"

namespace kp::app {

namespace {

/// The heading for a step; what needs no tool stays under the heading before it.
std::string group_of(const pack::Pack& pack, int position, const StepWords& words,
                     const std::string& before) {
  const std::string& where = pack.positions[to_size(position)].title;
  if (words.tool.empty()) {
    return before.rfind(where, 0) == 0 ? before : where;
  }
  return cat(where, " · ", lower(words.tool));
}

}  // namespace

void fill_plan(Snapshot& out, const Desk& desk) {
  const pack::Pack* pack = desk.pack();
  if (pack == nullptr || desk.state->targets.empty()) {
    return;
  }
  const bool back = static_cast<int>(desk.state->stage) >= static_cast<int>(job::Stage::close);
  const plan::Plan* way = back ? desk.way_back : desk.way_in;
  std::vector<std::string> names;
  for (const int target : desk.state->targets) {
    names.push_back(pack->parts[to_size(target)].name);
  }
  out.plan_title = back ? "Plan back" : cat("Plan to the ", join(names, " and the "));
  if (way != nullptr && !way->error.has_value()) {
    out.plan_detail = way->steps.empty()
                          ? std::string("All done")
                          : cat(duration_words((way->cost_ms + 999) / 1000), " left, ",
                                way->proved ? "proved shortest" : "a shorter way may exist");
  }
  int position = 0;
  std::string group;
  for (const auto& step : desk.state->steps) {
    StepWords words;
    if (!words_of(*pack, step.body.deed, step.body.what, words)) {
      continue;
    }
    if (words.deed == job::Deed::turn) {
      position = pack->position(step.body.what);
    }
    const bool is_back =
        words.deed == job::Deed::set || words.deed == job::Deed::fasten;
    if (is_back != back && words.deed != job::Deed::turn) {
      continue;
    }
    Row row = row_of(cat("done-", integer_text(step.stamp.n)), words.title, Mark::done);
    group = group_of(*pack, position, words, group);
    row.group = group;
    row.figure = clock_text(step.stamp.at);
    out.plan.push_back(row);
  }
  if (way == nullptr) {
    return;
  }
  bool first = true;
  for (const plan::Step& step : way->steps) {
    StepWords words;
    if (!words_of(*pack, step, words)) {
      continue;
    }
    Row row = row_of(cat("step-", words.what), words.title, first ? Mark::now : Mark::todo);
    const bool last_target = !back && words.deed == job::Deed::remove &&
                             &step == &way->steps.back();
    if (last_target && !first) {
      row.mark = Mark::target;
    }
    group = group_of(*pack, step.position, words, group);
    row.group = group;
    out.plan.push_back(row);
    first = false;
  }
}

}  // namespace kp::app
