// Numbers and overlay as the program measures them: asked for after every change, the newest wins,
// what is stale is given up.

import * as api from './api.js';
import { settings } from './settings.js';

/** @import { NumbersView, OverlayView } from './wire.d.ts' */

/** Overlays are asked for when the frame has stood still this long. */
const OVERLAY_QUIET_MS = 60;

export class Measured {
  /** @param {string} clip @param {() => void} onChange */
  constructor(clip, onChange) {
    this.clip = clip;
    this.onChange = onChange;
    /** @type {NumbersView | null} */
    this.numbers = null;
    this.counting = false;
    /** @type {OverlayView | null} */
    this.overlay = null;
    this.numbersStop = new AbortController();
    this.overlayStop = new AbortController();
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.overlayTimer = undefined;
  }

  async refreshNumbers() {
    this.numbersStop.abort();
    const stop = new AbortController();
    this.numbersStop = stop;
    this.counting = true;
    this.onChange();
    try {
      const numbers = await api.getNumbers(this.clip, settings, stop.signal);
      if (stop.signal.aborted) return;
      this.numbers = numbers;
    } catch (error) {
      if (api.isAbort(error)) return;
      // The numbers before stay, paler, for they are of an older revision.
    }
    this.counting = false;
    this.onChange();
  }

  /** @param {number} frame */
  refreshOverlay(frame) {
    clearTimeout(this.overlayTimer);
    this.overlayStop.abort();
    const stop = new AbortController();
    this.overlayStop = stop;
    this.overlayTimer = setTimeout(async () => {
      try {
        const overlay = await api.getOverlay(this.clip, frame, settings, stop.signal);
        if (stop.signal.aborted) return;
        this.overlay = overlay;
        this.onChange();
      } catch {
        // Without an overlay the marks are drawn as they are.
      }
    }, OVERLAY_QUIET_MS);
  }

  close() {
    clearTimeout(this.overlayTimer);
    this.numbersStop.abort();
    this.overlayStop.abort();
  }
}
