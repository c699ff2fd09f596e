#pragma once
// A job's state as text, so that two of them can be compared and a difference read.

#include <string>

#include "base/text.hpp"
#include "base/time.hpp"
#include "job/codec.hpp"
#include "job/state.hpp"

namespace kp::test {

inline std::string text_of(const job::Stamp& stamp) {
  return cat(integer_text(stamp.n), "@", rfc3339(stamp.at), "+", integer_text(stamp.mono_ms), " ",
             stamp.life, " ", stamp.by);
}

inline job::Body body_of(const safety::Fact& fact) { return job::body_of(fact); }
template <class T>
job::Body body_of(const T& body) {
  return job::Body(body);
}

template <class T>
std::string text_of(const char* name, const job::Recorded<T>& one) {
  const job::Body body = body_of(one.body);
  return cat(name, " ", text_of(one.stamp), " ", job::kind_of(body), " ",
             data::print(job::encode(body)), "\n");
}

template <class T>
std::string text_of(const char* name, const std::vector<job::Recorded<T>>& all) {
  std::string out;
  for (const auto& one : all) {
    out += text_of(name, one);
  }
  return out;
}

inline std::string text_of(const job::Choice& choice) {
  return cat(" [", static_cast<int>(choice.flag), " before ", integer_text(choice.before), " wall ",
             integer_text(choice.wall_ms), " mono ", integer_text(choice.mono_ms), " counts ",
             integer_text(choice.counted_ms), "]");
}

inline std::string text_of(const job::ClockState& clock) {
  std::string out = cat("clock ", clock.hidden ? "hidden " : "", clock.started ? "started " : "",
                        clock.ended ? "ended " : "", text_of(clock.last), "\n");
  for (const job::Segment& segment : clock.segments) {
    out += cat("segment ", static_cast<int>(segment.phase), " ", rfc3339(segment.start), " ",
               rfc3339(segment.end), " ", integer_text(segment.counted_ms));
    for (const job::Choice& choice : segment.choices) {
      out += text_of(choice);
    }
    out += "\n";
  }
  for (const job::Correction& one : clock.corrections) {
    out += cat("correction ", integer_text(one.n), " ", static_cast<int>(one.phase), " ",
               integer_text(one.delta_ms), " ", one.reason, "\n");
  }
  for (const job::Choice& choice : clock.open_questions) {
    out += cat("question", text_of(choice), "\n");
  }
  return out;
}

inline std::string text_of(const plan::State& unit) {
  std::string out = cat("unit at ", unit.position, " tool ", unit.tool, " loose");
  unit.released.each([&out](int joint) { out += cat(" ", joint); });
  out += " off";
  unit.removed.each([&out](int part) { out += cat(" ", part); });
  return out + "\n";
}

/// A unit in the pack's ids.
inline std::string text_of(const job::Unit& unit) {
  std::string out = cat("as left at ", unit.position, " tool ", unit.tool, " loose");
  for (const std::string& joint : unit.loose) {
    out += cat(" ", joint);
  }
  out += " away";
  for (const std::string& part : unit.away) {
    out += cat(" ", part);
  }
  return out + "\n";
}

/// Everything but the safety state, which has a comparison of its own.
inline std::string text_of(const job::State& s) {
  std::string out = cat("job ", s.job, " mode ", static_cast<int>(s.mode), " shop ", s.shop, " by ",
                        s.person, " stage ", static_cast<int>(s.stage), " since ",
                        integer_text(s.stage_n), " outcome ", static_cast<int>(s.outcome), " visit ",
                        s.visit, " last ", integer_text(s.last_n), " model ", s.model, " quoted ",
                        s.quoted ? "yes" : "no", " fault ", s.fault, " billed ", s.billed.segments,
                        " ", s.billed.corrections, " ", s.billed.parts, " ", s.billed.visits,
                        " targets");
  for (const int target : s.targets) {
    out += cat(" ", target);
  }
  for (const job::Body& body :
       {job::Body(s.machine), job::Body(s.customer), job::Body(s.complaint), job::Body(s.quote),
        job::Body(s.ending)}) {
    out += cat("\n", job::kind_of(body), " ", data::print(job::encode(body)));
  }
  out += cat("\nunseen ", s.unit_unseen ? "yes" : "no", " mend ", s.mend_id, " target ids");
  for (const std::string& id : s.target_ids) {
    out += cat(" ", id);
  }
  out += "\nstrange";
  for (const std::string& id : s.strange) {
    out += cat(" ", id);
  }
  return cat(out, "\n", text_of(s.clock), text_of(s.unit), text_of(s.as_left), text_of(s.left),
             text_of("found", s.as_found), text_of("stands-on", job::Recorded<job::StandsOn>{{}, s.stands_on}),
             "\nmend ", s.mend, " since ", integer_text(s.targets_n), text_of("test", s.tests), text_of("impossible", s.impossible),
             text_of("step", s.steps), text_of("blocked", s.blocked), text_of("swapped", s.swapped),
             text_of("proved", s.proved), text_of("fact", s.facts),
             text_of("note", s.notes), text_of("handed", s.handed_over),
             text_of("signature", s.signature), text_of("invoice", s.invoice),
             text_of("invoices", s.invoices),
             s.agreed ? text_of("agreed", *s.agreed) : std::string(),
             text_of("refused", s.refused), text_of("caution", s.cautions),
             text_of("photo", s.photos), text_of("tester", s.testers), text_of("ordered", s.ordered),
             text_of("quote refused", s.quotes_refused), text_of("paper", s.papers));
}

inline bool same(const job::State& a, const job::State& b) {
  return a.safety == b.safety && text_of(a) == text_of(b);
}

}  // namespace kp::test
