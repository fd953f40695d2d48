//! From a ride to the body's way along the track and every hoof's contact.
//!
//! The leading hind sets the strides (the scene lists its steps). The body moves smoothly past
//! those hooves, and the other limbs meet the ground at their beat, as far ahead of hip or
//! shoulder as half a stance carries the body. So every limb's strides follow the same change of
//! pace without being copies of one another.

use rand_chacha::ChaCha8Rng;

use super::chance::{Purpose, normal, stream};
use super::curve::Curve;
use super::gait;
use super::scene::{Pace, Scene};
use super::truth::Contact;
use crate::marks::{Event, Lead, Limb};

/// Hip joint and shoulder joint along the body from the centre of mass of a horse, metres.
/// Common practice, no source.
pub(super) const HIP_ALONG_M: f64 = -0.62;
/// See [`HIP_ALONG_M`].
pub(super) const SHOULDER_ALONG_M: f64 = 0.50;

/// Share of a stance's travel that lies before the hip or shoulder is over the hoof.
const HIND_REACH: f64 = 0.44;
const FORE_REACH: f64 = 0.42;

/// The times of the jump.
#[derive(Clone, Copy, Debug)]
pub(super) struct JumpTimes {
    /// The leading hind's contact at take-off.
    pub(super) take_off_s: f64,
    /// The hind hooves leave the ground.
    pub(super) lift_s: f64,
    /// The first fore hoof lands.
    pub(super) land_s: f64,
}

/// What a ride comes to.
#[derive(Clone, Debug)]
pub(super) struct Plan {
    /// All contacts in the order of time.
    pub(super) contacts: Vec<Contact>,
    /// The centre of mass along the track, metres, at a time in seconds.
    pub(super) along: Curve,
    /// The leading hind's contacts, in the order of time: the beat that everything follows.
    pub(super) beats: Vec<Beat>,
    /// The jump.
    pub(super) jump: JumpTimes,
    /// The clip starts at 0 and ends here.
    pub(super) end_s: f64,
}

/// One contact of the leading hind.
#[derive(Clone, Copy, Debug)]
pub(super) struct Beat {
    /// Stride it begins: −1 is the last before the fence, 0 the jump, 1 the first after it.
    pub(super) stride: i32,
    /// Along the track, metres.
    pub(super) along: f64,
    /// When, seconds.
    pub(super) at_s: f64,
    /// How long the stride lasts that it begins.
    pub(super) lasts_s: f64,
    /// Mean speed of that stride.
    pub(super) speed: f64,
}

/// Strides that come before the listed ones, so that the horse enters at a canter.
const LEAD_IN: usize = 2;

impl Plan {
    /// The plan of a checked scene.
    pub(super) fn of(scene: &Scene) -> Self {
        let scale = scene.horse.size.scale();
        let approach = approach_beats(scene, scale);
        let take_off = approach[approach.len() - 1];
        let (knots, jump) = jump_knots(scene, scale, &take_off);
        let mut beats = approach;
        let away = away_beats(scene, scale, &knots, &jump);
        beats.extend(away);
        let body = |beat: &Beat| (beat.at_s, beat.along - hind_reach(beat.speed, scale));
        let before = beats.iter().filter(|beat| beat.stride < 0).map(body);
        let after = beats.iter().filter(|beat| beat.stride > 0).map(body);
        let along = Curve::through(before.chain(knots).chain(after));
        let random = stream(scene.seed, Purpose::Hooves);
        let mut hooves = Hooves { scene, scale, along: &along, random, contacts: Vec::new() };
        for beat in beats.iter().filter(|beat| beat.stride != 0) {
            hooves.stride(beat);
        }
        hooves.jump(&take_off, &jump, landing_speed(scene, scale, &knots));
        let mut contacts = hooves.contacts;
        contacts.sort_by(|a, b| a.contact_s.total_cmp(&b.contact_s));
        let end_s = beats[beats.len() - 1].at_s + 0.1;
        Self { contacts, along, beats, jump, end_s }
    }
}

/// Leading hind contact relative to the centre of mass, metres along the track.
fn hind_reach(speed: f64, scale: f64) -> f64 {
    scale * HIP_ALONG_M + HIND_REACH * speed * gait::stance_s(true, speed, scale)
}

