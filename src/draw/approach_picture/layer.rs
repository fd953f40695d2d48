//! One frame as the panorama sees it.

use image::{GrayImage, Luma, Rgb, RgbImage};
use imageproc::distance_transform::euclidean_squared_distance_transform;
use imageproc::drawing::draw_polygon_mut;
use imageproc::point::Point;
use nalgebra::{Vector2, Vector3};

use super::JoinedFrame;
use crate::draw::area::{Area, Spot};
use crate::draw::bodies;
use crate::draw::seen::{View, heading_at};
use crate::draw::theme::PictureSizes;
use crate::scene::{Camera, FramePoint, Panorama, PictureSize, ScenePoint};
use crate::stride::ApproachMeasurement;

/// Places are worked out on a grid this fine, pixels, and read off between its points.
const GRID: u32 = 8;
/// What lies behind the track is taken to be this many times as far away as the horse: it only
/// matters where a hand swayed.
const BEHIND: f64 = 3.0;

/// A part of the panorama as one frame shows it.
#[derive(Clone, Debug)]
pub(super) struct Layer {
    /// The footfall of its moment.
    pub footfall: String,
    /// Left top corner on the panorama.
    pub left: u32,
    /// Left top corner on the panorama.
    pub top: u32,
    /// Ground and background, as if all stood still.
    pub picture: RgbImage,
    /// How much the frame counts, 0 where it shows nothing: less towards its rim, so that none is
    /// seen where it ends.
    pub weight: GrayImage,
    /// The horse's outline on the panorama, larger than the horse.
    pub outline: Vec<Spot>,
    /// 255 inside it, less the farther outside, 0 where no stretched neck or tail reaches.
    pub horse: GrayImage,
    /// Where the horse is, and the direction square to its track.
    track: Option<(ScenePoint, Vector3<f64>)>,
    /// Where it was moved to, pixels.
    shift: (f64, f64),
    /// What lies behind the track is taken to be so far away, metres.
    behind: f64,
    /// Brightness by which each channel is multiplied to match the others.
    pub gain: [f64; 3],
}

impl Layer {
    /// Lays `frame` out.
    pub fn of(frame: &JoinedFrame, approach: &ApproachMeasurement, panorama: &Panorama) -> Self {
        let view = View {
            camera: panorama,
            picture: panorama.size,
            sizes: PictureSizes::of(panorama.size),
        };
        let footfall = approach.footfalls.iter().find(|f| f.footfall == frame.footfall);
        let outline = footfall
            .and_then(|now| bodies::horse(&view, approach, Some(now), now.time_s))
            .unwrap_or_default();
        let track = footfall.and_then(|now| now.place).map(|place| {
            let (sin, cos) = heading_at(approach, place).sin_cos();
            (place.at_height(0.0), Vector3::new(-sin, cos, 0.0))
        });
        let away =
            track.map_or(20.0, |(place, _)| (place.vector() - panorama.position.vector()).norm());
        let behind = BEHIND * away;
        let surface = Surface::Scenery { behind };
        let shift = (0.0, 0.0);
        let (left, top, size) = extent(frame, panorama, &surface, shift);
        let sampler = Sampler { frame, panorama, shift, left, top, size };
        let (picture, weight) = sampler.lay(&surface);
        let horse = nearness(&polygon(&outline, left, top, size), &outline);
        Self {
            footfall: frame.footfall.clone(),
            left,
            top,
            picture,
            weight,
            outline,
            horse,
            track,
            shift,
            behind,
            gain: [1.0; 3],
        }
    }

    /// Lays its frame out anew, farther by `shift` pixels.
    pub fn move_by(&mut self, shift: (f64, f64), frame: &JoinedFrame, panorama: &Panorama) {
        self.shift = (self.shift.0 + shift.0, self.shift.1 + shift.1);
        let surface = Surface::Scenery { behind: self.behind };
        (self.picture, self.weight) = self.sampler(frame, panorama).lay(&surface);
    }

    /// The same part of its frame as it is seen on the upright plane of the track, where the horse
    /// is.
    pub fn at_track(&self, frame: &JoinedFrame, panorama: &Panorama) -> RgbImage {
        match self.track {
            Some((place, normal)) => {
                self.sampler(frame, panorama).lay(&Surface::Track { place, normal }).0
            }
            None => self.picture.clone(),
        }
    }

    fn sampler<'a>(&self, frame: &'a JoinedFrame, panorama: &'a Panorama) -> Sampler<'a> {
        let (width, height) = self.picture.dimensions();
        let size = PictureSize { width, height };
        Sampler { frame, panorama, shift: self.shift, left: self.left, top: self.top, size }
    }

