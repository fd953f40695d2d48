// Numbers for the mock: a plain homography from the poles, with a made-up ±. Good enough to look at.

import { label } from './round.js';

/** Solves a square system by elimination. */
function solve(a, b) {
  const n = b.length;
  const m = a.map((row, i) => [...row, b[i]]);
  for (let i = 0; i < n; i += 1) {
    let p = i;
    for (let j = i + 1; j < n; j += 1) if (Math.abs(m[j][i]) > Math.abs(m[p][i])) p = j;
    [m[i], m[p]] = [m[p], m[i]];
    if (Math.abs(m[i][i]) < 1e-12) return null;
    for (let j = 0; j < n; j += 1) {
      if (j === i) continue;
      const f = m[j][i] / m[i][i];
      for (let k = i; k <= n; k += 1) m[j][k] -= f * m[i][k];
    }
  }
  return m.map((row, i) => row[n] / row[i]);
}

/** Least squares of the eight numbers of a homography; `pairs` are [from, to]. */
function homography(pairs) {
  const ata = Array.from({ length: 8 }, () => new Array(8).fill(0));
  const atb = new Array(8).fill(0);
  const add = (row, value) => row.forEach((r, i) => { atb[i] += r * value; row.forEach((q, j) => { ata[i][j] += r * q; }); });
  for (const [[x, y], [u, v]] of pairs) {
    add([x, y, 1, 0, 0, 0, -u * x, -u * y], u);
    add([0, 0, 0, x, y, 1, -v * x, -v * y], v);
  }
  const h = solve(ata, atb);
  return h && (([x, y]) => { const w = h[6] * x + h[7] * y + 1; return [(h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w]; });
}

const N = ([x, y]) => [(x - 960) / 960, (y - 620) / 20];
const D = ([x, y]) => [x * 960 + 960, y * 20 + 620];

export function survey(s) {
  if (!s.poles) return null;
  const ends = s.marks.filter((m) => m.spot.of === 'pole_end');
  if (ends.length < 4 || new Set(ends.map((m) => m.spot.pole)).size < 2) return null;
  const ground = (spot) => [(spot.pole - 1) * s.poles.spacing_m, spot.end === 'left' ? s.poles.length_m / 2 : -s.poles.length_m / 2];
  const to = homography(ends.map((m) => [N([m.x, m.y]), ground(m.spot)]));
  const from = homography(ends.map((m) => [ground(m.spot), N([m.x, m.y])]));
  return to && from && { ground: (m) => to(N([m.x, m.y])), picture: (g) => D(from(g)) };
}

const minus = (n) => `−${n}`;

export function numbers(s, revision, times, feet) {
  const view = survey(s);
  const say = (cannot) => ({ revision, headline: cannot, cannot, approaches: [], doubts: [], suspects: [], took_ms: 1 });
  if (!s.poles) return say('No length yet: state the poles and mark their ends.');
  if (!view) return say('No length yet: mark both ends of two poles.');
  const k = feet ? 1 / 0.3048 : 1;
  const unit = feet ? 'ft' : 'm';
  const approaches = s.approaches.map((a) => {
    const falls = s.marks.filter((m) => m.spot.of === 'footfall' && m.spot.approach === a.id).sort((x, y) => x.frame - y.frame);
    const hinds = ['leading_hind', 'trailing_hind'].map((limb) => falls.filter((m) => m.spot.limb === limb && ['stride', 'take_off'].includes(m.spot.event)));
    const line = hinds[0].length >= hinds[1].length ? hinds[0] : hinds[1];
    const strides = [];
    for (let i = 0; i + 1 < line.length; i += 1) {
      const number = i + 1 - line.length;
      const [p, q] = [view.ground(line[i]), view.ground(line[i + 1])];
      const length = Math.hypot(p[0] - q[0], p[1] - q[1]);
      const time = times[line[i + 1].frame] - times[line[i].frame];
      const sd = 0.09 + 0.018 * Math.abs(p[0] - 4.5);
      strides.push({ number, name: minus(-number), length: (length * k).toFixed(2), plus_minus: `± ${(sd * k).toFixed(2)} ${unit}`, duration: `${time.toFixed(2)} ± 0.01 s`, tempo: `${(60 / time).toFixed(1)} ± 2.1`,
        pace: `${(length * k * 60 / time).toFixed(0)} ± ${(sd * k * 60 / time).toFixed(0)} ${unit}/min`, from_frame: line[i].frame, to_frame: line[i + 1].frame, note: a.stride_notes.find((n) => n.stride === number)?.text ?? '', metres: length, sd });
    }
    const fact = (event, name, explained) => {
      const m = falls.find((x) => x.spot.event === event);
      const base = s.marks.find((x) => x.spot.of === 'base');
      if (!m || !base) return [];
      return [{ name, value: (Math.abs(view.ground(m)[0] - view.ground(base)[0]) * k).toFixed(2), plus_minus: `± ${(0.19 * k).toFixed(2)} ${unit}`, explained }];
    };
    const lengths = strides.map((x) => x.metres * k);
    return { approach: a.id, headline: strides.length ? `${strides.length} strides, ${Math.min(...lengths).toFixed(2)} to ${Math.max(...lengths).toFixed(2)} ${unit}` : 'no stride yet',
      facts: [...fact('take_off', 'take-off', 'leading hind to the ground line, square to it'), ...fact('landing', 'landing', 'trailing fore to the far base, square to it')],
      reading: strides.length > 2 ? [{ text: 'The strides of the stand-in, in one sentence.', strides: strides.map((x) => x.number), go_to: strides[0].from_frame }] : [],
      lane: strides.length ? lane(strides, falls) : '', strides: strides.map(({ metres, sd, ...x }) => x) };
  });
  const first = approaches.find((a) => a.strides.length > 0);
  const doubts = first && s.poles.taped === false ? [{ text: 'The spacing of the poles was paced, so every length may be off by some per cent.', unfinished: false }] : [];
  const suspects = s.marks.filter((m) => m.spot.of === 'pole_end' && off(s, view, m) > 0.25).map((m) => ({ spot: m.spot, frame: m.frame, text: '6.2 px off where the other marks put it (4.1 of its own uncertainty)' }));
  return { revision, headline: first ? first.headline : 'Two contacts of one hind give the first stride.', cannot: null, approaches, doubts, suspects, took_ms: 40 };
}

function off(s, view, m) {
  const [x, y] = view.ground(m);
  return Math.hypot(x - (m.spot.pole - 1) * s.poles.spacing_m, y - (m.spot.end === 'left' ? 1 : -1) * s.poles.length_m / 2);
}

const COLOUR = { leading_hind: '#0B6E69', leading_fore: '#0B6E69', trailing_hind: '#7A3E9D', trailing_fore: '#7A3E9D' };

/** Bars and footfalls on the stride axis. */
function lane(strides, falls) {
  const W = 1200; const H = 170; const left = 60; const right = 1130;
  const n = strides.length; const w = (right - left) / n; const high = 5;
  const bars = strides.map((s, i) => {
    const x = left + w * (i + 0.5); const h = (s.metres / high) * 100; const e = (s.sd / high) * 100;
    return `<rect x="${x - w * 0.27}" y="${122 - h}" width="${w * 0.54}" height="${h}" fill="#0B6E69" rx="1"/><path d="M${x} ${122 - h - e}V${122 - h + e}M${x - 5} ${122 - h - e}h10M${x - 5} ${122 - h + e}h10" stroke="#8C8271" stroke-width="1.5" fill="none"/>`
      + `<text x="${x}" y="14" text-anchor="middle" font-size="13" font-weight="700" fill="currentColor">${s.length}</text><text x="${x}" y="166" text-anchor="middle" font-size="12" fill="currentColor">${s.name}</text>`;
  }).join('');
  const dots = falls.map((f) => {
    const i = strides.findIndex((s) => f.frame >= s.from_frame && f.frame < s.to_frame);
    if (i < 0) return '';
    const s = strides[i];
    return `<circle cx="${left + w * (i + (f.frame - s.from_frame) / (s.to_frame - s.from_frame))}" cy="${130 + ['trailing_hind', 'leading_hind', 'trailing_fore', 'leading_fore'].indexOf(f.spot.limb) * 6}" r="3" fill="${COLOUR[f.spot.limb]}"/>`;
  }).join('');
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${W} ${H}" width="${W}" height="${H}"><title>strides</title><path d="M${left} 122H${right}" stroke="currentColor"/>${bars}${dots}<path d="M${right + 12} 90v32M${right + 32} 90v32M${right + 12} 100h20M${right + 12} 112h20" stroke="#A3460B" stroke-width="3"/></svg>`;
}

/** Prints, lengths and expected ends of a frame. */
export function overlay(s, revision, frame, n) {
  const view = survey(s);
  const expected = [];
  let svg = '';
  if (view) {
    for (let pole = 1; pole <= s.poles.count; pole += 1) {
      for (const end of ['left', 'right']) {
        if (s.marks.some((m) => m.spot.of === 'pole_end' && m.spot.pole === pole && m.spot.end === end)) continue;
        const [x, y] = view.picture([(pole - 1) * s.poles.spacing_m, end === 'left' ? s.poles.length_m / 2 : -s.poles.length_m / 2]);
        const spot = { of: 'pole_end', pole, end };
        if (x > 0 && x < 1920 && y > 0 && y < 1080) expected.push({ spot, label: label(spot), x, y });
      }
    }
    const falls = s.marks.filter((m) => m.spot.of === 'footfall' && m.frame <= frame && !m.hidden);
    const prints = falls.map((m) => `<ellipse cx="${m.x}" cy="${m.y}" rx="13" ry="7" fill="${m.spot.limb.startsWith('leading') ? COLOUR[m.spot.limb] : 'none'}" stroke="#fff" stroke-width="6"/><ellipse cx="${m.x}" cy="${m.y}" rx="13" ry="7" fill="${m.spot.limb.startsWith('leading') ? COLOUR[m.spot.limb] : 'none'}" stroke="${COLOUR[m.spot.limb]}" stroke-width="3"/>`).join('');
    const lengths = (n.approaches[0]?.strides ?? []).filter((t) => t.to_frame <= frame).map((t) => {
      const a = s.marks.find((m) => m.spot.of === 'footfall' && m.frame === t.from_frame); const b = s.marks.find((m) => m.spot.of === 'footfall' && m.frame === t.to_frame);
      return a && b ? `<rect x="${(a.x + b.x) / 2 - 70}" y="675" width="140" height="34" rx="5" fill="#fff" fill-opacity=".92"/><text x="${(a.x + b.x) / 2}" y="700" font-size="24" text-anchor="middle" fill="#1B2330">${t.length} ${t.plus_minus}</text>` : '';
    }).join('');
    svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1920 1080" width="1920" height="1080">${prints}${lengths}</svg>`;
  }
  return { revision, frame, svg, expected };
}
