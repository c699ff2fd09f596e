#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/findings.hpp"
#include "base/text.hpp"
#include "pack/load.hpp"
#include "pack/model.hpp"
#include "pack/reach.hpp"

namespace kp::pack {

/// Takes what the checks find, and adds severity (from the rules) and line (from the places).
class Report {
 public:
  Report(const Places& places, Findings& findings) : places_(&places), findings_(&findings) {}
  void add(std::string_view code, std::string pointer, std::string what, std::string remedy);

 private:
  const Places* places_;
  Findings* findings_;
};

[[nodiscard]] inline std::string at(std::string_view list, int index) {
  return cat("/", list, "/", index);
}
[[nodiscard]] inline std::string at(std::string_view list, int index, std::string_view member) {
  return cat("/", list, "/", index, "/", member);
}
[[nodiscard]] inline std::string quoted(std::string_view text) { return cat("\"", text, "\""); }
[[nodiscard]] bool has(const std::vector<Contact>& contacts, Contact contact);

// The checks, one file a subject.

void check_drawings(const Pack& pack, const std::vector<std::string>& drawing_ids, Report& report);
void check_supply(const Pack& pack, const Reach& reach, Report& report);
void check_positions(const Pack& pack, const Reach& reach, Report& report);
void check_gravity(const Pack& pack, Report& report);
void check_freedom(const Pack& pack, const Reach& reach, Report& report);
void check_idle(const Pack& pack, Report& report);
void check_contacts(const Pack& pack, Report& report);
void check_circuit(const Pack& pack, const Reach& reach, Report& report);
void check_faults(const Pack& pack, Report& report);
void check_symptoms(const Pack& pack, Report& report);
void check_tests(const Pack& pack, const Reach& reach, Report& report);
void check_safe_tests(const Pack& pack, Report& report);
void check_prove_places(const Pack& pack, const Reach& reach, Report& report);
void check_sentences(const Pack& pack, Report& report);

}  // namespace kp::pack
