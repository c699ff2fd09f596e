#include <doctest/doctest.h>

#include <set>
#include <utility>

#include "pack/files.hpp"
#include "pack/golden.hpp"
#include "pack/schema_subset.hpp"

// Reader and schema must judge every text alike, but for what only names can tell: a schema does
// not know which ids there are. JSON Schema 2020-12: json-schema.org/draft/2020-12.

namespace kp {
namespace {

using data::Value;

Value parsed(const std::string& path) {
  auto value = data::parse(test::file_text(path));
  CAPTURE(path);
  REQUIRE(value.has_value());
  return value.value();
}

/// True when the reader refuses the text for its shape, not for a name only.
bool reader_refuses_shape(const std::string& text) {
  static const std::set<std::string> names = {"unknown-id", "double-id", "unknown-currency"};
  const pack::Loaded loaded = pack::load(text);
  for (const Finding& finding : loaded.findings.all()) {
    if (names.count(finding.code) == 0) {
      return true;
    }
  }
  return false;
}

struct Case {
  std::string what;
  Value value;
};

/// Every value of the tree by pointer-like path of indices, objects and lists included.
std::vector<std::vector<int>> all_paths(const Value& root) {
  std::vector<std::vector<int>> open = {{}};
  std::vector<std::vector<int>> out;
  while (!open.empty()) {
    const std::vector<int> path = open.back();
    open.pop_back();
    out.push_back(path);
    const Value* at = &root;
    for (const int step : path) {
      at = at->kind == data::Kind::object ? &at->members[to_size(step)].second
                                          : &at->items[to_size(step)];
    }
    const int count = to_int(at->members.size() + at->items.size());
    for (int i = 0; i < count; ++i) {
      std::vector<int> deeper = path;
      deeper.push_back(i);
      open.push_back(deeper);
    }
  }
  return out;
}

Value& at_path(Value& root, const std::vector<int>& path) {
  Value* at = &root;
  for (const int step : path) {
    at = at->kind == data::Kind::object ? &at->members[to_size(step)].second
                                        : &at->items[to_size(step)];
  }
  return *at;
}

/// One change at one place of a good pack, in all the ways a person gets it wrong.
std::vector<Case> mutants(const Value& good, const std::vector<int>& path) {
  std::vector<Case> out;
  const auto replace = [&](const char* what, const Value& with) {
    Case one{what, good};
    at_path(one.value, path) = with;
    out.push_back(std::move(one));
  };
  Value copy = good;
  const data::Kind kind = at_path(copy, path).kind;
  replace("null", Value());
  replace("an object", Value::object());
  replace("a list", Value::array());
  replace("a text", Value::of("Some words."));
  if (kind == data::Kind::string) {
    replace("an id", Value::of("frame"));
    replace("a blank", Value::of(" "));
    replace("nothing", Value::of(""));
  }
  replace("a number", Value::of(1));
  if (kind == data::Kind::number) {
    for (const double number : {-1e13, -1.0, -0.5, 0.0, 2.5, 50.0, 1e5, 1e9, 1e13}) {
      replace("another number", Value::of(number));
    }
  }
  if (path.empty()) {
    return out;
  }
  std::vector<int> parent = path;
  parent.pop_back();
  Case less{"removed", good};
  Value& holder = at_path(less.value, parent);
  if (holder.kind == data::Kind::object) {
    holder.members.erase(holder.members.begin() + path.back());
  } else {
    holder.items.erase(holder.items.begin() + path.back());
  }
  out.push_back(std::move(less));
  Case more{"added to", good};
  Value& place = at_path(more.value, path);
  if (place.kind == data::Kind::object) {
    place.set("colour", Value::of("grey"));
  } else if (place.kind == data::Kind::array && !place.items.empty()) {
    place.push(place.items[0]);
  }
  out.push_back(std::move(more));
  return out;
}

TEST_CASE("schema: accepts the good packs and knows all its own words") {
  const Value schema = parsed("assets/schema/pack.schema.json");
  for (const char* path :
       {"tests/golden/packs/tiny.json", "tests/golden/packs/good/minimal.json",
        "tests/golden/packs/good/full.json", "assets/packs/pump-module/pack.json"}) {
    CAPTURE(path);
    test::SchemaSubset subset(schema);
    CHECK(subset.accepts(parsed(path)));
    CHECK(subset.unknown().empty());
    CHECK(pack::load(test::file_text(path)).pack.has_value());
  }
}

TEST_CASE("schema: judges every single change of a good pack as the reader does") {
  const Value schema = parsed("assets/schema/pack.schema.json");
  const Value good = parsed("tests/golden/packs/good/full.json");
  int refused = 0;
  int accepted = 0;
  for (const std::vector<int>& path : all_paths(good)) {
    for (const Case& one : mutants(good, path)) {
      const std::string text = data::print(one.value);
      test::SchemaSubset subset(schema);
      const bool schema_accepts = subset.accepts(one.value);
      const bool reader_accepts = !reader_refuses_shape(text);
      (schema_accepts ? accepted : refused) += 1;
      if (schema_accepts != reader_accepts) {
        CAPTURE(one.what);
        CAPTURE(test::as_lines(pack::load(text).findings));
        CAPTURE(text);
        CHECK(schema_accepts == reader_accepts);
      }
      REQUIRE(subset.unknown().empty());
    }
  }
  CHECK(refused > 1500);
  CHECK(accepted > 300);
}

}  // namespace
}  // namespace kp
