#include "pack/report.hpp"
#include "pack/sentence.hpp"

namespace kp::pack {
namespace {

/// What a text is for: one instruction, several of them, or a remark (caution, reason).
enum class Use { one, several, remark };

class Checker {
 public:
  explicit Checker(Report& report) : report_(&report) {}

  void operator()(Use use, const std::string& text, const std::string& pointer) {
    const std::vector<std::string> all = sentences(text);
    if (use == Use::one && all.size() > 1) {
      report_->add("sentence-chain", pointer, "this text gives more than one instruction",
                   "Keep one instruction here.");
    }
    for (const std::string& sentence : all) {
      check(use, sentence, pointer);
    }
  }

 private:
  void check(Use use, const std::string& sentence, const std::string& pointer) {
    const int words = word_count(sentence);
    if (words > kMostWords) {
      report_->add("sentence-long", pointer,
                   cat("the sentence ", quoted(sentence), " has ", words, " words"),
                   cat("Write at most ", kMostWords, " words."));
    }
    if (lower(sentence).find(" and then ") != std::string::npos) {
      report_->add("sentence-chain", pointer,
                   cat("the sentence ", quoted(sentence), " chains two instructions"),
                   "Write one sentence for each.");
    }
    if (use != Use::remark && !starts_well(sentence)) {
      report_->add("sentence-start", pointer,
                   cat("the sentence ", quoted(sentence), " does not start with its verb"),
                   "Start with what the hands do, or with a condition and a comma.");
    }
    const char last = sentence.back();
    if (last != '.' && last != '?' && last != '!') {
      report_->add("sentence-end", pointer,
                   cat("the sentence ", quoted(sentence), " has no full stop"),
                   "End it with a full stop.");
    }
  }

  Report* report_;
};

void check_unit(const Pack& pack, Checker& sentence) {
  sentence(Use::remark, pack.supply.isolation, "/supply/isolation");
  sentence(Use::remark, pack.water.valve, "/water/valve");
  sentence(Use::several, pack.water.relieve, "/water/relieve");
  for (std::size_t i = 0; i < pack.positions.size(); ++i) {
    sentence(Use::several, pack.positions[i].instruction,
             at("positions", to_int(i), "instruction"));
  }
  for (std::size_t i = 0; i < pack.changes.size(); ++i) {
    sentence(Use::one, pack.changes[i].instruction, at("changes", to_int(i), "instruction"));
    sentence(Use::remark, pack.changes[i].caution, at("changes", to_int(i), "caution"));
  }
}

void check_work(const Pack& pack, Checker& sentence) {
  for (std::size_t i = 0; i < pack.parts.size(); ++i) {
    const Part& part = pack.parts[i];
    sentence(Use::one, part.remove, at("parts", to_int(i), "remove"));
    sentence(Use::one, part.refit, at("parts", to_int(i), "refit"));
    sentence(Use::remark, part.caution, at("parts", to_int(i), "caution"));
    sentence(Use::remark, part.why, at("parts", to_int(i), "why"));
  }
  for (std::size_t i = 0; i < pack.joints.size(); ++i) {
    const Joint& joint = pack.joints[i];
    sentence(Use::one, joint.release, at("joints", to_int(i), "release"));
    sentence(Use::one, joint.fasten, at("joints", to_int(i), "fasten"));
    sentence(Use::remark, joint.caution, at("joints", to_int(i), "caution"));
    sentence(Use::remark, joint.why, at("joints", to_int(i), "why"));
  }
  for (std::size_t i = 0; i < pack.refit_checks.size(); ++i) {
    sentence(Use::several, pack.refit_checks[i].how, at("refit_checks", to_int(i), "how"));
  }
}

void check_measuring(const Pack& pack, Checker& sentence) {
  for (std::size_t i = 0; i < pack.tests.size(); ++i) {
    sentence(Use::several, pack.tests[i].how, at("tests", to_int(i), "how"));
    sentence(Use::remark, pack.tests[i].caution, at("tests", to_int(i), "caution"));
  }
  for (std::size_t i = 0; i < pack.faults.size(); ++i) {
    sentence(Use::several, pack.faults[i].mend, at("faults", to_int(i), "mend"));
  }
  for (std::size_t i = 0; i < pack.prove_tests.size(); ++i) {
    sentence(Use::several, pack.prove_tests[i].how, at("prove_tests", to_int(i), "how"));
    sentence(Use::remark, pack.prove_tests[i].caution, at("prove_tests", to_int(i), "caution"));
  }
}

}  // namespace

void check_sentences(const Pack& pack, Report& report) {
  Checker sentence(report);
  check_unit(pack, sentence);
  check_work(pack, sentence);
  check_measuring(pack, sentence);
}

}  // namespace kp::pack
