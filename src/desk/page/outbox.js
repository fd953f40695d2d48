// Acts on their way to the disk: one after the other, each until the program says it is saved. What
// waits is kept over a reload. Nothing is dropped but by the coach, or by the program with a reason.

/** @import { Act, ActDone, ActRequest, RoundView, Refused } from './wire.d.ts' */

/** @typedef {{ key: string, act: Act }} Waiting */
/** @typedef {'saved' | 'saving' | 'away' | 'conflict'} SaveState */

/**
 * @typedef {object} OutboxParts
 * @property {(request: ActRequest) => Promise<ActDone>} send
 * @property {{ getItem(k: string): string | null, setItem(k: string, v: string): void, removeItem(k: string): void }} storage
 * @property {string} name under which the waiting acts are stored
 * @property {string} revision of the round as it was read
 * @property {() => void} onChange
 * @property {(done: ActDone, item: Waiting) => void} onDone
 * @property {(refused: Refused, item: Waiting) => void} onRefused
 * @property {(act: Act, disk: RoundView) => boolean} isDone whether what is on the disk already has the act
 * @property {(run: () => void, ms: number) => unknown} [later]
 */

const FIRST_RETRY_MS = 500;
const LAST_RETRY_MS = 4000;

export class Outbox {
  /** @param {OutboxParts} parts */
  constructor(parts) {
    this.parts = parts;
    /** @type {Waiting[]} */
    this.waiting = [];
    /** The revision that the first waiting act was made on. */
    this.revision = parts.revision;
    /** @type {RoundView | null} what somebody else left on the disk */
    this.disk = null;
    this.busy = false;
    /** Nobody answered the last time. */
    this.away = false;
    /** Between two tries. */
    this.resting = false;
    /** The program answers, but this page's key is not its key any more. */
    this.locked = false;
    this.retryMs = FIRST_RETRY_MS;
    this.#restore();
  }

  /** @returns {SaveState} */
  get state() {
    if (this.disk) return 'conflict';
    if (this.away && this.waiting.length > 0) return 'away';
    return this.waiting.length > 0 ? 'saving' : 'saved';
  }

  /** @param {Act} act */
  add(act) {
    this.waiting.push({ key: newKey(), act });
    this.#keep();
    this.parts.onChange();
    void this.pump();
  }

  /** Sends what waits, one at a time. */
  async pump() {
    if (this.busy || this.disk || this.resting) return;
    const item = this.waiting[0];
    if (!item) return;
    this.busy = true;
    try {
      const done = await this.parts.send({ revision: this.revision, key: item.key, act: item.act });
      this.#took(item, done);
    } catch (error) {
      this.#failed(item, error);
    } finally {
      this.busy = false;
    }
    void this.pump();
  }

  /** @param {Waiting} item @param {ActDone} done */
  #took(item, done) {
    this.away = false;
    this.locked = false;
    this.retryMs = FIRST_RETRY_MS;
    this.waiting.shift();
    this.revision = done.round.revision;
    this.#keep();
    this.parts.onDone(done, item);
    this.parts.onChange();
  }

  /** @param {Waiting} item @param {unknown} error */
  #failed(item, error) {
    const { status, refused } = /** @type {{ status?: number, refused?: Refused }} */ (error);
    if (status === undefined || !refused) throw error;
    if (status === 409 && refused.round) {
      this.away = false;
      if (this.parts.isDone(item.act, refused.round)) {
        this.#took(item, { round: refused.round, said: '', selected: null });
        return;
      }
      this.disk = refused.round;
    } else if (status === 0 || status >= 500 || status === 401 || status === 403) {
      this.away = true;
      this.locked = status === 401 || status === 403;
      this.resting = true;
      (this.parts.later ?? setTimeout)(() => { this.resting = false; void this.pump(); }, this.retryMs);
      this.retryMs = Math.min(this.retryMs * 2, LAST_RETRY_MS);
    } else {
      this.waiting.shift();
      this.#keep();
      this.parts.onRefused(refused, item);
    }
    this.parts.onChange();
  }

  /** Makes what waits again, on top of what is on the disk. @returns {RoundView | null} */
  againOnTop() {
    const disk = this.#settle();
    if (disk) for (const item of this.waiting) item.key = newKey();
    this.#keep();
    void this.pump();
    return disk;
  }

  /** Gives up what waits, on the coach's word. @returns {RoundView | null} */
  drop() {
    this.waiting = [];
    const disk = this.#settle();
    this.#keep();
    return disk;
  }

  #settle() {
    const disk = this.disk;
    this.disk = null;
    if (disk) this.revision = disk.revision;
    return disk;
  }

  /** A newer round was read while nothing waited. @param {string} revision */
  rebase(revision) {
    if (this.waiting.length === 0) this.revision = revision;
  }

  #keep() {
    if (this.waiting.length === 0) this.parts.storage.removeItem(this.parts.name);
    else this.parts.storage.setItem(this.parts.name, JSON.stringify({ revision: this.revision, waiting: this.waiting }));
  }

  #restore() {
    try {
      const kept = JSON.parse(this.parts.storage.getItem(this.parts.name) ?? 'null');
      if (!kept?.waiting?.length) return;
      this.waiting = kept.waiting;
      this.revision = kept.revision;
    } catch {
      this.parts.storage.removeItem(this.parts.name);
    }
  }
}

/** @type {Map<string, Outbox>} */
const sending = new Map();

/**
 * The outbox of a round: the one that is still sending, when the coach left the round and came
 * back, so that there are never two; or a new one.
 * @param {OutboxParts} parts
 */
export function outboxFor(parts) {
  const known = sending.get(parts.name);
  if (known && known.waiting.length > 0) {
    known.parts = parts;
    return known;
  }
  const fresh = new Outbox(parts);
  sending.set(parts.name, fresh);
  return fresh;
}

const newKey = () => crypto.randomUUID();