    /// Its right edge on the panorama.
    pub fn right(&self) -> u32 {
        self.left + self.picture.width()
    }

    /// Its lower edge.
    pub fn bottom(&self) -> u32 {
        self.top + self.picture.height()
    }

    /// Column and row of the layer at a pixel of the panorama, where the frame shows something.
    pub fn at(&self, x: u32, y: u32) -> Option<(u32, u32)> {
        if x < self.left || y < self.top || x >= self.right() || y >= self.bottom() {
            return None;
        }
        let at = (x - self.left, y - self.top);
        (self.weight.get_pixel(at.0, at.1).0[0] != 0).then_some(at)
    }

    /// A pixel in the brightness of the others.
    pub fn matched(&self, pixel: &Rgb<u8>) -> [f64; 3] {
        std::array::from_fn(|channel| f64::from(pixel.0[channel]) * self.gain[channel])
    }
}

/// What a ray is taken to meet.
#[derive(Clone, Copy, Debug)]
enum Surface {
    /// The ground up to `behind` metres away, then things upright there.
    Scenery { behind: f64 },
    /// The upright plane along the track.
    Track { place: ScenePoint, normal: Vector3<f64> },
}

impl Surface {
    fn distance(&self, from: Vector3<f64>, ray: Vector3<f64>) -> f64 {
        match *self {
            Self::Scenery { behind } => {
                let ground = if ray.z < -1e-9 { -from.z / ray.z } else { f64::INFINITY };
                ground.min(behind)
            }
            Self::Track { place, normal } => {
                let across = normal.dot(&ray);
                let distance = normal.dot(&(place.vector() - from)) / across;
                let straight = (place.vector() - from).norm();
                if distance.is_finite() && distance > 0.2 * straight && distance < 5.0 * straight {
                    distance
                } else {
                    straight
                }
            }
        }
    }
}

/// The part of the panorama on which a frame can show anything.
fn extent(
    frame: &JoinedFrame,
    panorama: &Panorama,
    surface: &Surface,
    shift: (f64, f64),
) -> (u32, u32, PictureSize) {
    let sampler = Sampler { frame, panorama, shift, left: 0, top: 0, size: panorama.size };
    let (width, height) = frame.picture.dimensions();
    let holds = PictureSize { width, height };
    let mut seen: Option<Area> = None;
    for y in (0..panorama.size.height + GRID).step_by(GRID as usize) {
        for x in (0..panorama.size.width + GRID).step_by(GRID as usize) {
            let Some(at) = sampler.source(surface, f64::from(x), f64::from(y)) else { continue };
            if !holds.holds(FramePoint::new(at.x, at.y)) {
                continue;
            }
            let spot = Area::at(f64::from(x), f64::from(y), 0.0, 0.0);
            seen = Some(seen.map_or(spot, |area| Area {
                left: area.left.min(spot.left),
                top: area.top.min(spot.top),
                right: area.right.max(spot.right),
                bottom: area.bottom.max(spot.bottom),
            }));
        }
    }
    let Some(area) = seen else { return (0, 0, PictureSize { width: 1, height: 1 }) };
    let area = area.grown(f64::from(GRID));
    let left = area.left.max(0.0) as u32;
    let top = area.top.max(0.0) as u32;
    let right = (area.right.max(1.0) as u32).min(panorama.size.width).max(left + 1);
    let bottom = (area.bottom.max(1.0) as u32).min(panorama.size.height).max(top + 1);
    (left, top, PictureSize { width: right - left, height: bottom - top })
}

/// Reads a frame where the panorama's pixels lie on it.
struct Sampler<'a> {
    frame: &'a JoinedFrame,
    panorama: &'a Panorama,
    shift: (f64, f64),
    left: u32,
    top: u32,
    size: PictureSize,
}

