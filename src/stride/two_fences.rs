//! A line: two fences ridden one after the other, measured from the first jump's landing to the
//! second one's take-off.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::chance::Chance;
use super::fence_line::{
    BACK, BaseLine, EdgeSource, FRONT, corner_address, landing_source, take_off_source,
};
use super::measure::{Draws, MeasureError};
use super::outcome::ApproachMeasurement;
use super::scene_draw::SceneDraw;
use crate::marks::{Approach, BaseCorner, Event, Fence, MarkAddress, MarksFile};
use crate::quantity::{Estimate, Metres, Unit, median, seeded};
use crate::survey::Survey;

/// What was measured between two fences.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LineMeasurement {
    /// The approach to the first fence.
    pub first_approach: String,
    /// The approach to the second.
    pub second_approach: String,
    /// What people call the first fence.
    pub first_fence: String,
    /// What people call the second.
    pub second_fence: String,
    /// Far base of the first fence to the ground line of the second, between their middles; square
    /// to the second where only one end of a base is known.
    pub distance_m: Estimate<Metres>,
    /// Far base of the first to the first fore hoof behind it.
    pub landing_m: Estimate<Metres>,
    /// Hind hoof nearest to the second to its ground line.
    pub take_off_m: Estimate<Metres>,
    /// Strides between landing and take-off; neither of the two jumps counts.
    pub strides_taken: u32,
    /// Numbers of those strides in the second approach, as far as they were measured.
    pub strides: Vec<i32>,
    /// Mean of those with a length; `None` where one has none.
    pub mean_stride_m: Option<Estimate<Metres>>,
    /// The stride that one less, as many, and one more would have needed, landing and take-off as
    /// they were.
    pub needed: Vec<NeededStride>,
    /// Reasons to trust it less.
    pub doubts: Vec<LineDoubt>,
}

/// The stride that a number of strides would have needed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct NeededStride {
    /// How many strides.
    pub strides: u32,
    /// How long each, in the mean.
    pub stride_m: Estimate<Metres>,
}

/// A reason to trust a line less.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "doubt", rename_all = "snake_case")]
pub enum LineDoubt {
    /// Strides after the landing are not marked: their number was reckoned from the time.
    CountedByTime {
        /// How many are marked.
        marked: u32,
    },
}

/// The longest way between two fences that are one line, in strides: related distances are 3 to 7
/// strides at most (R10 of the reference values), with room above.
const LONGEST_LINE: f64 = 12.0;
/// From the first fore's landing to the first hind's contact behind it, in strides. The arena's
/// canter has 0.4; common practice, no source.
const LANDING_TO_HIND: f64 = 0.4;

/// Lines between approaches of one round that follow each other. Empty where there is one fence,
/// or where landing, take-off or a base between the two was not marked.
pub(super) fn measure_lines(
    file: &MarksFile,
    survey: &Survey,
    approaches: &[ApproachMeasurement],
    draws: Draws,
) -> Result<Vec<LineMeasurement>, MeasureError> {
    let mut order: Vec<&ApproachMeasurement> =
        approaches.iter().filter(|a| jump_time_s(a).is_some()).collect();
    order.sort_by(|a, b| {
        jump_time_s(a).partial_cmp(&jump_time_s(b)).unwrap_or(std::cmp::Ordering::Equal)
    });
    let mut lines = Vec::new();
    for (index, pair) in order.windows(2).enumerate() {
        if let [first, second] = pair {
            let seed = draws.seed.wrapping_add(index as u64) ^ 0x6c69_6e65;
            lines.extend(line(file, survey, (first, second), Draws { seed, ..draws })?);
        }
    }
    Ok(lines)
}

/// When the horse jumped: its take-off, or its landing where that was not marked.
fn jump_time_s(approach: &ApproachMeasurement) -> Option<f64> {
    let of = |event| approach.footfalls.iter().filter(move |f| f.event == event).map(|f| f.time_s);
    of(Event::TakeOff).reduce(f64::max).or_else(|| of(Event::Landing).reduce(f64::min))
}

