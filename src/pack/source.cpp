#include "pack/source.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "pack/words.hpp"

namespace kp::pack {
namespace {

constexpr double kSheet = 10000;
constexpr std::string_view kSpreadRule =
    "Write one number, or three: the least, the typical and the most of a good part.";
constexpr std::string_view kIdRule = "Write small letters, digits and hyphens, a letter first.";

std::string in_quotes(std::string_view text) { return cat("\"", text, "\""); }

bool is_id(std::string_view text) {
  if (text.empty() || text.front() < 'a' || text.front() > 'z') {
    return false;
  }
  return std::all_of(text.begin(), text.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-';
  });
}

const data::Value* text_member(const data::Reader& from, std::string_view name) {
  const data::Value* value = from.value().find(name);
  return value != nullptr && value->kind == data::Kind::string ? value : nullptr;
}

void refuse_blank(data::Reader& from, std::string_view name) {
  const data::Value* value = text_member(from, name);
  if (value != nullptr && trim(value->text).empty()) {
    from.fault("empty-text", cat(in_quotes(name), " is empty"),
               cat("Write the text or remove ", in_quotes(name), "."), name);
  }
}

void refuse_bad_id(data::Reader& from, std::string_view name) {
  const data::Value* value = text_member(from, name);
  if (value != nullptr && !is_id(value->text)) {
    from.fault("bad-id", cat(in_quotes(value->text), " is no id"), std::string(kIdRule), name);
  }
}

std::vector<std::string> names_in(const data::Value& root, std::string_view list) {
  std::vector<std::string> out;
  const data::Value* found = root.find(list);
  if (found == nullptr) {
    return out;
  }
  for (const data::Value& item : found->items) {
    const data::Value* id = item.find("id");
    out.push_back(id != nullptr && id->kind == data::Kind::string ? id->text : std::string());
  }
  return out;
}

const data::Value& member_of(const data::Value& value, std::string_view name) {
  static const data::Value none;
  const data::Value* found = value.find(name);
  return found == nullptr ? none : *found;
}

void refuse_doubles(data::Reader& root, std::string_view list) {
  if (!root.has(list) || root.value().find(list)->kind != data::Kind::array) {
    return;
  }
  std::vector<std::pair<std::string, int>> seen;
  for (data::Reader& item : root.list(list)) {
    const data::Value* id = text_member(item, "id");
    if (id == nullptr) {
      continue;
    }
    const auto first = std::find_if(seen.begin(), seen.end(), [id](const auto& other) {
      return other.first == id->text;
    });
    if (first != seen.end()) {
      item.fault("double-id",
                 cat("the id ", in_quotes(id->text), " already stands on line ", first->second),
                 "Give each its own id.", "id");
    } else {
      seen.emplace_back(id->text, id->place.line);
    }
  }
}

std::vector<std::string> texts_in(const data::Value& root, std::string_view list) {
  std::vector<std::string> out;
  for (const data::Value& item : member_of(root, list).items) {
    out.push_back(item.kind == data::Kind::string ? item.text : std::string());
  }
  return out;
}

int resolve(data::Reader& at, std::string_view member, std::string_view word,
            const std::vector<std::string>& names, std::string_view kind) {
  const auto found = std::find(names.begin(), names.end(), word);
  if (found != names.end() && !word.empty()) {
    return static_cast<int>(found - names.begin());
  }
  if (!is_id(word)) {
    at.fault("bad-id", cat(in_quotes(word), " is no id"), std::string(kIdRule), member);
    return 0;
  }
  const auto hint = nearest(word, names);
  at.fault("unknown-id", cat("there is no ", kind, " ", in_quotes(word)),
           hint ? cat("Did you mean ", in_quotes(*hint), "?")
                : cat("Name a ", kind, " of this pack, or add it."),
           member);
  return 0;
}

void refuse_second(data::Reader& at, bool seen, std::string_view word) {
  if (seen) {
    at.fault("twice", cat(in_quotes(word), " stands here twice"), "Remove the second.");
  }
}

/// The elements of a list that are texts; others are reported.
std::vector<data::Reader> text_items(std::vector<data::Reader> all) {
  std::vector<data::Reader> out;
  for (data::Reader& item : all) {
    if (item.value().kind == data::Kind::string) {
      out.push_back(item);
    } else {
      item.fault("wrong-type", "this is no text", "Write a text in quotation marks.");
    }
  }
  return out;
}

}  // namespace

