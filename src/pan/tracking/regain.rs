//! Finding points again that were away: the pan comes back, or the picture after a loss.
//!
//! Each is looked for by its own patch, stretched as the maps between key frames say, about the
//! place they predict; a likeness counts only when it stands out from every other in reach (posts
//! of a rail look alike) and when the finds agree on one map.

use nalgebra::Matrix2;
use rayon::prelude::*;

use super::consensus::Judge;
use super::follow::{Followed, follow};
use super::luma::LumaView;
use super::patch::{PATCH_LEVELS, Patch};
use super::picture_map::{Pair, PictureMap};
use super::pyramid::Pyramid;
use crate::scene::FramePoint;

/// Reach of the compared square at the coarse level.
const REACH: i32 = 6;
const SIDE: usize = 2 * REACH as usize + 1;
/// Least likeness at the coarse level.
const LIKE: f32 = 0.75;
/// Places this near to the best are the same place, pixels of the coarse level.
const SAME_PX: i32 = 3;

/// A point to look for.
#[derive(Clone, Copy)]
pub(super) struct Wanted<'a> {
    pub(super) patch: &'a Patch,
    /// Where it should be, pixels of the full picture.
    pub(super) at: FramePoint,
    pub(super) stretch: Matrix2<f64>,
}

/// The points found again and the map that they agree on.
pub(super) struct Regained {
    /// For each wanted point.
    pub(super) found: Vec<Option<Followed>>,
    pub(super) count: usize,
    /// To where they are from where they were predicted.
    pub(super) correction: PictureMap,
}

/// Looks for `wanted`, each within `reach` pixels of the coarse level (a quarter of full size).
/// `None` when fewer than `least` agree.
pub(super) fn regain(
    pyramid: &Pyramid<'_>,
    wanted: &[Wanted<'_>],
    reach: i32,
    judge: &Judge,
    least: usize,
) -> Option<Regained> {
    let search = |wanted: &Wanted<'_>, reach| {
        let coarse = stands_out(pyramid.level(PATCH_LEVELS - 1), wanted, reach)?;
        follow(pyramid, wanted.patch, &wanted.stretch, coarse)
    };
    let first: Vec<Option<Followed>> =
        wanted.par_iter().map(|wanted| search(wanted, reach)).collect();
    let pairs = |found: &[Option<Followed>]| -> (Vec<usize>, Vec<Pair>) {
        wanted
            .iter()
            .zip(found)
            .enumerate()
            .filter_map(|(i, (wanted, found))| {
                found.map(|found| (i, Pair { from: wanted.at, to: found.found.at }))
            })
            .unzip()
    };
    let (_, offered) = pairs(&first);
    let correction = judge.agree(&offered, Some(&PictureMap::identity()))?.map;
    // Again from corrected places, with so little reach that few likenesses can compete.
    let second: Vec<Option<Followed>> = wanted
        .par_iter()
        .map(|wanted| {
            let at = correction.apply(wanted.at)?;
            search(&Wanted { at, ..*wanted }, 2)
        })
        .collect();
    let (which, offered) = pairs(&second);
    let agreed = judge.agree(&offered, Some(&correction))?;
    if agreed.count < least {
        return None;
    }
    let mut found = vec![None; wanted.len()];
    for (&i, agrees) in which.iter().zip(&agreed.agrees) {
        if *agrees {
            found[i] = second[i];
        }
    }
    Some(Regained { found, count: agreed.count, correction: agreed.map })
}

/// The place (full picture) of the best likeness within `reach`, when it stands out.
fn stands_out(view: LumaView<'_>, wanted: &Wanted<'_>, reach: i32) -> Option<FramePoint> {
    let level = PATCH_LEVELS - 1;
    let scale = 0.5_f64.powi(level as i32);
    let (x, y) = (wanted.at.x * scale - 0.5, wanted.at.y * scale - 0.5);
    let (left, top) = (x.round() as i32, y.round() as i32);
    let edge = reach + REACH;
    let inside = left - edge >= 0
        && top - edge >= 0
        && left + edge < view.wide as i32
        && top + edge < view.high as i32;
    if !inside {
        return None;
    }
    let shape = stretched(wanted, level)?;
    let side = (2 * reach + 1) as usize;
    let likeness: Vec<f32> = (0..side * side)
        .map(|i| {
            let dx = (i % side) as i32 - reach;
            let dy = (i / side) as i32 - reach;
            likeness(view, &shape, (left + dx - REACH) as usize, (top + dy - REACH) as usize)
        })
        .collect();
    let (best, &like) = likeness.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1))?;
    if like < LIKE {
        return None;
    }
    let (bx, by) = ((best % side) as i32, (best / side) as i32);
    let rival = likeness
        .iter()
        .enumerate()
        .filter(|(i, _)| {
            let (x, y) = ((i % side) as i32, (i / side) as i32);
            (x - bx).abs().max((y - by).abs()) >= SAME_PX
        })
        .map(|(_, &like)| like)
        .fold(-1.0, f32::max);
    if 1.0 - rival < 1.6 * (1.0 - like) + 0.04 {
        return None;
    }
    let place = |base: i32, step: i32| (f64::from(base + step - reach) + 0.5) / scale;
    Some(FramePoint::new(place(left, bx), place(top, by)))
}

/// The patch as it should look now, on whole pixels: mean zero, length one.
fn stretched(wanted: &Wanted<'_>, level: usize) -> Option<[f32; SIDE * SIDE]> {
    let rows: [[f32; SIDE]; SIDE] = wanted.patch.stretched(level, &wanted.stretch)?;
    let mut shape = [0.0; SIDE * SIDE];
    shape.chunks_exact_mut(SIDE).zip(&rows).for_each(|(out, row)| out.copy_from_slice(row));
    let mean = shape.iter().sum::<f32>() / (SIDE * SIDE) as f32;
    shape.iter_mut().for_each(|value| *value -= mean);
    let length = shape.iter().map(|value| value * value).sum::<f32>().sqrt();
    // Less contrast than noise has is no likeness to go by.
    if length < 1.5 * SIDE as f32 {
        return None;
    }
    shape.iter_mut().for_each(|value| *value /= length);
    Some(shape)
}

fn likeness(view: LumaView<'_>, shape: &[f32; SIDE * SIDE], left: usize, top: usize) -> f32 {
    let (mut shared, mut sum, mut squares) = (0.0_f32, 0.0_f32, 0.0_f32);
    for (j, shape) in shape.chunks_exact(SIDE).enumerate() {
        let row = &view.row(top + j)[left..left + SIDE];
        for (shape, &value) in shape.iter().zip(row) {
            let value = f32::from(value);
            shared += shape * value;
            sum += value;
            squares += value * value;
        }
    }
    let energy = squares - sum * sum / (SIDE * SIDE) as f32;
    shared / energy.max(1.0).sqrt()
}

#[cfg(test)]
mod tests;
