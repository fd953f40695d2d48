//! What can be typed after `stand`. The comments here are the help text.

use std::path::PathBuf;

use super::choices::{SIDES, UNITS, choice, told_choice};
use super::spots::{capture_rate, length, number, picture_size, positive, range, whole};
use crate::quantity::LengthUnits;
use crate::scene::PictureSize;
use crate::stand::{Bounds, Handling, Lesson, Phone, PolesLaid, Side, StandError, Start, Within};

/// Arguments of `stand`.
#[derive(clap::Args, Debug)]
pub struct StandArgs {
    /// A marks file whose layout, fence, strides and phone are taken: how to stand better the next
    /// time; whatever else is typed stands in place of what it says
    pub marks: Option<PathBuf>,
    /// Which approach, when the file holds several [default: the first]
    #[arg(long, value_name = "ID", requires = "marks")]
    pub approach: Option<String>,
    #[command(flatten)]
    pub lesson: LessonArgs,
    #[command(flatten)]
    pub phone: PhoneArgs,
    #[command(flatten)]
    pub bounds: BoundsArgs,
    /// Metres or feet
    #[arg(long, value_parser = told_choice(&UNITS), default_value = "m")]
    pub units: LengthUnits,
    /// Everything at full precision as JSON, units in the keys
    #[arg(long)]
    pub json: bool,
    /// Draw it from above, to scale, .svg, .png or .jpg
    #[arg(long, short, value_name = "FILE")]
    pub output: Option<PathBuf>,
}

/// What lies on the ground and how the horse goes.
#[derive(clap::Args, Debug, Default)]
pub struct LessonArgs {
    /// How many poles [default: 4]
    #[arg(long, value_name = "NUMBER", value_parser = whole::<u32>)]
    pub poles: Option<u32>,
    /// From pole to pole, centre to centre, metres [default: 3]
    #[arg(long, value_name = "LENGTH", value_parser = length)]
    pub spacing: Option<f64>,
    /// Length of a pole, metres [default: 3.5]
    #[arg(long, value_name = "LENGTH", value_parser = length)]
    pub pole_length: Option<f64>,
    /// How far before the fence the last pole lies, metres [default: 4]
    #[arg(long, value_name = "METRES", value_parser = number)]
    pub last_pole: Option<f64>,
    /// How far to the left of the track, seen the way the horse goes, the poles' middles lie, metres;
    /// negative, to the right; 0 when the horse goes over them [default: 2.4]
    #[arg(long, value_name = "METRES", value_parser = number)]
    pub aside: Option<f64>,
    /// The poles are laid by walking (a gap is good to 0.10 m)
    #[arg(long, conflicts_with = "taped")]
    pub paced: bool,
    /// The poles are laid by the tape (to 0.01 m) [default, unless a marks file says otherwise]
    #[arg(long)]
    pub taped: bool,
    /// The poles' ends are drawn to the poles' own edges, as the desk does where the picture is sharp
    /// (0.4 px, instead of 1 px clicked)
    #[arg(long)]
    pub snapped: bool,
    /// Between the fence's uprights, metres [default: 3.5]
    #[arg(long, value_name = "LENGTH", value_parser = length)]
    pub fence_width: Option<f64>,
    /// How many strides before the fence are wanted [default: 5]
    #[arg(long, value_name = "NUMBER", value_parser = whole::<u32>)]
    pub strides: Option<u32>,
    /// Their length, metres [default: 3.66, 12 ft]
    #[arg(long, value_name = "LENGTH", value_parser = length)]
    pub stride: Option<f64>,
    /// Take-off distance, metres [default: 1.83]
    #[arg(long, value_name = "LENGTH", value_parser = length)]
    pub take_off: Option<f64>,
    /// The horse's pace, metres a minute [default: 350]
    #[arg(long, value_name = "M/MIN", value_parser = positive)]
    pub pace: Option<f64>,
}

/// The phone and where it is put.
#[derive(clap::Args, Debug, Default)]
pub struct PhoneArgs {
    /// Where you stand now, if you do: from the track to the phone, metres; 4 at least; goes with
    /// --along. Without a place only the best one is told
    #[arg(long, value_name = "METRES", value_parser = number)]
    pub distance: Option<f64>,
    /// Where along the track you stand: metres before the fence; negative, beyond it
    #[arg(long, value_name = "METRES", value_parser = number)]
    pub along: Option<f64>,
    /// On which side of the track, seen the way the horse goes [default: right]
    #[arg(long, value_parser = choice(&SIDES))]
    pub side: Option<Side>,
    /// Height of the lens, metres: where you hold it now, or, with no place typed, where you will
    /// [default: 1.6]
    #[arg(long, value_name = "LENGTH", value_parser = length)]
    pub height: Option<f64>,
    /// Where on the track it points, metres before the fence [default: the middle of what is wanted]
    #[arg(long, value_name = "METRES", value_parser = number)]
    pub aim: Option<f64>,
    /// It is turned by hand to follow the horse
    #[arg(long, conflicts_with = "fixed")]
    pub turning: bool,
    /// It stands still [default, unless a marks file says otherwise]
    #[arg(long)]
    pub fixed: bool,
    /// Horizontal field of view, degrees [default: 66, a phone's main camera while it films, held
    /// wide; 60 to 70 occur (common practice, no source)]
    #[arg(long, value_name = "DEGREES", value_parser = positive)]
    pub field: Option<f64>,
    /// Size of the picture, pixels [default: 1920x1080]
    #[arg(long, value_name = "WxH", value_parser = picture_size)]
    pub picture: Option<PictureSize>,
    /// Frames per second at which it records [default: 60]
    #[arg(long, value_name = "HZ", value_parser = capture_rate)]
    pub frame_rate: Option<f64>,
}

