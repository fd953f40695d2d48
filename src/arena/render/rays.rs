//! The camera as rays: the direction of each pixel in the ground frame.

use crate::scene::{Camera, FramePoint};

/// Rays of one camera.
pub(super) struct Rays {
    pub(super) eye: [f32; 3],
    /// From the camera to the ground, by rows.
    turn: [[f32; 3]; 3],
    pub(super) focal: f32,
    centre: (f32, f32),
    /// Undoing the lens: factor by squared radius; empty for a lens without distortion.
    undo: Vec<f32>,
    undo_step: f32,
}

const UNDO_STEPS: usize = 2048;

impl Rays {
    pub(super) fn of(camera: &Camera, size: (usize, usize)) -> Self {
        let back = camera.pose.camera_from_ground.inverse();
        let m = back.matrix();
        let turn = [0, 1, 2].map(|r| [0, 1, 2].map(|c| m[(r, c)] as f32));
        let lens = camera.lens;
        let far = (size.0 as f64).hypot(size.1 as f64) / lens.focal_px;
        let undo_step = far * far / UNDO_STEPS as f64;
        let factor = |i: usize| {
            let radius = (i.max(1) as f64 * undo_step).sqrt();
            let point = FramePoint::new(lens.centre.x + lens.focal_px * radius, lens.centre.y);
            (lens.ideal_from_frame(point).x / radius) as f32
        };
        let undo = if lens.k1 == 0.0 { Vec::new() } else { (0..=UNDO_STEPS).map(factor).collect() };
        let p = camera.pose.position;
        Self {
            eye: [p.x as f32, p.y as f32, p.z as f32],
            turn,
            focal: lens.focal_px as f32,
            centre: (lens.centre.x as f32, lens.centre.y as f32),
            undo,
            undo_step: undo_step as f32,
        }
    }

    /// Direction through the picture point (`x`, `y`); its length is that of a ray of depth 1.
    #[inline]
    pub(super) fn way(&self, x: f32, y: f32) -> [f32; 3] {
        let bx = (x - self.centre.0) / self.focal;
        let by = (y - self.centre.1) / self.focal;
        let factor = if self.undo.is_empty() {
            1.0
        } else {
            let at = (bx * bx + by * by) / self.undo_step;
            let i = (at as usize).min(UNDO_STEPS - 1);
            self.undo[i] + (self.undo[i + 1] - self.undo[i]) * (at - i as f32)
        };
        let (ix, iy) = (bx * factor, by * factor);
        let t = &self.turn;
        [
            t[0][0] * ix + t[0][1] * iy + t[0][2],
            t[1][0] * ix + t[1][1] * iy + t[1][2],
            t[2][0] * ix + t[2][1] * iy + t[2][2],
        ]
    }
}
