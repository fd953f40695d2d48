// Decoded pictures of frames: asked for once, kept near where the coach is, given back in time.
// Invariant: a promise for frame n gives the picture of frame n, or is refused; never another's.

/**
 * @typedef {object} FramesParts
 * @property {(n: number, signal: AbortSignal) => Promise<ImageBitmap>} load
 * @property {number} count how many frames the clip has
 * @property {number} capacity how many pictures to keep
 */
/** @typedef {{ promise: Promise<ImageBitmap>, stop: AbortController }} Loading */

/** How many frames ahead are fetched in the direction of travel, and how many behind. */
const AHEAD = 6;
const BEHIND = 1;
/** Neighbours come in order, one after the other: a decoder goes forward cheaply and back dearly. */
const AT_ONCE = 2;

/** Pictures kept in 48 × 1080p of memory. @param {number} width @param {number} height */
export const capacityFor = (width, height) => Math.max(8, Math.min(48, Math.floor((48 * 1920 * 1080) / (width * height))));

export class Frames {
  /** @param {FramesParts} parts */
  constructor(parts) {
    this.parts = parts;
    /** @type {Map<number, ImageBitmap>} */
    this.kept = new Map();
    /** @type {Map<number, Loading>} */
    this.loading = new Map();
    this.at = 0;
    /** The one on the screen is never closed. */
    this.shown = -1;
    this.closed = false;
  }

  /**
   * The picture of a frame; what was asked for and is no longer near is given up.
   * @param {number} n @param {1 | -1} direction @returns {Promise<ImageBitmap>}
   */
  want(n, direction) {
    this.at = n;
    const near = this.#near(n, direction);
    for (const [other, { stop }] of this.loading) {
      if (!near.includes(other)) {
        stop.abort();
        this.loading.delete(other);
      }
    }
    const there = this.kept.get(n);
    if (there) {
      this.#prefetch(near);
      return Promise.resolve(there);
    }
    // Its neighbours wait until it is there, so that nothing is before it in the queue.
    const { promise } = this.#load(n);
    promise.then(() => this.at === n && this.#prefetch(near), () => {});
    return promise;
  }

  /** @param {number} n */
  peek(n) {
    return this.kept.get(n) ?? null;
  }

  close() {
    this.closed = true;
    for (const { stop } of this.loading.values()) stop.abort();
    for (const picture of this.kept.values()) picture.close();
    this.kept.clear();
    this.loading.clear();
  }

  /** The frame and its neighbours, the most wanted first. @param {number} n @param {1 | -1} direction */
  #near(n, direction) {
    const near = [n];
    for (let i = 1; i <= AHEAD; i += 1) near.push(n + i * direction);
    for (let i = 1; i <= BEHIND; i += 1) near.push(n - i * direction);
    return near.filter((f) => f >= 0 && f < this.parts.count);
  }

  /** @param {number[]} near */
  #prefetch(near) {
    for (const n of near) {
      if (this.loading.size >= AT_ONCE) return;
      if (!this.kept.has(n) && !this.loading.has(n)) {
        // A neighbour that does not come is asked for again when it is wanted.
        this.#load(n).promise.then(() => this.at === near[0] && this.#prefetch(near), () => {});
      }
    }
  }

  /** @param {number} n @returns {Loading} */
  #load(n) {
    const under = this.loading.get(n);
    if (under) return under;
    const stop = new AbortController();
    const promise = this.parts.load(n, stop.signal).then(
      (picture) => {
        if (stop.signal.aborted || this.closed) {
          picture.close();
          throw new DOMException('no longer wanted', 'AbortError');
        }
        this.loading.delete(n);
        this.kept.set(n, picture);
        this.#makeRoom();
        return picture;
      },
      (error) => {
        if (this.loading.get(n)?.stop === stop) this.loading.delete(n);
        throw error;
      },
    );
    promise.catch(() => {});
    const entry = { promise, stop };
    this.loading.set(n, entry);
    return entry;
  }

  /** The farthest go first. */
  #makeRoom() {
    while (this.kept.size > this.parts.capacity) {
      const spare = [...this.kept.keys()].filter((n) => n !== this.shown && n !== this.at);
      const farthest = spare.sort((a, b) => Math.abs(b - this.at) - Math.abs(a - this.at))[0];
      if (farthest === undefined) return;
      this.kept.get(farthest)?.close();
      this.kept.delete(farthest);
    }
  }
}
