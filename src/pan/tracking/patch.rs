//! What a point looked like in the key frame it was born in.

use nalgebra::Matrix2;

use super::pyramid::Pyramid;
use super::sampling::square_at_edge;
use crate::scene::FramePoint;

/// Side of the square that is compared, pixels of its level.
pub(super) const SIDE: usize = 15;
/// With a ring about it for slopes.
pub(super) const RINGED: usize = SIDE + 2;
/// Side of the square that is kept: a patch shows more of itself where it is seen at a slant.
const KEPT: usize = 25;
/// Levels a patch is kept at: full size, half, a quarter.
pub(super) const PATCH_LEVELS: usize = 3;
/// Stored brightness is in 128ths of a level: finer than any noise, half the memory of a float.
const FINE: f32 = 128.0;

/// The surroundings of a point at each level: 25 × 25 samples a pixel of the level apart.
#[derive(Clone, Debug)]
pub(super) struct Patch {
    levels: [Box<[[u16; KEPT]; KEPT]>; PATCH_LEVELS],
}

/// One level of a patch as it should look now, made ready to be looked for by shifting alone.
#[derive(Clone, Debug)]
pub(super) struct Template {
    /// Brightness.
    pub(super) image: [[f32; RINGED]; RINGED],
    /// Brightness about its mean.
    pub(super) shape: [f32; SIDE * SIDE],
    /// Slopes across and down, freed of what brightness and contrast alone would change.
    pub(super) across: [f32; SIDE * SIDE],
    pub(super) down: [f32; SIDE * SIDE],
    /// Sum of squares of `shape`.
    pub(super) energy: f32,
    /// Sums of products of the slopes: across², across × down, down².
    pub(super) hessian: [f32; 3],
}

impl Patch {
    /// The surroundings of `at` (pixels of the full picture); what lies outside the picture is as
    /// its edge.
    pub(super) fn cut(pyramid: &Pyramid<'_>, at: FramePoint) -> Self {
        let level = |level: usize| {
            let scale = 0.5_f32.powi(level as i32);
            let (x, y) = (at.x as f32 * scale, at.y as f32 * scale);
            let samples = square_at_edge::<KEPT>(pyramid.level(level), x, y);
            Box::new(samples.map(|row| row.map(|value| (value * FINE + 0.5) as u16)))
        };
        Self { levels: [level(0), level(1), level(2)] }
    }

    /// One level as it looks after `stretch`, which maps small steps in the key frame to steps
    /// now. `None` when that squashes it to a line.
    pub(super) fn template(&self, level: usize, stretch: &Matrix2<f64>) -> Option<Template> {
        Some(Template::of(self.stretched(level, stretch)?))
    }

    /// The square of `W` by `W` now, read off the kept one by Catmull & Rom's cubic (1974, from
    /// memory): the samples are smooth, so little is lost.
    pub(super) fn stretched<const W: usize>(
        &self,
        level: usize,
        stretch: &Matrix2<f64>,
    ) -> Option<[[f32; W]; W]> {
        let back = stretch.try_inverse()?.map(|value| value as f32);
        let kept = self.levels[level].map(|row| row.map(|value| f32::from(value) / FINE));
        let middle = (KEPT / 2) as f32;
        let most = (KEPT - 3) as f32 - 0.001;
        let mut out = [[0.0; W]; W];
        for (j, row) in out.iter_mut().enumerate() {
            let v = j as f32 - (W / 2) as f32;
            for (i, out) in row.iter_mut().enumerate() {
                let u = i as f32 - (W / 2) as f32;
                let x = (middle + back.m11 * u + back.m12 * v).clamp(1.0, most);
                let y = (middle + back.m21 * u + back.m22 * v).clamp(1.0, most);
                let (left, top) = (x as usize, y as usize);
                let (across, down) = (cubic(x - left as f32), cubic(y - top as f32));
                let mut sum = 0.0;
                for (k, down) in down.iter().enumerate() {
                    let line = &kept[top + k - 1][left - 1..left + 3];
                    sum += down
                        * (across[0] * line[0]
                            + across[1] * line[1]
                            + across[2] * line[2]
                            + across[3] * line[3]);
                }
                *out = sum;
            }
        }
        Some(out)
    }
}

