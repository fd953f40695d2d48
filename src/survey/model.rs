//! The adjustment's model: unknowns, places, observations, and the rows they give.
//!
//! Observations: clicks, distances between two points, points over a line, hooves beside the
//! track, the horizon, and the prior of every unknown that has one. Each row is divided by its
//! standard deviation.

use nalgebra::{DVector, Matrix2x3, Vector2, Vector3};

use super::least_squares::{Problem, Rows};
use super::motion::ObservedMotion;
use super::place::Place;
use super::pose::{self, FramePose, PosedCamera, posed};
use super::scale::Scale;
use super::unknowns::Unknowns;
use crate::marks::MarkAddress;
use crate::quantity::{FrameNumber, Given};
use crate::scene::{Camera, FramePoint, skew};

/// Columns of the camera that all frames share.
#[derive(Clone, Copy, Debug)]
pub struct CameraColumns {
    /// ln(focal length / px).
    pub log_focal: usize,
    /// Radial distortion.
    pub k1: usize,
    /// First of three: the camera's mean place.
    pub position: usize,
}

/// Columns of what the horizons of all poses share.
#[derive(Clone, Copy, Debug)]
pub struct LevelColumns {
    /// First of two: x and y of the vertical, seen in the ground frame; the ground is seldom level.
    pub lean: usize,
    /// Sine of the roll that a hand keeps through a clip.
    pub roll: usize,
}

/// One click on one place.
#[derive(Clone, Debug)]
pub struct Click {
    /// Which place.
    pub place: usize,
    /// Which pose.
    pub pose: usize,
    /// Which frame (several frames may share a pose).
    pub frame: FrameNumber,
    /// Where it was placed.
    pub at: FramePoint,
    /// Its standard deviation, pixels.
    pub sd_px: f64,
    /// Whether it takes part; a suspect does not.
    pub used: bool,
}

/// Everything else that is observed.
#[derive(Clone, Debug)]
pub enum Relation {
    /// Distance on the ground between two places on the ground; `length` is a column.
    Distance { from: usize, to: usize, length: usize, sd: f64 },
    /// A place stands over the line through two others.
    OverLine { place: usize, line: (usize, usize), sd: f64 },
    /// A hoof beside its track; `track` is an index into the tracks.
    /// `limb` is the column of how far the hooves of its limb stand to the left of the track.
    BesideTrack { hoof: usize, track: usize, limb: usize, sd: f64 },
    /// One direction of a hand's sway, in units of the scene's scale.
    Sway { column: usize, sd: f64 },
    /// ln(inverse depth) of a tie that may be anywhere, in units of the scene's scale.
    TieDepth { column: usize, belief: Given },
    /// The horizon of a pose.
    Horizon { pose: usize, sine: f64, level: LevelColumns, sd: f64 },
}

/// A track: fixed frame of reference and three unknowns (offset, heading, bend).
#[derive(Clone, Copy, Debug)]
pub struct TrackModel {
    /// Point that offsets count from.
    pub origin: Vector2<f64>,
    /// Heading that the unknown heading is added to, radians.
    pub heading: f64,
    /// First of three columns.
    pub first: usize,
}

/// The whole model.
#[derive(Clone, Debug)]
pub struct Model {
    /// The unknowns.
    pub unknowns: Unknowns,
    /// The camera's columns.
    pub camera: CameraColumns,
    /// Principal point.
    pub centre: FramePoint,
    /// The poses.
    pub poses: Vec<FramePose>,
    /// The places, each with its address.
    pub places: Vec<(MarkAddress, Place)>,
    /// The clicks: rows 2i and 2i + 1 of the adjustment, used or not.
    pub clicks: Vec<Click>,
    /// The other observations.
    pub relations: Vec<Relation>,
    /// The tracks, by approach id.
    pub tracks: Vec<(String, TrackModel)>,
    /// What was observed of the camera's motion; their rows come last.
    pub motions: Vec<ObservedMotion>,
    /// How large the scene came out.
    pub scale: Scale,
    /// Whether clicks far off are held by a linear loss instead of a squared one.
    pub robust: bool,
}

/// Where the squared loss becomes linear in robust mode, in standard deviations.
const ROBUST_FROM: f64 = 3.0;

impl Model {
    /// The camera of a pose.
    pub fn camera_at(&self, x: &DVector<f64>, pose: usize) -> Camera {
        pose::one(&self.poses, &self.poses[pose], self.camera, self.centre, x).camera
    }

