//! An invented approach to an oxer, measured: what drawing tests draw.

use crate::marks::{Event, Limb, MarkAddress, Round};
use crate::quantity::sample::estimate;
use crate::quantity::{
    FrameNumber, Metres, MetresPerSecond, Percent, Seconds, StridesPerMinute, Unit,
};
use crate::scene::{Camera, GroundPoint, Lens, PictureSize, Pose, ScenePoint};
use crate::stride::{
    ApproachMeasurement, EdgeDistance, FenceEdge, Levelness, PACE_TOLERANCE, PaceChanges,
    PlacedFence, PlacedFootfall, StrideRow, TrackAtFence,
};
use crate::survey::{GroundEllipse, PlacedPole, Suspect};

/// Where the sample's ground line is, metres along the ground frame.
pub const FENCE_X: f64 = 13.0;
const SPREAD: f64 = 1.1;
const TAKE_OFF: f64 = 1.78;
const LENGTHS: [f64; 15] =
    [3.52, 3.58, 3.71, 3.61, 3.55, 3.47, 3.42, 3.50, 3.44, 3.38, 3.35, 3.41, 3.29, 3.22, 3.18];

/// What the sample shows.
#[derive(Clone, Copy, Debug)]
pub struct Sample {
    /// Strides, 1 to 15.
    pub strides: usize,
    /// Whether take-off and landing were marked.
    pub jump: bool,
    /// Whether all four limbs were marked, or only the reference hind.
    pub all_limbs: bool,
}

/// Seven strides, all limbs, with the jump.
pub const SEVEN: Sample = Sample { strides: 7, jump: true, all_limbs: true };

/// The measured approach.
pub fn approach(sample: Sample) -> ApproachMeasurement {
    let n = sample.strides.clamp(1, 15);
    let mut places = vec![FENCE_X - TAKE_OFF];
    for length in &LENGTHS[..n] {
        places.insert(0, places[0] - length);
    }
    let mut footfalls = Vec::new();
    for (k, x) in places.iter().enumerate() {
        contacts(k, *x, k == n, sample, &mut footfalls);
    }
    if sample.jump {
        let far = FENCE_X + SPREAD;
        footfalls.push(hoof("l1", Limb::TrailingFore, Event::Landing, n, 0.55, far + 1.64, 0.1));
        footfalls.push(hoof("l2", Limb::LeadingFore, Event::Away, n, 0.63, far + 2.31, -0.1));
    }
    let strides: Vec<StrideRow> = (0..n).map(|k| row(k, n, places[k + 1] - places[k])).collect();
    let side = |x: f64| [Some(GroundPoint::new(x, 1.9)), Some(GroundPoint::new(x, -1.6))];
    ApproachMeasurement {
        approach: "first".into(),
        fence: PlacedFence {
            id: "oxer".into(),
            name: "Blue oxer".into(),
            take_off_base: side(FENCE_X),
            landing_base: side(FENCE_X + SPREAD),
        },
        reference_limb: Limb::LeadingHind,
        levelness: (n >= 3).then(|| levelness(&places)),
        pace_changes: (n >= 3).then(|| PaceChanges {
            count: 1,
            probability: 0.75,
            probabilities: vec![0.25, 0.75],
            tolerance_percent: Percent::new(PACE_TOLERANCE),
        }),
        take_off: sample.jump.then(|| EdgeDistance {
            distance_m: estimate::<Metres>(TAKE_OFF, 0.06),
            limb: Limb::LeadingHind,
            edge: FenceEdge::GroundLine,
            footfall: format!("h{n}"),
        }),
        landing: sample.jump.then(|| EdgeDistance {
            distance_m: estimate::<Metres>(1.64, 0.08),
            limb: Limb::TrailingFore,
            edge: FenceEdge::FarBase,
            footfall: "l1".into(),
        }),
        track: Some(TrackAtFence {
            offset_m: estimate(0.12, 0.07),
            angle_deg: estimate(-2.4, 1.3),
            bend_per_m: 0.0,
        }),
        track_line: (0..)
            .map(|i| places[0] - 1.0 + 0.25 * f64::from(i))
            .take_while(|x| *x < FENCE_X + 4.0)
            .map(|x| GroundPoint::new(x, track_y(x)))
            .collect(),
        footfalls,
        strides,
        doubts: Vec::new(),
        note: String::new(),
    }
}

fn track_y(x: f64) -> f64 {
    0.15 + 0.0011 * (x - FENCE_X).powi(2)
}

