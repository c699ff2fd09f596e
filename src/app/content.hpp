#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "base/findings.hpp"
#include "bill/rates.hpp"
#include "job/state.hpp"
#include "scene/drawing.hpp"

namespace kp::app {

/// A file as the platform brought it: a name such as "packs/pump-module/pack.json" and its bytes.
struct NamedBytes {
  std::string name;
  std::string bytes;
};

/// The faults of one file, all of them, with the file's name.
struct FileFindings {
  std::string file;
  Findings findings;
};

/// The demo job as far as it is filled in: invented, and the same for practice.
struct Demo {
  std::string pack, plate, symptom, words, name, address, contact;
};

/// Everything that the program knows and that is not a job: packs, drawings, the shop's rates.
struct Content {
  job::Library library;
  std::map<std::string, std::string> prints;  ///< canonical prints of its packs, by their hash
  std::map<std::string, scene::Drawing, std::less<>> drawings;
  bill::RateCard rates;
  bool has_rates = false;
  Demo demo;
  std::vector<FileFindings> faults;    ///< a faulty file is left out and reported, never half-used
};

/// Reads all files. A pack with faults is left out; the rest goes on.
[[nodiscard]] Content load_content(const std::vector<NamedBytes>& files);

/// A pack as what the program works with, its hash included, and the canonical print of that hash.
struct ReadPack {
  job::Model model;
  std::string print;
};
/// Nothing where the text has a fault, and `findings` say which. `drawings` are the ids of those
/// there are; null: one that is not there is no fault.
[[nodiscard]] std::optional<ReadPack> read_pack(const std::string& text,
                                                const std::vector<std::string>* drawings,
                                                Findings& findings);

/// What a person would tell of the demo job up to the quote, as the job's own records.
[[nodiscard]] std::vector<job::Body> demo_records(const Content& content);

}  // namespace kp::app
