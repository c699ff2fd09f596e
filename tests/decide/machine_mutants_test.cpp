// What a machine is to the gate with one thing taken away, at run time: a tag, a group, a posture, a
// point of proof. The act that then goes through breaks what the eye knows.

#include <doctest/doctest.h>

#include "decide/row_mutants.hpp"

using namespace kp;
using namespace kp::test;

namespace {

/// One thing that the machine has not any more: in its pack, or in what was derived from it.
struct Change {
  std::string what;
  Site site;
  void (*pack)(pack::Pack&);
  void (*derived)(job::Model&);
  Story story;
  std::string intent;
  std::string broken;   ///< how what the eye says begins
};

pack::Test& test_of(pack::Pack& pack, const char* id) { return pack.tests[to_size(pack.test(id))]; }

/// Nothing live is known to be at this place any more.
void no_conductors(job::Model& model, const std::string& place) {
  const int group = model.hazards.group(place);
  for (auto* list : {&model.hazards.group_of_joint, &model.hazards.group_of_part}) {
    std::replace(list->begin(), list->end(), group, -1);
  }
  model.hazards.groups[to_size(group)].behind.clear();
}
void no_heat(job::Model& model) {
  for (job::Group& group : model.hazards.groups) group.hot = false;
  for (auto* list : {&model.hazards.joints, &model.hazards.parts}) {
    for (job::Hazards::Tags& tags : *list) {
      tags.erase(std::remove_if(tags.begin(), tags.end(),
                                [](const auto& one) { return one.tag == pack::Contact::hot; }),
                 tags.end());
    }
  }
}
void no_wet_band(job::Model& model) {
  job::Hazards::Tags& tags = model.hazards.joints[to_size(model.pack.joint("band"))];
  tags.erase(std::remove_if(tags.begin(), tags.end(),
                            [](const auto& one) { return one.tag == pack::Contact::wet; }),
             tags.end());
}

const std::vector<Change>& electric() {
  static const Story parting = and_then(made_safe(Site::fixed), {"discharge " + kBoxPlace, "READ " + kBoxPlace});
  static const Story proved = up_to(made_safe(Site::fixed), "READ supply");
  static const std::vector<Change> list = {
      {"a box without its conductors", Site::fixed, nullptr,
       [](job::Model& m) { no_conductors(m, kBoxPlace); },
       made_safe(Site::fixed), "release earth", "I1"},
      {"a load without its conductors", Site::fixed, nullptr,
       [](job::Model& m) { no_conductors(m, kLoadPlace); }, proved,
       "test hot", "I1"},
      {"a capacitor without charge", Site::fixed, nullptr,
       [](job::Model& m) {
         for (job::Group& group : m.hazards.groups) group.can_hold_charge = false;
       },
       and_then(proved, {"READ " + kLoadPlace}), "test hot", "I1"},
      {"leads that are not those of the house", Site::fixed,
       [](pack::Pack& p) {
         for (pack::Element& one : p.circuit.elements) {
           one.joint = one.joint == p.joint("leads") ? -1 : one.joint;
         }
       },
       nullptr, parting, "release leads", "I9"},
      {"points of proof in the open", Site::fixed,
       [](pack::Pack& p) { p.supply.proof.points.clear(); }, nullptr,
       Story{"prepare", "stop", "isolate-breaker", "hold", "shut", "try"}, "read-good supply",
       "read behind a cover"},
      {"an insulation test that is any test", Site::fixed,
       [](pack::Pack& p) {
         p.prove_tests[to_size(p.prove_test("insulation"))].item = pack::ProveItem::b1;
       },
       nullptr, made_safe(Site::fixed), "prove insulation", "I10"},
      {"a reason that nobody gave", Site::fixed,
       [](pack::Pack& p) { test_of(p, "unreasoned").needs_live = pack::NeedsLive::movement; }, nullptr,
       up_to(measured(Site::fixed), "power-on"), "test unreasoned", "live work"},
  };
  return list;
}

const std::vector<Change>& others() {
  static const Story lies = stands(Site::cord);
  static const Story loose = up_to(lies, "release fixing");
  static const Story held = {"prepare", "stop", "isolate-plug", "hold", "shut", "try"};
  static const std::vector<Change> list = {
      {"a joint that is not wet", Site::cord, nullptr, no_wet_band,
       up_to(made_safe(Site::cord), "relieve"), "release band", "W:"},
      {"a heater that is not hot", Site::split, nullptr, no_heat,
       up_to(made_safe(Site::split), "READ " + kLoadPlace), "relieve", "T:"},
      {"water that is relieved from outside", Site::cord,
       [](pack::Pack& p) { p.water.relieve_behind.clear(); }, nullptr,
       up_to(made_safe(Site::cord), "READ supply"), "relieve", "I1"},
      {"a leak test without water", Site::fixed,
       [](pack::Pack& p) { test_of(p, "drip").static_water = false; }, nullptr,
       made_safe(Site::fixed), "test drip", "I5"},
      {"one who lays it down alone", Site::cord,
       [](pack::Pack& p) {
         for (pack::PositionChange& one : p.changes) one.people = 1;
       },
       [](job::Model& m) { m.hazards.change_people.assign(m.pack.changes.size(), 1); },
       and_then(loose, {"secure-on-back"}), "turn on-back", "a person is missing"},
      {"nothing heavy", Site::cord,
       [](pack::Pack& p) {
         for (pack::PositionChange& one : p.changes) one.contacts.clear();
       },
       [](job::Model& m) { m.hazards.changes.assign(m.pack.changes.size(), {}); },
       and_then(loose, {"helper"}), "turn on-back", "a load that is not secured"},
      {"a machine that lies upright", Site::cord,
       [](pack::Pack& p) { p.positions[to_size(p.position("on-back"))].upright = true; }, nullptr,
       lies, "read-good supply", "read while it lies"},
      {"an open door that is none", Site::cord,
       [](pack::Pack& p) { p.positions[to_size(p.position("door-open"))].door_open = false; },
       nullptr, Story{"prepare", "stop", "isolate-plug", "hold", "shut", "turn door-open"}, "try",
       "tried with the door open"},
      {"a fixing that holds nothing", Site::fixed,
       [](pack::Pack& p) { p.joints[to_size(p.joint("fixing"))].against_tipping = false; }, nullptr,
       and_then(made_safe(Site::fixed), {"turn door-open"}), "release fixing", "I6"},
      {"a tub that is reached from anywhere", Site::cord,
       [](pack::Pack& p) { test_of(p, "reach").positions.clear(); }, nullptr, held, "test reach",
       "reached through a shut door"},
  };
  return list;
}

job::Library changed(const Change& change) {
  job::Library out;
  for (const Site site : {Site::cord, Site::fixed, Site::split}) {
    pack::Pack pack = SmallPack(site).take();
    if (site == change.site && change.pack != nullptr) change.pack(pack);
    auto model = job::make_model(std::move(pack));
    REQUIRE(model.has_value());
    if (site == change.site && change.derived != nullptr) change.derived(model.value());
    out.models.push_back(std::move(model.value()));
  }
  return out;
}

/// What noticed it; empty: nothing.
std::string noticed_by(const Change& change) {
  const SmallJob sound(change.site);
  std::string stuck;
  const SmallNode node = sound.walk(change.story, stuck).back();
  CHECK_MESSAGE(stuck.empty(), change.what << ": " << stuck);
  const Intent intent = SmallJob::named(node, change.intent);
  CHECK_MESSAGE(!sound.ask(node, intent).accepted(), change.what << ": the sound machine lets it through");
  const job::Library library = changed(change);
  const SmallJob job(change.site, safety::rules(), library);
  const job::Decision decision = job.ask(node, intent);
  if (!decision.accepted()) {
    std::string out = "still refused:";
    for (const safety::Reason& reason : decision.reasons) out += " " + reason.code;
    FAIL_CHECK(change.what << " " << out);
    return "";
  }
  Breach::Counts counts{};
  return broken_by(node, intent, job.after(node, intent, decision), counts);
}

}  // namespace

TEST_CASE("decide: a machine with one thing taken away is noticed by what then goes through") {
  int all = 0;
  int noticed = 0;
  std::string list;
  for (const std::vector<Change>* changes : {&electric(), &others()}) {
    for (const Change& change : *changes) {
      const std::string fault = noticed_by(change);
      const bool one = fault.rfind(change.broken, 0) == 0;
      CHECK_MESSAGE(one, change.what << " is noticed by \"" << fault << "\"");
      ++all;
      noticed += one ? 1 : 0;
      list += cat("\n  ", change.what, ": ", fault, " (", change.intent, ")");
    }
  }
  MESSAGE(noticed << " of " << all << " mutants of the machines noticed" << list);
}
