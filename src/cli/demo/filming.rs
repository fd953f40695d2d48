//! Renders a scene into a clip.

use std::path::Path;

use image::RgbImage;
use indicatif::{ProgressBar, ProgressStyle};
use rayon::prelude::*;

use crate::arena::render::Renderer;
use crate::arena::{Scene, Truth};
use crate::cli::Failure;
use crate::footage::write::{ClipWriter, Preset, WriteOptions};
use crate::quantity::FrameNumber;

/// Frames painted side by side before they are written.
const BATCH: u32 = 16;

pub(super) fn film(scene: &Scene, truth: &Truth, path: &Path) -> Result<(), Failure> {
    let renderer = Renderer::new(scene, truth);
    let size = (scene.filming.picture.width, scene.filming.picture.height);
    let count = truth.frames.len() as u32;
    let options = WriteOptions { preset: Preset::Veryfast, ..WriteOptions::default() };
    let rate = (scene.filming.frames_per_s.round() as u32, 1);
    let mut writer = ClipWriter::at_rate(path, size, rate, &options)?;
    let style =
        ProgressStyle::with_template("   {bar:30} {pos} of {len} frames").map_err(Failure::new)?;
    let bar = ProgressBar::new(u64::from(count)).with_style(style);
    for first in (0..count).step_by(BATCH as usize) {
        let batch = first..(first + BATCH).min(count);
        let pictures: Vec<RgbImage> =
            batch.into_par_iter().map(|number| renderer.frame(FrameNumber(number))).collect();
        for picture in &pictures {
            writer.write(picture)?;
            bar.inc(1);
        }
    }
    bar.finish_and_clear();
    Ok(writer.finish()?)
}
