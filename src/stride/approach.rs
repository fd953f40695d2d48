//! One approach: its strides, take-off, landing, levelness and track.

use std::collections::BTreeMap;

use super::approach_draws::{ApproachDraws, TrackDraw};
use super::chance::Chance;
use super::contacts::contacts;
use super::doubt::StrideDoubt;
use super::fence_line::{
    BACK, BaseLine, EdgeSource, FRONT, corner_address, landing_source, take_off_source,
};
use super::measure::MeasureError;
use super::outcome::{
    ApproachMeasurement, EdgeDistance, FenceEdge, PlacedFence, PlacedFootfall, StrideRow,
    TrackAtFence,
};
use super::plausible::implausible;
use super::scene_draw::SceneDraw;
use crate::marks::{Approach, BaseCorner, Event, Fence, Footfall, MarkAddress, MarksFile};
use crate::quantity::{Estimate, Metres, MetresPerSecond, Seconds, StridesPerMinute, Unit};
use crate::scene::GroundPoint;
use crate::survey::{PlaceDraws, Survey};

/// What every step of the measuring needs.
pub(super) struct Work<'a> {
    survey: &'a Survey,
    pub(super) approach: &'a Approach,
    fence: &'a Fence,
    pub(super) places: &'a PlaceDraws,
    chances: &'a [Chance],
    times: BTreeMap<&'a str, ContactTime>,
    pub(super) seed: u64,
}

/// When a contact was seen, and how long before it may have happened; capture seconds.
#[derive(Clone, Copy)]
struct ContactTime {
    seen: f64,
    gap: f64,
    index: usize,
}

/// Measures one approach.
pub(super) fn measure_approach(
    file: &MarksFile,
    survey: &Survey,
    approach: &Approach,
    fence: &Fence,
    places: &PlaceDraws,
    chances: &[Chance],
    seed: u64,
) -> Result<(ApproachMeasurement, ApproachDraws), MeasureError> {
    let times = contact_times(file, approach)?;
    let work = Work { survey, approach, fence, places, chances, times, seed };
    let contacts = contacts(approach);
    let mut doubts = contacts.doubts;
    let strides = work.strides(&contacts.footfalls, contacts.last_number);
    doubts.extend(implausible(&strides));
    let (take_off, take_off_m) = work.take_off(&mut doubts).unzip();
    let (landing, landing_m) = work.landing(&mut doubts).unzip();
    for (corners, take_off_side) in [(FRONT, true), (BACK, false)] {
        if work.base_faces_back(corners) {
            doubts.push(StrideDoubt::BaseEndsExchanged { take_off_side });
        }
    }
    let footfalls = work.placed_footfalls();
    doubts.extend(
        footfalls
            .iter()
            .filter(|footfall| footfall.place.is_none())
            .map(|footfall| StrideDoubt::Hidden { footfall: footfall.footfall.clone() }),
    );
    let evenness = work.evenness(&strides);
    let (track, track_draws) = work.track_at_fence().unzip();
    let mut draws = ApproachDraws {
        take_off_m: take_off_m.unwrap_or_default(),
        landing_m: landing_m.unwrap_or_default(),
        track: track_draws.unwrap_or_default(),
        ..ApproachDraws::default()
    };
    let (levelness, pace_changes) = evenness
        .map(|evenness| {
            draws.mean_m = evenness.mean_draws;
            draws.range_m = evenness.range_draws;
            draws.variation_percent = evenness.variation_draws;
            draws.stride_numbers = evenness.numbers;
            draws.lengths_m = evenness.length_draws;
            (evenness.levelness, evenness.pace_changes)
        })
        .unzip();
    let measured = ApproachMeasurement {
        approach: approach.id.clone(),
        fence: work.placed_fence(),
        reference_limb: contacts.limb,
        levelness,
        pace_changes,
        strides,
        take_off,
        landing,
        track,
        footfalls,
        track_line: track_line(survey, &approach.id),
        doubts,
        note: approach.note.clone(),
    };
    Ok((measured, draws))
}

