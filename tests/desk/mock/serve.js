// A small stand-in for the program, for work on the page alone. Speaks the contract, keeps rounds in
// files of a folder, and adds a delay like the real one.
//
//   node mock/serve.js [--port 8123] [--frames FOLDER] [--state FOLDER]
//
// Frames are JPEGs 0001.jpg … of the demo's clip. Where the folder has none they are taken from
// exports/demo/schooling.mp4, which `make demo` makes, or from the file that DESK_CLIP_FILE names.

import { createServer } from 'node:http';
import { mkdirSync, readFileSync, writeFileSync, existsSync, renameSync } from 'node:fs';
import { createHash } from 'node:crypto';
import { execFileSync } from 'node:child_process';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { apply, emptyState, label, Refusal, steps } from './round.js';
import { numbers, overlay } from './numbers.js';

const option = (name, fallback) => { const i = process.argv.indexOf(`--${name}`); return i < 0 ? fallback : process.argv[i + 1]; };
const PORT = Number(option('port', '8123'));
const FRAMES = option('frames', process.env.DESK_FRAMES ?? join(tmpdir(), 'desk-mock-frames'));
const STATE = option('state', join(tmpdir(), 'desk-mock-state'));
const PAGE = fileURLToPath(new URL('../../../src/desk/page/', import.meta.url));
const COUNT = 410;
const TIMES = Array.from({ length: COUNT }, (_, i) => i / 60);
const CLIPS = ['schooling.mp4', 'second-week.mp4', 'third-week.mp4'];
const POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; font-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
mkdirSync(STATE, { recursive: true });
if (!existsSync(join(FRAMES, '0001.jpg'))) {
  mkdirSync(FRAMES, { recursive: true });
  const clip = process.env.DESK_CLIP_FILE ?? fileURLToPath(new URL('../../../exports/demo/schooling.mp4', import.meta.url));
  execFileSync('ffmpeg', ['-v', 'error', '-i', clip, '-q:v', '4', join(FRAMES, '%04d.jpg')]);
}

const file = (clip) => join(STATE, `${clip}.json`);
const read = (clip) => (existsSync(file(clip)) ? JSON.parse(readFileSync(file(clip), 'utf8')) : { past: [], now: { state: emptyState(clip), said: '' }, future: [], keys: {} });
const write = (clip, kept) => { writeFileSync(`${file(clip)}.new`, JSON.stringify(kept)); renameSync(`${file(clip)}.new`, file(clip)); };
const revisionOf = (kept) => createHash('sha256').update(JSON.stringify([kept.now, kept.past.length])).digest('hex').slice(0, 16);

function roundView(clip, kept) {
  const { next, ...s } = kept.now.state;
  const title = [s.about.horse, s.about.rider, s.about.date].filter(Boolean).join(' · ') || clip;
  return { ...s, revision: revisionOf(kept), title, marks: s.marks.map((m) => ({ ...m, label: label(m.spot) })), steps: steps(s),
    undo: kept.past.length ? kept.now.said : null, redo: kept.future.length ? kept.future.at(-1).said : null };
}

function act(clip, request) {
  const kept = read(clip);
  const before = kept.keys[request.key];
  if (before) return [200, { round: roundView(clip, kept), said: before.said, selected: before.selected }];
  if (request.revision !== revisionOf(kept)) return [409, { error: 'the round was changed elsewhere', hint: null, round: roundView(clip, kept) }];
  let said = ''; let selected = null;
  try {
    if (request.act.act === 'undo') {
      if (!kept.past.length) throw new Refusal('there is nothing to take back');
      kept.future.push(kept.now); said = `took back: ${kept.now.said}`; kept.now = kept.past.pop();
    } else if (request.act.act === 'redo') {
      if (!kept.future.length) throw new Refusal('there is nothing to make again');
      kept.past.push(kept.now); kept.now = kept.future.pop(); said = `made again: ${kept.now.said}`;
    } else {
      const made = apply(kept.now.state, request.act);
      kept.past.push(kept.now); kept.future = []; kept.now = { state: made.state, said: made.said };
      ({ said, selected } = made);
    }
  } catch (error) {
    if (error instanceof Refusal) return [422, { error: error.message, hint: null, round: null }];
    throw error;
  }
  kept.keys[request.key] = { said, selected };
  write(clip, kept);
  return [200, { round: roundView(clip, kept), said, selected }];
}

const handOuts = new Map();
const dropped = [];

const folder = () => ({
  name: 'Evening school', open_elsewhere: null, first: null,
  clips: [...CLIPS, ...dropped].map((clip, i) => {
    const s = read(clip).now.state;
    const n = numbers(s, '', TIMES, false);
    const measured = n.approaches.some((a) => a.strides.length);
    return { clip, rider: s.about.rider || (i ? 'Demo rider' : ''), horse: s.about.horse || (i ? 'Copper' : ''), date: s.about.date || (i ? `2026-09-${10 + i}` : ''), fences: i ? 'Blue vertical' : '',
      state: measured ? n.headline : s.marks.length ? 'poles marked, no hooves yet' : 'not begun', progress: measured ? 'measured' : s.marks.length ? 'begun' : 'not_begun', unreadable: null };
  }).concat({ clip: 'broken.mp4', rider: '', horse: '', date: '', fences: '', state: '', progress: 'unreadable', unreadable: 'this clip ends in the middle of a picture: it was not copied whole' }),
});

