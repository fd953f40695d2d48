//! What hooves leave behind: prints that stay, and a little sand in the air.

use super::canvas::Canvas;
use super::colour::{Colour, LightColours};
use super::motion::Motion;
use crate::arena::scene::Surface;

/// How long thrown sand hangs in the air, seconds.
const DUST_S: f64 = 0.34;

/// Paints the prints of all hooves that have left the ground by `time`.
pub(super) fn paint_prints(canvas: &mut Canvas<'_>, motion: &Motion, surface: Surface, time: f64) {
    let eye = canvas.camera.pose.position;
    let depth = if surface == Surface::Sand { 1.0 } else { 0.55 };
    for contact in motion.prints(time) {
        let distance = (contact.place.x - eye.x).hypot(contact.place.y - eye.y);
        // A round print lies flat: seen at this slant.
        let squeeze = (eye.z / distance.max(1.0)).clamp(0.03, 1.0);
        let stretch = (1.0 / squeeze) as f32;
        let radius = 0.085 * motion.scale();
        let print = contact.place.at_height(0.0);
        let hollow = Colour::new(66.0, 48.0, 34.0).fade(0.62 * depth);
        canvas.glow(print, radius * squeeze, stretch, hollow, None);
        let rim = crate::scene::ScenePoint { x: print.x - 0.05, z: 0.012, ..print };
        let lit = Colour::new(255.0, 236.0, 204.0).fade(0.26 * depth);
        canvas.glow(rim, 0.7 * radius * squeeze, stretch, lit, None);
    }
}

/// Paints the sand that hooves threw up as they left.
pub(super) fn paint_dust(
    canvas: &mut Canvas<'_>,
    motion: &Motion,
    light: &LightColours,
    surface: Surface,
    time: f64,
) {
    if surface != Surface::Sand {
        return;
    }
    for contact in motion.prints(time).filter(|contact| time - contact.lift_s < DUST_S) {
        let age = (time - contact.lift_s) / DUST_S;
        for (i, (back, up)) in [(0.06, 0.10), (0.20, 0.22), (0.34, 0.14)].into_iter().enumerate() {
            let (rise, fall) = (up * 2.2 * age, 0.30 * age * age);
            let at = crate::scene::ScenePoint::new(
                contact.place.x - back * 1.6 * age.sqrt(),
                contact.place.y + 0.03 * i as f64,
                (0.03 + rise - fall).max(0.01),
            );
            let sand = light.lit(Colour::new(214.0, 192.0, 158.0));
            let thin = 0.42 * (1.0 - age).powi(2) as f32;
            canvas.glow(at, 0.05 + 0.09 * age, 1.5, sand.fade(thin), None);
        }
    }
}
