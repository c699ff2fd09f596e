// Runs one test program and counts what it says. Three kinds of program are understood: doctest
// (its summary line), scripts that print "ok NAME" and "not ok NAME", and any other, which counts
// as one test. A crash counts as a failure whatever was printed before it.

import { spawn } from 'node:child_process';

const kSummary = /^\[doctest\] test cases:\s*(\d+)\s*\|\s*(\d+) passed\s*\|\s*(\d+) failed\s*\|\s*(\d+) skipped/gm;
const kLine = /^(not )?ok\b(?: +\d+)?(?: +- )?(.*)$/gm;

export const plain = (output) => output.replace(/\x1b\[[0-9;]*m/g, '');

/// Counts from what a program printed and how it ended. `ended` is { code, signal, late }.
/// Returns { passed, failed, skipped, why }; `why` names a failure that no test of it named.
export function count(coloured, ended) {
  // Under Node a test program takes its pipe for a terminal and prints in colour.
  const output = plain(coloured);
  const sum = { passed: 0, failed: 0, skipped: 0, why: '' };
  const summaries = [...output.matchAll(kSummary)];
  const lines = [...output.matchAll(kLine)];
  for (const [, , passed, failed, skipped] of summaries) {
    sum.passed += Number(passed);
    sum.failed += Number(failed);
    sum.skipped += Number(skipped);
  }
  if (summaries.length === 0) {
    for (const [, not, name] of lines) {
      if (not) sum.failed += 1;
      else if (/# skip/i.test(name)) sum.skipped += 1;
      else sum.passed += 1;
    }
  }
  const good = ended.code === 0;
  if (ended.late) sum.why = 'it did not end in time';
  else if (ended.signal) sum.why = `it was ended by ${ended.signal}`;
  else if (!good && sum.failed === 0) sum.why = `it ended with code ${ended.code}`;
  else if (summaries.length === 0 && /^\[doctest\]/m.test(output)) sum.why = 'it ended before its summary';
  else if (good && sum.failed > 0) sum.why = 'it counted failures and ended with code 0';
  if (sum.why && sum.failed === 0) sum.failed = 1;
  if (good && sum.passed + sum.failed + sum.skipped === 0) {
    if (summaries.length > 0) {
      sum.failed = 1;
      sum.why = 'it ran no test';
    } else {
      sum.passed = 1;
    }
  }
  return sum;
}

// Programs that run now. Each leads a group of its own, so that a browser goes with the script that
// started it; so they have to be ended by name when this process is told to end.
const running = new Set();
function end_group(child) {
  try { process.kill(-child.pid, 'SIGKILL'); } catch { child.kill('SIGKILL'); }
}
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) {
  process.on(signal, () => {
    for (const child of running) end_group(child);
    process.exit(130);
  });
}

/// Runs `command` (an array) and answers { output, ended }. Both of its streams are kept in order.
export function run(command, { cwd, env, seconds = 300 } = {}) {
  return new Promise((done) => {
    const child = spawn(command[0], command.slice(1), {
      cwd, env: { ...process.env, ...env }, stdio: ['ignore', 'pipe', 'pipe'], detached: true,
    });
    running.add(child);
    const kept = [];
    let late = false;
    const end = (code, signal) => {
      clearTimeout(timer);
      running.delete(child);
      done({ output: Buffer.concat(kept).toString('utf8'), ended: { code, signal, late } });
    };
    const timer = setTimeout(() => {
      late = true;
      end_group(child);
    }, seconds * 1000);
    child.stdout.on('data', (bytes) => kept.push(bytes));
    child.stderr.on('data', (bytes) => kept.push(bytes));
    child.on('error', (error) => {
      kept.push(Buffer.from(`${command[0]}: ${error.message}\n`));
      end(127, null);
    });
    child.on('close', end);
  });
}

/// The part of an output that says what failed: all of it, or its last lines.
export function tail(output, most = 120) {
  const lines = output.trimEnd().split('\n');
  if (lines.length <= most) return lines.join('\n');
  return [`(${lines.length - most} lines before this)`, ...lines.slice(-most)].join('\n');
}

/// What a test tells of itself (doctest's MESSAGE): states walked, mutants noticed.
export function told(output) {
  return [...plain(output).matchAll(/^.*?: MESSAGE: (.*)$/gm)].map(([, words]) => words);
}

/// For a script's output: its failed lines with what is printed behind them, without the good ones.
export function without_good_lines(output) {
  return output.split('\n').filter((line) => !/^ok\b/.test(line)).join('\n');
}

/// Collects the counts of many programs and prints one line for each, and the output of those in
/// which something failed.
export class Tally {
  passed = 0;
  failed = 0;
  skipped = 0;
  failures = [];
  constructor(say = console.log) { this.say = say; }

  add(name, output, ended) {
    const sum = count(output, ended);
    this.passed += sum.passed;
    this.failed += sum.failed;
    this.skipped += sum.skipped;
    const parts = [`${sum.passed} passed`];
    if (sum.failed) parts.push(`${sum.failed} failed`);
    if (sum.skipped) parts.push(`${sum.skipped} skipped`);
    this.say(`${sum.failed ? 'FAILED' : '  good'}  ${name}: ${parts.join(', ')}`);
    if (sum.failed) {
      this.failures.push(name + (sum.why ? ` (${sum.why})` : ''));
      this.say(tail(without_good_lines(plain(output))).replace(/^/gm, '        '));
      if (sum.why) this.say(`        ${name}: ${sum.why}`);
    } else {
      for (const words of told(output)) this.say(`        ${words}`);
    }
  }

  skip(name, why) {
    this.skipped += 1;
    this.say(`  skip  ${name}: ${why}`);
  }

  /// The closing line.
  line() {
    const skipped = this.skipped ? `, ${this.skipped} skipped` : '';
    return `${this.passed} passed, ${this.failed} failed${skipped}`;
  }
}
