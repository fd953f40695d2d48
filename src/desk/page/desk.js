// The state of one clip on the desk, and everything that can be done with it. Views read it and
// draw; keys, buttons and pointer call its actions. It touches no element.

import * as api from './api.js';
import { Frames, capacityFor } from './frames.js';
import { outboxFor } from './outbox.js';
import { actWords, isDone } from './act_words.js';
import { Measured } from './measured.js';
import { MotionWatch } from './motion_watch.js';
import { withPending } from './pending.js';
import { Player } from './player.js';
import { settings } from './settings.js';
import { isOf, markKey, nextMarkedFrame, placingAct, spotKey } from './spots.js';
import { AS_PROPOSED, currentApproach, currentFence, nextTarget } from './targets.js';

/** @import { ClipView, RoundView, Act, ActDone, Spot, MarkView, Target, Refused, ExpectedView } from './wire.d.ts' */
/** @import { SeenMark, SeenRound } from './pending.js' */
/** @import { Choice } from './targets.js' */
/** @import { Point } from './view_transform.js' */

/** @typedef {{ text: string, hint: string | null, tone: 'said' | 'refused' }} Message */

/** A burst of nudges is one act, and so one step of undo. */
const NUDGE_QUIET_MS = 350;

export class Desk extends EventTarget {
  /** @param {ClipView} clip @param {RoundView} round */
  constructor(clip, round) {
    super();
    this.clip = clip;
    this.round = round;
    /** @type {SeenRound} the round with what waits to be saved */
    this.seen = round;
    /** @type {Choice} */
    this.choice = { ...AS_PROPOSED };
    this.measured = new Measured(clip.clip, () => this.changed());
    this.watch = new MotionWatch(clip.clip, () => this.changed(), () => void this.#followed());
    /** @type {ImageBitmap | null} */
    this.picture = null;
    /** @type {string | null} key of the selected mark */
    this.selected = null;
    /** @type {string | null} key of the mark placed last */
    this.placedLast = null;
    /** @type {Point | null} the keyboard's crosshair, on the frame */
    this.cursor = null;
    /** @type {Point | null} where it was when it was put away */
    this.cursorLast = null;
    /** @type {{ from: Point, to: Point, frame: number } | null} */
    this.snapped = null;
    /** The next hoof is out of sight. */
    this.hidden = false;
    /** @type {{ key: string, x: number, y: number } | null} */
    this.dragging = null;
    /** @type {{ spot: Spot, frame: number, dx: number, dy: number } | null} */
    this.nudging = null;
    /** @type {Point | null} where the pole's end that is being placed was clicked */
    this.clickedAt = null;
    /** @type {{ approach: string, strides: number[] } | null} the strides that show a sentence of the reading */
    this.evidence = null;
    /** @type {Message | null} */
    this.message = null;
    /** @type {Refused[]} acts that broke a rule; shown until they are put away */
    this.refusals = [];
    this.pictureFailure = '';

    this.frames = new Frames({
      load: (n, signal) => this.loadFrame(n, signal),
      count: clip.times_s.length,
      capacity: capacityFor(clip.width, clip.height),
    });
    this.player = new Player({
      frames: this.frames,
      times_s: clip.times_s,
      show: (n, picture) => this.#showFrame(n, picture),
      onChange: () => this.changed(),
      onFailure: (error) => { this.pictureFailure = String(/** @type {Error} */ (error).message); this.changed(); },
    });
    this.outbox = outboxFor({
      send: (request) => api.postAct(clip.clip, request),
      storage: sessionStorage,
      name: `groundline waiting ${clip.clip}`,
      revision: round.revision,
      onChange: () => this.#seeAgain(),
      onDone: (done, item) => this.#acknowledged(done, item.act),
      onRefused: (refused, item) => { this.refusals = [...this.refusals, { ...refused, error: refused.error || actWords(item.act) }]; },
      isDone: (act, disk) => isDone(act, this.round, disk),
    });
    this.#seeAgain();
    void this.outbox.pump();
    this.onSettings = () => { this.refreshNumbers(); this.refreshOverlay(); this.changed(); };
    settings.addEventListener('change', this.onSettings);
  }

  close() {
    settings.removeEventListener('change', this.onSettings);
    this.flushNudge();
    this.player.pause();
    this.player.stopRunning();
    this.measured.close();
    this.watch.close();
    this.frames.close();
    this.picture = null;
  }

  /** A picture of its own, to be closed by who asked. @param {number} n @param {AbortSignal} [signal] */
  async loadFrame(n, signal = new AbortController().signal) {
    return createImageBitmap(await api.getFrame(this.clip.clip, n, signal));
  }

  changed() {
    this.dispatchEvent(new Event('change'));
  }

  /* ── what is read ─────────────────────────────────────────────── */

  /** How far the camera was followed, in words; empty where nobody need know. */
  get followed() { return this.watch.motion?.words ?? ''; }
  get canSteady() { return this.seen.turning && this.watch.motion?.state === 'followed'; }

  get numbers() { return this.measured.numbers; }
  get counting() { return this.measured.counting; }
  get overlay() { return this.measured.overlay; }

  /** The frame whose picture is shown. */
  get frame() { return Math.max(this.player.shown, 0); }

  /** What the next click places. @returns {Target | null} */
  get target() { return nextTarget(this.seen, this.choice, this.frame); }

  get approach() { return currentApproach(this.seen, this.choice); }

  get fence() { return currentFence(this.seen, this.choice); }

  /** @returns {SeenMark | null} */
  get selectedMark() { return this.seen.marks.find((m) => markKey(m) === this.selected) ?? null; }

  /** @returns {SeenMark[]} */
  get shownMarks() {
    const { dragging } = this;
    if (!dragging) return this.seen.marks;
    return this.seen.marks.map((m) => (markKey(m) === dragging.key ? { ...m, x: dragging.x, y: dragging.y } : m));
  }

  /** Still things marked on other frames, where the camera's motion puts them on this one. @returns {ExpectedView[]} */
  get carried() {
    const { overlay } = this;
    if (!overlay || overlay.frame !== this.frame) return [];
    const expected = new Set(this.expected.map((e) => spotKey(e.spot)));
    return overlay.carried.filter((c) => !expected.has(spotKey(c.spot)) && !this.seen.marks.some((m) => m.frame === this.frame && spotKey(m.spot) === spotKey(c.spot)));
  }

  /** Ends that are expected on the shown frame and not marked. @returns {ExpectedView[]} */
  get expected() {
    const { overlay } = this;
    if (!overlay || overlay.frame !== this.frame) return [];
    return overlay.expected.filter((e) => !this.seen.marks.some((m) => spotKey(m.spot) === spotKey(e.spot) && (!this.seen.turning || m.frame === this.frame)));
  }

  /* ── the picture ──────────────────────────────────────────────── */

  /** @param {number} n @param {ImageBitmap} picture */
  #showFrame(n, picture) {
    this.picture = picture;
    this.pictureFailure = '';
    if (this.snapped && this.snapped.frame !== n) this.snapped = null;
    this.refreshOverlay();
    this.changed();
  }

