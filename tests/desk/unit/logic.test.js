// The page's logic without a page: run with `node --test unit/`.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { isDone, differences } from '../../../src/desk/page/act_words.js';
import { aboutWhere } from '../../../src/desk/page/follow.js';
import { Frames, capacityFor } from '../../../src/desk/page/frames.js';
import { alongFrom, countFrom, lengthFrom, lengthText, metresFrom, numberFrom, withUnit } from '../../../src/desk/page/lengths.js';
import { Outbox } from '../../../src/desk/page/outbox.js';
import { withPending } from '../../../src/desk/page/pending.js';
import { lastSeen } from '../../../src/desk/page/seen_before.js';
import { nextMarkedFrame, placingAct } from '../../../src/desk/page/spots.js';
import { steadyFrame, steadyTransform } from '../../../src/desk/page/steady.js';
import { AS_PROPOSED, nextFootfall, nextTarget } from '../../../src/desk/page/targets.js';
import { displayFromFrame, fitted, frameFromDisplay, panned, zoomed } from '../../../src/desk/page/view_transform.js';

const FRAME = { width: 1920, height: 1080 };
const ROOM = { width: 700, height: 500 };

const footfall = (limb, event, frame, x = 7, y = 8) => ({ spot: { of: 'footfall', approach: 'A-1', footfall: `${limb}-${frame}`, limb, event }, label: limb, frame, x, y, hidden: false });
const round = (change = {}) => ({
  clip: 'c.mp4', revision: 'r1', title: '', about: {}, turning: false, poles: null, fences: [], approaches: [{ id: 'A-1', fence: 'A', lead: null, left_turn_frame: null, note: '', stride_notes: [] }], marks: [],
  steps: [{ step: 'poles', done: true, count: '', says: '', wanted: [] }, { step: 'hooves', done: false, count: '', says: '', wanted: [] }], undo: null, redo: null, ...change,
});

test('a point of the frame comes back from the display', () => {
  const view = zoomed(fitted(FRAME, ROOM), { x: 123, y: 321 }, 5, FRAME, ROOM);
  const back = frameFromDisplay(displayFromFrame({ x: 801.3, y: 617.9 }, view), view);
  assert.ok(Math.hypot(back.x - 801.3, back.y - 617.9) < 1e-9);
});

test('zooming leaves the point under the pointer where it is', () => {
  const about = { x: 350, y: 250 };
  const before = fitted(FRAME, ROOM);
  const after = zoomed(before, about, 4, FRAME, ROOM);
  const a = frameFromDisplay(about, before);
  const b = frameFromDisplay(about, after);
  assert.ok(Math.hypot(a.x - b.x, a.y - b.y) < 1e-6);
});

test('the frame cannot be pushed out of the view', () => {
  const view = panned(zoomed(fitted(FRAME, ROOM), { x: 0, y: 0 }, 4, FRAME, ROOM), 1e6, -1e6, FRAME, ROOM);
  assert.equal(view.x, 0);
  assert.equal(view.y, ROOM.height - FRAME.height * view.scale);
});

test('lengths are read as coaches type them, and nonsense is not', () => {
  assert.equal(metresFrom('3'), 3);
  assert.equal(metresFrom('3,5 m'), 3.5);
  assert.equal(metresFrom('350cm'), 3.5);
  assert.equal(metresFrom('10 ft'), 3.048);
  assert.equal(metresFrom('10', 'ft'), 3.048);
  assert.equal(metresFrom('3 m', 'ft'), 3);
  assert.equal(lengthText(3.048, true), '10');
  assert.equal(lengthText(1.8288, false), '1.83');
  assert.equal(metresFrom('9 ft 10 in'), 2.9972);
  for (const bad of ['', 'abc', '0', '-3', '3 x', '3 4', '1e3']) assert.equal(metresFrom(bad), null, bad);
  assert.equal(countFrom(' 4 '), 4);
  for (const bad of ['4.5', '0', '-1', 'four']) assert.equal(countFrom(bad), null, bad);
});

