#include <tuple>

#include "base/text.hpp"
#include "pack/source.hpp"

namespace kp::pack {
namespace {

Joint read_joint(data::Reader& from, const Names& names) {
  Joint joint;
  joint.id = id_text(from, "id");
  joint.name = words(from, "name");
  joint.kind = static_cast<JointKind>(from.choice("kind", joint_kind_words()));
  joint.drawing = id_or_none(from, "drawing");
  joint.parts = references(items(from, "parts", 1), names.parts, "part");
  if (joint.parts.size() > 2) {
    from.fault("too-many", "a joint holds one part or two together",
               "Make a joint of its own for each further part.", "parts");
  }
  joint.count = whole_or(from, "count", 1, 1, 99);
  joint.tool = reference(from, "tool", names.tools, "tool");
  joint.seconds_each = whole(from, "seconds_each", 0, 3600);
  std::tie(joint.x, joint.y) = point(from, "at");
  joint.positions = references(from, "positions", names.positions, "position");
  joint.behind = access(from, "behind", names);
  joint.needs_released = references(from, "needs_released", names.joints, "joint");
  joint.contacts = contacts(from, "contacts");
  joint.release = words(from, "release");
  joint.fasten = words(from, "fasten");
  joint.caution = words_or_none(from, "caution");
  joint.why = words_or_none(from, "why");
  joint.refit_checks = references(from, "refit_checks", names.refit_checks, "refit check");
  joint.against_tipping = from.flag_or("against_tipping", false);
  from.done();
  return joint;
}

RefitCheck read_check(data::Reader& from) {
  RefitCheck check;
  check.id = id_text(from, "id");
  check.title = words(from, "title");
  check.how = words(from, "how");
  from.done();
  return check;
}

}  // namespace

void read_joints(data::Reader& root, const Names& names, Pack& pack) {
  for (data::Reader& joint : items(root, "joints", 0)) {
    pack.joints.push_back(read_joint(joint, names));
  }
  for (data::Reader& check : items(root, "refit_checks", 0)) {
    pack.refit_checks.push_back(read_check(check));
  }
}

}  // namespace kp::pack
