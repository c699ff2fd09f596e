#include "pack/check.hpp"

#include <algorithm>
#include <utility>

#include "base/check.hpp"
#include "pack/report.hpp"

namespace kp::pack {

const std::vector<Rule>& rules() {
  static const std::vector<Rule> all = {
      {"unknown-drawing", Severity::fault, "Every drawing named is there."},
      {"supply-band", Severity::fault, "The band of the house supply has a low and a high end."},
      {"proof-missing", Severity::fault,
       "Fixed wiring with a circuit says where it is proved dead."},
      {"proof-points", Severity::fault,
       "A supply is proved at its line or lines, neutral and earth, in this order."},
      {"proof-inside", Severity::fault,
       "Nothing is proved dead inside an enclosure that keeps a live side of the house."},
      {"relieve-out-of-reach", Severity::fault, "The place where water is relieved can be reached."},
      {"first-tool", Severity::fault, "The first tool is the bare hand and costs no change."},
      {"change-one-way", Severity::fault, "Each change of position has its way back."},
      {"position-unreachable", Severity::fault, "Each position can be taken from the first."},
      {"door-tips", Severity::fault,
       "A unit that is moved and has a door names a joint against tipping."},
      {"last-fixing", Severity::fault,
       "A joint against tipping can be loosened with the door shut or propped."},
      {"propped-shut", Severity::fault, "Only an open door is propped."},
      {"loose-part", Severity::fault,
       "What nothing holds is away before the unit is laid down or its door is propped."},
      {"inside-cycle", Severity::fault, "No assembly is inside itself."},
      {"part-not-freed", Severity::fault,
       "A part that comes away has a joint, a cover, or a reason why nothing holds it."},
      {"part-out-of-reach", Severity::fault, "A part comes away in a position that can be taken."},
      {"joint-out-of-reach", Severity::fault,
       "A joint can be released in a position that can be taken."},
      {"way-out-of-reach", Severity::fault,
       "A way that is bound to positions can be gone in one of them."},
      {"cover-fixed", Severity::fault, "What stands in front can be removed."},
      {"cover-cycle", Severity::fault, "No two things wait for each other."},
      {"joint-idle", Severity::warning, "Each joint frees a part or a change of position."},
      {"tool-idle", Severity::warning, "Each tool is used by a joint."},
      {"refit-check-idle", Severity::warning, "Each refit check is asked for."},
      {"caution-missing", Severity::fault,
       "Contacts that hurt at once (stored-charge, hot, sharp, sprung, heavy) have a caution."},
      {"node-floats", Severity::fault, "Each node of the circuit joins two elements."},
      {"self-loop", Severity::fault, "An element has its ends at two nodes."},
      {"element-value", Severity::fault, "An element has the values of its kind, and they rise."},
      {"terminal-double", Severity::fault, "Each terminal of a part is joined once."},
      {"chart-row", Severity::fault, "Each row of the programme has one sign a step."},
      {"row-idle", Severity::warning, "Each row of the programme moves a contact."},
      {"point-out-of-reach", Severity::fault, "A probe can reach each test point."},
      {"fault-effect", Severity::fault, "A fault does something whole to an element, or nothing."},
      {"fault-mend", Severity::fault, "A fault is mended, or its part has a stock number."},
      {"fault-silent", Severity::warning, "Each fault is heard of in a complaint."},
      {"fault-untested", Severity::warning, "Each mechanical fault is shown by a test."},
      {"symptom-empty", Severity::fault, "Each symptom has a suspect."},
      {"stock-missing", Severity::fault, "Each suspect part has a stock number."},
      {"price-missing", Severity::warning, "Each stock number has a price."},
      {"suspect-untested", Severity::warning, "Each suspect part has a test."},
      {"test-bounds", Severity::fault, "The band of a test makes sense and its field takes it."},
      {"test-circuit", Severity::fault, "A test on the circuit is made with the meter for it."},
      {"points-apart", Severity::fault, "Both points of a test can be had at the same time."},
      {"test-words", Severity::fault, "A look that faults show says what is good and what is bad."},
      {"test-out-of-reach", Severity::fault, "Each test can be made."},
      {"eyes-touch", Severity::fault, "A look with the eyes alone touches nothing."},
      {"needs-live", Severity::fault, "A live test, and no other, says why dead will not do."},
      {"static-water", Severity::fault, "A leak is looked at with water on and power off."},
      {"hot-reading", Severity::fault,
       "A hot reading is a dead measurement, with the band of that temperature."},
      {"prove-order", Severity::fault,
       "A prove test stands at the stage of its item, and its joints can be as it asks."},
      {"prove-out-of-reach", Severity::fault, "The place of each prove test can be opened."},
      {"prove-bounds", Severity::fault, "The bounds of a prove test make sense."},
      {"prove-missing", Severity::fault, "A pack proves the repair before power and running."},
      {"sentence-long", Severity::fault, "A sentence has at most 20 words."},
      {"sentence-chain", Severity::fault, "A sentence gives one instruction."},
      {"sentence-start", Severity::warning, "An instruction starts with its verb or condition."},
      {"sentence-end", Severity::warning, "A sentence ends with a full stop."},
  };
  return all;
}

bool has(const std::vector<Contact>& contacts, Contact contact) {
  return std::find(contacts.begin(), contacts.end(), contact) != contacts.end();
}

void Report::add(std::string_view code, std::string pointer, std::string what,
                 std::string remedy) {
  const auto rule = std::find_if(rules().begin(), rules().end(),
                                 [code](const Rule& one) { return one.code == code; });
  KP_CHECK(rule != rules().end());
  const data::Place place = places_->at(pointer);
  Finding finding;
  finding.severity = rule->severity;
  finding.code = std::string(code);
  finding.pointer = std::move(pointer);
  finding.line = place.line;
  finding.column = place.column;
  finding.what = std::move(what);
  finding.remedy = std::move(remedy);
  findings_->add(std::move(finding));
}

Findings check(const Pack& pack, const std::vector<std::string>& drawing_ids,
               const Places& places) {
  Findings findings;
  Report report(places, findings);
  const Reach reach = reach_of(pack);
  check_drawings(pack, drawing_ids, report);
  check_supply(pack, reach, report);
  check_positions(pack, reach, report);
  check_gravity(pack, report);
  check_freedom(pack, reach, report);
  check_idle(pack, report);
  check_contacts(pack, report);
  check_circuit(pack, reach, report);
  check_faults(pack, report);
  check_symptoms(pack, report);
  check_tests(pack, reach, report);
  check_safe_tests(pack, report);
  check_prove_places(pack, reach, report);
  check_sentences(pack, report);
  findings.sort();
  return findings;
}

}  // namespace kp::pack
