// The test of the house test: one small tree for each rule with that one violation in it, which
// must be found at its line and by no other rule, and one tree of innocent look-alikes.

import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { findings, finding_text, rules } from './house.mjs';
import { kArrows } from './arrows.mjs';
import { blank, read_tree } from './tree.mjs';

let bad = 0;
function check(name, good, detail = '') {
  console.log(`${good ? 'ok' : 'not ok'} ${name}`);
  if (!good) {
    bad += 1;
    if (detail) console.log(detail);
  }
}

/// Writes { path: text } into a new folder, lets all rules look, answers "path:line rule" of each.
function judge(tree, built = null) {
  const top = mkdtempSync(join(tmpdir(), 'house-'));
  for (const [path, text] of Object.entries(tree)) {
    mkdirSync(dirname(join(top, path)), { recursive: true });
    writeFileSync(join(top, path), text);
  }
  const files = read_tree(top);
  const found = rules.flatMap((rule) => findings(rule, files, { built })
    .map((finding) => ({ ...finding, rule: rule.name })));
  rmSync(top, { recursive: true, force: true });
  return found;
}

const lines = (count, text = 'int a;') => `${Array(count).fill(text).join('\n')}\n`;
const path_of_one = `/${'home'}/somebody/kickplate`;

// rule -> [tree, place of the one finding, files that were built]
const kOne = {
  'each source stands in a known room': [{ 'src/attic/box.hpp': '#pragma once\n' }, 'src/attic/box.hpp:1'],
  'rooms include only what their row allows': [
    { 'src/plan/a.hpp': '#pragma once\n\n#include "base/text.hpp"\n#include "pack/model.hpp"\n' }, 'src/plan/a.hpp:4'],
  'libraries are known only to the rooms that wrap them': [
    { 'src/app/a.hpp': '#pragma once\n#include <imgui.h>\n' }, 'src/app/a.hpp:2'],
  'the web platform is known only to platform/web': [
    { 'src/ui/a.hpp': '#pragma once\n\n#ifdef __EMSCRIPTEN__\n#endif\n' }, 'src/ui/a.hpp:3'],
  'windows and POSIX are known only to platform/native and cli': [
    { 'src/journal/a.hpp': '#pragma once\n#include <unistd.h>\n' }, 'src/journal/a.hpp:2'],
  'files and threads are known only to platform/native and cli': [
    { 'src/pack/a.hpp': '#pragma once\nusing Path = std::filesystem::path;\n' }, 'src/pack/a.hpp:2'],
  'no clock and no chance below platform': [
    { 'src/job/a.hpp': '#pragma once\ninline auto now() {\n  return std::chrono::system_clock::now();\n}\n' }, 'src/job/a.hpp:3'],
  'no exceptions outside data/parse.cpp, cli and platform': [
    { 'src/bill/a.hpp': '#pragma once\ninline void f() {\n  throw 1;\n}\n' }, 'src/bill/a.hpp:3'],
  'no iostream, locale, regex, format, ranges or source_location': [
    { 'src/base/a.hpp': '#pragma once\n#include <iostream>\n' }, 'src/base/a.hpp:2'],
  'no numbers through from_chars or to_chars of double, no bit_cast': [
    { 'src/base/a.hpp': '#pragma once\ninline auto f(double x) { return std::bit_cast<long long>(x); }\n' }, 'src/base/a.hpp:2'],
  'no variables that outlive a call and can change, outside platform': [
    { 'src/base/a.hpp': '#pragma once\nnamespace kp {\ninline int counter = 0;\n}\n' }, 'src/base/a.hpp:3'],
  'the top of the tree holds only what the design names': [{ 'notes/a.md': 'x\n' }, 'notes:1'],
  'files are short enough to be read at once': [
    { 'src/base/a.hpp': `#pragma once\n${lines(200, '// x')}` }, 'src/base/a.hpp:201'],
  'headers are guarded by #pragma once': [{ 'src/base/a.hpp': 'namespace kp {}\n' }, 'src/base/a.hpp:1'],
  'no using namespace in headers': [
    { 'src/base/a.hpp': '#pragma once\nusing namespace std;\n' }, 'src/base/a.hpp:2'],
  'every room with sources has tests': [
    { 'src/base/a.cpp': 'namespace kp {}\n' }, 'src/base/a.cpp:1'],
  'every source and every test is in the build': [
    { 'tests/base/a.cpp': 'TEST_CASE("a") {}\n' }, 'tests/base/a.cpp:1', new Set(['src/base/a.cpp'])],
  'no test is commented out or switched off': [
    { 'tests/base/a_test.cpp': 'TEST_CASE("a") {\n  // CHECK(1 == 2);\n}\n' }, 'tests/base/a_test.cpp:2'],
  'no paths of one machine': [
    { 'ci/setup': `#!/bin/sh\ncd ${path_of_one}\n` }, 'ci/setup:2'],
};

