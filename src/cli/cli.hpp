#pragma once
// cli: the command line, the proof that the core needs no window. It reads files through an
// interface, prints to strings, and answers with an exit code: 0 done, 1 a finding, 2 usage, and
// those of journal verify.

#include <string>
#include <vector>

#include "app/content.hpp"
#include "base/result.hpp"

namespace kp::cli {

/// The files of the place where the program runs.
class Files {
 public:
  virtual ~Files() = default;
  /// The bytes of a file. Error `cannot-read` with the path.
  virtual Result<std::string> read(const std::string& path) = 0;
  /// Writes a file whole, or not at all. Error `cannot-write` with the path.
  virtual Result<void> write(const std::string& path, const std::string& bytes) = 0;
  /// What ships with the program: packs, drawings, rates.
  virtual std::vector<app::NamedBytes> assets() = 0;
};

inline constexpr int kDone = 0;
inline constexpr int kFinding = 1;
inline constexpr int kUsage = 2;

struct Output {
  std::string out;
  std::string err;
};

/// True when the first word is a command of this room.
[[nodiscard]] bool is_command(const std::string& word);

/// Runs one command; `words` are the arguments without the program's name.
///   check PACK                               every fault of a pack
///   plan PACK --reach PART[,PART] [--json]   the cheapest way to parts
///   refit PACK --from PART[,PART] [--json]   the way back once they are out
///   read PACK --points A,B --mode ohm [--step N] [--fault ID] [--off PART/TERMINAL] [--json]
///                                            what a meter shows; 1: not as a good machine
///   strip PACK --load PART --step N [--fault ID] [--svg] [--json]
///                                            the live path of a load; 1: it is not closed
///   find PACK [--complaint ID] [--result TEST=VALUE]... [--rates FILE] [--json]
///                                            the fault's shares, the next step; 1: a reading fits nothing
///   journal verify FILE [--tip MARK]         what a journal is worth; 3 to 7: journal/FORMAT.md
///   journal erase FILE [--notes] [--people] [--out FILE]   personal data out, the record kept
///   journal compare FIRST SECOND             where two journals of one job part; 1: they do
///   bill JOURNAL --rates FILE --out DIR      invoice and service record, PDF and HTML
/// PACK is a file, or the id of a pack that ships.
int run(const std::vector<std::string>& words, Files& files, Output& output);

}  // namespace kp::cli
