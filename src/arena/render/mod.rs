//! The pictures a phone would take of a scene.
//!
//! Ground, sky and trees are computed for every pixel through the true camera; things that stand
//! about, horse and rider are drawn as shapes projected through the same camera. A fixed camera's
//! background is painted once. The horse is averaged over the exposure.

mod backdrop;
mod canvas;
mod colour;
mod figure;
mod furniture;
mod ground;
mod horse;
mod layer;
mod leaves;
mod leg;
mod motion;
mod neck;
mod plants;
mod prints;
mod rays;
mod rider;
mod rider_paint;
mod sensor;
mod sky;
mod swing;
mod tile;
mod timber;

use image::RgbImage;
use rayon::prelude::*;
use resvg::tiny_skia::Pixmap;

use self::backdrop::Backdrop;
use self::canvas::Canvas;
use self::colour::{Colour, LightColours};
use self::figure::Figure;
use self::furniture::Furniture;
use self::horse::HorsePainter;
use self::layer::{Area, Average};
use self::motion::Motion;
use self::rider::Rider;
use self::rider_paint::RiderPainter;
use super::filming::CameraPath;
use super::plan::Plan;
use super::scene::Scene;
use super::surroundings::Surroundings;
use super::truth::Truth;
use crate::marks::Lead;
use crate::quantity::FrameNumber;
use crate::scene::Camera;

/// Paints frames of one scene.
pub struct Renderer {
    scene: Scene,
    motion: Motion,
    path: CameraPath,
    light: LightColours,
    backdrop: Backdrop,
    furniture: Furniture,
    away: f64,
    times: Vec<f64>,
    /// The whole background, when the camera never moves.
    still: Option<Pixmap>,
}

/// Pictures averaged over the exposure of a moving horse.
const SUB_FRAMES: u16 = 3;

impl Renderer {
    /// For a scene and its truth.
    pub fn new(scene: &Scene, truth: &Truth) -> Self {
        let plan = Plan::of(scene);
        let light = colour::light(scene.filming.light);
        let surroundings = Surroundings::of(scene, &plan);
        let mut renderer = Self {
            scene: scene.clone(),
            motion: Motion::of(scene),
            path: CameraPath::of(scene, &plan),
            light,
            backdrop: Backdrop::of(scene, &plan, &surroundings, light),
            away: surroundings.away,
            furniture: Furniture::of(scene, surroundings, light),
            times: truth.frames.iter().map(|frame| frame.time_s).collect(),
            still: None,
        };
        if renderer.path.is_fixed() {
            renderer.still = Some(renderer.background(&renderer.path.at(0.0)));
        }
        renderer
    }

    /// The picture of a frame; the last one for a number past the end.
    pub fn frame(&self, frame: FrameNumber) -> RgbImage {
        let last = self.times.len().saturating_sub(1);
        let time = self.times.get((frame.0 as usize).min(last)).copied().unwrap_or(0.0);
        let camera = self.path.at(time);
        let background = || match &self.still {
            Some(still) => still.clone(),
            None => self.background(&camera),
        };
        let (mut picture, horse) = rayon::join(background, || self.horse(time));
        let surface = self.scene.ground.surface;
        let mut canvas = Canvas { pixels: &mut picture, camera, origin: (0.0, 0.0) };
        prints::paint_prints(&mut canvas, &self.motion, surface, time);
        if let Some((average, area)) = horse {
            average.over(&mut picture, area);
        }
        let mut canvas = Canvas { pixels: &mut picture, camera, origin: (0.0, 0.0) };
        prints::paint_dust(&mut canvas, &self.motion, &self.light, surface, time);
        self.furniture.paint_near(&mut canvas);
        let noise = self.scene.filming.noise_levels;
        sensor::read_out(&picture, noise, self.scene.seed, frame.0)
    }

    fn background(&self, camera: &Camera) -> Pixmap {
        let size = self.scene.filming.picture;
        let mut picture = empty(size.width, size.height);
        let (wide, high) = (size.width as usize, size.height as usize);
        self.backdrop.paint(camera, picture.data_mut(), (wide, high));
        let mut canvas = Canvas { pixels: &mut picture, camera: *camera, origin: (0.0, 0.0) };
        self.furniture.paint_far(&mut canvas);
        picture
    }

    /// Horse, rider and shadow averaged over the exposure, and where they belong; `None` when
    /// they are out of the picture.
    fn horse(&self, time: f64) -> Option<(Average, Area)> {
        let exposure = self.scene.filming.exposure_s;
        let count = if exposure > 0.0 { SUB_FRAMES } else { 1 };
        let moments: Vec<(Camera, Figure, Rider)> = (0..count)
            .map(|i| {
                let share = (f64::from(i) + 0.5) / f64::from(count) - 0.5;
                let moment = time + share * exposure;
                let figure = self.figure(moment);
                let rider = Rider::on(&figure);
                (self.path.at(moment), figure, rider)
            })
            .collect();
        let discs: Vec<_> = moments
            .iter()
            .flat_map(|(camera, figure, rider)| {
                layer::covered(camera, &layer::chains(figure, rider), &self.light, self.away)
            })
            .collect();
        let size = self.scene.filming.picture;
        let area = Area::around(&discs, (size.width, size.height))?;
        let painted: Vec<Pixmap> = moments
            .par_iter()
            .map(|(camera, figure, rider)| {
                let mut pixels = empty(area.wide, area.high);
                let origin = (area.x as f32, area.y as f32);
                let mut canvas = Canvas { pixels: &mut pixels, camera: *camera, origin };
                self.paint_horse(&mut canvas, figure, rider);
                pixels
            })
            .collect();
        Some((Average::of(&painted), area))
    }

    fn figure(&self, time: f64) -> Figure {
        let near = if self.scene.filming.distance_m < 0.0 { Lead::Left } else { Lead::Right };
        Figure::at(&self.motion, time, self.scene.ride.lead, near)
    }

    fn paint_horse(&self, canvas: &mut Canvas<'_>, figure: &Figure, rider: &Rider) {
        let lead = self.scene.ride.lead;
        let coat = colour::coat(self.scene.horse.coat);
        let horse = HorsePainter { coat, light: &self.light, lead };
        let jacket = Colour::new(38.0, 52.0, 92.0);
        let painter = RiderPainter { light: &self.light, jacket };
        let chains = layer::chains(figure, rider);
        layer::paint_shadow(canvas, &chains, figure, &self.light, self.away);
        horse.far_parts(canvas, figure);
        painter.far_parts(canvas, figure, rider);
        horse.near_parts(canvas, figure);
        painter.saddle(canvas, figure);
        painter.near_parts(canvas, figure, rider);
    }
}

/// A clear picture. Sizes are checked with the scene, so a picture of one pixel never shows.
fn empty(wide: u32, high: u32) -> Pixmap {
    Pixmap::new(wide.max(1), high.max(1)).unwrap_or_else(|| unreachable!("sizes are checked"))
}

#[cfg(test)]
mod tests;