  /** @param {number} n */
  goTo(n) {
    this.player.pause();
    return this.player.goTo(n);
  }

  /** @param {1 | -1} direction */
  goToMark(direction) {
    const there = nextMarkedFrame(this.seen.marks, this.player.wanted, direction);
    if (there === null) this.say(direction > 0 ? 'no mark on a later frame' : 'no mark on an earlier frame');
    else void this.goTo(there);
  }

  /* ── acts ─────────────────────────────────────────────────────── */

  /** @param {Act} act */
  act(act) {
    this.flushNudge();
    this.outbox.add(act);
  }

  undo() {
    if (this.seen.undo === null && this.outbox.waiting.length === 0) return this.say('there is nothing to take back');
    this.selected = null;
    this.act({ act: 'undo' });
  }

  redo() {
    if (this.seen.redo === null && this.outbox.waiting.length === 0) return this.say('there is nothing to make again');
    this.act({ act: 'redo' });
  }

  /** Places what is wanted next. @param {Point} at on the frame @param {{ snap?: boolean }} [how] */
  place(at, { snap = true } = {}) {
    const target = this.target;
    if (!target || this.player.shown < 0) return;
    const { x, y } = this.#inPicture(at);
    const act = placingAct(target, { frame: this.frame, x, y }, { snap, hidden: this.hidden, approach: this.approach });
    this.choice = { ...this.choice, chosen: null, ...(target.target === 'footfall' && target.event === 'take_off' ? { phase: null } : {}) };
    this.hidden = false;
    this.selected = null;
    this.snapped = null;
    this.clickedAt = target.target === 'pole_end' ? { x, y } : null;
    this.act(act);
  }