    /// Adds the two rows of a click.
    fn push_click(
        &self,
        x: &DVector<f64>,
        cameras: &[PosedCamera],
        click: &Click,
        rows: &mut Rows,
    ) -> Option<()> {
        let posed = &cameras[click.pose];
        let camera = &posed.camera;
        let located = self.places[click.place].1.locate(x);
        let offset = match located.inverse_depth {
            None => located.point - camera.pose.position.vector(),
            Some((_, inverse_depth)) => located.point - inverse_depth * posed.astray,
        };
        let derived = camera.project_offset(offset).ok()?;
        let mut columns: Vec<(usize, Vector2<f64>)> = Vec::with_capacity(24);
        columns.push((self.camera.log_focal, derived.by_log_focal));
        columns.extend(posed.zoom.map(|zoom| (zoom, derived.by_log_focal)));
        columns.push((self.camera.k1, derived.by_k1));
        for (first, by) in &posed.turn_by {
            push_triple(&mut columns, *first, derived.by_turn * by);
        }
        columns.extend(located.by.iter().map(|(at, by)| (*at, derived.by_scene * by)));
        // A point at infinity does not move when the camera does.
        let nearness = match located.inverse_depth {
            None => {
                push_triple(&mut columns, self.camera.position, -derived.by_scene);
                1.0
            }
            Some((column, inverse_depth)) => {
                let by_log = -inverse_depth * derived.by_scene * posed.astray;
                columns.push((column, by_log));
                inverse_depth
            }
        };
        let by_place = -nearness * derived.by_scene;
        columns.extend(posed.astray_by.iter().map(|(at, by)| (*at, by_place * by)));
        let residual = (derived.point.vector() - click.at.vector()) / click.sd_px;
        let weight = self.robust_weight(residual.norm(), rows);
        let scale = weight / click.sd_px;
        for axis in 0..2 {
            rows.push(
                weight * residual[axis],
                columns.iter().map(|(at, by)| (*at, by[axis] * scale)),
            );
        }
        Some(())
    }

    /// Square root of the Huber weight of a residual, and its extra cost.
    fn robust_weight(&self, size: f64, rows: &mut Rows) -> f64 {
        if !self.robust || size <= ROBUST_FROM {
            return 1.0;
        }
        let weight = ROBUST_FROM / size;
        let loss = 2.0 * ROBUST_FROM * size - ROBUST_FROM * ROBUST_FROM;
        rows.add_robust_cost((loss - weight * size * size) / 2.0);
        weight.sqrt()
    }

    fn push_relation(
        &self,
        x: &DVector<f64>,
        cameras: &[PosedCamera],
        relation: &Relation,
        rows: &mut Rows,
    ) {
        match *relation {
            Relation::Distance { from, to, length, sd } => {
                let (a, b) = (self.places[from].1.locate(x), self.places[to].1.locate(x));
                let across = (b.point - a.point).xy();
                let found = across.norm().max(1e-9);
                let unit = across / found;
                let columns = b.by.iter().map(|(at, by)| (*at, unit.dot(&by.xy()) / sd));
                let back = a.by.iter().map(|(at, by)| (*at, -unit.dot(&by.xy()) / sd));
                let mut columns: Vec<_> = columns.chain(back).collect();
                columns.push((length, -1.0 / sd));
                rows.push((found - x[length]) / sd, columns);
            }
            Relation::OverLine { place, line, sd } => self.push_over_line(x, place, line, sd, rows),
            Relation::BesideTrack { hoof, track, limb, sd } => {
                self.push_beside_track(x, (hoof, track, limb), sd, rows);
            }
            Relation::Sway { column, sd } => {
                self.push_over_scale(x, x[column] / sd, [(column, 1.0 / sd)], rows);
            }
            Relation::TieDepth { column, belief } => {
                let scale = self.scale.at(x);
                let by_scale = self.scale.derivatives();
                let columns = by_scale.map(|(at, by)| (at, by / scale / belief.sd));
                let found = x[column] + scale.ln();
                rows.push(
                    (found - belief.value) / belief.sd,
                    columns.chain([(column, 1.0 / belief.sd)]),
                );
            }
            Relation::Horizon { pose, sine, level, sd } => {
                let posed = &cameras[pose];
                let rotation = posed.camera.pose.camera_from_ground;
                let up = rotation * Vector3::new(x[level.lean], x[level.lean + 1], 1.0);
                let row = -skew(up).row(0);
                let turned = posed.turn_by.iter().flat_map(|(first, by)| {
                    let by = row * by;
                    (0..3).map(move |axis| (first + axis, by[axis] / sd))
                });
                let leant = (0..2).map(|axis| (level.lean + axis, rotation[(0, axis)] / sd));
                let columns = turned.chain(leant).chain([(level.roll, -1.0 / sd)]);
                rows.push((up.x - sine - x[level.roll]) / sd, columns);
            }
        }
    }

