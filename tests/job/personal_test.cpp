// The customer's data can be erased with the safety record kept: a whole job, before and after.

#include <doctest/doctest.h>

#include <algorithm>
#include <map>

#include "bill/stored.hpp"
#include "job/again.hpp"
#include "job/audit.hpp"
#include "job/bind_bill.hpp"
#include "job/codec.hpp"
#include "job/personal.hpp"
#include "job/state_text.hpp"
#include "job/work.hpp"
#include "safety/strip.hpp"

namespace kp {
namespace {

using test::Work;

/// Words of persons that no line of a chain may hold. All invented.
const std::vector<std::string>& customer_words() {
  static const std::vector<std::string> words = {"Osei", "Quay Lane", "555 0100", "Plates stay cold",
                                                 "Gate code", "0.125"};
  return words;
}
const std::vector<std::string>& people_words() {
  // The lock that the helper writes is called "L-Ada": a label, not a name.
  static const std::vector<std::string> words = {"\"Ada\"", "Bo Lind", "Cy Marsh"};
  return words;
}

/// A repaired machine with everything personal that a job can hold.
Work whole_job() {
  Work work;
  work.arrive();
  REQUIRE(work.open_gate());
  REQUIRE(work.tell(safety::ForeignLock{"L9", "Cy Marsh"}).accepted());
  work.write(safety::HelperHere{2, "Bo Lind"});
  work.write(safety::Warned{{"Bo Lind"}});
  REQUIRE(work.tell(job::NoteAdded{"Gate code is on the slip."}).accepted());
  Findings findings;
  bill::StoredInvoice paper = test::paper_of("2026-117", 12'345);
  paper.invoice.customer = bill::Party{"N. Osei", {"4 Quay Lane"}, "US", "555 0100", ""};
  paper.invoice.technician = "Ada";
  paper.invoice.note = "Gate code is on the slip.";
  paper.invoice.quote = bill::QuoteGiven{9'000, 14'000, Moment{1'793'500'000'000, -300}, "N. Osei"};
  paper.corrections = {bill::TimeCorrection{bill::SegmentKind::labour, 60, "slip", "Ada", {}}};
  work.write(job::InvoiceIssued{"2026-117", 12'345, "USD", bill::write_paper(paper)});
  work.write(job::Signed{"N. Osei", {0.125, 0.5, 0.25, 0.5, -1, -1}, {0, 40, 40}});
  work.write(job::HandedOver{"invoice.pdf", std::string(64, 'a'), true});
  return work;
}

std::string text_of(const journal::Entry& entry) { return data::print(entry.payload); }

/// The journal without the parts of these.
journal::Loaded erased(const Work& work, const std::vector<std::string>& whose) {
  std::vector<std::string> entries;
  for (const std::string& entry : work.lines) {
    entries.push_back(journal::without_parts(entry, whose));
  }
  return journal::read_lines(entries);
}

job::Replayed replayed(const journal::Loaded& loaded) {
  return job::replay(loaded, test::shipped_library());
}

/// The safety state with names put as they were, so that only names may differ.
safety::State named(safety::State state, const std::map<std::string, std::string>& names) {
  const auto put = [&names](std::string& word) {
    const auto found = names.find(word);
    word = found == names.end() ? word : found->second;
  };
  put(state.worker);
  for (safety::Lock& lock : state.locks) {
    put(lock.owner);
  }
  for (std::string& helper : state.helpers) {
    put(helper);
  }
  return state;
}

TEST_CASE("no line of a chain holds a name, an address, a number or a stroke") {
  const Work work = whole_job();
  const std::string file = journal::to_file(work.lines);
  const std::string chain = file.substr(0, file.find("{\"beside\""));
  for (const auto* words : {&customer_words(), &people_words()}) {
    for (const std::string& word : *words) {
      CAPTURE(word);
      CHECK(chain.find(word) == std::string::npos);
      CHECK(file.find(word) != std::string::npos);
    }
  }
  CHECK(chain.find(std::string(64, 'a')) == std::string::npos);
  CHECK(chain.find("\"by\":\"p1\"") != std::string::npos);
  // Each part has a salt of its own, so that equal words have unequal sums.
  std::vector<std::string> salts;
  const journal::Loaded loaded = journal::read_lines(work.lines);
  for (const journal::Entry& entry : loaded.entries) {
    for (const journal::Part& part : entry.parts) {
      salts.push_back(part.salt);
    }
  }
  std::sort(salts.begin(), salts.end());
  CHECK(std::adjacent_find(salts.begin(), salts.end()) == salts.end());
  CHECK(salts.size() > 8);
}

TEST_CASE("what was beside comes back as it was: the state live equals the fold") {
  const Work work = whole_job();
  const job::Replayed back = replayed(journal::read_lines(work.lines));
  CHECK_FALSE(back.damage.has_value());
  CHECK(back.notes.all().empty());
  CHECK(test::same(work.state, back.state));
  CHECK(back.state.person == "Ada");
}

TEST_CASE("the customer's data erased: the journal verifies and every safety fact is as before") {
  const Work work = whole_job();
  const journal::Loaded before = journal::read_lines(work.lines);
  const journal::Loaded after = erased(work, {"customer", "notes"});
  CHECK(after.tip_hash == before.tip_hash);
  CHECK(std::holds_alternative<journal::Whole>(
      journal::judge(after, job::audit(after).further)));
  CHECK(job::audit(after).findings.faults() == 0);
  const job::Replayed then = replayed(before);
  const job::Replayed now = replayed(after);
  CHECK_FALSE(now.damage.has_value());
  CHECK(now.state.safety == then.state.safety);
  CHECK(test::text_of("fact", now.state.facts) == test::text_of("fact", then.state.facts));
  CHECK(test::text_of("step", now.state.steps) == test::text_of("step", then.state.steps));
  CHECK(now.state.customer.erased);
  CHECK(now.state.customer.name.empty());
  CHECK(now.state.complaint.words.empty());
  CHECK(now.state.complaint.symptom == "wet-and-cold");
  CHECK(now.state.signature.body.erased);
  CHECK(now.state.signature.stamp.n == then.state.signature.stamp.n);
  CHECK(now.state.invoice.body.total_minor == 12'345);
  CHECK(now.state.notes.front().body.erased);
  CHECK(now.state.handed_over.front().body.sha256.empty());
  const std::string text = test::text_of(now.state);
  for (const std::string& word : customer_words()) {
    CAPTURE(word);
    CHECK(text.find(word) == std::string::npos);
  }
  CHECK(text.find("Bo Lind") != std::string::npos);
  CHECK(text.find("\"technician\":\"Ada\"") != std::string::npos);
}

TEST_CASE("decided again, an erased journal is as believable as before") {
  Work work;
  work.arrive();
  REQUIRE(work.tell(job::ComplaintNoted{"", "Hums in the night."}).accepted());
  REQUIRE(work.tell(job::NoteAdded{"Gate code."}).accepted());
  REQUIRE(work.open_gate());
  REQUIRE(work.tell(safety::ForeignLock{"L9", "Cy Marsh"}).accepted());
  for (const std::vector<std::string>& whose :
       {std::vector<std::string>{}, {"customer"}, {"customer", "notes", "people"}}) {
    const journal::Loaded loaded = whose.empty() ? journal::read_lines(work.lines) : erased(work, whose);
    const job::Again again = job::decide_again(loaded, test::shipped_library(), {});
    CHECK(again.decided);
    CAPTURE(whose.size());
    CHECK(again.not_believable.empty());
  }
}

TEST_CASE("names of people erased: codes still tell them apart, and safety follows them") {
  const Work work = whole_job();
  const job::Replayed then = replayed(journal::read_lines(work.lines));
  const job::Replayed now = replayed(erased(work, {"people"}));
  CHECK(now.state.person == "erased (p1)");
  const std::map<std::string, std::string> names = {
      {"erased (p1)", "Ada"}, {"erased (p2)", "Cy Marsh"}, {"erased (p3)", "Bo Lind"}};
  CHECK(named(now.state.safety, names).locks.size() == then.state.safety.locks.size());
  const safety::State back = named(now.state.safety, names);
  CHECK(back.worker == then.state.safety.worker);
  CHECK(back.helpers == then.state.safety.helpers);
  for (std::size_t i = 0; i < back.locks.size(); ++i) {
    CHECK(back.locks[i].id == then.state.safety.locks[i].id);
    CHECK(back.locks[i].owner == then.state.safety.locks[i].owner);
  }
  const safety::Now at{work.wall.utc_ms, work.mono_ms};
  CHECK(safety::summarise(now.state.safety, at, {}).power.word ==
        safety::summarise(then.state.safety, at, {}).power.word);
  // Whoever goes on is somebody else, and gets a code of his own.
  job::People people = now.people;
  data::Value fresh = data::Value::object();
  CHECK(people.code_of("Ada", fresh) == "p4");
  CHECK(people.code_of("erased (p2)", fresh) == "p2");
  CHECK(data::print(fresh) == R"({"p4":"Ada"})");
}

TEST_CASE("papers and record of an erased customer say so") {
  const Work work = whole_job();
  const job::Replayed now = replayed(erased(work, {"customer"}));
  const job::Settings settings;
  const bill::ServiceRecord record = job::bind_record(
      now.state, {&test::shipped_library(), &settings}, bill::RateCard{}, "1-00", work.wall);
  CHECK(record.work.customer.name == "erased");
  CHECK(record.signed_by == "Signed, erased");
  CHECK(record.signature.empty());
  CHECK(record.work.complaint.find("erased") != std::string::npos);
  Findings findings;
  const auto paper = bill::read_invoice(now.state.invoice.body.paper, findings);
  REQUIRE(paper.has_value());
  CHECK(paper->invoice.customer.name == "erased");
  CHECK(paper->invoice.technician == "Ada");
  CHECK(paper->invoice.totals.gross_minor == 12'345);
}

TEST_CASE("each row of the table names a member that its kind has") {
  const Work work = whole_job();
  std::vector<std::string> seen;
  const journal::Loaded loaded = journal::read_lines(work.lines);
  for (const journal::Entry& entry : loaded.entries) {
    for (const journal::Part& part : entry.parts) {
      for (const data::Value::Member& one : part.words.members) {
        seen.push_back(cat(entry.kind, one.first));
      }
    }
    for (const job::PersonalMember& row : job::personal_members()) {
      // What is a code in the line has one of its own.
      if (row.whose == job::Whose::people && row.kind == entry.kind &&
          text_of(entry).find("\"p") != std::string::npos) {
        seen.push_back(cat(row.kind, row.pointer));
      }
    }
  }
  for (const job::PersonalMember& row : job::personal_members()) {
    // Propped by a person, handed on, and a paper that was made are in no job above.
    const bool elsewhere = row.kind == "propped" || row.kind == "handed-on" ||
                           row.kind == "paper-issued" || row.pointer == "/paper/complaint" ||
                           (row.kind == "quote-given" && row.whose == job::Whose::people);
    CAPTURE(cat(row.kind, row.pointer));
    CHECK((elsewhere ||
           std::find(seen.begin(), seen.end(), cat(row.kind, row.pointer)) != seen.end()));
  }
}

TEST_CASE("sealed and unsealed: any body comes back, whatever stands in it") {
  job::People people;
  int salts = 0;
  job::RecordReader reader;
  std::uint32_t n = 0;
  std::vector<job::Body> bodies = {
      job::CustomerNoted{"", "4 Quay Lane", ""}, job::Signed{"p1", {}, {}}, job::NoteAdded{"erased"},
      safety::Propped{safety::Support::person, "p2"}, safety::HandedOn{"erased (p1)", ""},
      safety::Warned{{"Bo", "", "Bo", "Cy"}}, job::ComplaintNoted{"x", ""},
      job::PaperIssued{"record", "1", "1-00000000", std::string(64, 'b')}};
  for (const job::Body& body : bodies) {
    const job::Stamp stamp{++n, Moment{1'793'500'000'000, 0}, 0, "00000000000000a1", "Ada"};
    const journal::Entry entry = job::entry_of(stamp, body, std::string(journal::kNoPrev), people,
                                               test::counted_salt(salts));
    Findings notes;
    const auto read = reader.read(entry, notes);
    REQUIRE(read.has_value());
    CAPTURE(std::string(job::kind_of(body)));
    CHECK(data::print(job::encode(read.value().body)) == data::print(job::encode(body)));
    CHECK(read.value().stamp.by == "Ada");
    CHECK_FALSE(job::is_erased(read.value().body));
  }
}

}  // namespace
}  // namespace kp
