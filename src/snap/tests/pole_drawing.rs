//! Poles drawn with exact area coverage: 16 × 16 samples a pixel.

use image::{GrayImage, Luma};
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use rand_distr::{Distribution, Normal};

use crate::scene::FramePoint;

/// A pole lying on sand.
#[derive(Clone, Debug)]
pub(super) struct DrawnPole {
    /// Middle of the end face.
    pub(super) end: FramePoint,
    /// Towards the other end, radians, y down.
    pub(super) direction: f64,
    pub(super) thickness: f64,
    pub(super) length: f64,
    /// How far the rim of the end face bulges, share of the half thickness.
    pub(super) bulge: f64,
    /// Levels of the bands, this end first; shaded round.
    pub(super) bands: Vec<f64>,
    /// Level of the end face, seen where the end looks towards the camera.
    pub(super) face: f64,
    pub(super) ground: f64,
    /// Levels that the shadow takes from the ground, and its shift across, pixels.
    pub(super) shadow: (f64, f64),
    pub(super) noise: f64,
    pub(super) seed: u64,
}

pub(super) const SIDE: u32 = 96;

impl DrawnPole {
    /// The other end's middle.
    pub(super) fn other_end(&self) -> FramePoint {
        let (sin, cos) = self.direction.sin_cos();
        FramePoint::new(self.end.x + self.length * cos, self.end.y + self.length * sin)
    }

    fn covers(&self, t: f64, u: f64) -> bool {
        let half = self.thickness / 2.0;
        let share = u / half;
        if share.abs() > 1.0 {
            return false;
        }
        let bulge = self.bulge * half * (1.0 - share * share).sqrt();
        t > -bulge && t < self.length + bulge
    }

    fn level(&self, x: f64, y: f64) -> f64 {
        let (sin, cos) = self.direction.sin_cos();
        let (dx, dy) = (x - self.end.x, y - self.end.y);
        let (t, u) = (dx * cos + dy * sin, dy * cos - dx * sin);
        if self.covers(t, u) {
            let half = self.thickness / 2.0;
            if sin < 0.0 && (t / (self.bulge * half).max(1e-9)).hypot(u / half) < 1.0 {
                return self.face;
            }
            let count = self.bands.len();
            let band = (t / self.length * count as f64).max(0.0) as usize;
            let share = 2.0 * u / self.thickness;
            self.bands[band.min(count - 1)] * (1.0 - 0.12 * share - 0.10 * share * share)
        } else if self.shadow.0 != 0.0 && self.covers(t, u - self.shadow.1) {
            self.ground - self.shadow.0
        } else {
            self.ground
        }
    }

    pub(super) fn draw(&self) -> GrayImage {
        let mut random = ChaCha8Rng::seed_from_u64(self.seed);
        let noise = Normal::new(0.0, self.noise).unwrap();
        GrayImage::from_fn(SIDE, SIDE, |column, row| {
            let mut sum = 0.0;
            for i in 0..16 {
                for j in 0..16 {
                    let part = |k: u32| (f64::from(k) + 0.5) / 16.0;
                    sum += self.level(f64::from(column) + part(i), f64::from(row) + part(j));
                }
            }
            let level = sum / 256.0 + noise.sample(&mut random);
            Luma([level.round().clamp(0.0, 255.0) as u8])
        })
    }
}
