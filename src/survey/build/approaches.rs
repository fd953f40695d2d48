//! Approaches: hooves and the track beside which they land.

use std::collections::BTreeMap;

use nalgebra::Vector2;

use super::Builder;
use super::fit::line_through;
use crate::marks::{Approach, Event, MarkAddress};
use crate::survey::model::{Relation, TrackModel};
use crate::survey::place::Place;

/// How far the hooves of one limb stand beside the track on the average, sd in metres: left ones
/// to its left, right ones to its right, and a crooked horse's hinds to one side. Common practice,
/// no source.
const LIMB_BESIDE_M: f64 = 0.15;
/// How far the hooves of one limb scatter sideways about that, sd in metres. Both together make
/// 0.20 m. Common practice, no source.
const HOOF_SCATTER_M: f64 = 0.13;
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
                on_track.push((place, footfall.limb));
            }
        }
        if on_track.len() < 3 {
            return;
        }
        let points: Vec<Vector2<f64>> = on_track
            .iter()
            .filter_map(|(place, _)| match self.model.places[*place].1 {
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
        let mut beside = BTreeMap::new();
        for (hoof, limb) in on_track {
            let limb = *beside
                .entry(limb)
                .or_insert_with(|| self.model.unknowns.believed(0.0, LIMB_BESIDE_M));
            let sd = HOOF_SCATTER_M;
            self.model.relations.push(Relation::BesideTrack { hoof, track, limb, sd });
        }
    }
}
