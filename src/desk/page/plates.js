// Words beside marks, on plates that stay inside the view and below the mark they tell of.

import { el } from './html.js';
import { markKey, standsStill } from './spots.js';
import { displayFromFrame } from './view_transform.js';

/** @import { SeenMark } from './pending.js' */
/** @import { MarksScene } from './marks_layer.js' */

/** @typedef {{ x: number, y: number, words: string, suspect: boolean }} Plate */

/** Between mark and plate, and between plate and border of the view. */
const BELOW = 20;
const EDGE = 6;

/**
 * The marks that are told of: the selected one, the one under the pointer, and each that does not fit.
 * @param {MarksScene} scene @param {SeenMark | null} under @returns {Plate[]}
 */
export function platesOf(scene, under) {
  const suspects = new Map(scene.suspects.map((s) => [markKey(s), s.text]));
  return scene.marks.flatMap((mark) => {
    const key = markKey(mark);
    const here = mark.frame === scene.frame;
    const reason = suspects.get(key);
    const asked = scene.selected === key || (under !== null && markKey(under) === key);
    const seen = !mark.hidden && (here || (!scene.turning && standsStill(mark.spot)));
    if (!seen || !(asked || (reason && here))) return [];
    return [{ ...displayFromFrame(mark, scene.view), words: reason ? `${mark.label}: ${reason}` : mark.label, suspect: reason !== undefined }];
  });
}

/** @param {HTMLElement} layer @param {Plate[]} plates @param {{ width: number, height: number }} room */
export function drawPlates(layer, plates, room) {
  const key = JSON.stringify([plates, room]);
  if (layer.dataset.shown === key) return;
  layer.dataset.shown = key;
  layer.replaceChildren(...plates.map((p) => el('p', { class: p.suspect ? 'plate suspect' : 'plate' }, p.words)));
  plates.forEach((p, i) => {
    const plate = /** @type {HTMLElement} */ (layer.children[i]);
    const { offsetWidth: width, offsetHeight: height } = plate;
    const below = p.y + BELOW + height + EDGE < room.height;
    plate.style.left = `${Math.min(Math.max(p.x - width / 2, EDGE), Math.max(room.width - width - EDGE, EDGE))}px`;
    plate.style.top = `${below ? p.y + BELOW : p.y - BELOW - height}px`;
  });
}
