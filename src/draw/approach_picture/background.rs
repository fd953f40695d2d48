//! What stands still: the middle of what the frames show, in matched brightness.

use image::{GrayImage, Luma, Rgb, RgbImage};
use rayon::prelude::*;

use super::layer::Layer;
use crate::scene::PictureSize;

/// The joined scenery.
#[derive(Clone, Debug)]
pub(super) struct Background {
    /// Its picture.
    pub picture: RgbImage,
    /// 0 where no frame shows it, [`DOUBTED`] where a horse may be on all that do, else [`CLEAN`].
    pub covered: GrayImage,
}

/// Values of [`Background::covered`].
pub(super) const DOUBTED: u8 = 128;
/// See [`DOUBTED`].
pub(super) const CLEAN: u8 = 255;

/// Every which pixel tells the brightness of a frame.
const SAMPLED: usize = 6;
/// Rounds of matching the frames' brightness to that of their middle.
const ROUNDS: usize = 3;
/// Darker or brighter than this a channel tells no brightness: it may be clipped.
const UNCLIPPED: std::ops::RangeInclusive<u8> = 12..=243;

/// Matches the brightness of the layers and joins them.
pub(super) fn join(layers: &mut [Layer], size: PictureSize) -> Background {
    for _ in 0..ROUNDS {
        let middles = sampled(layers, size);
        let gains: Vec<[f64; 3]> =
            layers.par_iter().map(|layer| gain(layer, &middles, size)).collect();
        // The mean stays as it was.
        let mean: [f64; 3] = std::array::from_fn(|channel| {
            gains.iter().map(|gain| gain[channel]).sum::<f64>() / gains.len().max(1) as f64
        });
        for (layer, gain) in layers.iter_mut().zip(gains) {
            layer.gain = std::array::from_fn(|channel| gain[channel] / mean[channel]);
        }
    }
    let width = size.width as usize;
    let mut picture = RgbImage::new(size.width, size.height);
    let mut covered = GrayImage::new(size.width, size.height);
    let rows = picture.par_chunks_mut(3 * width).zip(covered.par_chunks_mut(width)).enumerate();
    rows.for_each(|(y, (row, covered))| {
        let mut seen = Vec::with_capacity(layers.len());
        for x in 0..width {
            if let Some((colour, clean)) = middle(layers, x as u32, y as u32, &mut seen) {
                row[3 * x..3 * x + 3]
                    .copy_from_slice(&colour.map(|c| c.round().clamp(0.0, 255.0) as u8));
                covered[x] = if clean { CLEAN } else { DOUBTED };
            }
        }
    });
    Background { picture, covered }
}

/// What one layer shows at a pixel.
struct Seen {
    luma: f64,
    colour: [f64; 3],
    weight: f64,
}

/// The middle of what the layers show at a pixel: those where the horse may be are asked only
/// when there is no other; whether there was another.
fn middle(layers: &[Layer], x: u32, y: u32, seen: &mut Vec<Seen>) -> Option<([f64; 3], bool)> {
    seen.clear();
    let mut least_near = u8::MAX;
    for layer in layers {
        let Some((column, row)) = layer.at(x, y) else { continue };
        // Where all may show the horse, those count from which it is farthest.
        let near = layer.horse.get_pixel(column, row).0[0];
        if near > least_near {
            continue;
        }
        if near < least_near {
            least_near = near;
            seen.clear();
        }
        let colour = layer.matched(layer.picture.get_pixel(column, row));
        let weight = f64::from(layer.weight.get_pixel(column, row).0[0]);
        seen.push(Seen { luma: luma(colour), colour, weight });
    }
    if seen.is_empty() {
        return None;
    }
    seen.sort_by(|a, b| a.luma.total_cmp(&b.luma));
    // The mean of the middle half: less noise than the one in the middle, and no ghosts.
    let quarter = seen.len() / 4;
    let kept = &seen[quarter..seen.len() - quarter];
    let all: f64 = kept.iter().map(|seen| seen.weight).sum();
    let colour = std::array::from_fn(|channel| {
        kept.iter().map(|seen| seen.weight * seen.colour[channel]).sum::<f64>() / all
    });
    Some((colour, least_near == 0))
}

pub(super) fn luma(colour: [f64; 3]) -> f64 {
    0.2126 * colour[0] + 0.7152 * colour[1] + 0.0722 * colour[2]
}

/// The middle at every sampled pixel, row by row.
fn sampled(layers: &[Layer], size: PictureSize) -> Vec<Option<[f64; 3]>> {
    let rows: Vec<u32> = (0..size.height).step_by(SAMPLED).collect();
    let row = |y: &u32| {
        let mut seen = Vec::new();
        let columns = (0..size.width).step_by(SAMPLED);
        columns.map(|x| Some(middle(layers, x, *y, &mut seen)?.0)).collect::<Vec<_>>()
    };
    rows.par_iter().flat_map_iter(row).collect()
}

/// By how much the channels of `layer` must be multiplied to be as bright as the middle.
fn gain(layer: &Layer, sampled: &[Option<[f64; 3]>], size: PictureSize) -> [f64; 3] {
    let across = (size.width as usize).div_ceil(SAMPLED);
    let mut ratios: [Vec<f64>; 3] = Default::default();
    for (index, middle) in sampled.iter().enumerate() {
        let (x, y) = ((index % across * SAMPLED) as u32, (index / across * SAMPLED) as u32);
        let (Some(middle), Some((column, row))) = (middle, layer.at(x, y)) else { continue };
        if layer.horse.get_pixel(column, row) != &Luma([0]) {
            continue;
        }
        let Rgb(own) = layer.picture.get_pixel(column, row);
        for channel in 0..3 {
            if UNCLIPPED.contains(&own[channel]) {
                ratios[channel].push(middle[channel] / f64::from(own[channel]));
            }
        }
    }
    std::array::from_fn(|channel| {
        let ratios = &mut ratios[channel];
        ratios.sort_by(f64::total_cmp);
        ratios.get(ratios.len() / 2).copied().unwrap_or(layer.gain[channel]).clamp(0.4, 2.5)
    })
}
