// One function per route. What fails becomes an ApiError that says whether the program answered.

/** @import { FolderView, ClipView, RoundView, ActRequest, ActDone, NumbersView, OverlayView, HandOutRequest, MotionView, SteadyView, HandOutView, LessonView, LessonWish, Limits, StandQuery, StandView, Refused } from './wire.d.ts' */

/** A request that did not do what was asked. Status 0: the program did not answer. */
export class ApiError extends Error {
  /** @param {number} status @param {Refused} refused */
  constructor(status, refused) {
    super(refused.error);
    this.status = status;
    this.refused = refused;
  }

  /** Whether asking again later may help: nobody answered, or the way there is broken. */
  get away() {
    return this.status === 0 || this.status === 502 || this.status === 503 || this.status === 504;
  }
}

/** @param {unknown} error @returns {boolean} */
export const isAbort = (error) => error instanceof DOMException && error.name === 'AbortError';

/** @param {string} clip */
const clipPath = (clip) => `/api/clips/${encodeURIComponent(clip)}`;
/** @param {string} clip */
const roundPath = (clip) => `/api/rounds/${encodeURIComponent(clip)}`;

/**
 * @param {string} path
 * @param {RequestInit} [init]
 * @returns {Promise<Response>}
 */
async function ask(path, init = {}) {
  let response;
  try {
    response = await fetch(path, { cache: 'no-store', ...init });
  } catch (error) {
    if (isAbort(error)) throw error;
    throw new ApiError(0, { error: 'the program does not answer', hint: null, round: null });
  }
  if (response.ok) return response;
  throw new ApiError(response.status, await refusedOf(response.status, () => response.json()));
}

/** @param {number} status @param {() => Promise<unknown>} read @returns {Promise<Refused>} */
async function refusedOf(status, read) {
  if (status === 401 || status === 403) {
    return { error: 'this page was opened without its key', hint: 'open the address that the program printed', round: null };
  }
  try {
    const body = /** @type {Partial<Refused>} */ (await read());
    return { error: body.error ?? `the program answered ${status}`, hint: body.hint ?? null, round: body.round ?? null };
  } catch {
    return { error: `the program answered ${status}`, hint: null, round: null };
  }
}

/**
 * @param {string} path @param {unknown} [body] @param {string} [method]
 */
async function send(path, body, method = 'POST') {
  const response = await ask(path, {
    method,
    headers: { 'content-type': 'application/json' },
    body: body === undefined ? null : JSON.stringify(body),
  });
  return response.status === 204 ? null : response.json();
}

/** @param {string} path @param {AbortSignal} [signal] */
const read = async (path, signal) => (await ask(path, signal ? { signal } : {})).json();

/** @returns {Promise<FolderView>} */
export const getFolder = () => read('/api/folder');
/** @param {string} clip @returns {Promise<ClipView>} */
export const getClip = (clip) => read(clipPath(clip));
/** @param {string} clip */
export const posterPath = (clip) => `${clipPath(clip)}/poster`;
/** @param {string} clip @returns {Promise<RoundView>} */
export const openRound = (clip) => send(roundPath(clip));
/** @param {string} clip @returns {Promise<RoundView>} */
export const getRound = (clip) => read(roundPath(clip));
/** @param {string} clip @param {ActRequest} request @returns {Promise<ActDone>} */
export const postAct = (clip, request) => send(`${roundPath(clip)}/acts`, request);

/**
 * The picture of a frame; the program says which frame it sent, and another one is an error.
 * @param {string} clip @param {number} n @param {AbortSignal} signal @param {number | null} [width]
 * @returns {Promise<Blob>}
 */
export async function getFrame(clip, n, signal, width = null) {
  const response = await ask(`${clipPath(clip)}/frames/${n}${width ? `?width=${width}` : ''}`, { signal });
  const sent = response.headers.get('x-frame');
  if (sent !== null && Number(sent) !== n) {
    throw new ApiError(500, { error: `asked for frame ${n} and was sent frame ${sent}`, hint: null, round: null });
  }
  return response.blob();
}

/** How numbers and drawings are to look. @typedef {{ dark: boolean, feet: boolean, limits: Limits, rider: boolean }} Look */