fn contact_times<'a>(
    file: &MarksFile,
    approach: &'a Approach,
) -> Result<BTreeMap<&'a str, ContactTime>, MeasureError> {
    let scale = file.clip.capture_seconds_per_second;
    approach
        .footfalls
        .iter()
        .enumerate()
        .map(|(index, footfall)| {
            let frame = footfall.mark.frame;
            let known = file.clip.time_of(frame).ok_or(MeasureError::NoTime { frame })?;
            let time = ContactTime { seen: known.time_s * scale, gap: known.gap_s * scale, index };
            Ok((footfall.id.as_str(), time))
        })
        .collect()
}

fn track_line(survey: &Survey, approach: &str) -> Vec<GroundPoint> {
    let Some(curve) = survey.tracks.get(approach) else { return Vec::new() };
    let (from, to) = curve.from_to;
    let steps = ((to - from) / 0.25).ceil().clamp(1.0, 2000.0) as usize;
    (0..=steps).map(|step| curve.at(from + (to - from) * step as f64 / steps as f64)).collect()
}

impl Work<'_> {
    fn address(&self, footfall: &Footfall) -> MarkAddress {
        MarkAddress::Footfall { approach: self.approach.id.clone(), footfall: footfall.id.clone() }
    }

    pub(super) fn best(&self) -> SceneDraw<'_> {
        SceneDraw::Best(self.survey)
    }

    pub(super) fn draw(&self, draw: usize) -> SceneDraw<'_> {
        SceneDraw::Draw(self.survey, self.places, draw, &self.chances[draw])
    }

    /// An estimate of whatever `number` makes of a scene. `None` where the best scene has none.
    pub(super) fn estimate<U: Unit>(
        &self,
        number: impl Fn(SceneDraw<'_>, Option<&Chance>) -> Option<f64>,
    ) -> Option<Estimate<U>> {
        let best = number(self.best(), None)?;
        Estimate::from_draws(best, self.draws_of(number)?)
    }

    /// What `number` makes of every draw. `None` where one draw has none.
    pub(super) fn draws_of(
        &self,
        number: impl Fn(SceneDraw<'_>, Option<&Chance>) -> Option<f64>,
    ) -> Option<Vec<f64>> {
        (0..self.places.count())
            .map(|draw| number(self.draw(draw), Some(&self.chances[draw])))
            .collect()
    }

    /// Time of a contact: in the middle of its frame gap, or where the draw puts it.
    fn time(&self, footfall: &Footfall, chance: Option<&Chance>) -> Option<f64> {
        let time = self.times.get(footfall.id.as_str())?;
        let late = chance.map_or(0.5, |chance| chance.lateness[time.index]);
        Some(time.seen - late * time.gap)
    }

    pub(super) fn length(&self, scene: SceneDraw<'_>, pair: (&Footfall, &Footfall)) -> Option<f64> {
        let from = scene.place(&self.address(pair.0))?;
        Some(from.distance(scene.place(&self.address(pair.1))?))
    }

    pub(super) fn duration(
        &self,
        pair: (&Footfall, &Footfall),
        late: Option<&Chance>,
    ) -> Option<f64> {
        let duration = self.time(pair.1, late)? - self.time(pair.0, late)?;
        (duration > 0.0).then_some(duration)
    }

    fn strides(&self, contacts: &[&Footfall], last_number: i32) -> Vec<StrideRow> {
        let pairs = contacts.windows(2).map(|pair| (pair[0], pair[1]));
        let count = contacts.len().saturating_sub(1) as i32;
        (0..count)
            .zip(pairs)
            .filter_map(|(index, pair)| self.stride(pair, last_number - (count - 1 - index)))
            .collect()
    }

    fn stride(&self, pair: (&Footfall, &Footfall), number: i32) -> Option<StrideRow> {
        let notes = self.approach.stride_notes.iter().filter(|note| note.stride == number);
        Some(StrideRow {
            number,
            from_footfall: pair.0.id.clone(),
            to_footfall: pair.1.id.clone(),
            length_m: self.estimate::<Metres>(|scene, _| self.length(scene, pair)),
            duration_s: self.estimate::<Seconds>(|_, late| self.duration(pair, late))?,
            tempo_strides_per_min: self.estimate::<StridesPerMinute>(|_, late| {
                Some(Seconds::new(self.duration(pair, late)?).tempo().get())
            })?,
            speed_m_per_s: self.estimate::<MetresPerSecond>(|scene, late| {
                Some(self.length(scene, pair)? / self.duration(pair, late)?)
            }),
            note: notes.map(|note| note.text.as_str()).collect::<Vec<_>>().join("; "),
        })
    }

    fn known_corner(&self, corner: BaseCorner) -> bool {
        self.survey.posterior.place(&corner_address(&self.fence.id, corner)).is_some()
    }

    /// Take-off with its draws, metres.
    fn take_off(&self, doubts: &mut Vec<StrideDoubt>) -> Option<(EdgeDistance, Vec<f64>)> {
        let hinds = self.of_event(Event::TakeOff);
        if hinds.is_empty() {
            return None;
        }
        let source = take_off_source(|corner| self.known_corner(corner));
        match source {
            None => doubts.push(StrideDoubt::NoBase { take_off_side: true }),
            Some(EdgeSource::One(_)) => {
                doubts.push(StrideDoubt::OneBaseEnd { take_off_side: true })
            }
            Some(_) => {}
        }
        let source = source?;
        let distance = |scene: SceneDraw<'_>, hoof: &Footfall| {
            let line = scene.edge(self.fence, source, FRONT, &self.approach.id)?;
            Some(line.before(scene.place(&self.address(hoof))?))
        };
        // The hind nearest to the fence: the one the distance is measured from.
        let best = self.best();
        let nearest = hinds
            .into_iter()
            .filter_map(|hoof| Some((distance(best, hoof)?, hoof)))
            .min_by(|a, b| a.0.total_cmp(&b.0))?
            .1;
        if self.unseen(Event::TakeOff).any(|hoof| hoof.limb.is_hind()) {
            doubts.push(StrideDoubt::TakeOffHindUnseen { measured: nearest.limb });
        }
        let draws = self.draws_of(|scene, _| distance(scene, nearest))?;
        let take_off = EdgeDistance {
            distance_m: Estimate::from_draws(distance(best, nearest)?, draws.clone())?,
            limb: nearest.limb,
            edge: FenceEdge::GroundLine,
            footfall: nearest.id.clone(),
        };
        Some((take_off, draws))
    }

    /// Landing with its draws, metres.
    fn landing(&self, doubts: &mut Vec<StrideDoubt>) -> Option<(EdgeDistance, Vec<f64>)> {
        let first = self.of_event(Event::Landing).into_iter().min_by_key(|f| f.mark.frame);
        let Some(first) = first else {
            doubts.push(StrideDoubt::NoLanding);
            return None;
        };
        let source = landing_source(self.fence, |corner| self.known_corner(corner));
        match source {
            None => doubts.push(StrideDoubt::NoBase { take_off_side: false }),
            Some(EdgeSource::One(_)) => {
                doubts.push(StrideDoubt::OneBaseEnd { take_off_side: false });
            }
            Some(EdgeSource::Spread(spread_m)) if spread_m > 0.0 => {
                doubts.push(StrideDoubt::SpreadTaken { spread_m });
            }
            Some(_) => {}
        }
        let source = source?;
        if self.unseen(Event::Landing).any(|hoof| hoof.mark.frame < first.mark.frame) {
            doubts.push(StrideDoubt::FirstForeUnseen { measured: first.limb });
        }
        let distance = |scene: SceneDraw<'_>| {
            let line = scene.edge(self.fence, source, BACK, &self.approach.id)?;
            Some(-line.before(scene.place(&self.address(first))?))
        };
        let draws = self.draws_of(|scene, _| distance(scene))?;
        let landing = EdgeDistance {
            distance_m: Estimate::from_draws(distance(self.best())?, draws.clone())?,
            limb: first.limb,
            edge: FenceEdge::FarBase,
            footfall: first.id.clone(),
        };
        Some((landing, draws))
    }

    /// Whether the marked ends of a base face against the track.
    fn base_faces_back(&self, corners: (BaseCorner, BaseCorner)) -> bool {
        let place = |corner| self.best().place(&corner_address(&self.fence.id, corner));
        match (place(corners.0), place(corners.1)) {
            (Some(left), Some(right)) => {
                let line = BaseLine::through(left, right);
                self.best().faces_back(&line, &self.approach.id)
            }
            _ => false,
        }
    }

    fn of_event(&self, event: Event) -> Vec<&Footfall> {
        self.approach.footfalls.iter().filter(|f| f.event == event && !f.hidden).collect()
    }

    /// Footfalls of an event that were not seen.
    fn unseen(&self, event: Event) -> impl Iterator<Item = &Footfall> {
        self.approach.footfalls.iter().filter(move |f| f.event == event && f.hidden)
    }

    /// The track at the fence, with its draws.
    fn track_at_fence(&self) -> Option<(TrackAtFence, Vec<TrackDraw>)> {
        let both = take_off_source(|corner| self.known_corner(corner)) == Some(EdgeSource::Both);
        if !both {
            return None;
        }
        let meeting = |scene: SceneDraw<'_>| {
            let line = scene.edge(self.fence, EdgeSource::Both, FRONT, &self.approach.id)?;
            let track = scene.track(&self.approach.id)?;
            let (point, heading) = track.meets(&line)?;
            let left = (-line.ahead.1, line.ahead.0);
            let offset_m = (point.x - line.point.x) * left.0 + (point.y - line.point.y) * left.1;
            let way = (heading.cos(), heading.sin());
            let angle = (line.ahead.0 * way.1 - line.ahead.1 * way.0)
                .atan2(line.ahead.0 * way.0 + line.ahead.1 * way.1);
            let bend_per_m = track.bend_per_m();
            Some(TrackDraw { offset_m, angle_deg: angle.to_degrees(), bend_per_m })
        };
        let best = meeting(self.best())?;
        let draws: Option<Vec<TrackDraw>> =
            (0..self.places.count()).map(|draw| meeting(self.draw(draw))).collect();
        let draws = draws?;
        let of = |pick: fn(&TrackDraw) -> f64| draws.iter().map(pick).collect::<Vec<f64>>();
        let track = TrackAtFence {
            offset_m: Estimate::from_draws(best.offset_m, of(|draw| draw.offset_m))?,
            angle_deg: Estimate::from_draws(best.angle_deg, of(|draw| draw.angle_deg))?,
            bend_per_m: self.survey.tracks.get(&self.approach.id)?.bend,
        };
        Some((track, draws))
    }

    fn placed_fence(&self) -> PlacedFence {
        let corner = |corner| self.survey.posterior.place(&corner_address(&self.fence.id, corner));
        let front = [corner(FRONT.0), corner(FRONT.1)];
        let back = [corner(BACK.0), corner(BACK.1)];
        let name = if self.fence.name.is_empty() { &self.fence.id } else { &self.fence.name };
        PlacedFence {
            id: self.fence.id.clone(),
            name: name.clone(),
            take_off_base: front,
            landing_base: if back == [None, None] { front } else { back },
        }
    }

    fn placed_footfalls(&self) -> Vec<PlacedFootfall> {
        let mut placed: Vec<PlacedFootfall> = self
            .approach
            .footfalls
            .iter()
            .map(|footfall| {
                let address = self.address(footfall);
                PlacedFootfall {
                    footfall: footfall.id.clone(),
                    limb: footfall.limb,
                    event: footfall.event,
                    frame: footfall.mark.frame,
                    time_s: self.time(footfall, None).unwrap_or(f64::NAN),
                    place: self.survey.posterior.place(&address),
                    ellipse: self.survey.posterior.ellipse(&address),
                }
            })
            .collect();
        placed.sort_by_key(|footfall| footfall.frame);
        placed
    }
}
