//! The marks a coach would place on a scene: true projections plus her clicking error.
//!
//! The stated standard deviation of every mark is the one its error was drawn with, so that
//! intervals can be judged. A hoof behind a wing or out of the picture is marked `hidden`.

use std::collections::BTreeSet;

use rand_chacha::ChaCha8Rng;
use serde::{Deserialize, Serialize};
use serde_json::Map;

use super::chance::{Purpose, normal, stream};
use super::filming::{Filming, Handling};
use super::plan::Plan;
use super::scene::{Scene, Surface};
use super::surroundings::Surroundings;
use super::truth::{Contact, TrueFrame, Truth};
use crate::marks::{
    Approach, BaseCorner, BaseMarks, CameraPrior, ClipNote, Event, Fence, FenceKind, Footfall,
    Limb, Mark, MarkedFrame, MarksFile, Motion, PoleEnd, PoleEndMarks, Reference, ReferenceKind,
    Round, Tie, TiePlace,
};
use crate::quantity::{FrameNumber, Given};
use crate::scene::{FramePoint, ScenePoint};

/// How the coach clicks and what she states.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Clicking {
    /// Standard deviation of a click on a pole end, pixels in each direction.
    pub pole_sd_px: f64,
    /// On a hoof.
    pub hoof_sd_px: f64,
    /// On the fence's base.
    pub base_sd_px: f64,
    /// On a tie.
    pub tie_sd_px: f64,
    /// Feeds the errors.
    pub seed: u64,
    /// What she states about the pole spacing.
    pub laid: Laid,
    /// Which footfalls she marks.
    pub limbs: MarkedLimbs,
    /// Whether she places ties by hand when the camera turns.
    pub hand_ties: bool,
    /// Whether she states the fence's width as a reference.
    pub fence_width: bool,
}

/// How the poles were measured out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Laid {
    /// With a tape: one gap is good to 0.01 m.
    Taped,
    /// Paced: one gap is good to 0.10 m.
    Paced,
}

/// Which limbs are marked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MarkedLimbs {
    /// All four, with take-off hinds and landing fores.
    All,
    /// Hinds, and the landing fores.
    Hinds,
}

impl Clicking {
    /// Clicks of one standard deviation all round, poles taped, all limbs, ties by hand.
    pub const fn with_sd(sd_px: f64, seed: u64) -> Self {
        Self {
            pole_sd_px: sd_px,
            hoof_sd_px: sd_px,
            base_sd_px: sd_px,
            tie_sd_px: sd_px,
            seed,
            laid: Laid::Taped,
            limbs: MarkedLimbs::All,
            hand_ties: true,
            fence_width: false,
        }
    }

    /// The usual evening at the desk: ends snapped to the pole's edges at 0.4 px, hooves at
    /// 1.5 px, base and ties at 1 px.
    pub const fn usual(seed: u64) -> Self {
        let mut usual = Self::with_sd(1.0, seed);
        usual.pole_sd_px = 0.4;
        usual.hoof_sd_px = 1.5;
        usual
    }
}

/// Name of the only fence and the only approach in the marks.
const FENCE: &str = "fence-1";
const APPROACH: &str = "approach-1";

/// The marks file of a scene. Clip hash and size are empty; whoever writes the clip fills them.
pub fn marks(scene: &Scene, truth: &Truth, clicking: &Clicking) -> MarksFile {
    let surroundings = Surroundings::of(scene, &Plan::of(scene));
    let random = stream(clicking.seed, Purpose::Clicks);
    let mut hand = Hand { scene, truth, surroundings, random, frames: BTreeSet::new() };
    let footfalls = hand.footfalls(clicking);
    let still_frames = hand.reference_frames();
    let poles = hand.poles(clicking, &still_frames);
    let fence = hand.fence(clicking, &still_frames);
    let turning = scene.filming.handling != Handling::Fixed;
    let ties =
        if turning && clicking.hand_ties { hand.ties(clicking, &still_frames) } else { Vec::new() };
    let mut file = MarksFile::new(hand.clip_note(), camera_prior(&scene.filming));
    file.round = round(scene);
    file.references.extend(poles);
    if clicking.fence_width {
        let length_m = Given::new(scene.fence.width_m, 0.02);
        let kind = ReferenceKind::FenceWidth { fence: FENCE.into(), length_m, other: Map::new() };
        file.references.push(Reference { id: "fence-width".into(), kind });
    }
    file.ties = ties;
    file.fences.push(fence);
    file.approaches.push(Approach {
        id: APPROACH.into(),
        fence: FENCE.into(),
        lead: Some(scene.ride.lead),
        reference_limb: Some(truth.reference_limb),
        left_turn_frame: truth.left_turn_s.and_then(|s| truth.frame_at(s)).map(|f| f.frame),
        footfalls,
        stride_notes: Vec::new(),
        note: String::new(),
        other: Map::new(),
    });
    file
}

