// The guide leads on from everywhere: what it asks for first is allowed, and done well it comes to
// the open gate, to power and water, or to the end of the visit, in a bounded number of things.

#include <doctest/doctest.h>

#include "model/technician.hpp"

using namespace kp;
using namespace kp::model;
using safety::Todo;
using safety::TodoKind;

namespace {

constexpr int kMost = 250;

/// Nodes from all walks, each once, at most kMost a walk.
std::vector<Node> walk_all(Site site) {
  std::vector<Node> out;
  const std::vector<Move> moves = Moves(site).take();
  for (unsigned walk = 0; walk < std::size(kWalks); ++walk) {
    std::unordered_set<Key, KeyHash> known;
    (void)explore(site, 1U << walk, moves, {}, kMost,
                  [](const Node&, const Move&, const Toy&, const safety::Ask&,
                     const safety::Verdict&) {},
                  [&](const Node&, const Move&, const Node& after) {
                    if (known.insert(key_of(after)).second) {
                      out.push_back(after);
                    }
                    return true;
                  });
  }
  return out;
}

const std::vector<Node>& some_nodes(Site site) {
  static const std::vector<Node> nodes[] = {walk_all(Site::cord), walk_all(Site::fixed),
                                            walk_all(Site::split)};
  return nodes[static_cast<int>(site)];
}

safety::Demand wet_work() {
  safety::Demand out;
  out.act = safety::Act::hands_in;
  out.groups = {{group_of("g1"), true}, {group_of("g2"), false}};
  out.opens_wet = true;
  return out;
}

struct Walked {
  int longest = 0;
  std::unordered_set<Key, KeyHash> good;   ///< from here it was seen to arrive
  std::string fault;
};

/// Does the first thing until none is left, or until a state from which it is known to arrive.
template <class Guide, class Done>
void follow_guide(const Node& from, const safety::Demand& goal, int most, const Guide& guide,
                  const Done& done, Walked& out) {
  Technician one(from, goal);
  std::vector<Key> path;
  std::string last;
  for (int i = 0; i <= most; ++i) {
    const Key key = key_of(one.node());
    if (out.good.count(key) > 0) {
      break;
    }
    path.push_back(key);
    const std::vector<Todo> todos = guide(one);
    if (todos.empty() || todos.front().kind == TodoKind::end) {
      if (!done(one)) {
        out.fault = cat("nothing more to do, and not there; last ", last);
        return;
      }
      break;
    }
    last = safety::words(todos.front().kind);
    if (i == most) {
      out.fault = cat("does not arrive: ", last);
      return;
    }
    if (!one.steady() || (one.node().state.held.holds() && !one.stand_up()) || !one.obey(todos.front())) {
      out.fault = cat("refused by the gate: ", last, ": ", one.refused());
      return;
    }
  }
  out.longest = std::max(out.longest, to_int(path.size()));
  out.good.insert(path.begin(), path.end());
}

}  // namespace

TEST_CASE("guide: from every state the first thing to do is allowed and leads to the open gate") {
  for (const Site site : {Site::cord, Site::fixed, Site::split}) {
    Walked walked;
    const std::vector<Node>& nodes = some_nodes(site);
    for (const Node& node : nodes) {
      follow_guide(node, wet_work(), 60, [](const Technician& one) { return one.make_safe(); },
                   [](const Technician& one) { return one.may(wet_work()); }, walked);
      if (!walked.fault.empty()) {
        FAIL_CHECK(walked.fault);
        break;
      }
    }
    MESSAGE(std::string(kSites[static_cast<int>(site)]) << ": from " << nodes.size()
            << " states, at most " << walked.longest << " things to an open gate");
  }
}

TEST_CASE("guide: from every state of a closed machine it leads to power and water") {
  for (const Site site : {Site::cord, Site::fixed, Site::split}) {
    Walked walked;
    int begun = 0;
    for (const Node& node : some_nodes(site)) {
      const Toy& toy = node.toy;
      const bool whole = toy.live_covers_on() && toy.loose == Loose::none && !toy.tests_due &&
                         !toy.laid && !toy.tips();
      if (!whole || !node.state.prepared.holds() || node.state.device_opened) {
        continue;
      }
      ++begun;
      follow_guide(node, {}, 30, [](const Technician& one) { return one.put_back(); },
                   [](const Technician& one) {
                     return one.node().state.power == safety::Power::on &&
                            one.node().state.water == safety::Water::run;
                   }, walked);
      if (!walked.fault.empty()) {
        FAIL_CHECK(walked.fault);
        break;
      }
    }
    CHECK(begun > 100);
  }
}

TEST_CASE("guide: an opened device leads through the readings before the power") {
  for (const Site site : {Site::cord, Site::fixed, Site::split}) {
    Node node;
    node.toy.site = node.seen.site = site;
    node.toy.boxed = false;
    safety::apply(node.state, safety::Fact{safety::Doubted{safety::Doubt::device_opened}}, now_by("Ana"));
    safety::Prepared told;
    told.connection = site == Site::cord ? safety::Connection::cord : safety::Connection::fixed;
    safety::apply(node.state, safety::Fact{told}, now_by("Ana"));
    Walked walked;
    follow_guide(node, {}, 40, [](const Technician& one) { return one.put_back(); },
                 [](const Technician& one) {
                   return one.node().state.power == safety::Power::on && !one.node().state.device_opened;
                 }, walked);
    CHECK(walked.fault == "");
    CHECK(walked.longest > 10);
  }
}

