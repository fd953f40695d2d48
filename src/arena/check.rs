//! What a scene must keep to before it can be true.

use super::filming::Handling;
use super::scene::Scene;
use super::truth::Truth;

/// Why a scene cannot be made.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum SceneError {
    /// A number lies outside what a scene can hold.
    #[error("cannot make the scene: {what} is {given} ({least} to {most} needed)")]
    OutOfRange {
        /// Which number.
        what: &'static str,
        /// Its value.
        given: f64,
        /// The least allowed.
        least: f64,
        /// The most allowed.
        most: f64,
    },
    /// A fixed camera must see the whole approach.
    #[error(
        "the fixed camera does not see {hidden} of the {all} footfalls of the approach; \
         move it back, along, or widen its field"
    )]
    OutOfView {
        /// How many footfalls fall outside the picture.
        hidden: usize,
        /// Out of how many.
        all: usize,
    },
}

impl Scene {
    /// Checks every number that could break the arithmetic.
    pub fn check(&self) -> Result<(), SceneError> {
        let (poles, ride, filming) = (&self.poles, &self.ride, &self.filming);
        let all = [
            ("the number of strides", ride.strides_m.len() as f64, 1.0, 40.0),
            ("the number of poles", f64::from(poles.count), 0.0, 50.0),
            ("the pole spacing in metres", poles.spacing_m, 0.3, 30.0),
            ("the pole length in metres", poles.length_m, 0.5, 6.0),
            ("the pole diameter in metres", poles.diameter_m, 0.02, 0.3),
            ("the fence height in metres", self.fence.height_m, 0.1, 2.2),
            ("the spread in metres", self.fence.far_x(), 0.0, 5.0),
            ("the fence width in metres", self.fence.width_m, 1.0, 8.0),
            ("the slope in per cent", self.ground.slope_percent, -30.0, 30.0),
            ("the angle to the fence in degrees", self.track.angle_deg, -45.0, 45.0),
            ("the take-off distance in metres", ride.take_off_m, 0.2, 5.0),
            ("the landing distance in metres", ride.landing_m, 0.2, 6.0),
            ("the number of strides away", f64::from(ride.away_strides), 0.0, 10.0),
            ("the camera height in metres", filming.height_m, 0.2, 30.0),
            ("the camera distance in metres", filming.distance_m.abs(), 4.0, 200.0),
            ("the field in degrees", filming.field_deg, 3.0, 120.0),
            ("the picture width in pixels", f64::from(filming.picture.width), 64.0, 8192.0),
            ("the picture height in pixels", f64::from(filming.picture.height), 64.0, 8192.0),
            ("the frames per second", filming.frames_per_s, 5.0, 1000.0),
            ("the lens distortion k1", filming.k1, -0.2, 0.2),
            ("the roll in degrees", filming.roll_deg, -30.0, 30.0),
            ("the noise in grey levels", filming.noise_levels, 0.0, 60.0),
            ("the exposure in seconds", filming.exposure_s, 0.0, 1.0 / filming.frames_per_s),
        ];
        for (what, given, least, most) in all {
            in_range(what, given, least, most)?;
        }
        for &length in &ride.strides_m {
            in_range("a stride in metres", length, 0.8, 8.0)?;
        }
        self.check_pace()?;
        self.check_handling()
    }

    fn check_pace(&self) -> Result<(), SceneError> {
        match &self.ride.pace {
            super::scene::Pace::Length => Ok(()),
            super::scene::Pace::Speed { m_per_s } => {
                in_range("the speed in m/s", *m_per_s, 2.0, 18.0)
            }
            super::scene::Pace::Durations { s } => {
                s.iter().try_for_each(|&s| in_range("a stride duration in seconds", s, 0.3, 1.2))
            }
        }
    }

    fn check_handling(&self) -> Result<(), SceneError> {
        let Handling::Turning { tremor_deg, sway_sd_m, zoom_to } = self.filming.handling else {
            return Ok(());
        };
        in_range("the tremor in degrees", tremor_deg, 0.0, 3.0)?;
        in_range("the sway in metres", sway_sd_m, 0.0, 1.0)?;
        in_range("the zoom", zoom_to, 0.3, 4.0)
    }
}

impl Truth {
    /// A fixed camera sees every footfall of the approach.
    pub(super) fn check_view(&self, scene: &Scene) -> Result<(), SceneError> {
        if scene.filming.handling != Handling::Fixed {
            return Ok(());
        }
        let camera = self.frames[0].camera;
        let seen = |contact: &&super::truth::Contact| {
            let point = camera.project(contact.place.at_height(0.0));
            point.is_ok_and(|point| scene.filming.picture.holds(point))
        };
        let all = self.approach_contacts().count();
        let hidden = all - self.approach_contacts().filter(seen).count();
        if hidden == 0 { Ok(()) } else { Err(SceneError::OutOfView { hidden, all }) }
    }
}

fn in_range(what: &'static str, given: f64, least: f64, most: f64) -> Result<(), SceneError> {
    if (least..=most).contains(&given) {
        Ok(())
    } else {
        Err(SceneError::OutOfRange { what, given, least, most })
    }
}
