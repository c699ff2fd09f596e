// What the tests of the browser's store stand on: a server for the store page, a browser that can
// be killed, and pages whose printed lines can be waited for.

import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createServer } from 'node:http';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const top = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
const third = process.env.KP_THIRD ?? join(top, 'build', 'third');
const program = join(dirname(process.env.KP_SITE ?? join(top, 'build', 'web', 'site')), 'store_page');
const chromium_path = process.env.KP_CHROMIUM ?? '/usr/bin/chromium';
export const { chromium } = createRequire(join(third, 'node', 'package.json'))('playwright-core');

const kPage = '<!doctype html><html lang="en"><meta charset="utf-8"><title>store</title>'
  + '<script src="page.js"></script><script src="store_page.js"></script></html>';
const kScript = `
const words = new URLSearchParams(location.search);
var Module = {
  arguments: [words.get('do'), words.get('database')],
  print: function (line) { console.log(line); },
  printErr: function (line) { console.error(line); },
  kpWake: function () { Module._store_page_go_on(); }
};`;
// The rules that the shipped page has too: no evaluation of text, nothing from elsewhere.
const kPolicy = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'";

/// Serves the store page on a free port of this machine. Answers { address, close }.
export async function serve() {
  const files = {
    '/': ['text/html', kPage],
    '/page.js': ['text/javascript', kScript],
    '/favicon.ico': ['image/x-icon', ''],
    '/store_page.js': ['text/javascript', readFileSync(join(program, 'store_page.js'))],
    '/store_page.wasm': ['application/wasm', readFileSync(join(program, 'store_page.wasm'))],
  };
  const server = createServer((request, response) => {
    const file = files[new URL(request.url, 'http://localhost').pathname];
    if (!file) return response.writeHead(404).end();
    response.writeHead(200, { 'Content-Type': file[0], 'Content-Security-Policy': kPolicy });
    return response.end(file[1]);
  });
  await new Promise((done) => { server.listen(0, '127.0.0.1', done); });
  const address = `http://localhost:${server.address().port}/`;
  return { address, close: () => new Promise((done) => { server.closeAllConnections(); server.close(done); }) };
}

export function launch() {
  return chromium.launch({ executablePath: chromium_path, args: ['--no-sandbox'] });
}

/// Opens the store page and keeps what it prints. `before` runs in the page ahead of all scripts.
export async function open(context, address, what, database, before) {
  const page = await context.newPage();
  if (before) await page.addInitScript(before);
  const printed = [];
  const waiting = [];
  page.on('console', (message) => {
    printed.push(message.text());
    waiting.splice(0).forEach((look) => look());
  });
  page.on('pageerror', (error) => printed.push(`pageerror ${error.message}`));
  await page.goto(`${address}?do=${what}&database=${database}`);
  /// The first line from number `from` on that matches; fails after some seconds.
  const line = (pattern, { from = 0, seconds = 20 } = {}) => new Promise((found, lost) => {
    const timer = setTimeout(() => lost(new Error(`no line like ${pattern} in ${printed.slice(-6).join(' / ')}`)), seconds * 1000);
    const look = () => {
      const hit = printed.slice(from).find((text) => pattern.test(text));
      if (hit === undefined) return waiting.push(look);
      clearTimeout(timer);
      return found(hit);
    };
    look();
  });
  /// Writes one more line, longer by `pad` bytes, and answers what was printed about it.
  const write = async (pad = 0) => {
    const from = printed.length;
    await page.evaluate((bytes) => { Module._store_page_write(bytes); }, pad);
    return line(/^(durable|failed) /, { from });
  };
  return { page, printed, line, write };
}

/// A browser of its own process group on a profile of its own, so that it can be killed at once.
export class Victim {
  constructor(args = []) {
    this.args = args;
    this.profile = mkdtempSync(join(tmpdir(), 'store-profile-'));
  }

  async start() {
    const args = ['--headless', '--no-sandbox', '--no-first-run', '--remote-debugging-port=0', `--user-data-dir=${this.profile}`, ...this.args];
    const note = join(this.profile, 'DevToolsActivePort');
    rmSync(note, { force: true });
    this.process = spawn(chromium_path, args, { detached: true, stdio: 'ignore' });
    for (let left = 1200; !existsSync(note) || !readFileSync(note, 'utf8').includes('\n'); --left) {
      if (left === 0) throw new Error('the browser did not start');
      await new Promise((go) => { setTimeout(go, 50); });
    }
    const port = readFileSync(note, 'utf8').split('\n')[0];
    this.browser = await chromium.connectOverCDP(`http://127.0.0.1:${port}`, { timeout: 120000 });
    return this.browser.contexts()[0];
  }

  async kill() {
    const gone = new Promise((done) => { this.process.once('exit', done); });
    process.kill(-this.process.pid, 'SIGKILL');
    await gone;
    this.process = null;
    await this.browser?.close().catch(() => {});
    this.browser = null;
    for (const name of ['SingletonLock', 'SingletonCookie', 'SingletonSocket']) {
      rmSync(join(this.profile, name), { force: true });
    }
  }

  /// Also where a test went wrong in the middle.
  async remove() {
    if (this.process) await this.kill();
    rmSync(this.profile, { recursive: true, force: true, maxRetries: 5 });
  }
}

let failed = 0;

/// One test: prints ok or not ok; a throw is a failure with its message.
export async function test(name, body) {
  try {
    await body();
    console.log(`ok ${name}`);
  } catch (error) {
    failed += 1;
    console.log(`not ok ${name}`);
    console.log(`  ${String(error.message).split('\n').join('\n  ')}`);
  }
}

export function must(held, what) {
  if (!held) throw new Error(what);
}

export function failures() { return failed; }
