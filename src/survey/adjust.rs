//! The driver: start, adjust, test, leave out what does not fit, adjust again, report.

use std::collections::BTreeMap;

use nalgebra::{DMatrix, DVector};

use super::build::build;
use super::depths::start_with_depths_held;
use super::doubt::SurveyDoubt;
use super::error::SurveyError;
use super::gauge::Gauge;
use super::least_squares::{Problem, Solution, SolveError, Stop, covariance, solve};
use super::misfit::{Misfit, log_chi_square_tail};
use super::model::Model;
use super::outcome::{MarkResidual, Survey, Suspect};
use super::pose::triple;
use super::report::report;
use super::snoop::{free_orphan, without, worst};
use super::start::Start;
use super::unknowns::Meaning;
use crate::marks::{MarkAddress, MarksFile};
use crate::pan::RelativeMotion;
use crate::quantity::{FrameNumber, Given};

/// A bend is believed once its prior is off by this many standard deviations.
const BEND_ASKED_FOR: f64 = 2.5;
/// Bend of an approach whose residuals ask for one, sd in 1/m (a radius of 25 m).
const BENDING_SD: f64 = 0.04;

/// The adjustment as it stands between two tests.
#[derive(Clone)]
pub(super) struct Adjusted {
    pub model: Model,
    pub solution: Solution,
    pub covariance: DMatrix<f64>,
    pub suspects: Vec<Suspect>,
    pub doubts: Vec<SurveyDoubt>,
    pub unjoined: Vec<FrameNumber>,
}

/// Adjusts all marks of a file jointly, each taken for the point that it names.
pub(super) fn survey_as_marked(
    file: &MarksFile,
    motions: &[RelativeMotion],
) -> Result<Survey, SurveyError> {
    let gauge = Gauge::choose(file)?;
    let starts = Start::find(file, &gauge, motions)?;
    let mut adjusted = adjusted_from_the_best(file, &gauge, starts, motions)?;
    // A bend that is not believed in looks like a pole out of place or a wrong spacing: it is
    // asked first, and once more when what does not fit is gone.
    adjusted = with_bends_asked_for(adjusted)?;
    let most = adjusted.model.clicks.len().div_ceil(10).max(3);
    for _ in 0..most {
        let culprits = worst(&adjusted);
        // A bad click on a pole's end and a pole out of place look alike: whichever, once given
        // up, leaves the better fit is the one.
        let mut better: Option<Adjusted> = None;
        for culprit in culprits {
            let after = without(adjusted.clone(), culprit)?;
            if better.as_ref().is_none_or(|b| after.solution.rows.cost() < b.solution.rows.cost()) {
                better = Some(after);
            }
        }
        match better {
            Some(after) => adjusted = after,
            None => break,
        }
    }
    adjusted = with_bends_asked_for(adjusted)?;
    adjusted.doubts.extend(overall_doubts(&adjusted, &gauge));
    let height_m = adjusted.solution.x[adjusted.model.camera.position + 2];
    if height_m <= 0.0 {
        return Err(SurveyError::UnderGround { reference: gauge.id, depth_m: -height_m });
    }
    report(file, adjusted)
}

/// Adjusts from each start, with bad clicks forgiven, and goes on from where the fit is best.
fn adjusted_from_the_best(
    file: &MarksFile,
    gauge: &Gauge,
    starts: Vec<Start>,
    motions: &[RelativeMotion],
) -> Result<Adjusted, SurveyError> {
    let mut best: Result<(Model, Solution, Vec<FrameNumber>), SurveyError> =
        Err(SurveyError::NoCamera { reference: gauge.id.clone(), off_px: f64::NAN });
    for start in starts {
        let mut model = build(file, gauge, &start, motions);
        let held = start_with_depths_held(&model, (gauge.middle() - start.position).norm());
        model.robust = true;
        // Only where to start from: a robust search creeps near its bottom, and need not get there.
        let found = solve(&model, held, Stop { iterations: 50, fall: 0.01, ..Stop::SURVEY })
            .map_err(|error| refusal(error, &model));
        match (found, &best) {
            (Ok(found), Ok((_, least, _))) if found.rows.cost() >= least.rows.cost() => {}
            (Ok(found), _) => best = Ok((model, found, start.unjoined)),
            (Err(_), Ok(_)) => {}
            (Err(refused), Err(_)) => best = Err(refused),
        }
    }
    let (mut model, first, unjoined) = best?;
    model.robust = false;
    let adjusted = match adjust(model.clone(), first.x.clone()) {
        Err(SurveyError::NotSettled { .. }) => adjust_without_gross(model, first)?,
        adjusted => adjusted?,
    };
    Ok(Adjusted { unjoined, ..adjusted })
}

