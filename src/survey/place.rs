//! Where a marked thing is, as a function of the unknowns, with derivatives.

use nalgebra::{DVector, Vector3};

/// Columns of a reference of equal poles: pose of the group and what is common to its poles.
#[derive(Clone, Copy, Debug)]
pub struct PoleGroup {
    /// Columns of X, Y, heading, relative spacing error, length error, one after the other.
    pub first: usize,
    /// Stated spacing, metres.
    pub spacing: f64,
    /// Stated length, metres.
    pub length: f64,
    /// Height of the pole's axis above the ground, metres.
    pub axis_height: f64,
}

/// A place as the survey models it. A column named here is the first of its group.
#[derive(Clone, Copy, Debug)]
pub enum Place {
    /// x and y free, height known.
    OnGround { at: usize, height: f64 },
    /// x, y and height in three columns that need not be neighbours.
    Raised { at: usize, height: usize },
    /// An end of a pole; `own` holds its shift along, shift across and turn.
    PoleEnd { group: PoleGroup, own: usize, index: f64, side: f64 },
    /// An end of a measured distance; columns X, Y, heading, length.
    DistanceEnd { first: usize, far: bool, height: f64 },
    /// Top of a vertical over the foot at `foot`; `lean` holds its sideways shifts.
    Top { foot: usize, lean: usize, height: usize },
    /// A direction from the camera's mean place and an inverse depth; columns of the two
    /// sideways shifts and the logarithm of the inverse depth (in 1/m), which keeps the place in
    /// front of the camera.
    Towards { base: Vector3<f64>, right: Vector3<f64>, up: Vector3<f64>, at: usize },
}

/// A place at given unknowns.
pub struct Located {
    /// Metres in the ground frame; for a direction, the vector from the camera's mean place.
    pub point: Vector3<f64>,
    /// Inverse depth of a direction (1/m) and the column of its logarithm; `None` for a place.
    pub inverse_depth: Option<(usize, f64)>,
    /// How `point` moves, by column.
    pub by: Vec<(usize, Vector3<f64>)>,
}

impl Place {
    /// Evaluates the place and its derivatives.
    pub fn locate(&self, x: &DVector<f64>) -> Located {
        match *self {
            Self::OnGround { at, height } => Located {
                point: Vector3::new(x[at], x[at + 1], height),
                inverse_depth: None,
                by: vec![(at, Vector3::x()), (at + 1, Vector3::y())],
            },
            Self::Raised { at, height } => Located {
                point: Vector3::new(x[at], x[at + 1], x[height]),
                inverse_depth: None,
                by: vec![(at, Vector3::x()), (at + 1, Vector3::y()), (height, Vector3::z())],
            },
            Self::PoleEnd { group, own, index, side } => pole_end(x, group, own, index, side),
            Self::DistanceEnd { first, far, height } => {
                let along = if far { x[first + 3] } else { 0.0 };
                let (sin, cos) = x[first + 2].sin_cos();
                let toward = Vector3::new(cos, sin, 0.0);
                let mut by = vec![(first, Vector3::x()), (first + 1, Vector3::y())];
                if far {
                    by.push((first + 2, along * Vector3::new(-sin, cos, 0.0)));
                    by.push((first + 3, toward));
                }
                let origin = Vector3::new(x[first], x[first + 1], height);
                Located { point: origin + along * toward, inverse_depth: None, by }
            }
            Self::Top { foot, lean, height } => Located {
                point: Vector3::new(x[foot] + x[lean], x[foot + 1] + x[lean + 1], x[height]),
                inverse_depth: None,
                by: vec![
                    (foot, Vector3::x()),
                    (foot + 1, Vector3::y()),
                    (lean, Vector3::x()),
                    (lean + 1, Vector3::y()),
                    (height, Vector3::z()),
                ],
            },
            Self::Towards { base, right, up, at } => Located {
                point: base + x[at] * right + x[at + 1] * up,
                inverse_depth: Some((at + 2, x[at + 2].exp())),
                by: vec![(at, right), (at + 1, up)],
            },
        }
    }
}

fn pole_end(x: &DVector<f64>, group: PoleGroup, own: usize, index: f64, side: f64) -> Located {
    let PoleGroup { first, spacing, length, axis_height } = group;
    let (heading, factor, longer) = (x[first + 2], x[first + 3], x[first + 4]);
    let reach = side * (length + longer) / 2.0;
    let (turn_sin, turn_cos) = x[own + 2].sin_cos();
    let local = Vector3::new(
        index * spacing * (1.0 + factor) + x[own] - reach * turn_sin,
        x[own + 1] + reach * turn_cos,
        axis_height,
    );
    let (sin, cos) = heading.sin_cos();
    let turned = |v: Vector3<f64>| Vector3::new(cos * v.x - sin * v.y, sin * v.x + cos * v.y, v.z);
    let flat = turned(Vector3::new(local.x, local.y, 0.0));
    Located {
        point: turned(local) + Vector3::new(x[first], x[first + 1], 0.0),
        inverse_depth: None,
        by: vec![
            (first, Vector3::x()),
            (first + 1, Vector3::y()),
            (first + 2, Vector3::new(-flat.y, flat.x, 0.0)),
            (first + 3, turned(Vector3::new(index * spacing, 0.0, 0.0))),
            (first + 4, turned(side / 2.0 * Vector3::new(-turn_sin, turn_cos, 0.0))),
            (own, turned(Vector3::x())),
            (own + 1, turned(Vector3::y())),
            (own + 2, turned(-reach * Vector3::new(turn_cos, turn_sin, 0.0))),
        ],
    }
}