impl Sampler<'_> {
    /// The point of the frame that belongs at (`x`, `y`) of the panorama.
    fn source(&self, surface: &Surface, x: f64, y: f64) -> Option<Vector2<f64>> {
        let ray = self.panorama.ray(FramePoint::new(x - self.shift.0, y - self.shift.1));
        let from = self.panorama.position.vector();
        let point = from + ray * surface.distance(from, ray);
        let camera: &Camera = &self.frame.camera;
        camera.project(ScenePoint::from(point)).ok().map(FramePoint::vector)
    }

    fn lay(&self, surface: &Surface) -> (RgbImage, GrayImage) {
        let PictureSize { width, height } = self.size;
        let columns = width.div_ceil(GRID) + 1;
        let grid: Vec<Option<Vector2<f64>>> = (0..=height.div_ceil(GRID))
            .flat_map(|row| (0..columns).map(move |column| (column, row)))
            .map(|(column, row)| {
                let (x, y) = (self.left + column * GRID, self.top + row * GRID);
                self.source(surface, f64::from(x) + 0.5, f64::from(y) + 0.5)
            })
            .collect();
        let mut picture = RgbImage::new(width, height);
        let mut weight = GrayImage::new(width, height);
        for y in 0..height {
            let (row, down) = (y / GRID, f64::from(y % GRID) / f64::from(GRID));
            for x in 0..width {
                let (column, across) = (x / GRID, f64::from(x % GRID) / f64::from(GRID));
                let corner = |dx: u32, dy: u32| grid[((row + dy) * columns + column + dx) as usize];
                let (Some(a), Some(b), Some(c), Some(d)) =
                    (corner(0, 0), corner(1, 0), corner(0, 1), corner(1, 1))
                else {
                    continue;
                };
                let at = a.lerp(&b, across).lerp(&c.lerp(&d, across), down);
                if let Some(colour) = bilinear(&self.frame.picture, at) {
                    picture.put_pixel(x, y, colour);
                    weight.put_pixel(x, y, Luma([rim_weight(&self.frame.picture, at)]));
                }
            }
        }
        (picture, weight)
    }
}

/// The rim over which a frame counts less, as a share of its longer side.
const RIM: f64 = 0.06;

fn rim_weight(picture: &RgbImage, at: Vector2<f64>) -> u8 {
    let (width, height) = (f64::from(picture.width()), f64::from(picture.height()));
    let inwards = at.x.min(at.y).min(width - at.x).min(height - at.y);
    (255.0 * inwards / (RIM * width.max(height))).clamp(1.0, 255.0) as u8
}

/// The colour between four pixels; `None` beside the picture.
fn bilinear(picture: &RgbImage, at: Vector2<f64>) -> Option<Rgb<u8>> {
    let (x, y) = (at.x - 0.5, at.y - 0.5);
    let (width, height) = picture.dimensions();
    if x < 0.0 || y < 0.0 || x >= f64::from(width - 1) || y >= f64::from(height - 1) {
        return None;
    }
    let (left, top) = (x as u32, y as u32);
    let (across, down) = ((x - f64::from(left)) as f32, (y - f64::from(top)) as f32);
    let [a, b, c, d] =
        [(0, 0), (1, 0), (0, 1), (1, 1)].map(|(dx, dy)| picture.get_pixel(left + dx, top + dy).0);
    Some(Rgb(std::array::from_fn(|channel| {
        let [a, b, c, d] = [a, b, c, d].map(|pixel| f32::from(pixel[channel]));
        let above = a + (b - a) * across;
        let below = c + (d - c) * across;
        (above + (below - above) * down).round() as u8
    })))
}

/// How far outside the outline a neck or tail may reach, in shares of its height.
const REACHES: f64 = 0.35;

/// 255 where `inside` is, less the farther outside, and 0 from where the horse does not reach.
fn nearness(inside: &GrayImage, outline: &[Spot]) -> GrayImage {
    let height = Area::holding(outline).map_or(0.0, |area| area.height());
    if inside.pixels().all(|pixel| pixel.0[0] == 0) {
        return inside.clone();
    }
    let away = euclidean_squared_distance_transform(inside);
    GrayImage::from_fn(inside.width(), inside.height(), |x, y| {
        let share = away.get_pixel(x, y).0[0].sqrt() / (REACHES * height);
        Luma([(255.0 * (1.0 - share)).clamp(0.0, 255.0) as u8])
    })
}

/// An outline enlarged about its middle.
pub(super) fn grown(outline: &[Spot], times: f64) -> Vec<Spot> {
    let Some(held) = Area::holding(outline) else { return Vec::new() };
    let middle = held.middle();
    outline.iter().map(|spot| middle.towards(*spot, times)).collect()
}

/// 255 inside an outline of the panorama, on a picture whose corner lies at (`left`, `top`).
pub(super) fn polygon(outline: &[Spot], left: u32, top: u32, size: PictureSize) -> GrayImage {
    let mut mask = GrayImage::new(size.width, size.height);
    let mut points: Vec<Point<i32>> = outline
        .iter()
        .map(|spot| Point::new((spot.x - f64::from(left)) as i32, (spot.y - f64::from(top)) as i32))
        .collect();
    points.dedup();
    if points.len() > 1 && points.first() == points.last() {
        points.pop();
    }
    if points.len() >= 3 {
        draw_polygon_mut(&mut mask, &points, Luma([255]));
    }
    mask
}
