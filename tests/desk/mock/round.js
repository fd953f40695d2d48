// A round in memory, as the real program keeps it in a marks file: acts, undo and redo, steps.

export const emptyState = (clip) => ({
  clip, turning: false, poles: null, lengths: [], fences: [], approaches: [], marks: [], next: 1,
  about: { rider: '', horse: '', place: '', date: '', surface: '', slope_percent: null, note: '' },
});

const LIMBS = { trailing_hind: 'trailing hind', leading_hind: 'leading hind', trailing_fore: 'trailing fore', leading_fore: 'leading fore' };
const EVENTS = { stride: '', take_off: ', take-off', landing: ', landing', away: ', away' };
const BASES = { take_off_left: 'take-off side, left', take_off_right: 'take-off side, right', landing_left: 'landing side, left', landing_right: 'landing side, right' };

export const label = (spot) => {
  if (spot.of === 'pole_end') return `pole ${spot.pole}, ${spot.end} end`;
  if (spot.of === 'base') return `fence base, ${BASES[spot.end]}`;
  if (spot.of === 'tie') return `tie ${spot.tie}`;
  return LIMBS[spot.limb] + EVENTS[spot.event];
};

export class Refusal extends Error {}

const key = (s) => JSON.stringify(s.of === 'footfall' ? [s.approach, s.footfall] : s);

/** One act on a copy of the state; says what was done. */
export function apply(state, act) {
  const s = structuredClone(state);
  const put = (spot, at, hidden = false) => {
    s.marks = s.marks.filter((m) => key(m.spot) !== key(spot) || (s.turning && m.frame !== at.frame));
    s.marks.push({ spot, frame: at.frame, x: at.x, y: at.y, hidden });
    return { state: s, said: `placed ${label(spot)}`, selected: { spot, frame: at.frame } };
  };
  const find = (spot, frame) => {
    const m = s.marks.find((x) => key(x.spot) === key(spot) && (frame === undefined || x.frame === frame));
    if (!m) throw new Refusal('there is no such mark');
    return m;
  };
  const done = (said, m) => ({ state: s, said, selected: m ? { spot: m.spot, frame: m.frame } : null });
  switch (act.act) {
    case 'set_poles':
      if (act.count < 2) throw new Refusal('one pole gives no length: found 1, 2 are needed');
      s.poles = { count: act.count, spacing_m: act.spacing_m, length_m: act.length_m, taped: act.taped };
      s.marks = s.marks.filter((m) => m.spot.of !== 'pole_end' || m.spot.pole <= act.count);
      return done(`stated ${act.count} poles`);
    case 'set_fence': {
      const facts = { name: act.name, kind: act.kind, height_m: act.height_m, spread_m: act.spread_m, behind: act.behind ?? '', around: act.around ?? '' };
      const f = s.fences.find((x) => x.id === act.fence);
      if (f) Object.assign(f, facts);
      else s.fences.push({ id: String.fromCharCode(65 + s.fences.length), ...facts });
      return done('stated the fence');
    }
    case 'place_pole_end': {
      if (!s.poles) throw new Refusal('no poles are stated');
      const drawn = act.snap ? { frame: act.at.frame, x: act.at.x + 0.6, y: act.at.y - 0.4 } : act.at;
      const r = put({ of: 'pole_end', pole: act.pole, end: act.end }, drawn);
      return { ...r, said: `${r.said}${act.snap ? ', drawn 0.7 px to its edges' : ''}` };
    }
    case 'place_base': {
      if (s.fences.length === 0) s.fences.push({ id: 'A', name: '', kind: 'vertical', height_m: null, spread_m: null });
      return put({ of: 'base', fence: act.fence || s.fences[0].id, end: act.end }, act.at);
    }
    case 'place_footfall': {
      if (s.fences.length === 0) s.fences.push({ id: 'A', name: '', kind: 'vertical', height_m: null, spread_m: null });
      if (s.approaches.length === 0) s.approaches.push({ id: 'A-1', fence: s.fences[0].id, lead: null, left_turn_frame: null, note: '', stride_notes: [] });
      const approach = act.approach ?? s.approaches.at(-1).id;
      return put({ of: 'footfall', approach, footfall: `f${s.next++}`, limb: act.limb, event: act.event }, act.at, act.hidden);
    }
    case 'place_tie': return put({ of: 'tie', tie: act.tie ?? `t${s.next++}` }, act.at);
    case 'move': { const m = find(act.spot, act.at.frame); m.x = act.at.x; m.y = act.at.y; return done(`moved ${label(m.spot)}`, m); }
    case 'nudge': { const m = find(act.spot, act.frame); m.x += act.dx; m.y += act.dy; return done(`nudged ${label(m.spot)}`, m); }
    case 'remove': { const m = find(act.spot, act.frame); s.marks = s.marks.filter((x) => x !== m); return done(`removed ${label(m.spot)}`); }
    case 'set_limb': { const m = find(act.spot); m.spot.limb = act.limb; return done('changed the limb', m); }
    case 'set_event': { const m = find(act.spot); m.spot.event = act.event; return done('changed what it belongs to', m); }
    case 'set_hidden': { const m = find(act.spot); m.hidden = act.hidden; return done(act.hidden ? 'out of sight' : 'in sight', m); }
    case 'set_frame': { const m = find(act.spot); m.frame = act.frame; return done(`moved to frame ${act.frame}`, m); }
    case 'set_round': s.about = act.about; return done('stated who, where and when');
    case 'set_turning': s.turning = act.turning; return done(act.turning ? 'the phone turned' : 'the phone stood');
    case 'set_approach': Object.assign(s.approaches.find((a) => a.id === act.approach), { lead: act.lead, left_turn_frame: act.left_turn_frame, note: act.note }); return done('stated facts of the approach');
    case 'set_stride_note': {
      const a = s.approaches.find((x) => x.id === act.approach);
      a.stride_notes = a.stride_notes.filter((n) => n.stride !== act.stride);
      if (act.text) a.stride_notes.push({ stride: act.stride, text: act.text });
      return done('noted');
    }
    case 'new_approach': s.approaches.push({ id: `${act.fence}-${s.approaches.length + 1}`, fence: act.fence, lead: null, left_turn_frame: null, note: '', stride_notes: [] }); return done('began another approach');
    default: throw new Refusal(`no such act: ${act.act}`);
  }
}

