//! The best place within the bounds.
//!
//! What is made small is the largest ± of take-off and the last three strides: by these a coach sees
//! whether the horse came deep or stood off, and there she corrects. The root mean square of all that
//! is wanted counts a tenth beside it, so that of places alike near the fence the one with the surer
//! far strides is taken ([`Wanted::price_m`]). The largest ± of all would be that of the stride
//! farthest out, almost always: it gave take-off away for a stride that nobody corrects. The root mean
//! square of all would let five far centimetres buy three near ones.
//!
//! Places that show all that is wanted are found by projection alone, which costs nothing; a spread
//! of them is measured, then the best are improved step by step. Of places that are as good as the
//! best the nearest to where the coach stands is taken: nobody walks ten metres for two millimetres.
//! Who stands somewhere is sent to no place where a number near the fence loses more than the largest
//! gains.

use std::collections::BTreeMap;

use rayon::prelude::*;

use super::bounds::{Bounds, Within};
use super::expectation::expect;
use super::expected_marks::expected_marks;
use super::lesson::Lesson;
use super::phone::{Phone, Start};
use super::sureness::Wanted;
use crate::stride::Draws;

/// Places are half metres apart and heights a tenth.
const STEP_M: f64 = 0.5;
const HEIGHT_STEP_M: f64 = 0.1;
/// How many places are measured before the best of them are improved, and how many of those.
const SPREAD: usize = 24;
const STARTS: usize = 2;
/// Steps of improving, in places and heights.
const REFINING: [(i32, i32); 4] = [(6, 4), (3, 2), (2, 1), (1, 1)];
/// A place is as good as the best when it costs more by this share at most.
const AS_GOOD: f64 = 0.05;
/// How many places are tried where only whether one exists is asked.
const TRIED: usize = 4;
/// Draws of a trial: they hold the ± to about a twentieth, and share their seed.
const TRIAL_DRAWS: usize = 200;
/// A tenth of a metre of height is as much trouble as so many metres of walking.
const WALK_PER_HEIGHT: f64 = 3.0;

/// A place in steps: away from the track, before the fence, height.
type Key = (i32, i32, i32);

struct Search<'a> {
    lesson: &'a Lesson,
    /// Where she stands, or where a usual phone would be.
    here: &'a Phone,
    bounds: &'a Bounds,
    seed: u64,
    /// What is known from each place that was measured; `None` where not all can be.
    known: BTreeMap<Key, Option<Wanted>>,
}

/// Why there is no best place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoPlace {
    /// None shows all strides, the take-off and the ground line.
    Shows,
    /// Some do, but nothing can be measured from them.
    Measures,
}

/// The best place within `bounds`; `here` is what is known from where she stands.
pub fn best_place(
    lesson: &Lesson,
    start: &Start,
    bounds: &Bounds,
    here: Option<&Wanted>,
    seed: u64,
) -> Result<Phone, NoPlace> {
    let mut search = Search::new(lesson, start.phone(), bounds, seed);
    let spread = search.spread();
    if spread.is_empty() {
        return Err(NoPlace::Shows);
    }
    search.try_all(spread);
    for (start, _) in search.in_order().into_iter().take(STARTS) {
        search.improve(start);
    }
    let (best, _) = *search.in_order().first().ok_or(NoPlace::Measures)?;
    search.try_all(search.way_back(best));
    let all = search.in_order();
    let is_worth_it = |key: &Key| {
        let there = search.known.get(key).and_then(Option::as_ref);
        here.zip(there).is_none_or(|(here, there)| here.is_worth_leaving_for(there))
    };
    let worth_it: Vec<(Key, f64)> =
        all.iter().copied().filter(|(key, _)| is_worth_it(key)).collect();
    let all = if worth_it.is_empty() { all } else { worth_it };
    let (_, least) = *all.first().ok_or(NoPlace::Measures)?;
    let good = all.into_iter().filter(|(_, price)| *price <= (1.0 + AS_GOOD) * least);
    let phones = good.map(|(key, _)| search.phone(key));
    let from = start.phone();
    phones.min_by(|a, b| trouble(from, a).total_cmp(&trouble(from, b))).ok_or(NoPlace::Measures)
}

/// Whether all that is wanted can be measured from some place within `bounds`, tried at a few of
/// those that show it.
pub fn can_be_measured(lesson: &Lesson, phone: &Phone, bounds: &Bounds, seed: u64) -> bool {
    let mut search = Search::new(lesson, phone, bounds, seed);
    let spread = search.spread();
    let every = spread.len().div_ceil(TRIED).max(1);
    search.try_all(spread.into_iter().step_by(every).collect());
    !search.in_order().is_empty()
}

/// How far it is to go, metres.
fn trouble(from: &Phone, to: &Phone) -> f64 {
    let walk = (to.before_fence_m - from.before_fence_m).hypot(to.distance_m - from.distance_m);
    walk + WALK_PER_HEIGHT * (to.height_m - from.height_m).abs()
}

fn key_of(phone: &Phone) -> Key {
    let steps = |metres: f64, step: f64| (metres / step).round() as i32;
    (
        steps(phone.distance_m, STEP_M),
        steps(phone.before_fence_m, STEP_M),
        steps(phone.height_m, HEIGHT_STEP_M),
    )
}