fn duration_s(scene: &Scene, index: usize, length_m: f64, scale: f64) -> f64 {
    match &scene.ride.pace {
        Pace::Length => gait::stride_duration_s(length_m, scale),
        Pace::Speed { m_per_s } => length_m / m_per_s,
        Pace::Durations { s } => {
            let or_last = s.get(index).or(s.last()).copied();
            or_last.unwrap_or_else(|| gait::stride_duration_s(length_m, scale))
        }
    }
}

/// The leading hind's contacts up to take-off; the last of them has stride 0.
fn approach_beats(scene: &Scene, scale: f64) -> Vec<Beat> {
    let strides = &scene.ride.strides_m;
    let count = strides.len() + LEAD_IN;
    let listed = |i: usize| i.saturating_sub(LEAD_IN);
    let lengths: Vec<f64> = (0..count).map(|i| strides[listed(i)]).collect();
    let durations: Vec<f64> =
        (0..count).map(|i| duration_s(scene, listed(i), lengths[i], scale)).collect();
    let take_off_at = scene.track.along_at_x(-scene.ride.take_off_m);
    let mut along = take_off_at - lengths.iter().sum::<f64>();
    // The clip begins half a stride before the first lead-in contact has passed its second.
    let mut at_s = -0.6 * durations[0];
    let mut beats = Vec::with_capacity(count + 1);
    for i in 0..=count {
        let stride = i as i32 - count as i32;
        let (length, lasts_s) = (lengths[i.min(count - 1)], durations[i.min(count - 1)]);
        let before = lengths[i.saturating_sub(1)] / durations[i.saturating_sub(1)];
        let speed = f64::midpoint(before, length / lasts_s);
        beats.push(Beat { stride, along, at_s, lasts_s, speed });
        along += length;
        at_s += lasts_s;
    }
    beats
}

/// The body's way from take-off to landing.
///
/// The hoof lies behind the centre of mass at lift-off and ahead of it at landing; by how much
/// over a fence is common practice, no source (over water 1.11 m at lift-off: Colborne, Clayton &
/// Lanovaz 1995). A short jump is a steep one: the offsets shrink before the flight becomes
/// slower than 4.2 m/s (landing: 5.26 ± 0.92 m/s, Powers & Harrison 2000).
fn jump_knots(scene: &Scene, scale: f64, take_off: &Beat) -> ([(f64, f64); 3], JumpTimes) {
    let landing_x = scene.fence.far_x() + scene.ride.landing_m;
    let landing_at = scene.track.along_at_x(landing_x);
    let flight_s = gait::flight_s(scene.fence.height_m, scale);
    let lift_s = take_off.at_s + gait::TAKE_OFF_STANCE_S;
    let land_s = lift_s + flight_s;
    let (behind, ahead) = (0.75 * scale, 0.45 * scale);
    let spare = landing_at - take_off.along - 4.2 * scale.sqrt() * flight_s;
    let share = (spare / (behind + ahead)).clamp(0.45, 1.0);
    let jump = JumpTimes { take_off_s: take_off.at_s, lift_s, land_s };
    let knots = [
        (take_off.at_s, take_off.along - 0.15 * scale),
        (lift_s, take_off.along + share * behind),
        (land_s, landing_at - share * ahead),
    ];
    (knots, jump)
}

/// Mean speed over the listed strides, and their mean length and duration.
fn usual_pace(scene: &Scene, scale: f64) -> (f64, f64, f64) {
    let strides = &scene.ride.strides_m;
    let length = strides.iter().sum::<f64>() / strides.len() as f64;
    let lasts_s = duration_s(scene, strides.len() / 2, length, scale);
    (length / lasts_s, length, lasts_s)
}

/// Speed just after landing: between that of the flight and the usual one.
fn landing_speed(scene: &Scene, scale: f64, knots: &[(f64, f64); 3]) -> f64 {
    let flown = (knots[2].1 - knots[1].1) / (knots[2].0 - knots[1].0);
    f64::midpoint(flown, usual_pace(scene, scale).0)
}