/** The steps with what each wants. */
export function steps(s) {
  const has = (t) => s.marks.some((m) => m.spot.of === t.target && (t.target === 'pole_end' ? m.spot.pole === t.pole && m.spot.end === t.end : m.spot.end === t.end));
  const ends = [];
  for (let pole = 1; pole <= (s.poles?.count ?? 0); pole += 1) for (const end of ['left', 'right']) ends.push({ target: 'pole_end', pole, end, label: `pole ${pole}, ${end} end` });
  const endsLeft = ends.filter((t) => !has(t));
  const bases = ['take_off_left', 'take_off_right'].map((end) => ({ target: 'base', fence: s.fences[0]?.id ?? '', end, label: `fence base, ${BASES[end]}` }));
  const basesLeft = bases.filter((t) => !has(t));
  const falls = s.marks.filter((m) => m.spot.of === 'footfall');
  const at = (e) => falls.filter((m) => m.spot.event === e).length;
  const hoovesDone = at('stride') >= 2 && at('take_off') >= 1 && at('landing') >= 1;
  const list = [
    { step: 'poles', done: ends.length > 0 && endsLeft.length === 0, count: s.poles ? `${ends.length - endsLeft.length} of ${ends.length} ends` : 'not stated',
      says: !s.poles ? 'Say how many poles lie there, how far apart and how long they are.' : endsLeft.length ? `${endsLeft.length} ends are missing; four are enough for numbers.` : '', wanted: endsLeft },
    { step: 'fence', done: basesLeft.length === 0, count: `${2 - basesLeft.length} of 2`, says: basesLeft.length ? 'Mark where the uprights meet the ground on the take-off side.' : '', wanted: basesLeft },
    { step: 'hooves', done: hoovesDone, count: `${falls.length}`, says: at('stride') < 2 ? 'Two contacts of one hind give the first stride.' : at('take_off') === 0 ? 'The take-off is missing.' : at('landing') === 0 ? 'The landing is missing.' : '',
      wanted: [{ target: 'footfall', limb: 'leading_hind', event: 'stride', label: 'leading hind' }] },
  ];
  if (s.turning) list.push({ step: 'ties', done: false, count: `${s.marks.filter((m) => m.spot.of === 'tie').length}`, says: 'Mark fixed points again in other frames: six or more spread over each.', wanted: [{ target: 'tie', tie: null, label: 'a new tie' }] });
  return list;
}
