//! Approaches: hooves and the track beside which they land.

use nalgebra::Vector2;

use super::Builder;
use super::fit::line_through;
use crate::marks::{Approach, Event, MarkAddress};
use crate::survey::model::{Relation, TrackModel};
use crate::survey::place::Place;

/// How far hooves scatter sideways about the track, sd in metres: limbs stand left and right of
/// the horse's middle. Common practice, no source.
const HOOF_SCATTER_M: f64 = 0.20;
/// Bend of an approach that is meant to be straight, sd in 1/m.
const STRAIGHT_BEND_SD: f64 = 0.004;

impl Builder<'_> {
    pub(super) fn approach(&mut self, approach: &Approach) {
        let mut on_track = Vec::new();
        let mut footfalls: Vec<_> = approach.footfalls.iter().filter(|f| !f.hidden).collect();
        footfalls.sort_by_key(|footfall| footfall.mark.frame);
        for footfall in footfalls {
            let address = MarkAddress::Footfall {
                approach: approach.id.clone(),
                footfall: footfall.id.clone(),
            };
            let marks = std::slice::from_ref(&footfall.mark);
            let Some(place) = self.ground_place(address, marks, 0.0) else { continue };
            if footfall.event != Event::Away {
                on_track.push(place);
            }
        }
        if on_track.len() < 3 {
            return;
        }
        let points: Vec<Vector2<f64>> = on_track
            .iter()
            .filter_map(|place| match self.model.places[*place].1 {
                Place::OnGround { at, .. } => {
                    let x = self.model.unknowns.start();
                    Some(Vector2::new(x[at], x[at + 1]))
                }
                _ => None,
            })
            .collect();
        let (origin, heading) = line_through(&points);
        let first = self.model.unknowns.free(0.0);
        self.model.unknowns.free(0.0);
        self.model.unknowns.believed(0.0, STRAIGHT_BEND_SD);
        let track = self.model.tracks.len();
        self.model.tracks.push((approach.id.clone(), TrackModel { origin, heading, first }));
        for hoof in on_track {
            self.model.relations.push(Relation::BesideTrack { hoof, track, sd: HOOF_SCATTER_M });
        }
    }
}