TEST_CASE("guide: from every steady state it leads to a machine that may be left for parts") {
  for (const Site site : {Site::cord, Site::fixed, Site::split}) {
    Walked walked;
    safety::Demand leave;
    leave.act = safety::Act::leave;
    for (const Node& node : some_nodes(site)) {
      if (node.toy.laid || node.toy.tips() || node.state.ending != safety::Ending::none) {
        continue;
      }
      follow_guide(node, leave, 30,
                   [](const Technician& one) {
                     return one.wind_up(safety::Ending::waiting_for_parts);
                   },
                   [&](const Technician& one) { return one.may(leave); }, walked);
      if (!walked.fault.empty()) {
        FAIL_CHECK(walked.fault);
        break;
      }
    }
  }
}

TEST_CASE("guide: nothing to do where the gate is open, and one thing where it cannot know") {
  safety::State ended;
  ended.ending = safety::Ending::repaired;
  safety::Ask ask;
  ask.by = "Ana";
  const auto todos = safety::make_safe(ended, ask, {1, 1}, {}, supply_of(Site::fixed));
  REQUIRE(todos.size() == 1);
  CHECK(todos[0].kind == TodoKind::reopen);
  safety::State gap;
  gap.gap_open = true;
  const auto answer = safety::make_safe(gap, ask, {1, 1}, {}, supply_of(Site::fixed));
  REQUIRE(answer.size() == 1);
  CHECK(answer[0].kind == TodoKind::answer_gap);
  ask.demand.act = safety::Act::look_outside;
  CHECK(safety::make_safe({}, ask, {1, 1}, {}, supply_of(Site::fixed)).empty());
}

TEST_CASE("guide: what lies is stood up held, in front of the proof that it cannot have lying") {
  Node node;
  node.toy.site = Site::cord;
  safety::Ask ask;
  ask.by = "Ana";
  ask.demand.act = safety::Act::lay_down;
  ask.demand.people = 2;
  ask.demand.contacts = {safety::Contact::heavy};
  ask.machine.upright = false;
  std::string order;
  for (const Todo& todo : safety::make_safe(node.state, ask, {1, 1}, {}, supply_of(Site::cord))) {
    order += cat(safety::words(todo.kind), " ");
  }
  CHECK(order == "prepare stop isolate shut-water hold try-controls secure helper ");
}

TEST_CASE("guide: the door of a loose machine is propped last, for hands and for a look") {
  safety::Ask ask;
  ask.by = "Ana";
  ask.machine.stable = false;
  for (const safety::Act act : {safety::Act::look_inside, safety::Act::touch_outside, safety::Act::hands_in}) {
    ask.demand.act = act;
    const auto todos = safety::make_safe({}, ask, {1, 1}, {}, supply_of(Site::fixed));
    REQUIRE_FALSE(todos.empty());
    CHECK(todos.back().kind == TodoKind::prop);
  }
}

TEST_CASE("guide: who left with the lock on reads the place again, from its known source") {
  Node node;
  node.toy.site = Site::fixed;
  node.toy.boxed = false;
  safety::Demand demand = wet_work();
  demand.groups = {{group_of("g2"), false}};
  Technician one(node, demand);
  for (int i = 0; i < 60 && !one.may(demand); ++i) {
    CHECK(one.obey(one.make_safe().front()));
  }
  CHECK(one.may(demand));
  safety::State left = one.node().state;
  safety::apply(left, safety::Fact{safety::Doubted{safety::Doubt::left}}, now_by("Ana"));
  safety::Ask ask;
  ask.by = "Ana";
  ask.demand = demand;
  const auto todos = safety::make_safe(left, ask, {kNow, kNow}, {}, supply_of(Site::fixed));
  REQUIRE_FALSE(todos.empty());
  CHECK(todos.front().kind == TodoKind::take_reading);
  CHECK(todos.front().wanted.role == safety::Role::known_before);
  CHECK(todos.front().place.id == "g2");
}

TEST_CASE("guide: the order of the trade, 1.8: prove, then relieve; each place discharged, then read") {
  Node node;
  node.toy.site = Site::fixed;
  safety::Demand hot = wet_work();
  hot.contacts = {safety::Contact::hot};
  hot.place = "g1";
  std::string order;
  TodoKind last = TodoKind::end;
  for (const Todo& todo : Technician(node, hot).make_safe()) {
    if (todo.kind != last || todo.kind != TodoKind::take_reading) {
      order += cat(safety::words(todo.kind), " ");
    }
    last = todo.kind;
  }
  CHECK(order.rfind("prepare stop isolate shut-water hold try-controls open-way take-reading "
                    "discharge take-reading ", 0) == 0);
  CHECK(order.find("relieve") > order.rfind("take-reading"));
  CHECK(order.find("watch") > order.find("relieve"));
  CHECK(order.find("cool") > order.find("watch"));
}