fn line(
    file: &MarksFile,
    survey: &Survey,
    (first, second): (&ApproachMeasurement, &ApproachMeasurement),
    draws: Draws,
) -> Result<Option<LineMeasurement>, MeasureError> {
    if first.fence.id == second.fence.id {
        return Ok(None);
    }
    let Some(between) = Between::of(file, survey, first, second) else { return Ok(None) };
    let Some((strides_taken, doubts)) = strides_taken(first, second) else { return Ok(None) };
    let places = survey.posterior.draws(&between.wanted(), draws.count, draws.seed)?;
    let mut random = seeded(draws.seed ^ 0x7469_6d65);
    let chances = Chance::draws(draws.count, 0, &mut random);
    let scene = |draw: usize| SceneDraw::Draw(survey, &places, draw, &chances[draw]);
    let best = SceneDraw::Best(survey);
    let estimate = |of: &dyn Fn(SceneDraw<'_>) -> Option<f64>| -> Option<Estimate<Metres>> {
        let all: Option<Vec<f64>> = (0..draws.count).map(|draw| of(scene(draw))).collect();
        Estimate::from_draws(of(best)?, all?)
    };
    let needed = |strides: u32| {
        let stride = |scene: SceneDraw<'_>| Some(between.ridden(scene)? / f64::from(strides));
        Some(NeededStride { strides, stride_m: estimate(&stride)? })
    };
    let measured = || {
        Some(LineMeasurement {
            first_approach: first.approach.clone(),
            second_approach: second.approach.clone(),
            first_fence: first.fence.name.clone(),
            second_fence: second.fence.name.clone(),
            distance_m: estimate(&|scene| between.distance(scene))?,
            // The very numbers that stand with the two approaches.
            landing_m: first.landing.as_ref()?.distance_m,
            take_off_m: second.take_off.as_ref()?.distance_m,
            strides_taken,
            strides: last_numbers(second, strides_taken),
            mean_stride_m: between
                .contacts(second, strides_taken)
                .and_then(|contacts| estimate(&|scene| mean_step(&contacts, scene))),
            needed: (strides_taken.saturating_sub(1).max(1)..=strides_taken + 1)
                .filter_map(needed)
                .collect(),
            doubts,
        })
    };
    Ok(measured())
}

/// Numbers of the last strides before the second fence, as many as were taken or marked.
fn last_numbers(second: &ApproachMeasurement, taken: u32) -> Vec<i32> {
    let before = second.strides.len().saturating_sub(taken as usize);
    second.strides.iter().skip(before).map(|row| row.number).collect()
}

/// Mean length from contact to contact.
fn mean_step(contacts: &[MarkAddress], scene: SceneDraw<'_>) -> Option<f64> {
    let places: Option<Vec<_>> = contacts.iter().map(|contact| scene.place(contact)).collect();
    let places = places?;
    let steps = places.windows(2).map(|pair| pair[0].distance(pair[1]));
    Some(steps.sum::<f64>() / (places.len() - 1) as f64)
}

/// Strides between landing and take-off. Those of the second approach, where their first contact
/// lies within a stride of the landing; else as many as the time between makes.
fn strides_taken(
    first: &ApproachMeasurement,
    second: &ApproachMeasurement,
) -> Option<(u32, Vec<LineDoubt>)> {
    let landed_s = first
        .footfalls
        .iter()
        .filter(|f| f.event == Event::Landing)
        .map(|f| f.time_s)
        .reduce(f64::min)?;
    let last = second.strides.last()?;
    let took_off_s = second.footfall_time_s(&last.to_footfall)?;
    let mut durations: Vec<f64> =
        second.strides.iter().map(|row| row.duration_s.value.get()).collect();
    let usual_s = median(&mut durations)?;
    let by_time = (took_off_s - landed_s) / usual_s - LANDING_TO_HIND;
    if !(0.5..=LONGEST_LINE + 0.5).contains(&by_time) {
        return None;
    }
    // Strides before the landing belong to the way to the first fence.
    let begins_s: Vec<f64> = second
        .strides
        .iter()
        .filter_map(|row| second.footfall_time_s(&row.from_footfall))
        .filter(|begins_s| *begins_s >= landed_s)
        .collect();
    let marked = begins_s.len() as u32;
    let first_s = begins_s.into_iter().reduce(f64::min);
    // The hind comes down soon after the landing; where a stride more is between them, it is not marked.
    if first_s.is_some_and(|first_s| (first_s - landed_s) / usual_s < LANDING_TO_HIND + 0.5) {
        return Some((marked, Vec::new()));
    }
    Some((by_time.round() as u32, vec![LineDoubt::CountedByTime { marked }]))
}

