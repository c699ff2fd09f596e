#pragma once
// What a journal of format 1 says, as text: meanings and the ids of its pack, never indices or
// members of today's structures, so that a program with other structures can say the same.
// Texts that people wrote stand in quotes as JSON writes them; nothing noted is "-".

#include <string>
#include <utility>
#include <vector>

#include "base/text.hpp"
#include "job/format1_words.hpp"
#include "job/replay.hpp"

namespace kp::test::format1 {

/// Says one state. The model is that of the state's pack; null while no machine is known.
class Text {
 public:
  Text(const job::State& state, const job::Model* model) : s_(&state), model_(model) {}

  [[nodiscard]] std::string all() {
    head();
    people();
    unit();
    search();
    work();
    isolations();
    paper();
    clock();
    return std::move(out_);
  }

 private:
  template <class... T>
  void line(const T&... parts) {
    out_ += cat(parts..., "\n");
  }

  void head() {
    line("job: ", bare(s_->job));
    line("mode: ", word(job::mode_words(), s_->mode));
    line("shop: ", quoted(s_->shop));
    line("person now: ", quoted(s_->person));
    line("stage: ", word(job::stage_words(), s_->stage));
    line("outcome: ", word(job::outcome_words(), s_->outcome));
    line("visit: ", s_->visit);
    line("records: ", integer_text(s_->last_n));
  }

  void people() {
    line("machine: pack ", bare(s_->machine.pack), ", version ", bare(s_->machine.pack_version),
         ", plate ", quoted(s_->machine.plate));
    line("customer: ", quoted(s_->customer.name), ", address ", quoted(s_->customer.address),
         ", contact ", quoted(s_->customer.contact));
    line("complaint: ", bare(s_->complaint.symptom), ", words ", quoted(s_->complaint.words));
    line("quote: ", !s_->quoted ? std::string("-")
                                : cat(integer_text(s_->quote.low_minor), " to ",
                                      money(s_->quote.high_minor, s_->quote.currency),
                                      s_->quote.accepted ? ", accepted" : ", not accepted"));
  }

  void unit() {
    if (model_ == nullptr) {
      line("unit: -");
      return;
    }
    const pack::Pack& pack = model_->pack;
    std::vector<std::string> loose;
    s_->unit.released.each([&](int joint) { loose.push_back(pack.joints[to_size(joint)].id); });
    std::vector<std::string> off;
    s_->unit.removed.each([&](int part) { off.push_back(pack.parts[to_size(part)].id); });
    line("unit: ", pack.positions[to_size(s_->unit.position)].id);
    line("loose: ", listed(loose, true));
    line("off: ", listed(off, true));
    std::vector<std::string> targets;
    for (const int target : s_->targets) {
      targets.push_back(pack.parts[to_size(target)].id);
    }
    line("targets: ", listed(targets, false), ", mend ",
         s_->mend < 0 ? "-" : pack.faults[to_size(s_->mend)].id, ", fault ", quoted(s_->fault));
  }

  void search() {
    for (const auto& [stamp, test] : s_->tests) {
      line("test ", integer_text(stamp.n), ": ", test.test, " ",
           test.looked      ? std::string(test.good ? "looked good" : "looked bad")
           : test.open_loop ? cat("OL ", bare(test.unit))
                            : cat(number_text(test.value), " ", bare(test.unit)));
    }
    for (const auto& [stamp, test] : s_->impossible) {
      line("impossible ", integer_text(stamp.n), ": ", test.test, ", ", quoted(test.reason));
    }
  }

  void work() {
    for (const auto& [stamp, step] : s_->steps) {
      line("step ", integer_text(stamp.n), ": ", word(job::deed_words(), step.deed), " ",
           step.what, step.checks.empty() ? "" : cat(", checked ", listed(step.checks, true)));
    }
    for (const auto& [stamp, step] : s_->blocked) {
      line("blocked ", integer_text(stamp.n), ": ", word(job::deed_words(), step.deed), " ",
           step.what, ", ", quoted(step.reason));
    }
    for (const auto& [stamp, swap] : s_->swapped) {
      line("swapped ", integer_text(stamp.n), ": ", swap.part, ", stock ", bare(swap.stock), ", ",
           integer_text(swap.price_minor), " minor, mended ", bare(swap.mended));
    }
    for (const auto& [stamp, result] : s_->proved) {
      line("proved ", integer_text(stamp.n), ": ", result.test,
           result.passed ? " passed" : " failed",
           result.unit.empty() ? "" : cat(", ", number_text(result.value), " ", result.unit));
    }
  }

  void isolations() {
    std::string power = "-";
    for (const auto& [stamp, one] : s_->said) {
      using job::format1::Act;
      const std::string& act = word(job::format1::act_words(), one.act);
      line("isolation ", integer_text(stamp.n), ": ", act, about(one));
      if (one.act == Act::isolated || one.act == Act::power_restored ||
          one.act == Act::power_found_on || one.act == Act::re_energised) {
        power = act;
      }
    }
    line("power: as recorded last: ", power);
  }

  void paper() {
    for (const auto& [stamp, note] : s_->notes) {
      line("note ", integer_text(stamp.n), ": ", quoted(note.text));
    }
    line("signed by: ", quoted(s_->signature.body.name));
    const job::InvoiceIssued& invoice = s_->invoice.body;
    line("invoice: ",
         invoice.number.empty()
             ? std::string("-")
             : cat(invoice.number, ", ", money(invoice.total_minor, invoice.currency)));
    for (const auto& [stamp, paper] : s_->handed_over) {
      line("handed over ", integer_text(stamp.n), ": ", paper.document, ", sha256 ", paper.sha256);
    }
    line("ending note: ", quoted(s_->ending.note));
  }

  void clock() {
    for (int phase = 0; phase < job::kPhases; ++phase) {
      const auto one = static_cast<job::Phase>(phase);
      line("clock ", word(job::phase_words(), one), ": ",
           integer_text(job::total_ms(s_->clock, one)), " ms");
    }
    for (const job::Correction& one : s_->clock.corrections) {
      line("clock correction ", integer_text(one.n), ": ", word(job::phase_words(), one.phase), " ",
           integer_text(one.delta_ms), " ms, ", quoted(one.reason));
    }
    line("clock open questions: ", to_int(s_->clock.open_questions.size()));
  }

  const job::State* s_;
  const job::Model* model_;
  std::string out_;
};

/// A replayed journal: what is wrong with it and where, then the state before that.
inline std::string text_of(const job::Replayed& replayed, const job::Library& library) {
  const job::State& state = replayed.state;
  const job::Model* model =
      state.model < 0 ? nullptr : &library.models[to_size(state.model)];
  const std::string damage =
      replayed.damage.has_value()
          ? cat(replayed.damage->code, " at line ", replayed.damage_line)
          : std::string("none");
  return cat("damage: ", damage, "\n", Text(state, model).all());
}

}  // namespace kp::test::format1
