#include "plan/structure.hpp"

#include "base/text.hpp"

namespace kp::plan {
namespace {

class Structure {
 public:
  Structure(const Problem& problem, Findings& findings) : p_(problem), out_(findings) {}

  void run() {
    sizes();
    index("/home", p_.home, to_int(p_.positions.size()), "position");
    for (int i = 0; i < to_int(p_.turns.size()); ++i) turn(i);
    for (int i = 0; i < to_int(p_.tools.size()); ++i) {
      cost(cat("/tools/", i, "/take_ms"), p_.tools[to_size(i)].take_ms);
    }
    for (int i = 0; i < to_int(p_.parts.size()); ++i) part(i);
    for (int i = 0; i < to_int(p_.joints.size()); ++i) joint(i);
    for (int i = 0; i < to_int(p_.forbidden.size()); ++i) forbidden(i);
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

  void size(const char* list, std::size_t have, int most) {
    if (have > to_size(most)) {
      add("too-large", cat("/", list), cat(to_int(have), " ", list, " are too many"),
          cat("Use at most ", most));
    }
  }

  void sizes() {
    size("positions", p_.positions.size(), kMaxPositions);
    size("tools", p_.tools.size(), kMaxTools);
    size("parts", p_.parts.size(), kMaxParts);
    size("joints", p_.joints.size(), kMaxJoints);
    size("turns", p_.turns.size(), kMaxPositions * kMaxPositions);
  }

  bool index(const std::string& pointer, int value, int count, const char* kind) {
    if (value >= 0 && value < count) return true;
    add("unknown-index", pointer, cat("there is no ", kind, " ", value),
        count == 0 ? cat("Add a ", kind) : cat("Use 0 to ", count - 1));
    return false;
  }

  void indices(const std::string& pointer, const std::vector<int>& list, std::size_t count,
               const char* kind) {
    for (int i = 0; i < to_int(list.size()); ++i) {
      index(cat(pointer, "/", i), list[to_size(i)], to_int(count), kind);
    }
  }

  void cost(const std::string& pointer, std::int64_t ms) {
    if (ms < 0 || ms > kMaxCostMs) {
      add("bad-cost", pointer, cat(ms, " ms is no usable time"), cat("Use 0 to ", kMaxCostMs));
    }
  }

  void access(const std::string& pointer, const Access& behind) {
    for (int i = 0; i < to_int(behind.size()); ++i) {
      const Way& way = behind[to_size(i)];
      indices(cat(pointer, "/", i), way.parts, p_.parts.size(), "part");
      indices(cat(pointer, "/", i, "/positions"), way.positions, p_.positions.size(), "position");
    }
  }

  void turn(int i) {
    const Turn& turn = p_.turns[to_size(i)];
    const std::string at = cat("/turns/", i);
    index(cat(at, "/from"), turn.from, to_int(p_.positions.size()), "position");
    index(cat(at, "/to"), turn.to, to_int(p_.positions.size()), "position");
    cost(cat(at, "/cost_ms"), turn.cost_ms);
    indices(cat(at, "/needs_released"), turn.needs_released, p_.joints.size(), "joint");
    indices(cat(at, "/needs_removed"), turn.needs_removed, p_.parts.size(), "part");
  }

  void forbidden(int i) {
    const Forbidden& forbidden = p_.forbidden[to_size(i)];
    const std::string at = cat("/forbidden/", i);
    indices(cat(at, "/positions"), forbidden.positions, p_.positions.size(), "position");
    indices(cat(at, "/joints"), forbidden.joints, p_.joints.size(), "joint");
    if (forbidden.joints.empty()) {
      add("empty-forbidden", cat(at, "/joints"), "a position is forbidden whatever is released",
          "Name the joints that must not all be released there");
    }
  }

  void tool(const std::string& pointer, int tool) {
    if (tool != -1) index(pointer, tool, to_int(p_.tools.size()), "tool");
  }

  void part(int i) {
    const Part& part = p_.parts[to_size(i)];
    const std::string at = cat("/parts/", i);
    tool(cat(at, "/tool"), part.tool);
    cost(cat(at, "/cost_ms"), part.cost_ms);
    indices(cat(at, "/positions"), part.positions, p_.positions.size(), "position");
    access(cat(at, "/behind"), part.behind);
    if (part.inside == -1) return;
    if (index(cat(at, "/inside"), part.inside, to_int(p_.parts.size()), "part")) carriers(i, at);
  }

  void carriers(int i, const std::string& at) {
    const int count = to_int(p_.parts.size());
    int carrier = p_.parts[to_size(i)].inside;
    for (int hops = 0; carrier >= 0 && carrier < count; ++hops) {
      if (hops == count || carrier == i) {
        add("carrier-circle", cat(at, "/inside"), "the part is inside itself",
            "Name the assembly that carries the part");
        return;
      }
      carrier = p_.parts[to_size(carrier)].inside;
    }
  }

  void joint(int i) {
    const Joint& joint = p_.joints[to_size(i)];
    const std::string at = cat("/joints/", i);
    tool(cat(at, "/tool"), joint.tool);
    cost(cat(at, "/cost_ms"), joint.cost_ms);
    indices(cat(at, "/positions"), joint.positions, p_.positions.size(), "position");
    indices(cat(at, "/parts"), joint.parts, p_.parts.size(), "part");
    access(cat(at, "/behind"), joint.behind);
    indices(cat(at, "/needs_released"), joint.needs_released, p_.joints.size(), "joint");
    const bool twice = joint.parts.size() == 2 && joint.parts[0] == joint.parts[1];
    if (joint.parts.size() > 2 || twice) {
      add("bad-joint", cat(at, "/parts"), "a joint holds at most two different parts",
          "Name one or two parts, or make two joints");
    }
  }

  const Problem& p_;
  Findings& out_;
};

}  // namespace

void check_structure(const Problem& problem, Findings& findings) {
  Structure(problem, findings).run();
}

}  // namespace kp::plan
