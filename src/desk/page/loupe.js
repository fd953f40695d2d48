// The picture around the pointer at 8 times its size, while something is being placed.

import { frameFromDisplay } from './view_transform.js';

/** @import { Point, View } from './view_transform.js' */

const TIMES = 8;
/** Its side, and the share of a low view that it may take. */
const SIDE = 192;
const SHARE = 0.42;
/** Between loupe and border of the view. */
const GAP = 12;

export class Loupe {
  constructor() {
    this.canvas = document.createElement('canvas');
    this.canvas.className = 'loupe';
    this.canvas.hidden = true;
    this.canvas.setAttribute('aria-hidden', 'true');
  }

  hide() {
    this.canvas.hidden = true;
  }

  /**
   * @param {ImageBitmap} picture @param {Point} at on the display @param {View} view
   * @param {{ width: number, height: number }} room
   * @param {{ x: number, y: number }[]} marks of this frame, on the frame
   */
  show(picture, at, view, room, marks) {
    const dots = devicePixelRatio;
    const shown = Math.round(Math.min(SIDE, Math.max(120, room.height * SHARE)));
    const side = Math.round(shown * dots);
    if (this.canvas.width !== side) {
      this.canvas.width = side;
      this.canvas.height = side;
    }
    this.canvas.style.width = `${shown}px`;
    this.canvas.style.height = `${shown}px`;
    this.canvas.hidden = false;
    // In the corner away from the pointer, so that it covers nothing one looks at.
    this.canvas.style.left = at.x > room.width / 2 ? `${GAP}px` : `${room.width - shown - GAP}px`;
    this.canvas.style.top = at.y > room.height / 2 ? `${GAP}px` : `${room.height - shown - GAP}px`;
    this.#draw(picture, frameFromDisplay(at, view), side, TIMES * dots, marks);
  }

  /** @param {ImageBitmap} picture @param {Point} middle @param {number} side @param {number} scale dots to a pixel of the frame @param {{ x: number, y: number }[]} marks */
  #draw(picture, middle, side, scale, marks) {
    const context = /** @type {CanvasRenderingContext2D} */ (this.canvas.getContext('2d'));
    const half = side / 2;
    context.fillStyle = '#14181F';
    context.fillRect(0, 0, side, side);
    context.imageSmoothingEnabled = true;
    const left = middle.x - half / scale;
    const top = middle.y - half / scale;
    context.drawImage(picture, left, top, side / scale, side / scale, 0, 0, side, side);
    for (const mark of marks) {
      const x = (mark.x - left) * scale;
      const y = (mark.y - top) * scale;
      cased(context, scale / 8, (c) => c.arc(x, y, scale * 0.9, 0, Math.PI * 2));
    }
    cased(context, scale / 8, (c) => {
      for (const [dx, dy] of /** @type {const} */ ([[1, 0], [-1, 0], [0, 1], [0, -1]])) {
        c.moveTo(half + dx * scale * 0.6, half + dy * scale * 0.6);
        c.lineTo(half + dx * half, half + dy * half);
      }
    });
  }
}

/** A dark line in a pale casing reads on sand, grass and wood. @param {CanvasRenderingContext2D} context @param {number} width @param {(c: CanvasRenderingContext2D) => void} path */
function cased(context, width, path) {
  for (const [colour, extra] of /** @type {const} */ ([['rgba(255,255,255,0.75)', 2.4], ['#1B2330', 1]])) {
    context.beginPath();
    path(context);
    context.lineWidth = width * extra;
    context.strokeStyle = colour;
    context.stroke();
  }
}
