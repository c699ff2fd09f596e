// The counting of ci/test, on outputs as programs print them.

import { count, Tally } from '../../ci/tally.mjs';

let bad = 0;
function same(name, got, want) {
  const good = JSON.stringify(got) === JSON.stringify(want);
  console.log(`${good ? 'ok' : 'not ok'} ${name}`);
  if (!good) {
    bad += 1;
    console.log(`got ${JSON.stringify(got)}, want ${JSON.stringify(want)}`);
  }
}
const sum = (output, ended = { code: 0 }) => {
  const { passed, failed, skipped } = count(output, ended);
  return [passed, failed, skipped];
};

// doctest 2.4.9 prints this at the end.
const summary = (total, passed, failed, skipped = 0) => `[doctest] doctest version is "2.4.9"\n`
  + `${'='.repeat(79)}\n[doctest] test cases: ${String(total).padStart(3)} | ${String(passed).padStart(3)} passed | `
  + `${failed} failed | ${skipped} skipped\n[doctest] assertions: 17 | 17 passed | 0 failed |\n[doctest] Status: SUCCESS!\n`;

same('a good doctest program', sum(summary(12, 12, 0)), [12, 0, 0]);
same('a doctest program with two failures', sum(summary(12, 10, 2), { code: 1 }), [10, 2, 0]);
same('cases that skip themselves', sum(summary(3, 3, 0, 2)), [3, 0, 2]);
same('a doctest program without cases', sum(summary(0, 0, 0)), [0, 1, 0]);
same('a doctest program that skips all', sum(summary(0, 0, 0, 3)), [0, 0, 3]);
same('a doctest program in colour', sum(summary(12, 12, 0).replace('[doctest]', '\x1b[0;36m[doctest] \x1b[0m')
  .replace('12 passed', '\x1b[0;32m12 passed\x1b[0m')), [12, 0, 0]);
same('a doctest program that ends before its summary', sum('[doctest] doctest version is "2.4.9"\n'), [0, 1, 0]);
same('a crash after a good summary', sum(summary(12, 12, 0), { code: null, signal: 'SIGSEGV' }), [12, 1, 0]);
same('a leak found after a good summary', sum(summary(12, 12, 0), { code: 23 }), [12, 1, 0]);
same('a crash before any line', sum('', { code: null, signal: 'SIGABRT' }), [0, 1, 0]);
same('good lines', sum('ok one\nok two\n'), [2, 0, 0]);
same('a bad line', sum('ok one\nnot ok two\nbecause of this\n', { code: 1 }), [1, 1, 0]);
same('a bad line and a good code', sum('not ok one\n'), [0, 1, 0]);
same('good lines and then a throw', sum('ok one\nError: x\n', { code: 1 }), [1, 1, 0]);
same('a skipped line', sum('ok one # skip no browser\nok two\n'), [1, 0, 1]);
same('words that only begin like a line', sum('okay\nnot okay\n'), [1, 0, 0]);
same('a program that says nothing', sum(''), [1, 0, 0]);
same('a program that is late', sum('ok one\n', { code: null, signal: 'SIGKILL', late: true }), [1, 1, 0]);

const figures = [];
new Tally((line) => figures.push(line)).add('walk',
  'a_test.cpp:9: MESSAGE: cord: 12 states\n\x1b[0;36ma_test.cpp:9: \x1b[0;33mMESSAGE: 3 of 3 mutants\n' + summary(1, 1, 0), { code: 0 });
same('what a test tells of itself is printed', figures, ['  good  walk: 1 passed', '        cord: 12 states', '        3 of 3 mutants']);

const said = [];
const tally = new Tally((line) => said.push(line));
tally.add('a', 'ok one\n', { code: 0 });
same('the closing line without skips', tally.line(), '1 passed, 0 failed');
tally.add('b', 'ok one\nnot ok two\nwhy\n', { code: 1 });
tally.skip('c', 'not here');
same('the closing line', tally.line(), '2 passed, 1 failed, 1 skipped');
same('what is printed', said, ['  good  a: 1 passed', 'FAILED  b: 1 passed, 1 failed', '        not ok two\n        why',
  '  skip  c: not here']);

process.exitCode = bad > 0 ? 1 : 0;