test('one hind limb is proposed for the strides, then both hinds, then both fores', () => {
  const strides = [footfall('leading_hind', 'stride', 51), footfall('leading_hind', 'stride', 87)];
  const next = (marks, choice = {}) => { const t = nextFootfall(marks, { ...AS_PROPOSED, ...choice }, 400); return t && [t.limb, t.event]; };
  assert.deepEqual(next(strides), ['leading_hind', 'stride']);
  assert.deepEqual(next(strides, { hind: 'trailing_hind' }), ['trailing_hind', 'stride']);
  assert.deepEqual(next(strides, { phase: 'take_off' }), ['trailing_hind', 'take_off']);
  const t = [...strides, footfall('trailing_hind', 'take_off', 303)];
  assert.deepEqual(next(t), ['leading_hind', 'take_off']);
  const both = [...t, footfall('leading_hind', 'take_off', 304)];
  assert.deepEqual(next(both), ['trailing_fore', 'landing']);
  assert.deepEqual(next(both, { phase: 'stride' }), ['leading_hind', 'stride']);
  const all = [...both, footfall('trailing_fore', 'landing', 347), footfall('leading_fore', 'landing', 353)];
  assert.equal(next(all), null);
});

test('all four limbs follow the order of the canter, counted from the frame shown', () => {
  const four = { ...AS_PROPOSED, four: true };
  const marks = [footfall('trailing_hind', 'stride', 43), footfall('leading_hind', 'stride', 51), footfall('trailing_fore', 'stride', 51)];
  assert.equal(nextFootfall(marks, four, 60).limb, 'leading_fore');
  assert.equal(nextFootfall(marks.slice(0, 2), four, 51).limb, 'trailing_fore');
  assert.equal(nextFootfall(marks, four, 45).limb, 'leading_hind', 'going back to a frame between two');
  assert.equal(nextFootfall([], four, 43).limb, 'trailing_hind');
});

test('the next target is of the first step with something missing', () => {
  const wanted = [{ target: 'pole_end', pole: 2, end: 'right', label: 'pole 2, right end' }];
  const r = round({ steps: [{ step: 'poles', done: false, count: '', says: '', wanted }, { step: 'hooves', done: false, count: '', says: '', wanted: [] }] });
  assert.equal(nextTarget(r, AS_PROPOSED, 0), wanted[0]);
  assert.equal(nextTarget(r, { ...AS_PROPOSED, step: 'hooves' }, 0).target, 'footfall');
});

test('what waits is seen: placed, moved, removed, and undone again', () => {
  const act = (key, a) => ({ key, act: a });
  const at = { frame: 9, x: 1, y: 2 };
  const place = act('k', { act: 'place_footfall', approach: 'A-1', limb: 'leading_hind', event: 'stride', at, hidden: false });
  const placed = withPending(round(), [place]);
  assert.equal(placed.marks.length, 1);
  assert.equal(placed.marks[0].waiting, true);
  assert.equal(withPending(round(), [place, act('u', { act: 'undo' })]).marks.length, 0);
  assert.equal(withPending(round(), [place, act('u', { act: 'undo' }), act('r', { act: 'redo' })]).marks.length, 1);
  const known = round({ marks: [footfall('leading_hind', 'stride', 51, 10, 20)] });
  const { spot } = known.marks[0];
  assert.equal(withPending(known, [act('n', { act: 'nudge', spot, frame: 51, dx: 0.5, dy: -0.25 })]).marks[0].x, 10.5);
  assert.equal(withPending(known, [act('d', { act: 'remove', spot, frame: 51 })]).marks.length, 0);
  assert.equal(known.marks[0].x, 10, 'what is saved is not touched');
  const stated = withPending(round(), [act('p', { act: 'set_poles', count: 3, spacing_m: 3, length_m: 3.5, taped: true })]);
  assert.equal(stated.steps[0].wanted.length, 6);
});

const memory = () => { const m = new Map(); return { m, getItem: (k) => m.get(k) ?? null, setItem: (k, v) => m.set(k, v), removeItem: (k) => m.delete(k) }; };
const failure = (status, more = {}) => Object.assign(new Error('no'), { status, refused: { error: 'no', hint: null, round: null, ...more } });
const outbox = (send, storage = memory(), more = {}) => new Outbox({ send, storage, name: 'o', revision: 'r0', onChange: () => {}, onDone: () => {}, onRefused: () => {}, isDone: () => false, later: () => {}, ...more });
const settle = () => new Promise((go) => setTimeout(go, 5));
const undo = { act: 'undo' };
const redo = { act: 'redo' };

test('acts go out one after the other, each on the revision that the last one left', async () => {
  const sent = [];
  const box = outbox(async (r) => { sent.push([r.act.act, r.revision]); return { round: { revision: `r${sent.length}` }, said: '', selected: null }; });
  box.add(undo);
  box.add(redo);
  assert.equal(box.state, 'saving');
  await settle();
  assert.deepEqual(sent, [['undo', 'r0'], ['redo', 'r1']]);
  assert.equal(box.state, 'saved');
});