Names gather_names(data::Reader& root, Findings& findings) {
  for (const char* list : {"positions", "tools", "parts", "joints", "refit_checks", "faults",
                           "symptoms", "tests", "prove_tests"}) {
    refuse_doubles(root, list);
  }
  const data::Value& value = root.value();
  const data::Value& circuit = member_of(value, "circuit");
  const data::Value& programme = member_of(circuit, "programme");
  data::Reader in_circuit(circuit, findings, "/circuit");
  data::Reader in_programme(programme, findings, "/circuit/programme");
  if (in_circuit.is_object()) {
    refuse_doubles(in_circuit, "elements");
    refuse_doubles(in_circuit, "test_points");
  }
  if (in_programme.is_object()) {
    refuse_doubles(in_programme, "steps");
    refuse_doubles(in_programme, "rows");
  }
  return Names{&findings,
               names_in(value, "positions"),
               names_in(value, "tools"),
               names_in(value, "parts"),
               names_in(value, "joints"),
               names_in(value, "refit_checks"),
               texts_in(circuit, "nodes"),
               names_in(circuit, "elements"),
               names_in(circuit, "test_points"),
               names_in(programme, "steps"),
               names_in(programme, "rows"),
               names_in(value, "faults")};
}

std::string words(data::Reader& from, std::string_view name) {
  std::string out = from.text(name);
  refuse_blank(from, name);
  return out;
}

std::string words_or_none(data::Reader& from, std::string_view name) {
  std::string out = from.text_or(name, {});
  refuse_blank(from, name);
  return out;
}

std::string id_text(data::Reader& from, std::string_view name) {
  std::string out = from.text(name);
  refuse_bad_id(from, name);
  return out;
}

std::string id_or_none(data::Reader& from, std::string_view name) {
  std::string out = from.text_or(name, {});
  refuse_bad_id(from, name);
  return out;
}

int whole(data::Reader& from, std::string_view name, int least, int most) {
  return static_cast<int>(from.integer(name, least, most));
}

int whole_or(data::Reader& from, std::string_view name, int fallback, int least, int most) {
  return static_cast<int>(from.integer_or(name, fallback, least, most));
}

std::vector<data::Reader> items(data::Reader& from, std::string_view name, int least) {
  std::vector<data::Reader> out = from.list(name);
  const data::Value* value = from.value().find(name);
  if (value != nullptr && value->kind == data::Kind::array && to_int(out.size()) < least) {
    from.fault("empty-list", cat(in_quotes(name), " has too few entries"),
               cat("Write at least ", least, "."), name);
  }
  return out;
}

int reference(data::Reader& from, std::string_view name, const std::vector<std::string>& names,
              std::string_view kind) {
  const std::string word = from.text(name);
  return text_member(from, name) == nullptr ? 0 : resolve(from, name, word, names, kind);
}

int reference_or_none(data::Reader& from, std::string_view name,
                      const std::vector<std::string>& names, std::string_view kind) {
  return from.has(name) ? reference(from, name, names, kind) : -1;
}

std::vector<std::string> own_ids(data::Reader& from, std::string_view name) {
  std::vector<std::string> out;
  for (data::Reader& item : text_items(items(from, name, 1))) {
    const std::string& word = item.value().text;
    refuse_second(item, std::find(out.begin(), out.end(), word) != out.end(), word);
    if (!is_id(word)) {
      item.fault("bad-id", cat(in_quotes(word), " is no id"), std::string(kIdRule));
    }
    out.push_back(word);
  }
  return out;
}

namespace {

double amount_at(data::Reader& at, const data::Value& value) {
  if (value.kind != data::Kind::number) {
    at.fault("wrong-type", "this is no number", std::string(kSpreadRule));
  } else if (value.number < 0 || value.number > kMostValue) {
    at.fault("out-of-range", cat("this is ", value.text),
             cat("Write a number from 0 to ", number_text(kMostValue), "."));
  }
  return value.number;
}

}  // namespace

Spread spread(data::Reader& from, std::string_view name) {
  if (!from.has(name)) {
    from.fault("missing-member", cat(in_quotes(name), " is missing"), std::string(kSpreadRule));
  }
  return spread_or_none(from, name);
}

