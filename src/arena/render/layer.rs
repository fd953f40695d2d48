//! The moving part of a picture: horse, rider and their shadow, averaged over the exposure.

use resvg::tiny_skia::{PathBuilder, Pixmap, Transform};

use super::canvas::{Canvas, Disc, add_chain, spot};
use super::colour::Colour;
use super::figure::{Ball, Figure};
use super::furniture::shadow_of;
use super::rider::Rider;
use crate::arena::render::colour::LightColours;
use crate::scene::Camera;

/// A rectangle of the picture, in whole pixels.
#[derive(Clone, Copy, Debug)]
pub(super) struct Area {
    pub(super) x: u32,
    pub(super) y: u32,
    pub(super) wide: u32,
    pub(super) high: u32,
}

impl Area {
    /// The part of a picture of `size` that discs may touch; `None` when they are all outside.
    pub(super) fn around(discs: &[Disc], size: (u32, u32)) -> Option<Self> {
        let (mut low, mut top) = ((f32::MAX, f32::MAX), (f32::MIN, f32::MIN));
        for disc in discs {
            low = (low.0.min(disc.x - disc.r), low.1.min(disc.y - disc.r));
            top = (top.0.max(disc.x + disc.r), top.1.max(disc.y + disc.r));
        }
        let clip = |low: f32, top: f32, most: u32| {
            let begin = (low.floor() - 6.0).max(0.0) as u32;
            let end = ((top.ceil() + 6.0).max(0.0) as u32).min(most);
            (begin < end).then(|| (begin, end - begin))
        };
        let (x, wide) = clip(low.0, top.0, size.0)?;
        let (y, high) = clip(low.1, top.1, size.1)?;
        Some(Self { x, y, wide, high })
    }
}

/// Everything of horse and rider that has a size, for outline and shadow.
pub(super) fn chains<'a>(figure: &'a Figure, rider: &'a Rider) -> Vec<&'a [Ball]> {
    let mut chains: Vec<&[Ball]> = vec![
        &figure.trunk,
        &figure.withers,
        &figure.neck.neck,
        &figure.neck.head,
        &figure.neck.jaw,
        &figure.tail,
    ];
    for leg in &figure.legs {
        chains.push(&leg.upper);
        chains.push(&leg.lower);
    }
    chains.extend(rider.chains());
    chains
}

/// The discs of all chains and of their shadows, on the whole picture.
pub(super) fn covered(
    camera: &Camera,
    chains: &[&[Ball]],
    light: &LightColours,
    away: f64,
) -> Vec<Disc> {
    let balls = chains.iter().flat_map(|chain| chain.iter());
    balls
        .flat_map(|ball| [ball.at, shadow_of(light, away, ball.at)].map(|at| (at, ball.radius)))
        .filter_map(|(at, radius)| {
            let spot = spot(camera, (0.0, 0.0), at)?;
            Some(Disc { x: spot.x, y: spot.y, r: spot.per_m * 1.35 * radius as f32 })
        })
        .collect()
}

/// Draws the shadow on the ground. Balls cast round shadows that lie flat: they are drawn as
/// chains in a picture squeezed by the slant of the view, then stretched back.
pub(super) fn paint_shadow(
    canvas: &mut Canvas<'_>,
    chains: &[&[Ball]],
    figure: &Figure,
    light: &LightColours,
    away: f64,
) {
    let eye = canvas.camera.pose.position;
    let distance = (figure.body.place.x - eye.x).hypot(figure.body.place.y - eye.y);
    let lengthened = (1.0 + light.away_per_m * light.away_per_m).sqrt();
    let squeeze = (lengthened * eye.z / distance.max(1.0)).clamp(0.05, 1.0) as f32;
    let mut builder = PathBuilder::new();
    for chain in chains {
        let discs: Vec<Disc> = chain
            .iter()
            .filter_map(|ball| {
                let spot = canvas.spot(shadow_of(light, away, ball.at))?;
                let r = spot.per_m * ball.radius as f32;
                Some(Disc { x: spot.x, y: spot.y / squeeze, r })
            })
            .collect();
        add_chain(&mut builder, &discs);
    }
    let flat =
        builder.finish().and_then(|path| path.transform(Transform::from_scale(1.0, squeeze)));
    if let Some(path) = flat {
        canvas.fill(&path, Colour::new(44.0, 36.0, 40.0).fade(light.shadow));
    }
    // Where a hoof meets the ground, light is shut out.
    for leg in &figure.legs {
        let near = (1.0 - leg.sole.z / 0.12).clamp(0.0, 1.0) as f32;
        if near > 0.0 {
            let under = crate::scene::ScenePoint { z: 0.0, ..leg.sole };
            let dark = Colour::BLACK.fade(0.42 * near);
            canvas.glow(under, 0.055, 2.3, dark, None);
        }
    }
}

/// Averages pictures of one size, premultiplied.
pub(super) struct Average {
    sums: Vec<u16>,
    count: u16,
}

impl Average {
    /// Of at least one picture.
    pub(super) fn of(pictures: &[Pixmap]) -> Self {
        let length = pictures.iter().map(|picture| picture.data().len()).min().unwrap_or(0);
        let mut sums = vec![0_u16; length];
        for picture in pictures {
            for (sum, value) in sums.iter_mut().zip(picture.data()) {
                *sum += u16::from(*value);
            }
        }
        Self { sums, count: pictures.len() as u16 }
    }

    /// Lays the average over `picture` at `area`.
    pub(super) fn over(&self, picture: &mut Pixmap, area: Area) {
        let count = u32::from(self.count.max(1));
        let wide = picture.width() as usize;
        let data = picture.data_mut();
        for row in 0..area.high as usize {
            let from = row * 4 * area.wide as usize;
            let to = 4 * ((area.y as usize + row) * wide + area.x as usize);
            let sums = self.sums[from..from + 4 * area.wide as usize].chunks_exact(4);
            for (pixel, sum) in data[to..].chunks_exact_mut(4).zip(sums) {
                if sum[3] == 0 {
                    continue;
                }
                let clear = 255 - u32::from(sum[3]) / count;
                for c in 0..3 {
                    let above = (u32::from(sum[c]) + count / 2) / count;
                    pixel[c] = (above + (u32::from(pixel[c]) * clear + 127) / 255).min(255) as u8;
                }
            }
        }
    }
}
