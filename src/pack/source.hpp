#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/findings.hpp"
#include "data/reader.hpp"
#include "pack/model.hpp"

namespace kp::pack {

/// The ids of the lists that others point into, in the order of the text. A thing without a
/// readable id has an empty one, so that the places of the rest stay right.
struct Names {
  Findings* findings = nullptr;
  std::vector<std::string> positions;
  std::vector<std::string> tools;
  std::vector<std::string> parts;
  std::vector<std::string> joints;
  std::vector<std::string> refit_checks;
  std::vector<std::string> nodes;
  std::vector<std::string> elements;
  std::vector<std::string> points;
  std::vector<std::string> steps;
  std::vector<std::string> rows;
  std::vector<std::string> faults;
};

/// The most that a value of a circuit can be, in any unit.
inline constexpr double kMostValue = 1e12;

/// Collects the names of a whole pack before anything is resolved; ids that stand twice in one
/// list are faults (`double-id`).
[[nodiscard]] Names gather_names(data::Reader& root, Findings& findings);

// Readers of single members. All of them report through the given reader and go on.

/// A required text that is not blank / an optional one that is not blank when it is there.
[[nodiscard]] std::string words(data::Reader& from, std::string_view name);
[[nodiscard]] std::string words_or_none(data::Reader& from, std::string_view name);
/// An id: small letters, digits and hyphens, a letter first.
[[nodiscard]] std::string id_text(data::Reader& from, std::string_view name);
[[nodiscard]] std::string id_or_none(data::Reader& from, std::string_view name);
/// A number that fits an int.
[[nodiscard]] int whole(data::Reader& from, std::string_view name, int least, int most);
[[nodiscard]] int whole_or(data::Reader& from, std::string_view name, int fallback, int least,
                           int most);
/// A required list with at least so many elements.
[[nodiscard]] std::vector<data::Reader> items(data::Reader& from, std::string_view name,
                                              int least);
/// An id out of `names`; `kind` is the word for such a thing in the message ("part").
[[nodiscard]] int reference(data::Reader& from, std::string_view name,
                            const std::vector<std::string>& names, std::string_view kind);
/// The same, -1 where the member is not there.
[[nodiscard]] int reference_or_none(data::Reader& from, std::string_view name,
                                    const std::vector<std::string>& names, std::string_view kind);
/// A required list of new ids, at least one, each once.
[[nodiscard]] std::vector<std::string> own_ids(data::Reader& from, std::string_view name);
/// A value with its tolerance: one number, or three. Absent: zero, and a fault where required.
[[nodiscard]] Spread spread(data::Reader& from, std::string_view name);
[[nodiscard]] Spread spread_or_none(data::Reader& from, std::string_view name);
/// A list of {fault, chance}.
[[nodiscard]] std::vector<Shows> shows(data::Reader& from, std::string_view name,
                                       const Names& names);
/// An optional list of ids, each at most once.
[[nodiscard]] std::vector<int> references(data::Reader& from, std::string_view name,
                                          const std::vector<std::string>& names,
                                          std::string_view kind);
[[nodiscard]] std::vector<int> references(std::vector<data::Reader> all,
                                          const std::vector<std::string>& names,
                                          std::string_view kind);
/// Ways past what stands in front: each a list of parts, or an object with parts and positions.
[[nodiscard]] Access access(data::Reader& from, std::string_view name, const Names& names);
[[nodiscard]] std::vector<Contact> contacts(data::Reader& from, std::string_view name);
/// An optional list of words out of `known`, each at most once, as their places in it; `kind` is
/// what one is called in the message ("contact").
[[nodiscard]] std::vector<int> choices(data::Reader& from, std::string_view name,
                                       const std::vector<std::string>& known,
                                       std::string_view kind);
/// A point {"x": , "y": }, in drawing units.
[[nodiscard]] std::pair<double, double> point(data::Reader& from, std::string_view name);

// Readers of the subjects, one file each.

void read_about(data::Reader& root, const Names& names, Pack& pack);
void read_unit(data::Reader& root, const Names& names, Pack& pack);
void read_parts(data::Reader& root, const Names& names, Pack& pack);
void read_joints(data::Reader& root, const Names& names, Pack& pack);
void read_circuit(data::Reader& root, const Names& names, Pack& pack);
void read_faults(data::Reader& root, const Names& names, Pack& pack);
void read_find(data::Reader& root, const Names& names, Pack& pack);
void read_prove(data::Reader& root, const Names& names, Pack& pack);

// What follows from what was read.

/// What both lists allow; an empty one allows everything. False: they have nothing in common.
[[nodiscard]] bool meet(const std::vector<int>& a, const std::vector<int>& b,
                        std::vector<int>& both);
/// The ways past both.
[[nodiscard]] bool meet(const Access& a, const Access& b, Access& both);

/// Gives tests on the circuit the positions, covers, joints, unit and field of their points, and
/// complaints with causes their suspects. All ids must have been found.
void derive(Pack& pack);

}  // namespace kp::pack