test('an act that found nobody is sent again under the same key, also after a reload', async () => {
  const storage = memory();
  const keys = [];
  const box = outbox(async (r) => { keys.push(r.key); throw failure(0); }, storage);
  box.add(undo);
  box.add(redo);
  await settle();
  assert.equal(box.state, 'away');
  const again = outbox(async (r) => { keys.push(r.key); return { round: { revision: 'x' }, said: '', selected: null }; }, storage);
  assert.deepEqual(again.waiting.map((w) => w.act.act), ['undo', 'redo']);
  await again.pump();
  await settle();
  assert.equal(keys[0], keys[1]);
  assert.equal(new Set(keys).size, 2);
  assert.equal(storage.m.size, 0);
});

test('a collision waits for the coach: made again on top, or dropped', async () => {
  let disk = 'r9';
  const send = async (r) => { if (r.revision !== disk) throw failure(409, { round: { revision: disk } }); disk = 'r10'; return { round: { revision: disk }, said: '', selected: null }; };
  const box = outbox(send);
  box.add(undo);
  await settle();
  assert.equal(box.state, 'conflict');
  assert.equal(box.waiting.length, 1);
  box.againOnTop();
  await settle();
  assert.equal(box.state, 'saved');
  disk = 'r11';
  box.add(redo);
  await settle();
  assert.equal(box.state, 'conflict');
  assert.equal(box.drop().revision, 'r11');
  assert.equal(box.state, 'saved');
  assert.equal(box.revision, 'r11');
});

test('a collision with oneself is none: the act was saved and its answer lost', async () => {
  const done = [];
  const box = outbox(async () => { throw failure(409, { round: { revision: 'r5' } }); }, memory(), { isDone: () => true, onDone: (d) => done.push(d.round.revision) });
  box.add(undo);
  await settle();
  assert.deepEqual(done, ['r5']);
  assert.equal(box.state, 'saved');
});

test('an act that breaks a rule is told of and the next one goes on', async () => {
  const refused = [];
  let n = 0;
  const box = outbox(async () => { n += 1; if (n === 1) throw failure(422); return { round: { revision: 'r1' }, said: '', selected: null }; }, memory(), { onRefused: (r, item) => refused.push(item.act.act) });
  box.add(undo);
  box.add(redo);
  await settle();
  assert.deepEqual(refused, ['undo']);
  assert.equal(box.state, 'saved');
});

test('a placing is known again on the disk, and another one is not', () => {
  const act = { act: 'place_footfall', approach: null, limb: 'leading_hind', event: 'stride', at: { frame: 51, x: 7, y: 8 }, hidden: false };
  const disk = round({ marks: [footfall('leading_hind', 'stride', 51)] });
  assert.equal(isDone(act, round(), disk), true);
  const end = { spot: { of: 'pole_end', pole: 1, end: 'left' }, label: '', frame: 0, x: 105, y: 8, hidden: false };
  const snap = { act: 'place_pole_end', pole: 1, end: 'left', at: { frame: 0, x: 100, y: 8 }, snap: true };
  assert.equal(isDone(snap, round(), round({ revision: 'r2', marks: [end] })), true);
  assert.equal(isDone(snap, round({ marks: [end] }), round({ revision: 'r2', marks: [end] })), false, 'it was there before');
  assert.equal(isDone({ ...act, at: { frame: 52, x: 7, y: 8 } }, round(), disk), false);
  assert.deepEqual(differences(round(), disk), ['leading_hind on frame 51 is new']);
});

test('frames: no picture of another frame, what is no longer near is given up, few are kept', async () => {
  const aborted = [];
  const closed = [];
  const waiting = new Map();
  const load = (n, signal) => new Promise((resolve, reject) => {
    waiting.set(n, () => resolve({ n, close: () => closed.push(n) }));
    signal.addEventListener('abort', () => { aborted.push(n); reject(new DOMException('', 'AbortError')); });
  });
  const frames = new Frames({ load, count: 500, capacity: 8 });
  const first = frames.want(10, 1);
  const gone = assert.rejects(frames.want(10, 1), { name: 'AbortError' });
  const far = frames.want(300, 1);
  await gone;
  await assert.rejects(first, { name: 'AbortError' });
  assert.ok(aborted.includes(10) && !aborted.includes(300));
  waiting.get(300)();
  assert.equal((await far).n, 300);
  for (let n = 301; n < 330; n += 1) {
    const picture = frames.want(n, 1);
    for (const go of waiting.values()) go();
    assert.equal((await picture).n, n);
  }
  assert.ok(frames.kept.size <= 8);
  assert.ok(closed.length >= 20);
});

