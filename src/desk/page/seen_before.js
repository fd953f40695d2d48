// What a fixed thing looked like where it was marked before: "fixed point 3" says nothing on another
// frame, a piece of the picture does.

import { el } from './html.js';
import { isOf, markKey } from './spots.js';

/** @import { SeenMark } from './pending.js' */
/** @import { Target } from './wire.d.ts' */
/** @import { Point } from './view_transform.js' */

/** Side of the piece on the screen, and how many times its own size it is shown. */
const SIDE = 132;
const TIMES = 3;
const GAP = 12;

export class SeenBefore {
  /** @param {(n: number) => Promise<ImageBitmap>} load a frame's picture @param {(n: number) => ImageBitmap | null} peek one that is at hand */
  constructor(load, peek) {
    this.load = load;
    this.peek = peek;
    this.canvas = el('canvas', { width: SIDE * 2, height: SIDE * 2 });
    this.words = el('figcaption', {});
    this.element = el('figure', { class: 'seen-before', hidden: true, 'aria-hidden': 'true' }, this.canvas, this.words);
    /** @type {Map<string, Promise<ImageBitmap>>} pieces by mark */
    this.pieces = new Map();
    this.shown = '';
  }

  /**
   * @param {Target | null} target @param {SeenMark[]} marks @param {number} frame @param {Point | null} pointer on the display @param {{ width: number, height: number }} room
   */
  show(target, marks, frame, pointer, room) {
    const mark = target && lastSeen(target, marks, frame);
    this.element.hidden = !mark;
    if (!mark) return;
    // On the other side than the pointer, at its height: the loupe has the corner beyond.
    const right = !pointer || pointer.x <= room.width / 2;
    const low = pointer !== null && pointer.y > room.height / 2;
    this.element.style.left = right ? `${room.width - SIDE - GAP}px` : `${GAP}px`;
    this.element.style.top = low ? 'auto' : `${GAP}px`;
    this.element.style.bottom = low ? `${GAP}px` : 'auto';
    const key = `${markKey(mark)} ${mark.x} ${mark.y}`;
    if (key === this.shown) return;
    this.shown = key;
    this.words.textContent = `on frame ${mark.frame}`;
    const context = /** @type {CanvasRenderingContext2D} */ (this.canvas.getContext('2d'));
    context.clearRect(0, 0, SIDE * 2, SIDE * 2);
    let piece = this.pieces.get(key);
    if (!piece) {
      piece = this.#cut(mark);
      this.pieces.set(key, piece);
    }
    piece.then((bitmap) => { if (this.shown === key) draw(context, bitmap); }, () => this.pieces.delete(key));
  }

  /** @param {SeenMark} mark */
  async #cut(mark) {
    const side = SIDE / TIMES;
    /** @param {ImageBitmap} picture */
    const cut = (picture) => createImageBitmap(picture, Math.round(mark.x - side / 2), Math.round(mark.y - side / 2), side, side);
    const here = this.peek(mark.frame);
    if (here) return cut(here);
    const picture = await this.load(mark.frame);
    try {
      return await cut(picture);
    } finally {
      picture.close();
    }
  }

  close() {
    for (const piece of this.pieces.values()) piece.then((bitmap) => bitmap.close(), () => {});
    this.pieces.clear();
  }
}

/**
 * The mark of a still thing nearest in time, when it has none on this frame.
 * @param {Target} target @param {SeenMark[]} marks @param {number} frame @returns {SeenMark | null}
 */
export function lastSeen(target, marks, frame) {
  const own = marks.filter((m) => (target.target === 'tie' ? m.spot.of === 'tie' && m.spot.tie === target.tie : isOf(target, m.spot)));
  if (own.length === 0 || own.some((m) => m.frame === frame)) return null;
  return own.reduce((a, b) => (Math.abs(b.frame - frame) < Math.abs(a.frame - frame) ? b : a));
}

/** The piece with a cross that leaves its middle free. @param {CanvasRenderingContext2D} context @param {ImageBitmap} piece */
function draw(context, piece) {
  const side = SIDE * 2;
  context.imageSmoothingQuality = 'high';
  context.drawImage(piece, 0, 0, side, side);
  for (const [colour, width] of /** @type {const} */ ([['rgba(255,255,255,0.8)', 6], ['#1B2330', 2.5]])) {
    context.strokeStyle = colour;
    context.lineWidth = width;
    context.beginPath();
    for (const [x, y] of /** @type {const} */ ([[1, 0], [-1, 0], [0, 1], [0, -1]])) {
      context.moveTo(side / 2 + x * 14, side / 2 + y * 14);
      context.lineTo(side / 2 + x * 50, side / 2 + y * 50);
    }
    context.stroke();
  }
}