/// Catmull & Rom's weights at the fraction `f`.
#[inline]
fn cubic(f: f32) -> [f32; 4] {
    let (ff, fff) = (f * f, f * f * f);
    [
        0.5 * (2.0 * ff - fff - f),
        0.5 * (3.0 * fff - 5.0 * ff + 2.0),
        0.5 * (f + 4.0 * ff - 3.0 * fff),
        0.5 * (fff - ff),
    ]
}

/// Slope across, slope down and brightness of each pixel within the ring, row by row.
pub(super) fn sloped(ringed: &[[f32; RINGED]; RINGED]) -> [[f32; 3]; SIDE * SIDE] {
    let mut all = [[0.0; 3]; SIDE * SIDE];
    for j in 1..=SIDE {
        for i in 1..=SIDE {
            let gx = 0.5 * (ringed[j][i + 1] - ringed[j][i - 1]);
            let gy = 0.5 * (ringed[j + 1][i] - ringed[j - 1][i]);
            all[(j - 1) * SIDE + i - 1] = [gx, gy, ringed[j][i]];
        }
    }
    all
}

impl Template {
    fn of(image: [[f32; RINGED]; RINGED]) -> Self {
        let count = (SIDE * SIDE) as f32;
        let mut shape = [0.0; SIDE * SIDE];
        let (mut across, mut down) = (shape, shape);
        for (k, [gx, gy, brightness]) in sloped(&image).into_iter().enumerate() {
            (across[k], down[k], shape[k]) = (gx, gy, brightness);
        }
        let centre = |values: &mut [f32; SIDE * SIDE]| {
            let mean = values.iter().sum::<f32>() / count;
            values.iter_mut().for_each(|value| *value -= mean);
        };
        centre(&mut shape);
        let energy = dot(&shape, &shape);
        for slope in [&mut across, &mut down] {
            centre(slope);
            let shared = dot(slope, &shape) / energy.max(1e-6);
            slope.iter_mut().zip(&shape).for_each(|(slope, shape)| *slope -= shared * shape);
        }
        let hessian = [dot(&across, &across), dot(&across, &down), dot(&down, &down)];
        Self { image, shape, across, down, energy, hessian }
    }
}

/// Sum of products, in eight strands that the processor can add side by side.
#[inline]
pub(super) fn dot(a: &[f32; SIDE * SIDE], b: &[f32; SIDE * SIDE]) -> f32 {
    let mut strands = [0.0_f32; 8];
    let (ours, theirs) = (a.chunks_exact(8), b.chunks_exact(8));
    let rest: f32 = ours.remainder().iter().zip(theirs.remainder()).map(|(a, b)| a * b).sum();
    for (a, b) in ours.zip(theirs) {
        for k in 0..8 {
            strands[k] += a[k] * b[k];
        }
    }
    strands.iter().sum::<f32>() + rest
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pan::tracking::luma::LumaView;
    use crate::scene::PictureSize;

    #[test]
    fn a_patch_is_read_back_and_turned_with_the_picture() {
        let (wide, high) = (160_usize, 160_usize);
        let wave =
            |x: f64, y: f64| 120.0 + 50.0 * (0.31 * x).sin() + 40.0 * (0.23 * y + 0.1 * x).cos();
        let pixels: Vec<u8> = (0..wide * high)
            .map(|i| wave((i % wide) as f64 + 0.5, (i / wide) as f64 + 0.5).round() as u8)
            .collect();
        let size = PictureSize { width: 160, height: 160 };
        let view = LumaView::new(size, wide, &pixels).unwrap();
        let pyramid = Pyramid::of(view, 3);
        let at = FramePoint::new(80.3, 77.8);
        let patch = Patch::cut(&pyramid, at);
        for stretch in [Matrix2::identity(), Matrix2::new(0.9, 0.1, -0.12, 1.1)] {
            let image: [[f32; RINGED]; RINGED] = patch.stretched(0, &stretch).unwrap();
            let back = stretch.try_inverse().unwrap();
            for (i, j) in [(8, 8), (0, 0), (16, 3), (5, 14)] {
                let step = back * nalgebra::Vector2::new(i as f64 - 8.0, j as f64 - 8.0);
                let expected = wave(at.x + step.x, at.y + step.y);
                // The spline flattens these waves by a per cent or two.
                assert!((f64::from(image[j][i]) - expected).abs() < 2.5);
            }
        }
        assert!(patch.template(0, &Matrix2::zeros()).is_none());
    }
}