/// Whoever clicks, and the frames clicked so far.
struct Hand<'a> {
    scene: &'a Scene,
    truth: &'a Truth,
    surroundings: Surroundings,
    random: ChaCha8Rng,
    frames: BTreeSet<FrameNumber>,
}

impl Hand<'_> {
    /// A click at the picture of `point`, unless it is out of the picture or behind a wing.
    fn click(&mut self, frame: &TrueFrame, point: ScenePoint, sd_px: f64) -> Option<Mark> {
        // Drawn first, so that hiding one point does not change the errors of the others.
        let error = (normal(&mut self.random, sd_px), normal(&mut self.random, sd_px));
        let seen = frame.camera.project(point).ok()?;
        let placed = FramePoint::new(seen.x + error.0, seen.y + error.1);
        let picture = self.scene.filming.picture;
        // Nobody clicks beside the picture.
        if !picture.holds(seen)
            || !picture.holds(placed)
            || self.surroundings.hides(&frame.camera, point)
        {
            return None;
        }
        self.frames.insert(frame.frame);
        Some(Mark::new(frame.frame, placed, sd_px))
    }

    fn clicks(&mut self, frames: &[TrueFrame], point: ScenePoint, sd_px: f64) -> Vec<Mark> {
        frames.iter().filter_map(|frame| self.click(frame, point, sd_px)).collect()
    }

    /// Frames on which references are marked: the first for a fixed camera, every frame with a
    /// footfall for a turning one.
    fn reference_frames(&self) -> Vec<TrueFrame> {
        let all = &self.truth.frames;
        if self.scene.filming.handling == Handling::Fixed {
            return all.iter().take(1).copied().collect();
        }
        self.frames.iter().filter_map(|frame| all.get(frame.0 as usize)).copied().collect()
    }

    fn footfalls(&mut self, clicking: &Clicking) -> Vec<Footfall> {
        let contacts: Vec<Contact> = self.truth.approach_contacts().copied().collect();
        contacts
            .iter()
            .filter(|contact| match clicking.limbs {
                MarkedLimbs::All => true,
                MarkedLimbs::Hinds => contact.limb.is_hind() || contact.event == Event::Landing,
            })
            .filter_map(|contact| self.footfall(contact, clicking.hoof_sd_px))
            .collect()
    }

    fn footfall(&mut self, contact: &Contact, sd_px: f64) -> Option<Footfall> {
        let frame = *self.truth.frame_at(contact.contact_s)?;
        let mark = self.click(&frame, contact.place.at_height(0.0), sd_px);
        self.frames.insert(frame.frame);
        let hidden = mark.is_none();
        let nowhere = Mark::new(frame.frame, FramePoint::new(0.0, 0.0), sd_px);
        Some(Footfall {
            id: footfall_id(contact),
            limb: contact.limb,
            event: contact.event,
            mark: mark.unwrap_or(nowhere),
            hidden,
            other: Map::new(),
        })
    }

    fn poles(&mut self, clicking: &Clicking, frames: &[TrueFrame]) -> Option<Reference> {
        if self.truth.poles.is_empty() {
            return None;
        }
        let poles = self.truth.poles.clone();
        let mut ends = Vec::new();
        for pole in poles {
            for end in PoleEnd::BOTH {
                let marks = self.clicks(frames, pole.end(end), clicking.pole_sd_px);
                if !marks.is_empty() {
                    ends.push(PoleEndMarks { pole: pole.pole, end, marks, other: Map::new() });
                }
            }
        }
        let gap_sd = match clicking.laid {
            Laid::Taped => 0.01,
            Laid::Paced => 0.10,
        };
        let laid = &self.scene.poles;
        let kind = ReferenceKind::Poles {
            count: laid.count,
            spacing_m: Given::new(laid.spacing_m, gap_sd),
            length_m: Given::new(laid.length_m, 0.02),
            diameter_m: laid.diameter_m,
            ends,
            other: Map::new(),
        };
        Some(Reference { id: "poles".into(), kind })
    }

    fn fence(&mut self, clicking: &Clicking, frames: &[TrueFrame]) -> Fence {
        let mut bases = (BaseMarks::default(), BaseMarks::default());
        for (corner, place) in self.truth.fence_base.clone() {
            let marks = self.clicks(frames, place.at_height(0.0), clicking.base_sd_px);
            match corner {
                BaseCorner::TakeOffLeft => bases.0.left = marks,
                BaseCorner::TakeOffRight => bases.0.right = marks,
                BaseCorner::LandingLeft => bases.1.left = marks,
                BaseCorner::LandingRight => bases.1.right = marks,
            }
        }
        let build = &self.scene.fence;
        let is_spread = build.kind == FenceKind::Oxer;
        Fence {
            id: FENCE.into(),
            name: "Fence 1".into(),
            kind: build.kind,
            height_m: Some(build.height_m),
            spread_m: is_spread.then_some(build.spread_m),
            behind: String::new(),
            around: String::new(),
            take_off_base: bases.0,
            landing_base: bases.1,
            other: Map::new(),
        }
    }

    fn ties(&mut self, clicking: &Clicking, frames: &[TrueFrame]) -> Vec<Tie> {
        let points = self.surroundings.fixed_points();
        let mut ties = Vec::new();
        for (id, point) in points {
            let marks = self.clicks(frames, point, clicking.tie_sd_px);
            let place = if id.ends_with("foot") { TiePlace::Ground } else { TiePlace::Anywhere };
            if marks.len() >= 2 {
                ties.push(Tie { id, place, marks, other: Map::new() });
            }
        }
        ties
    }

    /// Facts of the clip, with exact times of the marked frames.
    fn clip_note(&self) -> ClipNote {
        let filming = &self.scene.filming;
        let plays_at = filming.plays_at_per_s.unwrap_or(filming.frames_per_s);
        let marked = |frame: &FrameNumber| MarkedFrame {
            frame: *frame,
            time_s: f64::from(frame.0) / plays_at,
            gap_s: 1.0 / plays_at,
            other: Map::new(),
        };
        ClipNote {
            file: "arena.mp4".into(),
            size_bytes: 0,
            blake3: String::new(),
            picture: filming.picture,
            frame_count: self.truth.frames.len() as u32,
            stream: None,
            capture_seconds_per_second: plays_at / filming.frames_per_s,
            frames: self.frames.iter().map(marked).collect(),
            other: Map::new(),
        }
    }
}

