//! A start for the depths of ties that may stand anywhere.
//!
//! Seen from a hand that sways, depth and sway explain each other: left free from the first step,
//! the depths run off to wherever the sway of that step sends them, near ties far and far ties
//! near, and the adjustment settles in a false bottom (the poles then misfit by twice their
//! errors). So all such ties are first held at one common depth, which leaves the sway to the
//! references; of a few depths the one that fits best starts the free adjustment.

use nalgebra::DVector;

use super::least_squares::{Stop, solve};
use super::model::Model;
use super::place::Place;
use crate::quantity::Given;

/// Common depths that are tried, in distances from the camera to the reference: ties stand
/// beside it, behind it, or on the horizon.
const DEPTHS_TRIED: [f64; 4] = [1.0, 2.0, 4.0, 12.0];
/// How closely a tie is held at the common depth, as a part of it.
const HELD_WITHIN: f64 = 0.1;

/// Where to start the adjustment; `reach` is the distance from the camera to the reference,
/// metres. A model without sway or without such ties starts as it stands.
pub fn start_with_depths_held(model: &Model, reach: f64) -> DVector<f64> {
    let own = model.unknowns.start();
    let depths: Vec<usize> = model
        .places
        .iter()
        .filter_map(|(_, place)| match place {
            Place::Towards { at, .. } => Some(at + 2),
            _ => None,
        })
        .collect();
    if depths.is_empty() || model.poses.iter().all(|pose| pose.sway.is_none()) {
        return own;
    }
    let solved = DEPTHS_TRIED.iter().filter_map(|times| {
        let log_inverse_depth = -(times * reach.max(1.0)).ln();
        let mut held = model.clone();
        // A far foot near the horizon may start hundreds of metres off: it must not drag the rest.
        held.robust = true;
        let mut x = own.clone();
        for &column in &depths {
            x[column] = log_inverse_depth;
            held.unknowns.set_prior(column, Given::new(log_inverse_depth, HELD_WITHIN));
        }
        solve(&held, x, Stop { iterations: 200, fall: 0.01, ..Stop::SURVEY }).ok()
    });
    solved.min_by(|a, b| a.rows.cost().total_cmp(&b.rows.cost())).map_or(own, |best| best.x)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::tests::model_of_every_kind;

    fn depth_columns(model: &Model) -> Vec<usize> {
        let column = |place: &Place| match place {
            Place::Towards { at, .. } => Some(at + 2),
            _ => None,
        };
        model.places.iter().filter_map(|(_, place)| column(place)).collect()
    }

    #[test]
    fn a_camera_that_cannot_sway_or_has_no_such_ties_starts_as_it_stands() {
        let (mut model, own) = model_of_every_kind(0.0);
        let swaying = model.poses.clone();
        for pose in &mut model.poses {
            pose.sway = None;
        }
        assert_eq!(start_with_depths_held(&model, 18.0), own);
        model.poses = swaying;
        model.places.retain(|(_, place)| !matches!(place, Place::Towards { .. }));
        model.clicks.clear();
        assert_eq!(start_with_depths_held(&model, 18.0), own);
    }

    #[test]
    fn ties_of_a_swaying_camera_start_at_one_common_depth() {
        // 18 m from the reference: 18, 36, 72 or 216 m, each tie within a tenth or a little more.
        let (model, own) = model_of_every_kind(0.0);
        let x = start_with_depths_held(&model, 18.0);
        assert!(x != own);
        let columns = depth_columns(&model);
        assert_eq!(columns.len(), 3);
        let common = [1.0f64, 2.0, 4.0, 12.0].into_iter().any(|times| {
            columns.iter().all(|column| (x[*column] + (18.0 * times).ln()).abs() < 0.25)
        });
        assert!(common, "{:?}", columns.iter().map(|c| (-x[*c]).exp()).collect::<Vec<_>>());
    }
}
