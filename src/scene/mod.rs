//! Where things are: points on the picture and on the ground, and the camera between them.
//!
//! Invariant: plain geometry, no pictures, no files; every map has its derivative beside it,
//! checked against finite differences.
//!
//! ```text
//! ground frame: metres. x along the ground towards the fence, y to the left of it, z up;
//!               z = 0 is the ground plane.
//! camera frame: x right, y down, z forward, as in the pinhole model of the literature.
//! picture:      pixels of the upright picture, x right, y down; (0, 0) is the outer corner of
//!               the first pixel, whose centre is (0.5, 0.5).
//! ```

mod between;
mod camera;
mod homography;
mod panorama;
mod point;
mod projection;
mod rotation;

pub use camera::{Camera, Lens, NoPicture, Pose, ProjectionWithDerivative};
pub use homography::{GroundHomography, HomographyError};
pub use panorama::{Layout, Panorama};
pub use point::{FramePoint, GroundPoint, PictureSize, ScenePoint};
pub use projection::Projection;
pub use rotation::{left_jacobian, rotation_between_directions, rotation_vector, skew};