/// A click this many standard deviations from where the forgiving search expects it is on the
/// wrong thing.
const GROSS_SDS: f64 = 10.0;

/// Leaves out what lies so far off that no adjustment that believes it settles, and adjusts.
fn adjust_without_gross(mut model: Model, forgiving: Solution) -> Result<Adjusted, SurveyError> {
    let mut gross = Vec::new();
    for index in 0..model.clicks.len() {
        let Some(point) = expected(&model, &forgiving.x, index) else { continue };
        let click = &model.clicks[index];
        let off_px = point.distance(click.at);
        let off_sds = off_px / click.sd_px;
        if off_sds > GROSS_SDS {
            let mark = model.places[click.place].0.clone();
            gross.push((index, Suspect { mark, frame: click.frame, off_px, off_sds }));
        }
    }
    for (index, _) in &gross {
        model.clicks[*index].used = false;
        free_orphan(&mut model, *index, &forgiving.x);
    }
    let suspects = gross.into_iter().map(|(_, suspect)| suspect).collect();
    Ok(Adjusted { suspects, ..adjust(model, forgiving.x)? })
}

fn run(model: &Model, start: DVector<f64>) -> Result<Solution, SurveyError> {
    let solution = solve(model, start, Stop::SURVEY).map_err(|error| refusal(error, model))?;
    if !solution.converged {
        return Err(SurveyError::NotSettled { iterations: solution.iterations });
    }
    Ok(solution)
}

/// Why there is no solution, in words.
fn refusal(error: SolveError, model: &Model) -> SurveyError {
    SurveyError::from_solver(error, |column| open_column(model, column))
}

/// What an undetermined column is, in words.
fn open_column(model: &Model, column: usize) -> String {
    match model.unknowns.meaning(column) {
        Meaning::Focal => "the focal length".into(),
        Meaning::CameraHeight => "the height of the camera".into(),
        Meaning::Spacing { reference } | Meaning::StatedLength { reference } => {
            format!("a length of `{reference}`")
        }
        Meaning::PoleShift { reference, pole } => {
            format!("the place of pole {pole} of `{reference}`")
        }
        Meaning::Plain => {
            let place = model.places.iter().find(|(_, place)| match place {
                super::place::Place::OnGround { at, .. } => *at == column || at + 1 == column,
                _ => false,
            });
            place.map_or("the camera's place or turn".into(), |(address, _)| {
                format!("the place of {address}")
            })
        }
    }
}

fn adjust(model: Model, start: DVector<f64>) -> Result<Adjusted, SurveyError> {
    let solution = run(&model, start)?;
    let covariance =
        covariance(&solution.rows, model.unknowns.len()).map_err(|error| refusal(error, &model))?;
    let (suspects, doubts, unjoined) = (Vec::new(), Vec::new(), Vec::new());
    Ok(Adjusted { model, solution, covariance, suspects, doubts, unjoined })
}

pub(super) fn readjust(before: Adjusted, model: Model) -> Result<Adjusted, SurveyError> {
    let after = adjust(model, before.solution.x)?;
    Ok(Adjusted {
        suspects: before.suspects,
        doubts: before.doubts,
        unjoined: before.unjoined,
        ..after
    })
}