/// For example `leading-hind-3`, `trailing-hind-take-off`, `trailing-fore-landing`.
fn footfall_id(contact: &Contact) -> String {
    let limb = match contact.limb {
        Limb::TrailingHind => "trailing-hind",
        Limb::LeadingHind => "leading-hind",
        Limb::TrailingFore => "trailing-fore",
        Limb::LeadingFore => "leading-fore",
    };
    match contact.event {
        Event::Stride => format!("{limb}{}", contact.stride),
        Event::TakeOff => format!("{limb}-take-off"),
        Event::Landing => format!("{limb}-landing"),
        Event::Away => format!("{limb}+{}", contact.stride),
    }
}

/// What the coach would state of her camera: its true height only where the usual belief (eye
/// level) would mislead, and then to the nearest half metre.
fn camera_prior(filming: &Filming) -> CameraPrior {
    let motion = match filming.handling {
        Handling::Fixed => Motion::Fixed,
        Handling::Turning { sway_sd_m, .. } => Motion::Turning { sway_sd_m },
    };
    let mut prior = CameraPrior::usual(motion);
    if (filming.height_m - prior.height_m.value).abs() > prior.height_m.sd {
        prior.height_m = Given::new((filming.height_m * 2.0).round() / 2.0, 0.3);
    }
    prior
}

fn round(scene: &Scene) -> Round {
    let surface = match scene.ground.surface {
        Surface::Sand => "sand",
        Surface::Grass => "grass",
    };
    let slope = scene.ground.slope_percent;
    Round {
        surface: surface.into(),
        slope_percent: (slope != 0.0).then_some(slope),
        ..Round::default()
    }
}
