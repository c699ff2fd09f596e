#pragma once
// What of a record is personal, and how it is kept beside the chain so that it can be erased with
// everything else kept. Persons who work are codes in the lines ("p1"); their names lie beside.

#include <functional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "data/value.hpp"
#include "journal/format.hpp"

namespace kp::job {

/// Whose data a part holds; each can be erased by itself.
enum class Whose { customer, notes, people };
[[nodiscard]] const char* word(Whose whose);   ///< "customer", as journals say it

/// A personal member of a kind of record: a JSON Pointer (RFC 6901) into its data, where `*` stands
/// for every item of a list. What is of `people` is a person's name and becomes a code in the line;
/// everything else leaves null where it stood.
struct PersonalMember {
  std::string_view kind;
  std::string_view pointer;
  Whose whose;
};
/// The one table of it. The names of those who write the records (`by`) need no row.
[[nodiscard]] const std::vector<PersonalMember>& personal_members();

/// The persons of one job: the codes of its lines, and the names as far as they are not erased.
class People {
 public:
  /// The code of a name; a new one where the job has not met it, with the name in `fresh`.
  std::string code_of(const std::string& name, data::Value& fresh);
  /// The name of a code; "erased (p2)" where it is erased. What is no code is a name already.
  std::string name_of(const std::string& code);
  void learn(const std::string& code, const std::string& name);

 private:
  std::vector<std::pair<std::string, std::string>> names_;  ///< code, name
  int last_ = 0;                                            ///< highest number of a code met
};

/// Gives a salt: 32 lower-case hexadecimal digits of chance, new each time. It comes from
/// port::Identity, never from the core.
using Salt = std::function<std::string()>;

/// Takes what is personal out of an entry whose `by` and payload are whole, and puts it into parts.
void seal(journal::Entry& entry, People& people, const Salt& salt);

/// An entry as it was before it was sealed, as far as nothing is erased.
struct Unsealed {
  std::string by;
  data::Value payload;
  bool touched = false;   ///< the payload differs from the entry's; else it is left empty here
  bool erased = false;    ///< a part other than names is gone
};
[[nodiscard]] Unsealed unseal(const journal::Entry& entry, People& people);

/// What stands in the place of words that were erased, on screens and papers.
inline constexpr const char* kErased = "erased";
[[nodiscard]] inline std::string shown(const std::string& words, bool erased) {
  return erased ? std::string(kErased) : words;
}

}  // namespace kp::job
