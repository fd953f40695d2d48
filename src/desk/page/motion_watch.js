// How far the program has followed the camera through the clip, asked for now and then until it is
// done: then the numbers are others.

import * as api from './api.js';

/** @import { MotionView } from './wire.d.ts' */

const AGAIN_MS = 1000;

export class MotionWatch {
  /** @param {string} clip @param {() => void} onChange @param {() => void} onFollowed */
  constructor(clip, onChange, onFollowed) {
    this.clip = clip;
    this.onChange = onChange;
    this.onFollowed = onFollowed;
    /** @type {MotionView | null} */
    this.motion = null;
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.timer = undefined;
    this.closed = false;
    void this.look();
  }

  /** Asks now; goes on asking while it is under way. */
  async look() {
    clearTimeout(this.timer);
    const before = this.motion;
    try {
      this.motion = await api.getMotion(this.clip);
    } catch {
      // The next act tells when the program is away; here it is only asked again.
    }
    if (this.closed) return;
    const under = this.motion === null || this.motion.state === 'following';
    if (under) this.timer = setTimeout(() => void this.look(), AGAIN_MS);
    else if (before === null || before.state === 'following' || before.words !== this.motion?.words) this.onFollowed();
    if (before?.words !== this.motion?.words) this.onChange();
  }

  close() {
    this.closed = true;
    clearTimeout(this.timer);
  }
}
