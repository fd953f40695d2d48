// Which frame is shown: stepping, running, playing. The number changes only together with the
// picture, when the picture is there.

/** @import { Frames } from './frames.js' */

/** @typedef {1 | 0.5 | 0.25 | 0.125} Speed */

/** How long a step key is held before it runs, and the time between frames then. */
const HOLD_MS = 280;
const RUN_MS = 33;

/**
 * @typedef {object} PlayerParts
 * @property {Frames} frames
 * @property {number[]} times_s
 * @property {(n: number, picture: ImageBitmap) => void} show
 * @property {() => void} onChange playing or waiting began or ended
 * @property {(error: unknown, n: number) => void} onFailure
 */

export class Player {
  /** @param {PlayerParts} parts */
  constructor(parts) {
    this.parts = parts;
    this.wanted = 0;
    this.shown = -1;
    this.playing = false;
    /** @type {Speed} */
    this.speed = 1;
    this.running = 0;
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.hold = undefined;
  }

  get last() {
    return this.parts.times_s.length - 1;
  }

  /** @param {number} n @returns {Promise<boolean>} whether it is shown now */
  async goTo(n) {
    const frame = Math.min(Math.max(Math.round(n), 0), this.last);
    const direction = frame >= this.wanted ? 1 : -1;
    this.wanted = frame;
    try {
      const picture = await this.parts.frames.want(frame, direction);
      if (this.wanted !== frame) return false;
      this.shown = frame;
      this.parts.frames.shown = frame;
      this.parts.show(frame, picture);
      return true;
    } catch (error) {
      if (this.wanted === frame && !(error instanceof DOMException)) this.parts.onFailure(error, frame);
      return false;
    }
  }

  /** @param {number} by */
  step(by) {
    this.pause();
    return this.goTo(this.wanted + by);
  }

  /** One step now; held on, every frame in turn, none left out. @param {number} by */
  startRunning(by) {
    this.stopRunning();
    const turn = ++this.running;
    void this.step(by);
    this.hold = setTimeout(async () => {
      while (this.running === turn) {
        const began = performance.now();
        const to = this.wanted + by;
        if (to < 0 || to > this.last) return;
        await this.goTo(to);
        await new Promise((go) => setTimeout(go, Math.max(0, RUN_MS - (performance.now() - began))));
      }
    }, HOLD_MS);
  }

  stopRunning() {
    this.running += 1;
    clearTimeout(this.hold);
  }

  toggle() {
    if (this.playing) this.pause();
    else void this.play();
  }

  pause() {
    if (!this.playing) return;
    this.playing = false;
    this.parts.onChange();
  }

  /** @param {Speed} speed */
  setSpeed(speed) {
    const on = this.playing;
    this.pause();
    this.speed = speed;
    this.parts.onChange();
    if (on) void this.play();
  }

  /** Plays at the clip's own times; a picture that comes late delays the clip, it is not left out at slow speeds. */
  async play() {
    if (this.wanted >= this.last) await this.goTo(0);
    this.playing = true;
    this.parts.onChange();
    const run = ++this.running;
    let began = performance.now() - this.#due(this.wanted);
    while (this.playing && this.running === run) {
      await new Promise(requestAnimationFrame);
      const passed = performance.now() - began;
      let next = this.wanted;
      while (next < this.last && this.#due(next + 1) <= passed) next += 1;
      if (next === this.wanted) continue;
      await this.goTo(next);
      // When pictures come slower than they are due, the clock waits for them.
      if (performance.now() - began - this.#due(next) > 250) began = performance.now() - this.#due(next);
      if (next === this.last) this.pause();
    }
    this.pause();
  }

  /** @param {number} n milliseconds from the first frame, as played */
  #due(n) {
    return ((this.parts.times_s[n] ?? 0) * 1000) / this.speed;
  }
}
