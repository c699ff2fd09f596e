#include "app/step_words.hpp"

#include "base/text.hpp"
#include "base/time.hpp"

namespace kp::app {

namespace {

/// What is said of a joint once it is released, and once it is fastened, by its kind.
struct Done {
  const char* released;
  const char* fastened;
};

Done done_of(pack::JointKind kind) {
  switch (kind) {
    case pack::JointKind::screw:
    case pack::JointKind::nut:
      return {"undone", "tight"};
    case pack::JointKind::clip:
    case pack::JointKind::hose_clamp:
      return {"off", "on"};
    case pack::JointKind::plug:
    case pack::JointKind::spade:
      return {"pulled", "pushed home"};
    case pack::JointKind::snap:
      return {"unsnapped", "snapped in"};
    case pack::JointKind::quarter_turn:
      return {"turned free", "turned home"};
    case pack::JointKind::spring:
      return {"unhooked", "hooked in"};
    case pack::JointKind::slide:
      return {"slid out", "slid in"};
    case pack::JointKind::knob:
      return {"pulled off", "pushed on"};
    case pack::JointKind::tape:
      return {"peeled off", "stuck down"};
  }
  return {"released", "fastened"};
}

std::string counted(const std::string& name, int count) {
  return count > 1 ? cat(name, ", ", count) : name;
}

void joint_words(const pack::Pack& pack, const pack::Joint& joint, bool fasten, StepWords& out) {
  const Done done = done_of(joint.kind);
  out.deed = fasten ? job::Deed::fasten : job::Deed::release;
  out.what = joint.id;
  out.title = counted(joint.name, joint.count);
  out.sentence = fasten ? joint.fasten : joint.release;
  out.done = cat(lower(joint.name), " ", fasten ? done.fastened : done.released);
  out.caution = joint.caution;
  out.why = joint.why;
  out.drawing = joint.drawing;
  out.tool = pack.tools[to_size(joint.tool)].title;
  out.checks = joint.refit_checks;
}

void part_words(const pack::Part& part, bool set, StepWords& out) {
  out.deed = set ? job::Deed::set : job::Deed::remove;
  out.what = part.id;
  out.title = cat(part.name, set ? " in" : " out");
  out.sentence = set ? part.refit : part.remove;
  out.done = cat(lower(part.name), set ? " in its place" : " out");
  out.caution = part.caution;
  out.why = part.why;
  out.drawing = part.drawing;
  out.checks = part.refit_checks;
}

void turn_words(const pack::Pack& pack, const pack::PositionChange& change, StepWords& out) {
  const pack::Position& to = pack.positions[to_size(change.to)];
  out.deed = job::Deed::turn;
  out.what = to.id;
  out.title = to.title;
  out.sentence = change.instruction;
  out.done = lower(to.title);
  out.caution = change.caution;
  out.why = to.instruction;
  out.drawing = to.drawing;
}

}  // namespace

bool words_of(const pack::Pack& pack, const plan::Step& step, StepWords& out) {
  const std::size_t at = to_size(step.subject);
  switch (step.kind) {
    case plan::Kind::take_tool:
      return false;
    case plan::Kind::turn:
      turn_words(pack, pack.changes[at], out);
      return true;
    case plan::Kind::release:
    case plan::Kind::fasten:
      joint_words(pack, pack.joints[at], step.kind == plan::Kind::fasten, out);
      return true;
    case plan::Kind::remove:
    case plan::Kind::set:
      part_words(pack.parts[at], step.kind == plan::Kind::set, out);
      return true;
  }
  return false;
}

bool words_of(const pack::Pack& pack, job::Deed deed, const std::string& what, StepWords& out) {
  switch (deed) {
    case job::Deed::release:
    case job::Deed::fasten: {
      const int joint = pack.joint(what);
      if (joint >= 0) {
        joint_words(pack, pack.joints[to_size(joint)], deed == job::Deed::fasten, out);
      }
      return joint >= 0;
    }
    case job::Deed::remove:
    case job::Deed::swap:
    case job::Deed::set: {
      const int part = pack.part(what);
      if (part >= 0) {
        part_words(pack.parts[to_size(part)], deed == job::Deed::set, out);
      }
      return part >= 0;
    }
    case job::Deed::turn: {
      const int to = pack.position(what);
      for (const pack::PositionChange& change : pack.changes) {
        if (change.to == to) {
          turn_words(pack, change, out);
          return true;
        }
      }
      return false;
    }
  }
  return false;
}

std::string about(std::int64_t ms) { return cat("about ", duration_words((ms + 999) / 1000)); }

}  // namespace kp::app