/** @param {Look} look */
const lookQuery = (look) => `dark=${look.dark ? 1 : 0}&feet=${look.feet ? 1 : 0}&limits=${encodeURIComponent(JSON.stringify(look.limits))}&rider=${look.rider ? 1 : 0}`;

/** @param {string} clip @param {Look} look @param {AbortSignal} signal @returns {Promise<NumbersView>} */
export const getNumbers = (clip, look, signal) => read(`${roundPath(clip)}/numbers?${lookQuery(look)}`, signal);

/**
 * @param {string} clip @param {number} n @param {Look} look @param {AbortSignal} signal
 * @returns {Promise<OverlayView>}
 */
export const getOverlay = (clip, n, look, signal) =>
  read(`${roundPath(clip)}/overlay/${n}?${lookQuery(look)}`, signal);

/** @param {StandQuery} query @param {Look} look @param {AbortSignal} signal @returns {Promise<StandView>} */
export const getStand = (query, look, signal) => {
  const typed = Object.entries(query).flatMap(([key, value]) => (value === null ? [] : [[key, String(value)]]));
  return read(`/api/stand?${new URLSearchParams(typed)}&${lookQuery(look)}`, signal);
};

/** @param {string} clip @returns {Promise<MotionView>} */
export const getMotion = (clip) => read(`${roundPath(clip)}/motion`);
/** @param {string} clip @param {number} onto the frame that the others are laid over @returns {Promise<SteadyView>} */
export const getSteady = (clip, onto) => read(`${roundPath(clip)}/steady/${onto}`);

/** @param {string} clip @param {LessonWish} wish @param {Look} look @param {AbortSignal} signal @returns {Promise<LessonView>} */
export function getLesson(clip, wish, look, signal) {
  const asked = Object.entries(wish).flatMap(([key, value]) => (value === null ? [] : [[key, String(value)]]));
  return read(`${roundPath(clip)}/lesson?${lookQuery(look)}&${new URLSearchParams(asked)}`, signal);
}

/** @param {string} clip @param {HandOutRequest} wish @returns {Promise<HandOutView>} */
export const makeHandOut = (clip, wish) => send(`${roundPath(clip)}/hand-out`, wish);
/** @param {number} id @returns {Promise<HandOutView>} */
export const getHandOut = (id) => read(`/api/hand-outs/${id}`);
/** @param {number} id @returns {Promise<unknown>} */
export const cancelHandOut = (id) => ask(`/api/hand-outs/${id}`, { method: 'DELETE' });
/** @param {number} id */
export const handOutFile = (id) => `/api/hand-outs/${id}/file`;

/**
 * Copies a clip into the folder. An older kind of request, for it alone tells how far it is.
 * @param {File} file
 * @param {(share: number) => void} onProgress
 * @param {AbortSignal} signal
 * @returns {Promise<FolderView>}
 */
export function putClip(file, onProgress, signal) {
  return new Promise((resolve, reject) => {
    const request = new XMLHttpRequest();
    request.open('PUT', clipPath(file.name));
    request.upload.addEventListener('progress', (e) => e.lengthComputable && onProgress(e.loaded / e.total));
    request.addEventListener('load', async () => {
      if (request.status >= 200 && request.status < 300) return resolve(JSON.parse(request.responseText));
      reject(new ApiError(request.status, await refusedOf(request.status, async () => JSON.parse(request.responseText))));
    });
    request.addEventListener('error', () => reject(new ApiError(0, { error: 'the program does not answer', hint: null, round: null })));
    request.addEventListener('abort', () => reject(new DOMException('given up', 'AbortError')));
    signal.addEventListener('abort', () => request.abort());
    request.send(file);
  });
}

/**
 * Where to stand the next time, from where the phone stood.
 * @param {string} clip @param {string} approach @param {Look} look @param {AbortSignal} signal @returns {Promise<StandView>}
 */
export const getStood = (clip, approach, look, signal) =>
  read(`${roundPath(clip)}/stand?${lookQuery(look)}${approach ? `&approach=${encodeURIComponent(approach)}` : ''}`, signal);