Spread spread_or_none(data::Reader& from, std::string_view name) {
  if (!from.has(name)) {
    return {};
  }
  const data::Value& value = *from.value().find(name);
  if (value.kind != data::Kind::array) {
    data::Reader one(value, *from.findings(), cat(from.pointer(), "/", name));
    const double amount = amount_at(one, value);
    return {amount, amount, amount};
  }
  std::vector<double> three;
  for (data::Reader& item : from.list(name)) {
    three.push_back(amount_at(item, item.value()));
  }
  if (three.size() != 3) {
    from.fault("bad-spread", cat(in_quotes(name), " has ", to_int(three.size()), " numbers"),
               std::string(kSpreadRule), name);
    return {};
  }
  return {three[0], three[1], three[2]};
}

std::vector<Shows> shows(data::Reader& from, std::string_view name, const Names& names) {
  std::vector<Shows> out;
  for (data::Reader& item : from.list(name, false)) {
    Shows one;
    one.fault = reference(item, "fault", names.faults, "fault");
    one.chance = item.number("chance", 0.001, 1);
    item.done();
    out.push_back(one);
  }
  return out;
}

std::vector<int> references(std::vector<data::Reader> all, const std::vector<std::string>& names,
                            std::string_view kind) {
  std::vector<int> out;
  std::vector<std::string> seen;
  for (data::Reader& item : text_items(std::move(all))) {
    const std::string& word = item.value().text;
    refuse_second(item, std::find(seen.begin(), seen.end(), word) != seen.end(), word);
    seen.push_back(word);
    out.push_back(resolve(item, {}, word, names, kind));
  }
  return out;
}

std::vector<int> references(data::Reader& from, std::string_view name,
                            const std::vector<std::string>& names, std::string_view kind) {
  return references(from.list(name, false), names, kind);
}

Access access(data::Reader& from, std::string_view name, const Names& names) {
  Access out;
  for (data::Reader& way : from.list(name, false)) {
    const data::Value& value = way.value();
    if (value.kind == data::Kind::object) {
      Way read;
      read.parts = references(items(way, "parts", 1), names.parts, "part");
      read.positions =
          references(items(way, "positions", 1), names.positions, "position");
      way.done();
      out.push_back(std::move(read));
      continue;
    }
    if (value.kind != data::Kind::array) {
      way.fault("wrong-type", "this way is no list",
                "Write each way as a list of parts that must be away, [[\"a\"], [\"b\", \"c\"]].");
      continue;
    }
    if (value.items.empty()) {
      way.fault("empty-list", "this way names no part",
                "Name the parts that must be away, or remove the way.");
      continue;
    }
    std::vector<data::Reader> parts;
    for (std::size_t i = 0; i < value.items.size(); ++i) {
      parts.emplace_back(value.items[i], *names.findings, cat(way.pointer(), "/", to_int(i)));
    }
    out.emplace_back(references(std::move(parts), names.parts, "part"));
  }
  return out;
}

std::vector<int> choices(data::Reader& from, std::string_view name,
                         const std::vector<std::string>& known, std::string_view kind) {
  std::vector<int> out;
  for (data::Reader& item : text_items(from.list(name, false))) {
    const std::string& word = item.value().text;
    const auto at = std::find(known.begin(), known.end(), word);
    if (at == known.end()) {
      const auto hint = nearest(word, known);
      item.fault("unknown-word", cat("there is no ", kind, " ", in_quotes(word)),
                 hint ? cat("Did you mean ", in_quotes(*hint), "?")
                      : cat("Write one of ", quoted_list(known), "."));
      continue;
    }
    const int choice = static_cast<int>(at - known.begin());
    refuse_second(item, std::find(out.begin(), out.end(), choice) != out.end(), word);
    out.push_back(choice);
  }
  return out;
}

std::vector<Contact> contacts(data::Reader& from, std::string_view name) {
  std::vector<Contact> out;
  for (const int contact : choices(from, name, contact_words(), "contact")) {
    out.push_back(static_cast<Contact>(contact));
  }
  return out;
}

std::pair<double, double> point(data::Reader& from, std::string_view name) {
  auto at = from.object(name);
  if (!at) {
    return {0, 0};
  }
  const double x = at->number("x", -kSheet, kSheet);
  const double y = at->number("y", -kSheet, kSheet);
  at->done();
  return {x, y};
}

}  // namespace kp::pack
