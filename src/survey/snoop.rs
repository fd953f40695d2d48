//! Data snooping: which click or belief fits worst, and the adjustment without it.

use nalgebra::DVector;

use super::adjust::{Adjusted, expected, readjust};
use super::doubt::SurveyDoubt;
use super::error::SurveyError;
use super::misfit::Misfit;
use super::model::Model;
use super::outcome::Suspect;
use super::place::Place;
use super::unknowns::Meaning;
use crate::quantity::Given;

/// Chance of naming anything at all in a file without a mistake.
const FALSE_ALARM: f64 = 0.01;

/// Something that does not fit.
pub(super) enum Culprit {
    Click { index: usize, misfit: Misfit },
    Prior { column: usize },
}

/// The least likely click and the least likely prior, as far as they are unlikely enough.
pub(super) fn worst(adjusted: &Adjusted) -> Vec<Culprit> {
    let Adjusted { model, solution, covariance, .. } = adjusted;
    let clicks: Vec<(Misfit, Culprit)> = used_clicks(model)
        .enumerate()
        .filter_map(|(row, index)| {
            let misfit = Misfit::of_click(&solution.rows, covariance, 2 * row)?;
            Some((misfit, Culprit::Click { index, misfit }))
        })
        .collect();
    let priors: Vec<(Misfit, Culprit)> = model
        .unknowns
        .priors()
        .filter(|(column, _)| *model.unknowns.meaning(*column) != Meaning::Plain)
        .filter_map(|(column, _)| {
            let row = model.prior_row(column)?;
            let misfit = Misfit::of_row(&solution.rows, covariance, row)?;
            Some((misfit, Culprit::Prior { column }))
        })
        .collect();
    // One chance of a false alarm for all: testing the few stated lengths among themselves, with a
    // wider limit, gave up the camera's height on turning tracks and ruined whole scenes.
    let limit = (FALSE_ALARM / (clicks.len() + priors.len()).max(1) as f64).ln();
    [clicks, priors]
        .into_iter()
        .filter_map(|tested| {
            tested.into_iter().min_by(|a, b| a.0.log_probability.total_cmp(&b.0.log_probability))
        })
        .filter(|(misfit, _)| misfit.log_probability < limit)
        .map(|(_, culprit)| culprit)
        .collect()
}

fn used_clicks(model: &Model) -> impl Iterator<Item = usize> + '_ {
    model.clicks.iter().enumerate().filter(|(_, click)| click.used).map(|(index, _)| index)
}

/// Leaves the culprit out (a click) or stops believing it (a prior), and adjusts again.
pub(super) fn without(mut before: Adjusted, culprit: Culprit) -> Result<Adjusted, SurveyError> {
    let mut model = before.model.clone();
    match culprit {
        Culprit::Click { index, misfit } => {
            model.clicks[index].used = false;
            free_orphan(&mut model, index, &before.solution.x);
            let mut after = readjust(before, model)?;
            let click = &after.model.clicks[index];
            let off = expected(&after.model, &after.solution.x, index)
                .map_or(0.0, |point| point.distance(click.at));
            after.suspects.push(Suspect {
                mark: after.model.places[click.place].0.clone(),
                frame: click.frame,
                off_px: off,
                off_sds: misfit.in_sds,
            });
            Ok(after)
        }
        Culprit::Prior { column } => {
            let belief = model
                .unknowns
                .priors()
                .find(|(known, _)| *known == column)
                .map_or(Given::new(0.0, 1.0), |(_, belief)| belief);
            let meaning = model.unknowns.meaning(column).clone();
            let loose = match meaning {
                Meaning::PoleShift { .. } => 0.5,
                Meaning::Spacing { .. } => 0.2,
                _ => belief.sd.max(0.1 * belief.value.abs()) * 5.0,
            };
            model.unknowns.set_prior(column, Given::new(belief.value, loose.max(belief.sd * 5.0)));
            let doubts = std::mem::take(&mut before.doubts);
            let mut after = readjust(before, model)?;
            after.doubts = doubts;
            let found = after.solution.x[column];
            after.doubts.extend(SurveyDoubt::of_prior(meaning, belief, found));
            Ok(after)
        }
    }
}

/// A place whose last click is left out would be open: it gets a belief too weak to matter.
pub(super) fn free_orphan(model: &mut Model, click: usize, x: &DVector<f64>) {
    let place = model.clicks[click].place;
    if model.clicks.iter().any(|other| other.used && other.place == place) {
        return;
    }
    if let Place::OnGround { at, .. } = model.places[place].1 {
        for column in [at, at + 1] {
            model.unknowns.set_prior(column, Given::new(x[column], 1e3));
        }
    }
}
