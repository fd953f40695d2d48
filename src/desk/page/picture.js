// The picture with everything that lies on it: frame, overlay, marks, loupe; pointer and wheel.

import { getSteady } from './api.js';
import { aboutWhere } from './follow.js';
import { drawingFrom, el, svg } from './html.js';
import { Loupe } from './loupe.js';
import { drawMarks, markUnder } from './marks_layer.js';
import { drawPlates, platesOf } from './plates.js';
import { SeenBefore } from './seen_before.js';
import { isOf, markKey } from './spots.js';
import { footfallsOf } from './targets.js';
import { steadyFrame, steadyTransform } from './steady.js';
import { displayFromFrame, fitted, frameFromDisplay, kept, panned, zoomed } from './view_transform.js';

/** @import { Desk } from './desk.js' */
/** @import { SeenMark } from './pending.js' */
/** @import { Point, View } from './view_transform.js' */

/** A press that moves farther than this is a drag, display pixels. */
const DRAG_FROM = 4;
/** How near to a mark a press takes hold of it, by pointer. */
const REACH = { mouse: 7, pen: 9, touch: 20 };
/** While something is placed, a click selects a mark only when it is on it: the two ends of a pole lie close. */
const ON_IT = 3;
/** How near to the ring of an expected end a click means that end. */
const RING = 10;

/** @typedef {{ kind: 'press' | 'pan' | 'mark' | 'aim', start: Point, last: Point, mark: SeenMark | null, type: string }} Gesture */

export class Picture {
  /** @param {Desk} desk */
  constructor(desk) {
    this.desk = desk;
    this.canvas = el('canvas', { class: 'frame', 'aria-hidden': 'true' });
    this.overlay = el('div', { class: 'overlay', 'aria-hidden': 'true' });
    this.marks = svg('svg', { class: 'marks', 'aria-hidden': 'true' });
    this.plates = el('div', { class: 'plates', 'aria-hidden': 'true' });
    this.loupe = new Loupe();
    this.before = new SeenBefore((n) => desk.loadFrame(n), (n) => desk.frames.peek(n));
    this.failure = el('p', { class: 'picture-failure', hidden: true });
    this.coming = el('p', { class: 'picture-coming' }, 'The picture is on its way.');
    this.element = el('div', { class: 'stage', tabindex: 0, role: 'application', 'aria-roledescription': 'picture to mark', 'aria-describedby': 'target-line', 'data-key': 'stage' },
      this.canvas, this.overlay, /** @type {Node} */ (this.marks), this.plates, this.loupe.canvas, this.before.element, this.coming, this.failure);
    this.room = { width: 1, height: 1 };
    /** The drawing that is asked for and not yet done. */
    this.waiting = 0;
    /** @type {View | null} nothing: the whole frame */
    this.view = null;
    /** @type {string} the drawing that is in the overlay */
    this.drawn = '';
    /** Whether the enlarged picture goes along with the horse. */
    this.follows = true;
    /** Whether what lies on the picture is hidden, to see what is below it. */
    this.bare = false;
    this.followedFrame = 0;
    /** @type {import('./wire.d.ts').SteadyView | null} the background held still */
    this.steady = null;
    /** @type {Map<number, Point>} */
    this.fingers = new Map();
    /** @type {Gesture | null} */
    this.gesture = null;
    /** @type {Point | null} where the pointer is */
    this.pointer = null;
    this.#listen();
    new ResizeObserver(() => this.#measure()).observe(this.element);
  }

  get frameSize() { return { width: this.desk.clip.width, height: this.desk.clip.height }; }
  get shownView() {
    if (this.steady) return steadyFrame(this.frameSize, this.room);
    return this.view ?? fitted(this.frameSize, this.room);
  }

  /** Holds the background still as it is on this frame, or lets go. */
  async toggleSteady() {
    const { desk } = this;
    if (this.steady) {
      this.steady = null;
      desk.say('the picture is as it was filmed');
    } else if (!desk.canSteady) {
      desk.say(desk.seen.turning ? 'the background is not followed yet' : 'the phone stood still: so does the background');
    } else {
      try {
        this.steady = await getSteady(desk.clip.clip, desk.frame);
        desk.say('the background is held still, for looking (J lets go)');
      } catch {
        desk.say('the maps that hold the background still did not come');
      }
    }
    this.draw();
  }

  /* ── zoom and pan ─────────────────────────────────────────────── */

  /** @param {number} factor @param {Point} [about] */
  zoom(factor, about = this.#zoomPoint()) {
    const whole = fitted(this.frameSize, this.room);
    const view = zoomed(this.shownView, about, factor, this.frameSize, this.room);
    this.view = view.scale <= whole.scale * 1.0001 ? null : view;
    this.draw();
  }

  /** @param {number} dx @param {number} dy */
  pan(dx, dy) {
    if (!this.view) return;
    this.view = panned(this.view, dx, dy, this.frameSize, this.room);
    this.draw();
  }

  whole() {
    this.view = null;
    this.draw();
  }

  /** Keeps the horse where it is in the view when another frame comes. */
  #follow() {
    const { frame, seen, approach } = this.desk;
    const before = this.followedFrame;
    this.followedFrame = frame;
    if (!this.view || !this.follows || before === frame || this.gesture) return;
    const footfalls = footfallsOf(seen, approach);
    const was = aboutWhere(footfalls, before, seen.turning);
    const is = aboutWhere(footfalls, frame, seen.turning);
    if (was && is) this.view = panned(this.view, (was.x - is.x) * this.view.scale, (was.y - is.y) * this.view.scale, this.frameSize, this.room);
  }

