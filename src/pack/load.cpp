#include "pack/load.hpp"

#include <utility>
#include <vector>

#include "base/text.hpp"
#include "pack/source.hpp"

namespace kp::pack {
namespace {

std::string escaped(std::string_view name) {
  // RFC 6901 section 3.
  std::string out;
  for (const char c : name) {
    out += c == '~' ? std::string("~0") : c == '/' ? std::string("~1") : std::string(1, c);
  }
  return out;
}

Places places_of(const data::Value& root) {
  Places places;
  std::vector<std::pair<std::string, const data::Value*>> open = {{std::string(), &root}};
  while (!open.empty()) {
    const auto [pointer, value] = open.back();
    open.pop_back();
    places.add(pointer, value->place);
    for (std::size_t i = 0; i < value->items.size(); ++i) {
      open.emplace_back(cat(pointer, "/", to_int(i)), &value->items[i]);
    }
    for (const data::Value::Member& member : value->members) {
      open.emplace_back(cat(pointer, "/", escaped(member.first)), &member.second);
    }
  }
  return places;
}

Finding not_json(const Error& error) {
  Finding finding;
  finding.code = error.code;
  finding.what = cat(error.where, ": ", error.what);
  finding.remedy = error.remedy;
  return finding;
}

/// True when the text says that it is of a format this program cannot know.
bool refuse_newer(data::Reader& root) {
  const data::Value* format = root.value().find("format");
  if (format == nullptr || format->kind != data::Kind::number || format->number <= kPackFormat) {
    return false;
  }
  root.fault("format-too-new",
             cat("this pack has format ", format->text, " and this program reads format ",
                 kPackFormat),
             "Update the program to use this pack.", "format");
  return true;
}

}  // namespace

void Places::add(std::string pointer, data::Place place) {
  places_.insert_or_assign(std::move(pointer), place);
}

data::Place Places::at(std::string_view pointer) const {
  for (;;) {
    const auto found = places_.find(pointer);
    if (found != places_.end()) {
      return found->second;
    }
    if (pointer.empty()) {
      return {};
    }
    pointer = pointer.substr(0, pointer.rfind('/'));
  }
}

Loaded load(std::string_view text) {
  Loaded loaded;
  const auto parsed = data::parse(text);
  if (!parsed.has_value()) {
    loaded.findings.add(not_json(parsed.error()));
    return loaded;
  }
  loaded.places = places_of(parsed.value());
  data::Reader root(parsed.value(), loaded.findings);
  if (root.is_object() && refuse_newer(root)) {
    return loaded;
  }
  Pack pack;
  pack.format = whole(root, "format", 1, kPackFormat);
  if (root.is_object()) {
    static_cast<void>(root.text_or("$schema", {}));  // for editors
    const Names names = gather_names(root, loaded.findings);
    read_about(root, names, pack);
    read_unit(root, names, pack);
    read_parts(root, names, pack);
    read_joints(root, names, pack);
    read_circuit(root, names, pack);
    read_faults(root, names, pack);
    read_find(root, names, pack);
    read_prove(root, names, pack);
    root.done();
  }
  loaded.findings.sort();
  if (loaded.findings.faults() == 0) {
    derive(pack);
    loaded.pack = std::move(pack);
  }
  return loaded;
}

}  // namespace kp::pack