fn contacts(k: usize, x: f64, last: bool, sample: Sample, out: &mut Vec<PlacedFootfall>) {
    let event = if last && sample.jump { Event::TakeOff } else { Event::Stride };
    if sample.all_limbs {
        let behind = if last { 0.22 } else { 0.55 };
        let dt = if last { -0.02 } else { -0.09 };
        out.push(hoof(&format!("g{k}"), Limb::TrailingHind, event, k, dt, x - behind, 0.14));
    }
    out.push(hoof(&format!("h{k}"), Limb::LeadingHind, event, k, 0.0, x, -0.12));
    if sample.all_limbs && !last {
        let stride = Event::Stride;
        out.push(hoof(&format!("f{k}"), Limb::TrailingFore, stride, k, 0.02, x + 1.15, 0.11));
        out.push(hoof(&format!("e{k}"), Limb::LeadingFore, stride, k, 0.13, x + 1.86, -0.1));
    }
}

fn hoof(
    id: &str,
    limb: Limb,
    event: Event,
    k: usize,
    after: f64,
    x: f64,
    side: f64,
) -> PlacedFootfall {
    let time_s = 1.2 + 0.61 * k as f64 + after;
    let far = (FENCE_X - 4.0 - x).abs();
    PlacedFootfall {
        footfall: id.into(),
        limb,
        event,
        frame: FrameNumber((time_s * 60.0) as u32),
        time_s,
        place: Some(GroundPoint::new(x, track_y(x) + side)),
        ellipse: Some(GroundEllipse {
            major_sd_m: 0.05 + 0.004 * far,
            minor_sd_m: 0.02 + 0.001 * far,
            turn_rad: 1.5 + 0.02 * (x - FENCE_X),
        }),
    }
}

fn row(k: usize, n: usize, length: f64) -> StrideRow {
    let number = k as i32 - n as i32;
    let half = 0.05 + 0.009 * f64::from(-number);
    let duration = 0.61 + 0.012 * f64::from(k as i32 % 3 - 1);
    StrideRow {
        number,
        from_footfall: format!("h{k}"),
        to_footfall: format!("h{}", k + 1),
        length_m: Some(estimate::<Metres>(length, half)),
        duration_s: estimate::<Seconds>(duration, 0.013),
        tempo_strides_per_min: estimate::<StridesPerMinute>(60.0 / duration, 2.1),
        speed_m_per_s: Some(estimate::<MetresPerSecond>(length / duration, 0.17)),
        note: String::new(),
    }
}

fn levelness(places: &[f64]) -> Levelness {
    let count = (places.len() - 1) as f64;
    let mean = (places[places.len() - 1] - places[0]) / count;
    Levelness {
        range_m: estimate::<Metres>(0.29, 0.08),
        variation_percent: estimate::<Percent>(2.7, 0.9),
        change_m: estimate::<Metres>(0.12, 0.05),
        trend_m_per_stride: estimate::<Metres>(0.02, 0.02),
        mean_m: estimate(mean, 0.04),
        mean_speed_m_per_s: estimate(mean / 0.61, 0.05),
        mean_tempo_strides_per_min: estimate(98.4, 0.6),
    }
}

/// Four poles three metres apart before the fence.
pub fn poles() -> Vec<PlacedPole> {
    (0..4)
        .map(|i| PlacedPole {
            reference: "poles".into(),
            pole: i + 1,
            left: GroundPoint::new(3.0 * f64::from(i), -1.9),
            right: GroundPoint::new(3.0 * f64::from(i), -5.4),
            diameter_m: 0.1,
        })
        .collect()
}

/// A camera `back` metres beside the track that looks at `x`.
pub fn camera(picture: PictureSize, x: f64, back: f64) -> Camera {
    Camera {
        lens: Lens::with_field(picture, 1.05),
        pose: Pose::looking_at(
            ScenePoint::new(FENCE_X - 5.0, -back, 1.6),
            ScenePoint::new(x, 0.0, 0.9),
        ),
    }
}

/// Who, where, when.
pub fn round() -> Round {
    Round {
        date: Some("2026-04-18".into()),
        rider: "Maren Holt".into(),
        horse: "Juniper".into(),
        place: "Lower arena".into(),
        surface: "sand, firm".into(),
        ..Round::default()
    }
}

/// A suspect footfall of the sample.
pub fn suspect(footfall: &str) -> Suspect {
    Suspect {
        mark: MarkAddress::Footfall { approach: "first".into(), footfall: footfall.into() },
        frame: FrameNumber(145),
        off_px: 14.2,
        off_sds: 6.3,
    }
}