  /** Accepts where an end is expected; all of them with `all`. @param {boolean} all */
  acceptExpected(all) {
    const ends = this.expected;
    const wanted = this.target;
    const first = ends.find((e) => wanted && isOf(wanted, e.spot)) ?? ends[0];
    if (!first) return this.say('no end of a pole is expected on this frame');
    for (const e of all ? ends : [first]) {
      if (e.spot.of !== 'pole_end') continue;
      this.act({ act: 'place_pole_end', pole: e.spot.pole, end: e.spot.end, at: { frame: this.frame, ...this.#inPicture(e) }, snap: true });
    }
  }

  /** Inside the picture, to a hundredth of a pixel: finer is noise of the display. @param {Point} at @returns {Point} */
  #inPicture(at) {
    const fine = (/** @type {number} */ value, /** @type {number} */ most) => Math.round(Math.min(Math.max(value, 0), most) * 100) / 100;
    return { x: fine(at.x, this.clip.width), y: fine(at.y, this.clip.height) };
  }

  /** @param {MarkView} mark @param {Point} at */
  move(mark, at) {
    this.act({ act: 'move', spot: mark.spot, at: { frame: mark.frame, ...this.#inPicture(at) } });
  }

  /** @param {number} dx @param {number} dy pixels */
  nudge(dx, dy) {
    const mark = this.selectedMark;
    if (!mark) return;
    const same = this.nudging && spotKey(this.nudging.spot) === spotKey(mark.spot) && this.nudging.frame === mark.frame;
    if (!same) this.flushNudge();
    const now = this.nudging ?? { spot: mark.spot, frame: mark.frame, dx: 0, dy: 0 };
    // Tenths add up to tenths, not to 0.30000000000000004.
    this.nudging = { ...now, dx: Math.round((now.dx + dx) * 1e6) / 1e6, dy: Math.round((now.dy + dy) * 1e6) / 1e6 };
    clearTimeout(this.nudgeTimer);
    this.nudgeTimer = setTimeout(() => this.flushNudge(), NUDGE_QUIET_MS);
    this.#seeAgain();
  }

  flushNudge() {
    clearTimeout(this.nudgeTimer);
    const { nudging } = this;
    this.nudging = null;
    if (nudging && (nudging.dx !== 0 || nudging.dy !== 0)) this.outbox.add({ act: 'nudge', ...nudging });
  }

  removeSelected() {
    const mark = this.selectedMark;
    if (!mark) return this.say('no mark is selected');
    this.selected = null;
    this.act({ act: 'remove', spot: mark.spot, frame: mark.frame });
  }

  /** The frame shown is that of leaving the turn. @param {number | null} frame */
  setLeftTurn(frame) {
    const approach = this.seen.approaches.find((a) => a.id === this.approach);
    if (!approach) return this.say('mark a footfall first: it begins the approach');
    this.act({ act: 'set_approach', approach: approach.id, lead: approach.lead, left_turn_frame: frame, note: approach.note });
  }

  /* ── choices, which are no acts ───────────────────────────────── */

  /** @param {Partial<Choice>} change */
  choose(change) {
    this.choice = { ...this.choice, ...change };
    this.changed();
  }

  /** Shows the strides of a sentence; the same once more puts them away. @param {string} approach @param {number[]} strides */
  showEvidence(approach, strides) {
    const same = this.evidence?.approach === approach && String(this.evidence.strides) === String(strides);
    this.evidence = same || strides.length === 0 ? null : { approach, strides };
    this.choose({ approach });
  }

  /** @param {SeenMark | null} mark */
  select(mark) {
    this.flushNudge();
    this.selected = mark ? markKey(mark) : null;
    if (mark) this.cursor = null;
    if (mark) this.say(`${mark.label} selected: arrows move it by 0.1 px`);
    else this.changed();
  }

  /** The next mark of the shown frame; the one placed last comes first. */
  selectNext() {
    const here = this.seen.marks.filter((m) => m.frame === this.frame && !m.waiting);
    if (here.length === 0) return this.say('no mark on this frame');
    const at = here.findIndex((m) => markKey(m) === this.selected);
    const last = here.find((m) => markKey(m) === this.placedLast);
    const next = at < 0 && last ? last : here[(at + 1) % here.length];
    this.select(next ?? null);
  }

  /** @param {Point | null} cursor */
  setCursor(cursor) {
    if (!cursor) this.cursorLast = this.cursor;
    this.cursor = cursor && { x: Math.min(Math.max(cursor.x, 0), this.clip.width), y: Math.min(Math.max(cursor.y, 0), this.clip.height) };
    if (cursor) this.selected = null;
    this.changed();
  }

  /** @param {string} text */
  say(text) {
    this.message = { text, hint: null, tone: 'said' };
    this.changed();
  }

  putRefusalAway() {
    this.refusals = this.refusals.slice(1);
    this.changed();
  }

  /* ── conflicts ────────────────────────────────────────────────── */

  /** @param {'again' | 'drop'} how */
  settleConflict(how) {
    const disk = how === 'again' ? this.outbox.againOnTop() : this.outbox.drop();
    if (disk) this.#take(disk);
    this.say(how === 'again' ? 'made again on top of what is saved' : 'dropped; this is what is saved');
  }

  /* ── what comes back ──────────────────────────────────────────── */

  /** @param {ActDone} done @param {Act} act */
  #acknowledged(done, act) {
    const wasSelected = this.selectedMark;
    this.round = done.round;
    if (act.act === 'set_turning' || act.act === 'undo' || act.act === 'redo') void this.watch.look();
    if (done.said) this.message = { text: done.said, hint: null, tone: 'said' };
    if (done.selected) this.placedLast = markKey(done.selected);
    if (act.act === 'place_pole_end' && this.clickedAt && done.selected) this.#showSnap(done);
    // A footfall keeps its id when its limb or event changes; the selection follows it.
    if (wasSelected && !this.round.marks.some((m) => markKey(m) === this.selected)) {
      const same = this.round.marks.find((m) => spotKey(m.spot) === spotKey(wasSelected.spot)) ?? null;
      this.selected = same ? markKey(same) : null;
    }
    this.refreshNumbers();
    this.refreshOverlay();
  }

  /** @param {ActDone} done */
  #showSnap(done) {
    const from = this.clickedAt;
    const mark = this.round.marks.find((m) => done.selected && markKey(m) === markKey(done.selected));
    this.clickedAt = null;
    if (from && mark && Math.hypot(mark.x - from.x, mark.y - from.y) > 0.05) this.snapped = { from, to: mark, frame: mark.frame };
  }

  /** The camera's motion is known now: what is missing and every number may be others. */
  async #followed() {
    this.refreshNumbers();
    this.refreshOverlay();
    if (this.outbox.waiting.length > 0) return;
    try {
      const round = await api.getRound(this.clip.clip);
      if (this.outbox.waiting.length > 0) return;
      this.round = round;
      this.outbox.rebase(round.revision);
      this.#seeAgain();
    } catch {
      // The next act tells when the program is away.
    }
  }

  /** @param {RoundView} round */
  #take(round) {
    this.round = round;
    this.#seeAgain();
    this.refreshNumbers();
    this.refreshOverlay();
  }

  #seeAgain() {
    const waiting = this.outbox ? this.outbox.waiting : [];
    const nudge = this.nudging ? [{ key: 'nudge', act: /** @type {Act} */ ({ act: 'nudge', ...this.nudging }) }] : [];
    this.seen = withPending(this.round, [...waiting, ...nudge]);
    this.changed();
  }

  /** Looks whether the disk has something newer, when nothing waits here. */
  async lookAgain() {
    if (this.outbox.waiting.length > 0) return;
    try {
      const round = await api.getRound(this.clip.clip);
      if (this.outbox.waiting.length > 0 || round.revision === this.round.revision) return;
      this.outbox.rebase(round.revision);
      this.#take(round);
      this.say('this round was changed elsewhere; what you see is what is saved now');
    } catch {
      // The next act tells when the program is away.
    }
  }

  refreshNumbers() {
    return this.measured.refreshNumbers();
  }

  refreshOverlay() {
    if (this.player.shown >= 0) this.measured.refreshOverlay(this.frame);
  }
}