    /// Adds a residual that is a length over a belief of a length: its row is divided by the scale.
    fn push_over_scale(
        &self,
        x: &DVector<f64>,
        residual: f64,
        derivatives: impl IntoIterator<Item = (usize, f64)>,
        rows: &mut Rows,
    ) {
        let scale = self.scale.at(x);
        let by_scale =
            self.scale.derivatives().map(|(at, by)| (at, -residual * by / scale.powi(2)));
        let own = derivatives.into_iter().map(|(at, by)| (at, by / scale));
        rows.push(residual / scale, own.chain(by_scale));
    }

    fn push_over_line(
        &self,
        x: &DVector<f64>,
        place: usize,
        line: (usize, usize),
        sd: f64,
        rows: &mut Rows,
    ) {
        let point = self.places[place].1.locate(x);
        let (a, b) = (self.places[line.0].1.locate(x), self.places[line.1].1.locate(x));
        let along = (b.point - a.point).xy();
        let length = along.norm().max(1e-9);
        let unit = along / length;
        let normal = Vector2::new(-unit.y, unit.x);
        let from_a = (point.point - a.point).xy();
        let side = normal.dot(&from_a);
        let share = unit.dot(&from_a) / length;
        let mut columns = Vec::new();
        for (located, weight) in [(&point, 1.0), (&a, share - 1.0), (&b, -share)] {
            columns.extend(
                located.by.iter().map(|(at, by)| (*at, weight * normal.dot(&by.xy()) / sd)),
            );
        }
        rows.push(side / sd, columns);
    }

    fn push_beside_track(
        &self,
        x: &DVector<f64>,
        (hoof, track, limb): (usize, usize, usize),
        sd: f64,
        rows: &mut Rows,
    ) {
        let model = &self.tracks[track].1;
        let located = self.places[hoof].1.locate(x);
        let (sin, cos) = model.heading.sin_cos();
        let from_origin = located.point.xy() - model.origin;
        let along = cos * from_origin.x + sin * from_origin.y;
        let side = cos * from_origin.y - sin * from_origin.x;
        let (offset, heading, bend) = (x[model.first], x[model.first + 1], x[model.first + 2]);
        let slope = heading + bend * along;
        let by_point = Vector2::new(-sin - slope * cos, cos - slope * sin);
        let mut columns: Vec<(usize, f64)> =
            located.by.iter().map(|(at, by)| (*at, by_point.dot(&by.xy()) / sd)).collect();
        columns.push((model.first, -1.0 / sd));
        columns.push((model.first + 1, -along / sd));
        columns.push((model.first + 2, -along * along / 2.0 / sd));
        columns.push((limb, -1.0 / sd));
        let expected = x[limb] + offset + heading * along + bend * along * along / 2.0;
        self.push_over_scale(x, (side - expected) / sd, columns, rows);
    }

    /// Number of rows that the clicks in use give; they come first.
    pub fn click_rows(&self) -> usize {
        2 * self.clicks.iter().filter(|click| click.used).count()
    }

    /// Index of the row that holds the prior of `column`.
    pub fn prior_row(&self, column: usize) -> Option<usize> {
        let at = self.unknowns.priors().position(|(known, _)| known == column)?;
        Some(self.click_rows() + self.relations.len() + at)
    }
}

impl Problem for Model {
    fn rows(&self, x: &DVector<f64>) -> Option<Rows> {
        let cameras = posed(&self.poses, self.camera, self.centre, x);
        let mut rows = Rows::default();
        for click in self.clicks.iter().filter(|click| click.used) {
            self.push_click(x, &cameras, click, &mut rows)?;
        }
        for relation in &self.relations {
            self.push_relation(x, &cameras, relation, &mut rows);
        }
        for (column, prior) in self.unknowns.priors() {
            rows.push((x[column] - prior.value) / prior.sd, [(column, 1.0 / prior.sd)]);
        }
        for motion in &self.motions {
            motion.push(self, x, &mut rows);
        }
        Some(rows)
    }
}

fn push_triple(columns: &mut Vec<(usize, Vector2<f64>)>, first: usize, by: Matrix2x3<f64>) {
    for axis in 0..3 {
        columns.push((first + axis, by.column(axis).into()));
    }
}
