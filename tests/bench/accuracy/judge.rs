//! One scene clicked, measured and held against its truth.

use std::time::Instant;

use groundline::arena::Laid;
use groundline::marks::{Event, MarksFile};
use groundline::pan::CameraMotion;
use groundline::quantity::Unit;
use groundline::stride::{ApproachMeasurement, Draws, Measurement, measure_with_motion};

use super::cases::{Case, Held};
use super::pace::Pace;
use super::plain::{Job, Wanted};
use super::score::{Datum, Judged, Quantity};

/// What came of one scene.
pub struct Run {
    pub number: u64,
    pub held: Held,
    pub laid: Laid,
    pub poles: u32,
    /// Why nothing was measured.
    pub refused: Option<String>,
    pub measurement: Option<Measurement>,
    pub data: Vec<Datum>,
    /// How often the pace changed.
    pub pace: Option<Pace>,
    /// What the homography is to do with the same clicks, one wish a datum.
    pub job: Job,
    pub seconds: f64,
    /// Where the survey puts the camera: focal length over the true one, height in metres.
    pub camera: Option<(f64, f64)>,
}

/// Measures the marks of `case`; `scene` tells its numbers apart from those of others.
pub fn run(case: &Case, file: &MarksFile, scene: usize) -> Run {
    run_with_motion(case, file, None, scene)
}

/// The same with what is known of the camera's motion.
pub fn run_with_motion(
    case: &Case,
    file: &MarksFile,
    motion: Option<&CameraMotion>,
    scene: usize,
) -> Run {
    let begun = Instant::now();
    let measured = measure_with_motion(file, motion, Draws::default());
    let seconds = begun.elapsed().as_secs_f64();
    let empty = Run {
        number: case.number,
        held: case.held,
        laid: case.clicking.laid,
        poles: case.scene.poles.count,
        refused: None,
        measurement: None,
        data: Vec::new(),
        pace: None,
        job: Job::default(),
        seconds,
        camera: None,
    };
    match measured {
        Err(refused) => Run { refused: Some(refused.to_string()), ..empty },
        Ok((survey, measurement)) => {
            let true_focal = case.truth.frames[0].camera.lens.focal_px;
            let camera = survey.cameras.values().next();
            let camera = camera.map(|c| (c.lens.focal_px / true_focal, c.pose.position.z));
            let mut judge = Judge { case, scene, data: Vec::new(), wanted: Vec::new() };
            let approach = &measurement.approaches[0];
            judge.approach(approach);
            let pace = judge.true_lengths(approach).and_then(|of| Pace::of(approach, of));
            let job = Job::new(file, judge.wanted);
            Run { measurement: Some(measurement), data: judge.data, pace, job, camera, ..empty }
        }
    }
}

struct Judge<'a> {
    case: &'a Case,
    scene: usize,
    data: Vec<Datum>,
    wanted: Vec<Wanted>,
}