for (const rule of rules) {
  const [tree, place, built] = kOne[rule.name] ?? [];
  if (!tree) {
    check(`there is a violation to find for: ${rule.name}`, false);
    continue;
  }
  const found = judge(tree, built);
  const good = found.length === 1 && found[0].rule === rule.name
    && finding_text(found[0]).startsWith(`${place}: `) && found[0].why && found[0].remedy;
  check(`found, and nothing else: ${rule.name}`, good, found.map(finding_text).join('\n') || 'nothing was found');
}

// More faces of the same rules: what each line of a file gives, by the rule's number in `rules`.
const globals_rule = 'no variables that outlive a call and can change, outside platform';
const kMutable = ['int a;', 'static int a = 1;', 'std::vector<int> a;', 'std::vector<int> a{1, 2};', 'const char* a = "x";',
  'inline std::string a{"x"};', 'struct S {\n  static int a;\n};', 'int f() {\n  static int a = 0;\n  return ++a;\n}',
  'thread_local int a = 0;', 'int a[4];', 'int a[] = {1, 2};', 'int* a = nullptr;',
  'void f() {\n  static std::vector<int> a;\n  a.push_back(1);\n}'];
for (const text of kMutable) {
  const found = judge({ 'src/base/a.hpp': `#pragma once\nnamespace kp {\n${text}\n}\n` });
  check(`can change: ${text.replace(/\s+/g, ' ')}`, found.length === 1 && found[0].rule === globals_rule,
    found.map(finding_text).join('\n'));
}

const kInnocent = `#pragma once
// std::cout, throw and __EMSCRIPTEN__ may stand in a comment; so may #include "ui/ui.hpp".
#include "base/text.hpp"
namespace kp {
constexpr int kOne = 1;
inline constexpr double kTwo[] = {1, 2};
const std::vector<int> kThree{1, 2};
const char* const kFour = "throw; int a; static int b; std::cout << R";
constexpr auto kFive = [](int a) { return a + 1; };
enum class Kind { one, two };
struct Plain {
  int a = 0;
  std::vector<int> b{1, 2};
  static constexpr int kSix = 6;
  static int make(int x = 1) { int y = x; return y; }
  [[nodiscard]] bool good() const noexcept { return a == 0; }
  Plain& operator=(const Plain&) = default;
  explicit Plain(int x) : a{x}, b(2) { a = x; }
};
template <class T>
class Box;
template <class T>
struct Later : Plain {
  T value{};
};
extern template struct Later<int>;
using Wide = long long;
int declared(int a, int b);
[[nodiscard]] inline Plain defined(int a) {
  static const Plain kOnce(a);
  static constexpr int kTable[] = {1, 2};
  int local = kTable[0];
  for (int i = 0; i < 3; ++i) { local += i; }
  if (local > 1) { local = 1; } else { local = 2; }
  auto inner = [&local](int x) { int y = x; local += y; return y; };
  switch (local) { case 1: return kOnce; default: break; }
  return Plain{inner(1)};
}
std::vector<int> operator+(const std::vector<int>& a, const std::vector<int>& b);
bool Plain::*pointer(int runtime(int));
const char* entry_time(int x);
inline auto stretch(int time) { return entry_time(time); }
}  // namespace kp
`;
const quiet = judge({ 'src/pack/a.hpp': kInnocent, 'src/job/b.hpp': '#pragma once\n#include "pack/a.hpp"\n',
  'src/platform/web/c.hpp': '#pragma once\n#include <emscripten.h>\nint counter = 0;\n',
  'src/platform/native/d.hpp': '#pragma once\n#include <GLFW/glfw3.h>\n#include <unistd.h>\n#include <thread>\n',
  'src/data/e.hpp': `// table: of numbers\n#pragma once\n${lines(300, '// 1')}` });
check('look-alikes are left alone', quiet.length === 0, quiet.map(finding_text).join('\n'));

// Every room that the table allows is a room of the table, and no two rooms may include each other.
const names = Object.keys(kArrows);
check('the table names only rooms', names.every((room) => kArrows[room].every((other) => names.includes(other))));
const below = (room, seen = new Set()) => {
  for (const other of kArrows[room]) if (!seen.has(other)) below(other, seen.add(other));
  return seen;
};
check('no arrow comes back', names.every((room) => !below(room).has(room)));
for (const [room, other] of [['base', 'data'], ['plan', 'safety'], ['safety', 'pack'], ['job', 'app'], ['ui', 'job'],
  ['cli', 'ui'], ['platform/web', 'platform/native'], ['app', 'ui']]) {
  const found = judge({ [`src/${room}/a.hpp`]: `#pragma once\n#include "${other}/b.hpp"\n` });
  check(`${room} must not include ${other}`, found.length === 1 && found[0].line === 2);
}

check('blanking keeps lines', blank('a /* b\nc */ "d\\"//e" R"(f\n")" // g\nh').split('\n').length === 4);
check('blanking hides words', !/[bcdefg]/.test(blank('/* b\nc */ "d\\"//e" R"(f\n")" // g\n')));
check('a digit mark is no quote', blank("int a = 1'000; char c = 'x'; int b;").includes('int b;'));

process.exitCode = bad > 0 ? 1 : 0;