/// The leading hind's contacts after landing.
fn away_beats(scene: &Scene, scale: f64, knots: &[(f64, f64); 3], jump: &JumpTimes) -> Vec<Beat> {
    let (speed, length, lasts_s) = usual_pace(scene, scale);
    let first_s = jump.land_s + 0.34 * scale.sqrt();
    let body = knots[2].1 + landing_speed(scene, scale, knots) * (first_s - jump.land_s);
    (0..=scene.ride.away_strides)
        .map(|i| Beat {
            stride: i as i32 + 1,
            along: body + hind_reach(speed, scale) + f64::from(i) * length,
            at_s: first_s + f64::from(i) * lasts_s,
            lasts_s,
            speed,
        })
        .collect()
}

struct Hooves<'a> {
    scene: &'a Scene,
    scale: f64,
    along: &'a Curve,
    random: ChaCha8Rng,
    contacts: Vec<Contact>,
}

impl Hooves<'_> {
    /// The four contacts of the stride that `beat` begins, where the body's way puts them.
    fn stride(&mut self, beat: &Beat) {
        let event = if beat.stride < 0 { Event::Stride } else { Event::Away };
        for limb in Limb::ALL {
            let shift = gait::beat(limb, beat.stride == -1) * beat.lasts_s;
            // The first hinds after landing come close together, like the landing fores.
            let shift = if beat.stride == 1 && limb == Limb::TrailingHind { -0.08 } else { shift };
            let at_s = beat.at_s + shift;
            let stance = gait::stance_s(limb.is_hind(), beat.speed, self.scale);
            let along = if limb == Limb::LeadingHind {
                beat.along
            } else {
                self.ahead_of_joint(limb, at_s, beat.speed * stance)
            };
            // Before take-off the trailing fore stands longer (Leach, Ormrod & Clayton 1984; the
            // tenth more is common practice, no source).
            let longer = beat.stride == -1 && limb == Limb::TrailingFore;
            let stance = if longer { 1.1 * stance } else { stance };
            self.push(limb, event, beat.stride, along, (at_s, at_s + stance));
        }
    }

    /// Take-off hinds and landing fores.
    fn jump(&mut self, take_off: &Beat, jump: &JumpTimes, speed: f64) {
        let gap = gait::TAKE_OFF_HIND_GAP_S;
        let behind = 0.09 * self.scale;
        let (at, lift) = (take_off.at_s, jump.lift_s);
        self.push(
            Limb::TrailingHind,
            Event::TakeOff,
            0,
            take_off.along - behind,
            (at - gap, lift - gap / 2.0),
        );
        self.push(Limb::LeadingHind, Event::TakeOff, 0, take_off.along, (at, lift));
        let landing_x = self.scene.fence.far_x() + self.scene.ride.landing_m;
        let first = self.scene.track.along_at_x(landing_x);
        let stance = gait::stance_s(false, speed, self.scale);
        let land = jump.land_s;
        self.push(Limb::TrailingFore, Event::Landing, 0, first, (land, land + 0.9 * stance));
        let second_s = land + 0.10 * self.scale.sqrt();
        let second = self.ahead_of_joint(Limb::LeadingFore, second_s, speed * stance);
        self.push(Limb::LeadingFore, Event::Landing, 0, second, (second_s, second_s + stance));
    }

    fn ahead_of_joint(&self, limb: Limb, at_s: f64, stance_travel: f64) -> f64 {
        let (joint, share) =
            if limb.is_hind() { (HIP_ALONG_M, HIND_REACH) } else { (SHOULDER_ALONG_M, FORE_REACH) };
        self.along.at(at_s) + self.scale * joint + share * stance_travel
    }

    fn push(&mut self, limb: Limb, event: Event, stride: i32, along: f64, times: (f64, f64)) {
        let side = side_of(limb, self.scene.ride.lead);
        let left = match side {
            Lead::Left => self.scene.ride.left_hooves_m,
            Lead::Right => self.scene.ride.right_hooves_m,
        };
        let left = left + normal(&mut self.random, self.scene.ride.scatter_sd_m);
        let place = self.scene.track.beside(along, left);
        let (contact_s, lift_s) = times;
        self.contacts.push(Contact { limb, side, event, stride, place, contact_s, lift_s });
    }
}

/// Which side of the horse a limb is on.
pub(super) fn side_of(limb: Limb, lead: Lead) -> Lead {
    match (limb.is_leading(), lead) {
        (true, lead) => lead,
        (false, Lead::Left) => Lead::Right,
        (false, Lead::Right) => Lead::Left,
    }
}