impl Judge<'_> {
    fn add(
        &mut self,
        quantity: Quantity,
        stride: Option<(i32, f64)>,
        judged: Judged,
        truth: f64,
        wanted: Wanted,
    ) {
        let (stride, away_m) =
            stride.map_or((None, f64::NAN), |(number, away)| (Some(number), away));
        self.data.push(Datum { scene: self.scene, quantity, stride, away_m, judged, plain: None });
        self.wanted.push(wanted.with_truth(truth));
    }

    fn approach(&mut self, approach: &ApproachMeasurement) {
        self.strides(approach);
        self.edges(approach);
        self.evenness(approach);
        let truth = &self.case.truth;
        if let Some(track) = &approach.track {
            let (offset, angle) = (truth.track_offset_m, truth.track_angle_deg);
            let judged = Judged::of(&track.offset_m, offset);
            self.add(Quantity::TrackOffset, None, judged, offset, Wanted::offset());
            let judged = Judged::of(&track.angle_deg, angle);
            self.add(Quantity::TrackAngle, None, judged, angle, Wanted::angle());
        }
    }

    fn strides(&mut self, approach: &ApproachMeasurement) {
        let of_limb = self.case.truth.strides_of(approach.reference_limb);
        for row in &approach.strides {
            let Some(truth) = of_limb.iter().find(|s| s.number == row.number) else { continue };
            let stride = Some((row.number, self.away_m(approach, row.number)));
            let pair = (row.from_footfall.clone(), row.to_footfall.clone());
            let judged = Judged::of(&row.duration_s, truth.duration_s);
            self.add(Quantity::Duration, stride, judged, truth.duration_s, Wanted::nothing());
            if let Some(length) = &row.length_m {
                let judged = Judged::of(length, truth.length_m);
                let wanted = Wanted::length(pair.clone());
                self.add(Quantity::StrideLength, stride, judged, truth.length_m, wanted);
            }
            if let Some(speed) = &row.speed_m_per_s {
                let judged = Judged::of(speed, truth.speed_m_per_s);
                let wanted = Wanted::speed(pair, row.duration_s.value.get());
                self.add(Quantity::Speed, stride, judged, truth.speed_m_per_s, wanted);
            }
        }
    }

    /// From the camera to the middle of a stride, along the ground.
    fn away_m(&self, approach: &ApproachMeasurement, number: i32) -> f64 {
        let truth = &self.case.truth;
        let limb = approach.reference_limb;
        let ends: Vec<_> = truth
            .approach_contacts()
            .filter(|c| c.limb == limb && (c.stride == number || c.stride == number + 1))
            .collect();
        let [from, to] = ends.as_slice() else { return f64::NAN };
        let Some(frame) = truth.frame_at(from.contact_s) else { return f64::NAN };
        let camera = frame.camera.pose.position;
        let (x, y) = (
            f64::midpoint(from.place.x, to.place.x) - camera.x,
            f64::midpoint(from.place.y, to.place.y) - camera.y,
        );
        x.hypot(y)
    }

    fn edges(&mut self, approach: &ApproachMeasurement) {
        let truth = &self.case.truth;
        // A hoof that was not seen leaves the distance to its neighbour, and the survey says so.
        let x_of = |event, limb| {
            let found = truth.approach_contacts().find(|c| c.event == event && c.limb == limb);
            found.map(|contact| contact.place.x)
        };
        if let Some(take_off) = &approach.take_off
            && let Some(x) = x_of(Event::TakeOff, take_off.limb)
        {
            let wanted = Wanted::before_take_off_base(take_off.footfall.clone());
            let judged = Judged::of(&take_off.distance_m, -x);
            self.add(Quantity::TakeOff, None, judged, -x, wanted);
        }
        if let Some(landing) = &approach.landing
            && let Some(x) = x_of(Event::Landing, landing.limb)
        {
            let far = x - self.case.scene.fence.far_x();
            let wanted = Wanted::behind_landing_base(landing.footfall.clone());
            let judged = Judged::of(&landing.distance_m, far);
            self.add(Quantity::Landing, None, judged, far, wanted);
        }
    }

    /// True lengths of the strides that have a measured one, by number.
    fn true_lengths(&self, approach: &ApproachMeasurement) -> Option<Vec<(i32, f64)>> {
        let of_limb = self.case.truth.strides_of(approach.reference_limb);
        let rows = approach.strides.iter().filter(|row| row.length_m.is_some());
        rows.map(|row| {
            let truth = of_limb.iter().find(|s| s.number == row.number)?;
            Some((row.number, truth.length_m))
        })
        .collect()
    }

    fn evenness(&mut self, approach: &ApproachMeasurement) {
        let Some(levelness) = &approach.levelness else { return };
        let rows: Vec<_> = approach.strides.iter().filter(|row| row.length_m.is_some()).collect();
        let lengths = self.true_lengths(approach);
        let Some(truth) = lengths.as_deref().and_then(Evenness::of) else { return };
        let pairs: Vec<_> = rows
            .iter()
            .map(|row| (row.number, (row.from_footfall.clone(), row.to_footfall.clone())))
            .collect();
        let numbers = [
            (
                Quantity::Variation,
                Judged::of(&levelness.variation_percent, truth.variation_percent),
                truth.variation_percent,
            ),
            (Quantity::Range, Judged::of(&levelness.range_m, truth.range_m), truth.range_m),
            (Quantity::Mean, Judged::of(&levelness.mean_m, truth.mean_m), truth.mean_m),
            (
                Quantity::Trend,
                Judged::of(&levelness.trend_m_per_stride, truth.trend_m),
                truth.trend_m,
            ),
        ];
        for (quantity, judged, value) in numbers {
            self.add(quantity, None, judged, value, Wanted::evenness(quantity, pairs.clone()));
        }
    }
}

/// Evenness of a list of strides, worked out here and not by what is judged.
pub struct Evenness {
    pub range_m: f64,
    pub variation_percent: f64,
    pub mean_m: f64,
    pub trend_m: f64,
}

impl Evenness {
    pub fn of(lengths: &[(i32, f64)]) -> Option<Self> {
        if lengths.len() < 3 {
            return None;
        }
        let n = lengths.len() as f64;
        let mean_m = lengths.iter().map(|(_, m)| m).sum::<f64>() / n;
        let mean_at = lengths.iter().map(|(at, _)| f64::from(*at)).sum::<f64>() / n;
        let sum = |of: &dyn Fn(f64, f64) -> f64| -> f64 {
            lengths.iter().map(|(at, m)| of(f64::from(*at) - mean_at, m - mean_m)).sum()
        };
        let longest = lengths.iter().map(|(_, m)| *m).fold(f64::MIN, f64::max);
        let shortest = lengths.iter().map(|(_, m)| *m).fold(f64::MAX, f64::min);
        Some(Self {
            range_m: longest - shortest,
            variation_percent: 100.0 * (sum(&|_, m| m * m) / (n - 1.0)).sqrt() / mean_m,
            mean_m,
            trend_m: sum(&|at, m| at * m) / sum(&|at, _| at * at),
        })
    }
}