test('fewer large pictures are kept than small ones', () => {
  assert.equal(capacityFor(1920, 1080), 48);
  assert.equal(capacityFor(1280, 720), 48);
  assert.equal(capacityFor(3840, 2160), 12);
});

test('the next marked frame, both ways', () => {
  const marks = [{ frame: 51 }, { frame: 87 }, { frame: 51 }];
  assert.equal(nextMarkedFrame(marks, 51, 1), 87);
  assert.equal(nextMarkedFrame(marks, 51, -1), null);
  assert.equal(nextMarkedFrame(marks, 400, -1), 87);
});

test('where the horse is about, between and beyond its footfalls', () => {
  const marks = [footfall('leading_hind', 'stride', 50, 100, 600), footfall('trailing_fore', 'stride', 51, 160, 600), footfall('leading_hind', 'stride', 90, 300, 620)];
  assert.equal(aboutWhere(marks.slice(0, 2), 60), null);
  assert.deepEqual(aboutWhere(marks, 70), { x: 200, y: 610 });
  assert.equal(aboutWhere(marks, 110).x, 400);
});

test('a fixed thing is shown as it was on the nearest frame, and not where it is marked', () => {
  const tie = (frame) => ({ spot: { of: 'tie', tie: '1' }, label: '', frame, x: 1, y: 2, hidden: false });
  const target = { target: 'tie', tie: '1', label: '' };
  assert.equal(lastSeen(target, [tie(3), tie(40)], 30)?.frame, 40);
  assert.equal(lastSeen(target, [tie(3), tie(30)], 30), null);
  assert.equal(lastSeen({ target: 'tie', tie: null, label: '' }, [tie(3)], 30), null);
  const end = { spot: { of: 'length_end', reference: 'upright', end: 'top' }, label: '', frame: 3, x: 1, y: 2, hidden: false };
  assert.equal(lastSeen({ target: 'length_end', reference: 'upright', end: 'top', label: '' }, [end], 9)?.frame, 3);
});

test('a frame held still is shifted on the display as its map says, and one that was lost is not shown', () => {
  const view = steadyFrame(FRAME, ROOM);
  // Fifty pixels to the right and ten up, in pixels of the frame.
  const steady = { onto: 0, maps: [[1, 0, 50, 0, 1, -10, 0, 0, 1], null] };
  const numbers = steadyTransform(steady, 0, view).slice('matrix3d('.length, -1).split(', ').map(Number);
  const [x, y] = [numbers[12], numbers[13]];
  assert.ok(Math.abs(x - 50 * view.scale) < 1e-9 && Math.abs(y + 10 * view.scale) < 1e-9);
  assert.equal(numbers[0], 1);
  assert.equal(steadyTransform(steady, 1, view), null);
});

test('an end of a known length is placed by its own act and is on the disk when it lies there', () => {
  const target = { target: 'length_end', reference: 'upright', end: 'foot', label: '' };
  const act = placingAct(target, { frame: 2, x: 5, y: 6 }, { snap: true, hidden: false, approach: null });
  assert.deepEqual(act, { act: 'place_length_end', reference: 'upright', end: 'foot', at: { frame: 2, x: 5, y: 6 } });
  const waiting = withPending(round({ lengths: [] }), [{ key: 'k', act }]);
  assert.deepEqual(waiting.marks[0].spot, { of: 'length_end', reference: 'upright', end: 'foot' });
  assert.ok(isDone(act, round(), waiting));
});

test('a number alone is in the units of the page, and keeps its meaning when they change', () => {
  assert.equal(lengthFrom('3', false), 3);
  // 10 ft are 3.048 m exactly.
  assert.equal(lengthFrom('10', true), 3.048);
  assert.equal(lengthFrom('3 m', true), 3);
  assert.equal(alongFrom('-2', false), -2);
  assert.equal(alongFrom('−10', true), -3.048);
  assert.equal(alongFrom('0 ft', true), 0);
  assert.equal(alongFrom('far', true), null);
  assert.deepEqual([withUnit('3', false), withUnit('-10 ', true), withUnit('3 m', true), withUnit('', true)], ['3 m', '-10 ft', '3 m', '']);
  assert.deepEqual(['66', '77°', '59,94 fps', '0', 'wide'].map(numberFrom), [66, 77, 59.94, null, null]);
});