/// What lies between the two jumps.
struct Between<'a> {
    first: (&'a Fence, &'a Approach, EdgeSource),
    second: (&'a Fence, &'a Approach, EdgeSource),
    landed: MarkAddress,
    took_off: MarkAddress,
}

impl<'a> Between<'a> {
    fn of(
        file: &'a MarksFile,
        survey: &Survey,
        first: &ApproachMeasurement,
        second: &ApproachMeasurement,
    ) -> Option<Self> {
        let approaches = (file.approach(&first.approach)?, file.approach(&second.approach)?);
        let fences = (file.fence(&first.fence.id)?, file.fence(&second.fence.id)?);
        let known = |fence: &Fence| {
            let id = fence.id.clone();
            move |corner| survey.posterior.place(&corner_address(&id, corner)).is_some()
        };
        let far = landing_source(fences.0, &known(fences.0))?;
        let near = take_off_source(known(fences.1))?;
        let footfall = |approach: &ApproachMeasurement, footfall: &str| MarkAddress::Footfall {
            approach: approach.approach.clone(),
            footfall: footfall.to_owned(),
        };
        Some(Self {
            first: (fences.0, approaches.0, far),
            second: (fences.1, approaches.1, near),
            landed: footfall(first, &first.landing.as_ref()?.footfall),
            took_off: footfall(second, &second.take_off.as_ref()?.footfall),
        })
    }

    fn wanted(&self) -> Vec<MarkAddress> {
        let corners = |fence: &Fence| {
            let id = fence.id.clone();
            BaseCorner::ALL.map(move |corner| corner_address(&id, corner))
        };
        let mut wanted = vec![self.landed.clone(), self.took_off.clone()];
        wanted.extend(corners(self.first.0).into_iter().chain(corners(self.second.0)));
        wanted.extend(self.second.1.footfalls.iter().map(|footfall| MarkAddress::Footfall {
            approach: self.second.1.id.clone(),
            footfall: footfall.id.clone(),
        }));
        wanted
    }

    fn far_base(&self, scene: SceneDraw<'_>) -> Option<BaseLine> {
        let (fence, approach, source) = self.first;
        scene.edge(fence, source, BACK, &approach.id)
    }

    fn ground_line(&self, scene: SceneDraw<'_>) -> Option<BaseLine> {
        let (fence, approach, source) = self.second;
        scene.edge(fence, source, FRONT, &approach.id)
    }

    fn distance(&self, scene: SceneDraw<'_>) -> Option<f64> {
        let (from, to) = (self.far_base(scene)?, self.ground_line(scene)?);
        let middles_known =
            [self.first.2, self.second.2].iter().all(|s| !matches!(s, EdgeSource::One(_)));
        Some(if middles_known { from.point.distance(to.point) } else { to.before(from.point) })
    }

    fn landing(&self, scene: SceneDraw<'_>) -> Option<f64> {
        Some(-self.far_base(scene)?.before(scene.place(&self.landed)?))
    }

    fn take_off(&self, scene: SceneDraw<'_>) -> Option<f64> {
        Some(self.ground_line(scene)?.before(scene.place(&self.took_off)?))
    }

    /// What is left for strides.
    fn ridden(&self, scene: SceneDraw<'_>) -> Option<f64> {
        Some(self.distance(scene)? - self.landing(scene)? - self.take_off(scene)?)
    }

    /// Contacts that delimit the strides, when all of them were marked.
    fn contacts(&self, second: &ApproachMeasurement, taken: u32) -> Option<Vec<MarkAddress>> {
        let count = second.strides.len();
        let rows = second.strides.get(count.checked_sub(taken as usize)?..)?;
        let ids = rows
            .iter()
            .map(|row| &row.from_footfall)
            .chain(rows.last().map(|row| &row.to_footfall));
        let address = |id: &String| MarkAddress::Footfall {
            approach: self.second.1.id.clone(),
            footfall: id.clone(),
        };
        Some(ids.map(address).collect())
    }
}

impl LineDoubt {
    /// The doubt in a sentence for the coach.
    pub fn sentence(&self) -> String {
        match self {
            Self::CountedByTime { marked } => format!(
                "of the strides between the two fences {marked} are marked: their number was reckoned \
                 from the time between landing and take-off"
            ),
        }
    }
}