/// Where the coach can stand.
#[derive(clap::Args, Debug, Default)]
pub struct BoundsArgs {
    /// Distances from the track among which the best is sought, metres [default: 6,25, or
    /// 6,15 for a phone that is turned]
    #[arg(long, value_name = "LEAST,MOST", value_parser = range, allow_hyphen_values = true)]
    pub within_distance: Option<(f64, f64)>,
    /// Places along the track, metres before the fence [default: 0,15]
    #[arg(long, value_name = "LEAST,MOST", value_parser = range, allow_hyphen_values = true)]
    pub within_along: Option<(f64, f64)>,
    /// Heights of the lens, metres [default: 1.0,1.8 on a stand, 1.3,1.8 in the hand]
    #[arg(long, value_name = "LEAST,MOST", value_parser = range, allow_hyphen_values = true)]
    pub within_height: Option<(f64, f64)>,
}

impl LessonArgs {
    /// `base` with whatever was typed in its place.
    pub(super) fn over(&self, base: Lesson) -> Lesson {
        let mut lesson = base;
        let poles = &mut lesson.poles;
        set(&mut poles.count, self.poles);
        set(&mut poles.spacing_m.value, self.spacing);
        set(&mut poles.length_m.value, self.pole_length);
        set(&mut poles.before_fence_m, self.last_pole);
        set(&mut poles.aside_m, self.aside);
        for (typed, laid) in [
            (self.paced, PolesLaid::paced as fn(PolesLaid) -> PolesLaid),
            (self.taped, PolesLaid::taped),
            (self.snapped, PolesLaid::snapped),
        ] {
            if typed {
                *poles = laid(*poles);
            }
        }
        set(&mut lesson.fence_width_m, self.fence_width);
        let strides = &mut lesson.strides;
        set(&mut strides.count, self.strides);
        set(&mut strides.length_m, self.stride);
        set(&mut strides.take_off_m, self.take_off);
        set(&mut strides.pace_m_per_min, self.pace);
        lesson
    }
}

impl PhoneArgs {
    /// `base` with whatever was typed in its place; a typed place is where she stands.
    ///
    /// Errors: half a place.
    pub(super) fn start(&self, base: Start) -> Result<Start, StandError> {
        let phone = self.over(*base.phone());
        let is_half = self.distance.is_some() != self.along.is_some() || self.aim.is_some();
        match (base, self.distance, self.along) {
            (Start::Here(_), ..) | (_, Some(_), Some(_)) => Ok(Start::Here(phone)),
            (Start::Open(_), ..) if is_half => Err(StandError::HalfAPlace),
            (Start::Open(_), ..) => Ok(Start::Open(phone)),
        }
    }

    fn over(&self, base: Phone) -> Phone {
        let mut phone = base;
        if self.distance.or(self.along).is_some() || self.side.is_some() {
            // Who moves points it anew.
            phone.aim_before_fence_m = None;
        }
        set(&mut phone.distance_m, self.distance);
        set(&mut phone.before_fence_m, self.along);
        set(&mut phone.side, self.side);
        set(&mut phone.height_m, self.height);
        phone.aim_before_fence_m = self.aim.or(phone.aim_before_fence_m);
        if self.turning && !phone.turns() {
            phone.handling = Handling::STEADY_HANDS;
        }
        if self.fixed {
            phone.handling = Handling::Fixed;
        }
        set(&mut phone.field_deg, self.field);
        set(&mut phone.picture, self.picture);
        set(&mut phone.frames_per_s, self.frame_rate);
        phone
    }
}

impl BoundsArgs {
    /// The usual ones with whatever was typed in their place. Who has no place yet and says how
    /// high she holds the phone is told a place for that height.
    pub(super) fn bounds(&self, start: &Start, height_m: Option<f64>) -> Bounds {
        let within = |typed: Option<(f64, f64)>, usual: Within| {
            typed.map_or(usual, |(low, high)| Within::new(low, high))
        };
        let usual = Bounds::usual(start.phone().handling);
        let held = height_m.filter(|_| start.here().is_none()).map(|held| (held, held));
        Bounds {
            distance: within(self.within_distance, usual.distance),
            before_fence: within(self.within_along, usual.before_fence),
            height: within(self.within_height.or(held), usual.height),
        }
    }
}

fn set<T>(field: &mut T, typed: Option<T>) {
    if let Some(value) = typed {
        *field = value;
    }
}
