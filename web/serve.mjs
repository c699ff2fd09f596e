// Serves a folder of static files with the headers that the tool ships with: right types,
// Content-Security-Policy, Brotli or gzip where the build made them.
//   node web/serve.mjs --root build/web/site --port 8080

import { createReadStream, existsSync, statSync } from 'node:fs';
import { createServer } from 'node:http';
import { extname, join, normalize, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const types = {
  '.html': 'text/html; charset=utf-8', '.js': 'text/javascript; charset=utf-8',
  '.mjs': 'text/javascript; charset=utf-8', '.css': 'text/css; charset=utf-8',
  '.wasm': 'application/wasm', '.json': 'application/json', '.txt': 'text/plain; charset=utf-8',
  '.webmanifest': 'application/manifest+json', '.svg': 'image/svg+xml', '.png': 'image/png',
  '.pdf': 'application/pdf',
};

export const policy = "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; " +
  "img-src 'self' blob: data:; frame-src blob:; connect-src 'self'; object-src 'none'; " +
  "base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/// Starts a server for `root`; resolves to it once it listens. Port 0 takes a free one.
export function serve(root, port = 0, host = '127.0.0.1') {
  const top = resolve(root);
  const server = createServer((request, answer) => {
    const path = decodeURIComponent(new URL(request.url, 'http://x').pathname);
    let file = normalize(join(top, path));
    if (!file.startsWith(top)) file = join(top, 'none');
    if (existsSync(file) && statSync(file).isDirectory()) file = join(file, 'index.html');
    if (!existsSync(file) || !['GET', 'HEAD'].includes(request.method)) {
      answer.writeHead(existsSync(file) ? 405 : 404, { 'Content-Type': 'text/plain; charset=utf-8' });
      answer.end('There is nothing at this address.\n');
      return;
    }
    const headers = {
      'Content-Type': types[extname(file)] ?? 'application/octet-stream',
      'Cache-Control': 'no-cache',
      'X-Content-Type-Options': 'nosniff',
      'Referrer-Policy': 'no-referrer',
      'Content-Security-Policy': policy,
      'Vary': 'Accept-Encoding',
    };
    const accepted = String(request.headers['accept-encoding'] ?? '');
    for (const [coding, ending] of [['br', '.br'], ['gzip', '.gz']]) {
      if (accepted.includes(coding) && existsSync(file + ending)) {
        headers['Content-Encoding'] = coding;
        file += ending;
        break;
      }
    }
    headers['Content-Length'] = statSync(file).size;
    answer.writeHead(200, headers);
    if (request.method === 'HEAD') answer.end();
    else createReadStream(file).pipe(answer);
  });
  return new Promise((done, failed) => {
    server.on('error', failed);
    server.listen(port, host, () => done(server));
  });
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const option = (name, otherwise) => {
    const at = process.argv.indexOf(name);
    return at > 0 ? process.argv[at + 1] : otherwise;
  };
  const root = option('--root', 'build/web/site');
  const port = Number(option('--port', '8080'));
  if (!existsSync(join(root, 'index.html'))) {
    console.error(`${root} holds no index.html. Build it first: cmake --build --preset web --target site`);
    process.exit(2);
  }
  serve(root, port).catch((error) => {
    console.error(error.code === 'EADDRINUSE' ? `Port ${port} is taken. Choose another with --port.`
      : error.message);
    process.exit(1);
  });
}
