//! Everything the bench measures, run in one go.

use groundline::arena::marks;
use rayon::prelude::*;

use super::budget::{self, Source};
use super::cases::{Held, case};
use super::design::{Arrangement, CLICK_PX, SNAPPED_PX, as_believed};
use super::judge::{Run, run};
use super::plain::{self, Asked};
use super::score::{Datum, Quantity};
use super::wrong::{self, Mistake, Twin, Verdict, verdict};

/// Scenes of each way to hold the camera.
pub const SCENES: [(Held, u64); 3] =
    [(Held::Fixed, 200), (Held::TurnedOnAStand, 100), (Held::InTheHand, 120)];
const DESIGN_SCENES: u64 = 200;
/// A turning camera takes ten times as long.
const HAND_SCENES: u64 = 100;
/// Of the same design scenes, the first.
pub const BUDGET_SCENES: u64 = 100;
pub const MISTAKES_EACH: u64 = 60;

/// The design scene in one arrangement.
pub struct Design {
    pub arrangement: Arrangement,
    pub pole_sd_px: f64,
    pub runs: Vec<Run>,
}

/// The same scenes without one source of error.
pub struct Spared {
    pub pole_sd_px: f64,
    pub source: Source,
    pub runs: Vec<Run>,
}

/// The design scene drawn from what the survey believes.
pub struct Believed {
    pub pole_sd_px: f64,
    pub runs: Vec<Run>,
}

pub struct Found {
    pub opencv: Asked,
    pub believed: Vec<Believed>,
    pub set: Vec<Run>,
    pub design: Vec<Design>,
    pub spared: Vec<Spared>,
    pub verdicts: Vec<(Mistake, Vec<Verdict>)>,
}

impl Found {
    /// Runs everything; `say` hears how long each part took.
    pub fn all(say: &dyn Fn(&str)) -> Self {
        let numbers: Vec<(Held, u64)> =
            SCENES.iter().flat_map(|(held, count)| (0..*count).map(|n| (*held, n))).collect();
        let mut set: Vec<Run> = numbers
            .par_iter()
            .enumerate()
            .map(|(scene, (held, number))| {
                let case = case(*held, *number);
                run(&case, &marks(&case.scene, &case.truth, &case.clicking), scene)
            })
            .collect();
        say("the set");
        let mut design = Vec::new();
        for arrangement in Arrangement::ALL {
            for pole_sd_px in [CLICK_PX, SNAPPED_PX] {
                let count =
                    if arrangement == Arrangement::InTheHand { HAND_SCENES } else { DESIGN_SCENES };
                let runs = budget::runs(arrangement, pole_sd_px, None, count);
                design.push(Design { arrangement, pole_sd_px, runs });
            }
        }
        say("the design scene");
        let believed = [CLICK_PX, SNAPPED_PX]
            .into_iter()
            .map(|pole_sd_px| {
                let numbers = (0..DESIGN_SCENES).into_par_iter();
                let runs = numbers.map(|number| {
                    let (case, file) = as_believed(pole_sd_px, number);
                    run(&case, &file, number as usize)
                });
                Believed { pole_sd_px, runs: runs.collect() }
            })
            .collect();
        say("scenes drawn from the beliefs");
        let spared = [CLICK_PX, SNAPPED_PX]
            .into_iter()
            .flat_map(|pole_sd_px| Source::ALL.map(|source| (pole_sd_px, source)))
            .map(|(pole_sd_px, source)| Spared {
                pole_sd_px,
                source,
                runs: budget::runs(Arrangement::Square, pole_sd_px, Some(source), BUDGET_SCENES),
            })
            .collect();
        say("the error budget");
        let verdicts = verdicts();
        say("the mistakes");
        let designs = design.iter_mut().flat_map(|of: &mut Design| &mut of.runs);
        let opencv = plain::fill(&mut set.iter_mut().chain(designs).collect::<Vec<_>>());
        say("the homography");
        Self { opencv, believed, set, design, spared, verdicts }
    }

    pub fn design(&self, arrangement: Arrangement, pole_sd_px: f64) -> &[Run] {
        let found = self
            .design
            .iter()
            .find(|of| of.arrangement == arrangement && of.pole_sd_px == pole_sd_px);
        found.map_or(&[], |of| &of.runs)
    }

    /// Scenes of the fixed set that `wanted` picks.
    pub fn of_set(&self, wanted: impl Fn(&Run) -> bool) -> Vec<&Run> {
        self.set.iter().filter(|run| wanted(run)).collect()
    }
}

fn verdicts() -> Vec<(Mistake, Vec<Verdict>)> {
    let numbers = wrong::FIRST..wrong::FIRST + MISTAKES_EACH;
    let by_scene: Vec<Vec<Verdict>> = numbers
        .into_par_iter()
        .map(|number| {
            let usual = Twin::of(case(Held::Fixed, number));
            let of = |mistake: Mistake| match mistake {
                Mistake::SpacingTypedFocalKnown | Mistake::SpacingTypedWidthKnown => {
                    verdict(mistake, &Twin::for_mistake(mistake, number))
                }
                _ => verdict(mistake, &usual),
            };
            Mistake::ALL.map(of).into()
        })
        .collect();
    let mut by_mistake: Vec<(Mistake, Vec<Verdict>)> =
        Mistake::ALL.map(|mistake| (mistake, Vec::new())).into();
    for verdicts in by_scene {
        for ((_, of_one), verdict) in by_mistake.iter_mut().zip(verdicts) {
            of_one.push(verdict);
        }
    }
    by_mistake
}

/// All that was judged of `quantity`.
pub fn data_of<'a>(runs: impl IntoIterator<Item = &'a Run>, quantity: Quantity) -> Vec<&'a Datum> {
    runs.into_iter().flat_map(|run| &run.data).filter(|d| d.quantity == quantity).collect()
}