  #zoomPoint() {
    const { cursor, selectedMark } = this.desk;
    const at = cursor ?? selectedMark;
    return at ? displayFromFrame(at, this.shownView) : this.pointer ?? { x: this.room.width / 2, y: this.room.height / 2 };
  }

  /** The middle of what is seen, on the frame. */
  get middle() {
    return frameFromDisplay({ x: this.room.width / 2, y: this.room.height / 2 }, this.shownView);
  }

  /** Pans so that a point of the frame is seen. @param {Point} at */
  reveal(at) {
    if (!this.view) return;
    const p = displayFromFrame(at, this.view);
    const edge = 40;
    const dx = p.x < edge ? edge - p.x : Math.min(0, this.room.width - edge - p.x);
    const dy = p.y < edge ? edge - p.y : Math.min(0, this.room.height - edge - p.y);
    if (dx || dy) this.pan(dx, dy);
  }

  /* ── drawing ──────────────────────────────────────────────────── */

  #measure() {
    const { width, height } = this.element.getBoundingClientRect();
    this.room = { width: Math.max(width, 1), height: Math.max(height, 1) };
    if (this.view) this.view = kept(this.view, this.frameSize, this.room);
    this.draw();
  }

  /** Soon; many calls are one drawing. */
  draw() {
    this.waiting ||= requestAnimationFrame(() => this.drawNow());
  }

  /** At once: together with the number of the frame, so that they never differ on the screen. */
  drawNow() {
    cancelAnimationFrame(this.waiting);
    this.waiting = 0;
    this.#follow();
    this.#drawFrame();
    this.#drawOverlay();
    this.#drawMarks();
    this.#drawLoupe();
    this.#holdStill();
  }

  /** A frame that was not followed is not shown in a wrong place. */
  #holdStill() {
    const { steady, canvas, overlay, marks, plates } = this;
    this.element.classList.toggle('steady', steady !== null);
    const transform = steady ? steadyTransform(steady, this.desk.frame, this.shownView) : '';
    canvas.style.transform = transform ?? '';
    canvas.style.visibility = transform === null ? 'hidden' : '';
    marks.style.transform = transform ?? '';
    if (transform) overlay.style.transform = `${transform} ${overlay.style.transform}`;
    plates.hidden = steady !== null;
  }

  #drawFrame() {
    const dots = devicePixelRatio;
    const width = Math.round(this.room.width * dots);
    const height = Math.round(this.room.height * dots);
    if (this.canvas.width !== width || this.canvas.height !== height) {
      this.canvas.width = width;
      this.canvas.height = height;
    }
    const context = /** @type {CanvasRenderingContext2D} */ (this.canvas.getContext('2d', { alpha: true }));
    context.setTransform(1, 0, 0, 1, 0, 0);
    context.clearRect(0, 0, width, height);
    const { picture } = this.desk;
    this.coming.hidden = picture !== null || this.desk.pictureFailure !== '';
    this.failure.hidden = this.desk.pictureFailure === '';
    this.failure.textContent = this.desk.pictureFailure && `The picture of frame ${this.desk.player.wanted} did not come: ${this.desk.pictureFailure}.`;
    if (!picture) return;
    const v = this.shownView;
    context.setTransform(v.scale * dots, 0, 0, v.scale * dots, v.x * dots, v.y * dots);
    context.imageSmoothingQuality = 'high';
    context.imageSmoothingEnabled = v.scale < 6;
    context.drawImage(picture, 0, 0, this.frameSize.width, this.frameSize.height);
    this.element.dataset.frame = String(this.desk.frame);
  }

  /** The overlay of another frame or an older revision is taken away, not left to mislead. */
  #drawOverlay() {
    const { overlay, frame } = this.desk;
    const source = overlay && overlay.frame === frame ? overlay.svg : '';
    if (source !== this.drawn) {
      this.drawn = source;
      const drawing = drawingFrom(source);
      this.overlay.replaceChildren(...(drawing ? [drawing] : []));
    }
    const v = this.shownView;
    this.overlay.style.transform = `translate(${v.x}px, ${v.y}px)`;
    this.overlay.style.width = `${this.frameSize.width * v.scale}px`;
    this.overlay.style.height = `${this.frameSize.height * v.scale}px`;
  }

  #drawMarks() {
    const { desk } = this;
    const scene = {
      marks: desk.shownMarks,
      frame: desk.frame,
      view: this.shownView,
      turning: desk.seen.turning,
      surveyed: this.drawn !== '',
      expected: desk.expected,
      carried: this.steady ? [] : desk.carried,
      target: desk.target,
      suspects: desk.numbers?.suspects ?? [],
      selected: desk.selected,
      cursor: desk.cursor,
      snapped: desk.snapped && desk.snapped.frame === desk.frame ? desk.snapped : null,
    };
    drawMarks(this.marks, scene);
    const under = this.pointer && !this.gesture ? markUnder(desk.seen.marks, desk.frame, desk.seen.turning, this.shownView, this.pointer, REACH.mouse) : null;
    // The mark just placed lies under the pointer and needs no words: they would hide the next place.
    const told = under && markKey(under) === desk.placedLast ? null : under;
    drawPlates(this.plates, platesOf(scene, told), this.room);
  }

  #drawLoupe() {
    const { desk, gesture } = this;
    const at = desk.cursor ? displayFromFrame(desk.cursor, this.shownView) : this.pointer;
    const aiming = !this.steady && (desk.target && gesture?.kind !== 'pan') || gesture?.kind === 'mark';
    this.element.classList.toggle('placing', Boolean(desk.target));
    this.element.classList.toggle('bare', this.bare);
    this.element.classList.toggle('near', this.shownView.scale > 2 * fitted(this.frameSize, this.room).scale);
    this.before.show(desk.player.playing || this.steady ? null : desk.target, desk.seen.marks, desk.frame, at, this.room);
    if (!desk.picture || !at || !aiming || desk.player.playing) return this.loupe.hide();
    this.loupe.show(desk.picture, at, this.shownView, this.room, desk.shownMarks.filter((m) => !m.hidden && (m.frame === desk.frame)));
  }

  /* ── pointer ──────────────────────────────────────────────────── */

  #listen() {
    const { element } = this;
    element.addEventListener('pointerdown', (e) => this.#down(e));
    element.addEventListener('pointermove', (e) => this.#moved(e));
    element.addEventListener('pointerup', (e) => this.#up(e));
    element.addEventListener('pointercancel', (e) => this.#cancel(e));
    element.addEventListener('pointerleave', () => { if (!this.gesture) { this.pointer = null; this.draw(); } });
    element.addEventListener('wheel', (e) => this.#wheel(e), { passive: false });
  }

  /** @param {MouseEvent} e @returns {Point} */
  #place(e) {
    const box = this.element.getBoundingClientRect();
    return { x: e.clientX - box.left, y: e.clientY - box.top };
  }

  /** @param {WheelEvent} e */
  #wheel(e) {
    e.preventDefault();
    if (e.shiftKey) this.pan(-(e.deltaX || e.deltaY), 0);
    else this.zoom(Math.exp(-e.deltaY * (e.ctrlKey ? 0.01 : 0.0018)), this.#place(e));
  }

  /** @param {PointerEvent} e */
  #down(e) {
    if (e.button > 1) return;
    if (this.steady) return this.#click(this.#place(e), e);
    const at = this.#place(e);
    this.element.focus({ preventScroll: true });
    this.element.setPointerCapture(e.pointerId);
    this.fingers.set(e.pointerId, at);
    this.pointer = at;
    if (this.fingers.size === 2) {
      // Two fingers move and enlarge the picture, whatever the first one began.
      this.desk.dragging = null;
      this.gesture = null;
      return this.draw();
    }
    const reach = REACH[/** @type {keyof typeof REACH} */ (e.pointerType)] ?? REACH.mouse;
    const { desk } = this;
    const mark = e.shiftKey ? null : markUnder(desk.seen.marks, desk.frame, desk.seen.turning, this.shownView, at, desk.target && e.pointerType === 'touch' ? 8 : reach);
    const touchAims = e.pointerType === 'touch' && desk.target !== null && !mark;
    this.gesture = { kind: touchAims ? 'aim' : 'press', start: at, last: at, mark, type: e.pointerType };
    if (e.button === 1) this.gesture = { kind: 'pan', start: at, last: at, mark: null, type: e.pointerType };
    this.draw();
  }

  /** @param {PointerEvent} e */
  #moved(e) {
    const at = this.#place(e);
    if (this.fingers.size === 2 && this.fingers.has(e.pointerId)) return this.#pinch(e.pointerId, at);
    this.pointer = at;
    const { gesture } = this;
    if (gesture) {
      if (gesture.kind === 'press' && Math.hypot(at.x - gesture.start.x, at.y - gesture.start.y) > DRAG_FROM) {
        gesture.kind = gesture.mark ? 'mark' : 'pan';
      }
      if (gesture.kind === 'pan') this.pan(at.x - gesture.last.x, at.y - gesture.last.y);
      if (gesture.kind === 'mark' && gesture.mark) this.#dragMark(gesture, at);
      gesture.last = at;
    }
    this.draw();
  }

  /** @param {Gesture} gesture @param {Point} at */
  #dragMark(gesture, at) {
    const mark = /** @type {SeenMark} */ (gesture.mark);
    const from = frameFromDisplay(gesture.start, this.shownView);
    const to = frameFromDisplay(at, this.shownView);
    // By how much the pointer went, not to where it is: taking hold beside a mark moves nothing.
    this.desk.dragging = { key: markKey(mark), x: mark.x + to.x - from.x, y: mark.y + to.y - from.y };
  }

  /** @param {number} id @param {Point} at */
  #pinch(id, at) {
    const other = [...this.fingers].find(([key]) => key !== id)?.[1];
    const before = this.fingers.get(id);
    this.fingers.set(id, at);
    if (!other || !before) return;
    const was = Math.hypot(before.x - other.x, before.y - other.y);
    const is = Math.hypot(at.x - other.x, at.y - other.y);
    const middle = { x: (at.x + other.x) / 2, y: (at.y + other.y) / 2 };
    if (was > 1) this.zoom(is / was, middle);
    this.pan((at.x - before.x) / 2, (at.y - before.y) / 2);
  }

  /** @param {PointerEvent} e */
  #up(e) {
    const at = this.#place(e);
    const { gesture, desk } = this;
    this.fingers.delete(e.pointerId);
    this.gesture = null;
    if (e.pointerType === 'touch') this.pointer = null;
    if (gesture?.kind === 'mark' && gesture.mark && desk.dragging) {
      const { x, y } = desk.dragging;
      desk.dragging = null;
      desk.move(gesture.mark, { x, y });
    } else if (gesture?.kind === 'press' && gesture.mark && this.#selects(gesture)) {
      desk.select(gesture.mark);
    } else if (gesture?.kind === 'press' || gesture?.kind === 'aim') {
      this.#click(at, e);
    }
    this.draw();
  }

  /** @param {Gesture} gesture */
  #selects({ mark, start }) {
    if (!this.desk.target || !mark) return true;
    const p = displayFromFrame(mark, this.shownView);
    return Math.hypot(p.x - start.x, p.y - start.y) <= ON_IT;
  }

  /** The end whose ring was clicked, where that is clear. @param {Point} at */
  #ringAt(at) {
    const { target, expected } = this.desk;
    if (target?.target !== 'pole_end') return null;
    const far = (/** @type {Point} */ e) => { const p = displayFromFrame(e, this.shownView); return Math.hypot(p.x - at.x, p.y - at.y); };
    const nearest = [...expected].sort((a, b) => far(a) - far(b))[0];
    const own = expected.find((e) => isOf(target, e.spot));
    if (!nearest || nearest === own || nearest.spot.of !== 'pole_end' || far(nearest) > RING) return null;
    return own && far(own) < 2 * RING ? null : nearest;
  }

  /** @param {Point} at @param {PointerEvent} e */
  #click(at, e) {
    const { desk } = this;
    if (this.steady) return desk.say('the background is held still: J lets go, then click');
    const on = frameFromDisplay(at, this.shownView);
    const inside = on.x >= 0 && on.y >= 0 && on.x <= this.frameSize.width && on.y <= this.frameSize.height;
    if (!desk.target || !inside) return desk.select(null);
    desk.cursor = null;
    const ring = this.#ringAt(at);
    if (ring?.spot.of === 'pole_end') desk.choose({ chosen: { target: 'pole_end', pole: ring.spot.pole, end: ring.spot.end, label: ring.label } });
    desk.place(on, { snap: !e.altKey });
  }

  /** @param {PointerEvent} e */
  #cancel(e) {
    this.fingers.delete(e.pointerId);
    this.gesture = null;
    this.desk.dragging = null;
    this.draw();
  }
}
