//! The sky: a gradient, thin clouds, hills and a wood, all at infinity.

use super::colour::{Colour, LightColours};
use super::tile::noise;

/// The sky of a scene.
pub(super) struct Sky {
    light: LightColours,
    away: f32,
    up: [f32; 3],
    clouds: Vec<f32>,
}

/// One end of a block of pixels.
#[derive(Clone, Copy)]
pub(super) struct SkyEnd {
    colour: [f32; 3],
    /// Sine of the elevation, and those of the lines of hills.
    rise: f32,
    hills: [f32; 3],
}

const SIDE: usize = 256;
/// Far hills, near ones, a wood: base and swing (sine of elevation), how quickly the line
/// changes along the horizon, haze.
const HILLS: [(f32, f32, f32, f32); 3] =
    [(0.040, 0.050, 0.14, 0.56), (0.020, 0.036, 0.17, 0.38), (0.010, 0.016, 1.9, 0.16)];

impl Sky {
    pub(super) fn of(seed: u64, light: LightColours, away: f32, up: [f32; 3]) -> Self {
        let seed = seed as u32 ^ 77;
        let cell = |i: usize| {
            let (x, y) = ((i % SIDE) as f32 / SIDE as f32, (i / SIDE) as f32 / SIDE as f32);
            0.5 * noise(x, y, 5, seed)
                + 0.27 * noise(x, y, 11, seed ^ 1)
                + 0.15 * noise(x, y, 23, seed ^ 2)
                + 0.08 * noise(x, y, 50, seed ^ 3)
        };
        Self { light, away, up, clouds: (0..SIDE * SIDE).map(cell).collect() }
    }

    pub(super) fn end(&self, way: [f32; 3]) -> SkyEnd {
        let length = (way[0] * way[0] + way[1] * way[1] + way[2] * way[2]).sqrt();
        let rise = (way[0] * self.up[0] + way[1] * self.up[1] + way[2] * self.up[2]) / length;
        let forward = (self.away * way[1]).max(0.05 * length);
        let across = way[0] / forward;
        let height = (rise / 0.42).clamp(0.0, 1.0).powf(0.7);
        let mut colour = self.light.sky_low.mix(self.light.sky_top, height);
        let cloud = self.cloud(0.16 * across + 0.3, 0.5 + 1.1 * rise);
        let cover = ((cloud - 0.50) * 5.0).clamp(0.0, 1.0) * (rise * 9.0).clamp(0.0, 1.0);
        colour = colour.mix(self.light.sky_low.mix(Colour::WHITE, 0.55), 0.55 * cover);
        let hill = |k: usize| {
            let row = 0.21 + 0.3 * k as f32;
            let (base, swing, rate, _) = HILLS[k];
            base + swing * (self.cloud(rate * across + 0.4 * k as f32, row) - 0.40)
        };
        SkyEnd { colour: [colour.r, colour.g, colour.b], rise, hills: [hill(0), hill(1), hill(2)] }
    }

    pub(super) fn fill(&self, from: &SkyEnd, to: &SkyEnd, pixels: &mut [u8]) {
        let step = 1.0 / (pixels.len() / 4) as f32;
        let shades = HILLS.map(|(_, _, _, haze)| {
            let hill = Colour::new(84.0, 100.0, 78.0).mix(self.light.haze, haze);
            [hill.r, hill.g, hill.b]
        });
        for (i, pixel) in pixels.chunks_exact_mut(4).enumerate() {
            let u = (i as f32 + 0.5) * step;
            let mix = |a: f32, b: f32| a + (b - a) * u;
            let rise = mix(from.rise, to.rise);
            for c in 0..3 {
                let mut colour = mix(from.colour[c], to.colour[c]);
                for (k, shade) in shades.iter().enumerate() {
                    let inside = (mix(from.hills[k], to.hills[k]) - rise) * 800.0;
                    colour += (shade[c] - colour) * inside.clamp(0.0, 1.0);
                }
                pixel[c] = (colour + 0.5) as u8;
            }
            pixel[3] = 255;
        }
    }

    fn cloud(&self, x: f32, y: f32) -> f32 {
        let (u, v) = (x * SIDE as f32, y * SIDE as f32);
        let (u0, v0) = (u.floor(), v.floor());
        let (fu, fv) = (u - u0, v - v0);
        let at = |du: i32, dv: i32| {
            let wrap = |v: f32, d: i32| (v as i32 + d).rem_euclid(SIDE as i32) as usize;
            self.clouds[wrap(v0, dv) * SIDE + wrap(u0, du)]
        };
        let top = at(0, 0) + (at(1, 0) - at(0, 0)) * fu;
        let low = at(0, 1) + (at(1, 1) - at(0, 1)) * fu;
        top + (low - top) * fv
    }
}