/// Where the survey expects a click.
pub(super) fn expected(
    model: &Model,
    x: &DVector<f64>,
    click: usize,
) -> Option<crate::scene::FramePoint> {
    let click = &model.clicks[click];
    let camera = model.camera_at(x, click.pose);
    let located = model.places[click.place].1.locate(x);
    let offset = match located.inverse_depth {
        None => located.point - camera.pose.position.vector(),
        Some((_, inverse_depth)) => {
            let mean = triple(x, model.camera.position);
            located.point - inverse_depth * (camera.pose.position.vector() - mean)
        }
    };
    Some(camera.project_offset(offset).ok()?.point)
}

/// Believes in a bend where the straight track's residuals ask for one.
fn with_bends_asked_for(mut adjusted: Adjusted) -> Result<Adjusted, SurveyError> {
    for track in 0..adjusted.model.tracks.len() {
        let (approach, first) = {
            let (id, model) = &adjusted.model.tracks[track];
            (id.clone(), model.first)
        };
        let Some(row) = adjusted.model.prior_row(first + 2) else { continue };
        let misfit = Misfit::of_row(&adjusted.solution.rows, &adjusted.covariance, row);
        if misfit.is_some_and(|misfit| misfit.in_sds > BEND_ASKED_FOR) {
            let mut model = adjusted.model.clone();
            model.unknowns.set_prior(first + 2, Given::new(0.0, BENDING_SD));
            adjusted = readjust(adjusted, model)?;
            adjusted.doubts.push(SurveyDoubt::TrackBends { approach });
        }
    }
    Ok(adjusted)
}

/// Doubts about the survey as a whole.
fn overall_doubts(adjusted: &Adjusted, gauge: &Gauge) -> Vec<SurveyDoubt> {
    let mut doubts = Vec::new();
    if gauge.is_one_line() {
        doubts.push(SurveyDoubt::ReferencesOnOneLine { reference: gauge.id.clone() });
    }
    for &frame in &adjusted.unjoined {
        doubts.push(SurveyDoubt::FrameNotJoined { frame });
    }
    let rows = adjusted.model.rows(&adjusted.solution.x);
    if let Some(rows) = rows {
        let freedom = rows.len() as f64 - adjusted.model.unknowns.len() as f64;
        let squares = 2.0 * rows.cost();
        if freedom >= 1.0 && log_chi_square_tail(squares, freedom) < 0.001_f64.ln() {
            doubts.push(SurveyDoubt::MarksFitBadly { ratio: (squares / freedom).sqrt() });
        }
    }
    doubts
}

/// Residuals of all clicks, suspects included.
pub(super) fn residuals(adjusted: &Adjusted) -> Vec<MarkResidual> {
    let Adjusted { model, solution, covariance, .. } = adjusted;
    let mut row = 0;
    let mut residuals = Vec::with_capacity(model.clicks.len());
    for (index, click) in model.clicks.iter().enumerate() {
        let misfit = click.used.then(|| {
            row += 2;
            Misfit::of_click(&solution.rows, covariance, row - 2)
        });
        let Some(point) = expected(model, &solution.x, index) else { continue };
        residuals.push(MarkResidual {
            mark: model.places[click.place].0.clone(),
            frame: click.frame,
            dx_px: click.at.x - point.x,
            dy_px: click.at.y - point.y,
            in_sds: misfit.flatten().map(|misfit| misfit.in_sds),
        });
    }
    residuals
}

/// Columns of the places that still have a click, by address.
pub(super) fn place_columns(model: &Model) -> BTreeMap<MarkAddress, usize> {
    model
        .places
        .iter()
        .enumerate()
        .filter_map(|(index, (address, place))| match place {
            super::place::Place::OnGround { at, .. } => {
                let seen = model.clicks.iter().any(|click| click.used && click.place == index);
                seen.then(|| (address.clone(), *at))
            }
            _ => None,
        })
        .collect()
}

#[cfg(test)]
mod tests;
