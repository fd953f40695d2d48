// Small drawings on buttons, all in one hand: lines of one width on a square of 20.

import { svg } from './html.js';

const PATHS = {
  first: 'M5 4v12M15 4l-7 6 7 6z',
  back: 'M13 4l-7 6 7 6z',
  forward: 'M7 4l7 6-7 6z',
  last: 'M15 4v12M5 4l7 6-7 6z',
  play: 'M6 3.5l10 6.5-10 6.5z',
  pause: 'M6 4h3v12H6zM11.5 4h3v12h-3z',
  mark_back: 'M12 5l-5 5 5 5M16 5v10',
  mark_forward: 'M8 5l5 5-5 5M4 5v10',
  undo: 'M7 4L3.5 7.5 7 11M4 7.5h7.5a4.5 4.5 0 0 1 0 9H8',
  redo: 'M13 4l3.5 3.5L13 11M16 7.5H8.5a4.5 4.5 0 0 0 0 9H12',
  larger: 'M10 4v12M4 10h12',
  smaller: 'M4 10h12',
  whole: 'M3.5 7.5v-4h4M12.5 3.5h4v4M16.5 12.5v4h-4M7.5 16.5h-4v-4',
  remove: 'M5 5l10 10M15 5L5 15',
  follow: 'M10 3v3M10 14v3M3 10h3M14 10h3M10 6.5a3.5 3.5 0 1 0 0 7 3.5 3.5 0 0 0 0-7',
  steady: 'M3 5h9v8H3zM8 8h9v8H8z',
  done: 'M4 10.5l4 4 8-9',
  open: 'M6 8l4 4 4-4',
  light: 'M10 6.5a3.5 3.5 0 1 0 0 7 3.5 3.5 0 0 0 0-7M10 1.5v2M10 16.5v2M1.5 10h2M16.5 10h2M4 4l1.4 1.4M14.6 14.6L16 16M16 4l-1.4 1.4M5.4 14.6L4 16',
  dark: 'M16.5 11.5A7 7 0 1 1 8.5 3.5a5.5 5.5 0 0 0 8 8z',
  system: 'M3.5 4h13v9h-13zM7 16.5h6M10 13v3.5',
  folder: 'M3 5.5h5l1.5 2H17v8H3z',
  away: 'M4 6h12M8 6V4h4v2M6 6l.7 10h6.6L14 6',
  pen: 'M4 16l.8-3.4L13.2 4.2a1.4 1.4 0 0 1 2 0l.6.6a1.4 1.4 0 0 1 0 2L7.4 15.2z',
  unread: 'M3.5 5h13v10h-13zM3.5 3l13 14',
};

/** @typedef {keyof typeof PATHS} IconName */

/** @param {IconName} name */
export const icon = (name) =>
  svg('svg', { class: 'icon', viewBox: '0 0 20 20', width: 20, height: 20, 'aria-hidden': 'true' }, svg('path', { d: PATHS[name] }));