/// Steps that lie within a range; its lower end when it is narrower than a step.
fn steps(range: &Within, step: f64, every: usize) -> Vec<i32> {
    let (low, high) = ((range.low_m / step).ceil() as i32, (range.high_m / step).floor() as i32);
    let inside: Vec<i32> = (low..=high).step_by(every).collect();
    if inside.is_empty() { vec![low] } else { inside }
}

impl<'a> Search<'a> {
    fn new(lesson: &'a Lesson, here: &'a Phone, bounds: &'a Bounds, seed: u64) -> Self {
        Self { lesson, here, bounds, seed, known: BTreeMap::new() }
    }

    /// The phone at a place; a range narrower than a step has no other than its own.
    fn phone(&self, (distance, before, height): Key) -> Phone {
        let metres = |steps: i32, step: f64, range: &Within| {
            range.nearest((f64::from(steps) * step * 10.0).round() / 10.0)
        };
        Phone {
            distance_m: metres(distance, STEP_M, &self.bounds.distance),
            before_fence_m: metres(before, STEP_M, &self.bounds.before_fence),
            height_m: metres(height, HEIGHT_STEP_M, &self.bounds.height),
            // Wherever it is put, it is pointed anew.
            aim_before_fence_m: None,
            ..*self.here
        }
    }

    fn is_inside(&self, (distance, before, height): Key) -> bool {
        let inside = |steps: i32, step: f64, range: &Within| range.holds(f64::from(steps) * step);
        inside(distance, STEP_M, &self.bounds.distance)
            && inside(before, STEP_M, &self.bounds.before_fence)
            && inside(height, HEIGHT_STEP_M, &self.bounds.height)
    }

    fn shows_all(&self, key: Key) -> bool {
        expected_marks(self.lesson, &self.phone(key)).unseen.holds_the_strides()
    }

    /// Places of the whole area that show all, thinned out, and the one nearest to where she stands.
    fn spread(&self) -> Vec<Key> {
        let bounds = self.bounds;
        let height = key_of(self.here).2;
        let heights = steps(&bounds.height, HEIGHT_STEP_M, 1);
        let height = height.clamp(heights[0], heights[heights.len() - 1]);
        let alongs = steps(&bounds.before_fence, STEP_M, 2);
        let all: Vec<Key> = steps(&bounds.distance, STEP_M, 2)
            .into_iter()
            .flat_map(|distance| alongs.iter().map(move |along| (distance, *along, height)))
            .filter(|key| self.shows_all(*key))
            .collect();
        let every = all.len().div_ceil(SPREAD).max(1);
        let mut spread: Vec<Key> = all.into_iter().step_by(every).collect();
        let here = key_of(self.here);
        spread.extend(Some(here).filter(|key| self.is_inside(*key) && self.shows_all(*key)));
        spread
    }

    /// Measures those that were not yet.
    fn try_all(&mut self, keys: Vec<Key>) {
        let mut new: Vec<Key> =
            keys.into_iter().filter(|key| !self.known.contains_key(key)).collect();
        new.sort_unstable();
        new.dedup();
        let draws = Draws { count: TRIAL_DRAWS, seed: self.seed };
        let found: Vec<(Key, Option<Wanted>)> = new
            .into_par_iter()
            .map(|key| {
                let shows = self.shows_all(key);
                let from = shows.then(|| expect(self.lesson, &self.phone(key), draws));
                (key, from.as_ref().and_then(Wanted::of))
            })
            .collect();
        self.known.extend(found);
    }

    /// What a place costs, metres of ±; `None` where not all can be measured.
    fn price_m(&self, key: &Key) -> Option<f64> {
        Some(self.known.get(key)?.as_ref()?.price_m())
    }

    /// Measured places, the best first, with what each costs.
    fn in_order(&self) -> Vec<(Key, f64)> {
        let mut found: Vec<(Key, f64)> =
            self.known.keys().filter_map(|key| Some((*key, self.price_m(key)?))).collect();
        found.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.cmp(&b.0)));
        found
    }

    /// Goes to a better neighbour as long as there is one, with ever smaller steps.
    fn improve(&mut self, start: Key) {
        let mut at = start;
        for (walk, lift) in REFINING {
            loop {
                let (distance, before, height) = at;
                let around = [
                    (distance - walk, before, height),
                    (distance + walk, before, height),
                    (distance, before - walk, height),
                    (distance, before + walk, height),
                    (distance - walk, before - walk, height),
                    (distance - walk, before + walk, height),
                    (distance, before, height - lift),
                    (distance, before, height + lift),
                ];
                let around: Vec<Key> =
                    around.into_iter().filter(|key| self.is_inside(*key)).collect();
                self.try_all(around.clone());
                let here = self.price_m(&at).unwrap_or(f64::INFINITY);
                let better = around
                    .iter()
                    .filter_map(|key| Some((self.price_m(key)?, *key)))
                    .min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
                match better {
                    Some((found, key)) if found < here => at = key,
                    _ => break,
                }
            }
        }
    }

    /// Places on the way from the best to where she stands, and the best one's at her own height.
    fn way_back(&self, best: Key) -> Vec<Key> {
        let here = key_of(self.here);
        let between = |a: i32, b: i32, part: i32| a + (b - a) * part / 8;
        let way = (0..=8).flat_map(|part| {
            let along =
                |height| (between(best.0, here.0, part), between(best.1, here.1, part), height);
            [along(between(best.2, here.2, part)), along(here.2), along(best.2)]
        });
        way.filter(|key| self.is_inside(*key)).collect()
    }
}
