// The page from the source folder in front of a running desk: to try a change of the page on the
// real program without building it anew.
//
//   node mock/front.js --desk 'http://127.0.0.1:4567/?key=TOKEN' [--port 8124]

import { createServer, request as ask } from 'node:http';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const option = (name, fallback) => { const i = process.argv.indexOf(`--${name}`); return i < 0 ? fallback : process.argv[i + 1]; };
const DESK = new URL(option('desk', ''));
const PORT = Number(option('port', '8124'));
const PAGE = fileURLToPath(new URL('../../../src/desk/page/', import.meta.url));
const POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; font-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
const MIME = { html: 'text/html; charset=utf-8', js: 'text/javascript; charset=utf-8', css: 'text/css; charset=utf-8', svg: 'image/svg+xml' };

createServer((request, response) => {
  const url = new URL(request.url, DESK);
  const name = url.pathname === '/' && !url.search ? 'index.html' : /^\/page\/([\w.]+)$/.exec(url.pathname)?.[1];
  if (name && existsSync(join(PAGE, name))) {
    response.writeHead(200, { 'content-type': MIME[name.split('.').pop()], 'content-security-policy': POLICY, 'cache-control': 'no-store' });
    return response.end(readFileSync(join(PAGE, name)));
  }
  const headers = { ...request.headers, host: DESK.host };
  if (headers.origin) headers.origin = DESK.origin;
  const onward = ask({ host: DESK.hostname, port: DESK.port, path: request.url, method: request.method, headers }, (answer) => {
    response.writeHead(answer.statusCode, answer.headers);
    answer.pipe(response);
  });
  onward.on('error', () => response.destroy());
  response.on('close', () => onward.destroy());
  request.pipe(onward);
}).listen(PORT, '127.0.0.1', () => console.log(`http://127.0.0.1:${PORT}/${DESK.search}`));