const MIME = { html: 'text/html; charset=utf-8', js: 'text/javascript; charset=utf-8', css: 'text/css; charset=utf-8', svg: 'image/svg+xml' };
const bodyOf = async (request) => { const parts = []; for await (const part of request) parts.push(part); return Buffer.concat(parts); };
const wait = (ms) => new Promise((go) => setTimeout(go, ms));
const pad = (n) => String(n).padStart(4, '0');

async function answer(request, response) {
  const url = new URL(request.url, 'http://x');
  const parts = url.pathname.split('/').filter(Boolean).map(decodeURIComponent);
  const json = (status, value) => { response.writeHead(status, { 'content-type': 'application/json', 'cache-control': 'no-store' }); response.end(JSON.stringify(value)); };
  const send = (bytes, type, extra = {}) => { response.writeHead(200, { 'content-type': type, 'content-security-policy': POLICY, 'cache-control': 'no-store', ...extra }); response.end(bytes); };
  if (parts.length === 0) return send(readFileSync(join(PAGE, 'index.html')), MIME.html);
  if (parts[0] === 'page') {
    const path = join(PAGE, parts[1] ?? '');
    if (parts.length !== 2 || !existsSync(path)) return json(404, { error: 'no such file', hint: null, round: null });
    return send(readFileSync(path), MIME[path.split('.').pop()] ?? 'application/octet-stream');
  }
  const [, what, name, then, more] = parts;
  if (what === 'folder') return json(200, folder());
  if (what === 'clips' && request.method === 'PUT') {
    const bytes = await bodyOf(request);
    if ([...CLIPS, ...dropped].includes(name)) return json(409, { error: `the folder has a clip called ${name} already`, hint: 'give the file another name', round: null });
    if (!/\.(mp4|mov)$/i.test(name) || bytes.length < 1000) return json(415, { error: `${name} is no clip that can be read`, hint: 'copy it from the phone again', round: null });
    dropped.push(name);
    return json(200, folder());
  }
  if (what === 'clips' && !then) return json(200, { clip: name, width: 1920, height: 1080, times_s: TIMES, times: TIMES.map((t) => `${t.toFixed(3)} s`), last_s: 1 / 60, doubts: [] });
  if (what === 'clips' && then === 'poster') return send(readFileSync(join(FRAMES, '0200.jpg')), 'image/jpeg');
  if (what === 'clips' && then === 'frames') { await wait(8); return send(readFileSync(join(FRAMES, `${pad(Number(more) + 1)}.jpg`)), 'image/jpeg', { 'x-frame': more }); }
  if (what === 'rounds' && !then) { const kept = read(name); if (request.method === 'POST' && !existsSync(file(name))) write(name, kept); return json(200, roundView(name, kept)); }
  if (what === 'rounds' && then === 'acts') { const [status, value] = act(name, JSON.parse((await bodyOf(request)).toString())); await wait(15); return json(status, value); }
  if (what === 'rounds' && then === 'numbers') { await wait(40); const kept = read(name); return json(200, numbers(kept.now.state, revisionOf(kept), TIMES, url.searchParams.get('feet') === '1')); }
  if (what === 'rounds' && then === 'overlay') { const kept = read(name); const s = kept.now.state; return json(200, overlay(s, revisionOf(kept), Number(more), numbers(s, '', TIMES, url.searchParams.get('feet') === '1'))); }
  if (what === 'rounds' && then === 'hand-out') {
    const wish = JSON.parse((await bodyOf(request)).toString());
    const id = handOuts.size + 1;
    handOuts.set(id, { view: { id, kind: wish.kind, state: 'working', says: 'is being drawn', file: null }, began: Date.now() });
    return json(200, handOuts.get(id).view);
  }
  if (what === 'hand-outs') {
    const made = handOuts.get(Number(name));
    if (!made) return json(404, { error: 'no such hand-out', hint: null, round: null });
    if (request.method === 'DELETE') { made.view = { ...made.view, state: 'cancelled', says: 'given up' }; return json(200, made.view); }
    if (then === 'file') return send('made', 'application/octet-stream');
    if (made.view.state === 'working' && Date.now() - made.began > 2000) made.view = { ...made.view, state: 'done', says: 'schooling-sheet.pdf is in the folder', file: 'schooling-sheet.pdf' };
    return json(200, made.view);
  }
  return json(404, { error: `no such page: ${url.pathname}`, hint: null, round: null });
}

createServer((request, response) => answer(request, response).catch((error) => { console.error(error); response.writeHead(500); response.end(); }))
  .listen(PORT, '127.0.0.1', () => console.log(`http://127.0.0.1:${PORT}/`));
