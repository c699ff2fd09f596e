#include "job/personal.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "journal/writer.hpp"

namespace kp::job {

namespace {

using data::Value;

constexpr Whose kOrder[] = {Whose::customer, Whose::notes, Whose::people};

/// Calls act(leaf, pointer) for what stands at a pointer, once an item where it names a list.
template <class Act>
void each_at(Value& value, std::string_view rest, const std::string& here, const Act& act) {
  if (rest.empty()) {
    act(value, here);
    return;
  }
  rest.remove_prefix(1);
  const std::size_t slash = rest.find('/');
  const std::string_view name = rest.substr(0, slash);
  const std::string_view deeper = slash == std::string_view::npos ? "" : rest.substr(slash);
  if (name == "*") {
    for (std::size_t i = 0; i < value.items.size(); ++i) {
      each_at(value.items[i], deeper, cat(here, "/", to_int(i)), act);
    }
    return;
  }
  for (Value::Member& member : value.members) {
    if (member.first == name) {
      each_at(member.second, deeper, cat(here, "/", name), act);
    }
  }
}

/// What lies behind a code: its number, 0 where the text is none.
int number_of(std::string_view code) {
  const auto number = code.size() > 1 && code.front() == 'p' && code[1] != '0' && code[1] != '-' &&
                              code[1] != '+'
                          ? parse_integer(code.substr(1))
                          : std::nullopt;
  constexpr std::int64_t kMost = 1'000'000;
  return number && *number > 0 && *number <= kMost ? static_cast<int>(*number) : 0;
}

std::string erased_name(const std::string& code) { return cat(kErased, " (", code, ")"); }

/// Takes out members that were emptied and not filled again.
void strip_nulls(Value& value, std::string_view pointer) {
  const std::size_t slash = pointer.rfind('/');
  const std::string_view name = pointer.substr(slash + 1);
  each_at(value, pointer.substr(0, slash), {}, [&](Value& owner, const std::string&) {
    auto& members = owner.members;
    members.erase(std::remove_if(members.begin(), members.end(),
                                 [&](const Value::Member& one) {
                                   return one.first == name && one.second.kind == data::Kind::null;
                                 }),
                  members.end());
  });
}

bool has_rows(std::string_view kind) {
  const auto& all = personal_members();
  return std::any_of(all.begin(), all.end(),
                     [&](const PersonalMember& row) { return row.kind == kind; });
}

const journal::Part* part_of(const journal::Entry& entry, Whose whose) {
  const auto found =
      std::find_if(entry.parts.begin(), entry.parts.end(),
                   [&](const journal::Part& part) { return part.whose == word(whose); });
  return found == entry.parts.end() ? nullptr : &*found;
}

void fill(Value& payload, const PersonalMember& row, const journal::Part* part) {
  if (part != nullptr && !part->erased) {
    each_at(payload, row.pointer, {}, [&](Value& leaf, const std::string& pointer) {
      const Value* kept = part->words.find(pointer);
      if (leaf.kind == data::Kind::null && kept != nullptr) {
        leaf = *kept;
      }
    });
  }
  strip_nulls(payload, row.pointer);
}

}  // namespace

const char* word(Whose whose) {
  switch (whose) {
    case Whose::customer:
      return "customer";
    case Whose::notes:
      return "notes";
    case Whose::people:
      return "people";
  }
  return "";
}

const std::vector<PersonalMember>& personal_members() {
  static const std::vector<PersonalMember> rows = {
      {"customer-noted", "/name", Whose::customer},
      {"customer-noted", "/address", Whose::customer},
      {"customer-noted", "/contact", Whose::customer},
      {"complaint-noted", "/words", Whose::customer},
      {"quote-given", "/paper/customer", Whose::customer},
      {"quote-given", "/paper/complaint", Whose::customer},
      {"quote-given", "/paper/technician", Whose::people},
      {"invoice-issued", "/paper/customer", Whose::customer},
      {"invoice-issued", "/paper/note", Whose::customer},
      {"invoice-issued", "/paper/agreed/agreedBy", Whose::customer},
      {"invoice-issued", "/paper/technician", Whose::people},
      {"invoice-issued", "/paper/corrections/*/by", Whose::people},
      {"signed", "/name", Whose::customer},
      {"signed", "/strokes", Whose::customer},
      {"signed", "/times", Whose::customer},
      // The sum of a paper that holds the address is the address, to whoever tries all of a street.
      {"handed-over", "/sha256", Whose::customer},
      {"paper-issued", "/sha256", Whose::customer},
      {"note-added", "/text", Whose::notes},
      {"handed-on", "/person", Whose::people},
      {"foreign-lock", "/owner", Whose::people},
      {"helper-here", "/name", Whose::people},
      {"propped", "/helper", Whose::people},
      {"warned", "/people/*", Whose::people},
  };
  return rows;
}

std::string People::code_of(const std::string& name, Value& fresh) {
  for (const auto& known : names_) {
    if (known.second == name) {
      return known.first;
    }
  }
  // A name that stands for one that was erased is that person still.
  const std::string head = cat(kErased, " (");
  if (name.size() > head.size() && name.rfind(head, 0) == 0 && name.back() == ')') {
    const std::string code = name.substr(head.size(), name.size() - head.size() - 1);
    const bool named = std::any_of(names_.begin(), names_.end(),
                                   [&](const auto& known) { return known.first == code; });
    if (const int number = number_of(code); number > 0 && number <= last_ && !named) {
      return code;
    }
  }
  const std::string code = cat("p", last_ + 1);
  learn(code, name);
  fresh.set(code, Value::of(name));
  return code;
}

std::string People::name_of(const std::string& code) {
  for (const auto& known : names_) {
    if (known.first == code) {
      return known.second;
    }
  }
  const int number = number_of(code);
  if (number == 0) {
    return code;
  }
  last_ = std::max(last_, number);
  return erased_name(code);
}

void People::learn(const std::string& code, const std::string& name) {
  last_ = std::max(last_, number_of(code));
  names_.emplace_back(code, name);
}

void seal(journal::Entry& entry, People& people, const Salt& salt) {
  Value words[] = {Value::object(), Value::object(), Value::object()};
  Value& names = words[static_cast<int>(Whose::people)];
  if (!entry.by.empty()) {
    entry.by = people.code_of(entry.by, names);
  }
  for (const PersonalMember& row : personal_members()) {
    if (row.kind != entry.kind) {
      continue;
    }
    each_at(entry.payload, row.pointer, {}, [&](Value& leaf, const std::string& pointer) {
      if (leaf.kind == data::Kind::null) {
        return;
      }
      if (row.whose != Whose::people) {
        words[static_cast<int>(row.whose)].set(pointer, std::exchange(leaf, Value{}));
      } else if (leaf.kind == data::Kind::string && !leaf.text.empty()) {
        leaf = Value::of(people.code_of(leaf.text, names));
      }
    });
  }
  entry.parts.clear();
  for (const Whose whose : kOrder) {
    Value& held = words[static_cast<int>(whose)];
    if (held.members.empty()) {
      continue;
    }
    journal::Part part;
    part.whose = word(whose);
    part.salt = salt();
    part.words = std::move(held);
    part.erased = false;
    part.sum = journal::line_hash(journal::write_part(entry.seq, part));
    entry.parts.push_back(std::move(part));
  }
}

Unsealed unseal(const journal::Entry& entry, People& people) {
  Unsealed out;
  if (const journal::Part* names = part_of(entry, Whose::people); names != nullptr && !names->erased) {
    for (const Value::Member& one : names->words.members) {
      people.learn(one.first, one.second.text);
    }
  }
  out.by = people.name_of(entry.by);
  for (const journal::Part& part : entry.parts) {
    out.erased = out.erased || (part.erased && part.whose != word(Whose::people));
  }
  if (!has_rows(entry.kind)) {
    return out;
  }
  out.touched = true;
  out.payload = entry.payload;
  for (const PersonalMember& row : personal_members()) {
    if (row.kind != entry.kind) {
      continue;
    }
    if (row.whose != Whose::people) {
      fill(out.payload, row, part_of(entry, row.whose));
      continue;
    }
    each_at(out.payload, row.pointer, {}, [&](Value& leaf, const std::string&) {
      if (leaf.kind == data::Kind::string && !leaf.text.empty()) {
        leaf = Value::of(people.name_of(leaf.text));
      }
    });
  }
  return out;
}

}  // namespace kp::job
