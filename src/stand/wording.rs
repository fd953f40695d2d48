//! The advice in words that terminal, page and picture share.

use super::advice::{Advice, Move, Worse};
use super::bounds::{Bounds, LEAST_DISTANCE_M};
use super::changes::{Change, Changed};
use super::expectation::Expectation;
use super::fewer::{Fewer, ForAll};
use super::phone::{Phone, Side};
use super::plan::StandPlan;
use super::seen::{Unseen, UnseenThing};
use super::sureness::{NEAR_STRIDES, Named, Sureness};
use crate::quantity::{
    LengthUnits, Metres, Unit, capital, written_half, written_held, written_place,
};

fn place(metres: f64, units: LengthUnits) -> String {
    written_place(Metres::new(metres), units)
}

/// Where a phone is: "12 m from the track on its right, 8 m before the fence, at eye level (1.6 m)".
pub fn place_words(phone: &Phone, units: LengthUnits) -> String {
    format!("{}, {}", ground_words(phone, units), height_words(phone.height_m, units))
}

/// Where one stands with it.
fn ground_words(phone: &Phone, units: LengthUnits) -> String {
    let away = place(phone.distance_m, units);
    let along = along_words(phone.before_fence_m, units);
    format!("{away} from the track on its {}, {along}", phone.side.words())
}

/// A place along the track: "8 m before the fence".
pub fn along_words(before_fence_m: f64, units: LengthUnits) -> String {
    match before_fence_m {
        before if before.abs() < 0.25 => "level with the fence".to_owned(),
        before if before > 0.0 => format!("{} before the fence", place(before, units)),
        before => format!("{} beyond the fence", place(-before, units)),
    }
}

/// "stride −3", or "take-off".
pub(super) fn number_words(stride: Option<i32>) -> String {
    match stride {
        Some(number) => format!("stride \u{2212}{}", number.unsigned_abs()),
        None => "take-off".to_owned(),
    }
}

/// What places are compared by: "take-off and the last three strides".
pub(super) fn what_is_judged(strides: u32) -> &'static str {
    match strides {
        0 | 1 => "take-off and stride \u{2212}1",
        2 => "take-off and both strides",
        NEAR_STRIDES => "take-off and all three strides",
        _ => "take-off and the last three strides",
    }
}

/// Small counts in letters.
fn count_words(count: u32) -> String {
    let words =
        ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
    words.get(count as usize).map_or_else(|| count.to_string(), |word| (*word).to_owned())
}

fn strides_words(count: u32) -> String {
    format!("{} stride{}", count_words(count), if count == 1 { "" } else { "s" })
}

/// A height as a standing person feels it (common practice, no source).
pub fn height_words(height_m: f64, units: LengthUnits) -> String {
    let held = written_held(Metres::new(height_m), units);
    let felt = match height_m {
        h if h < 0.85 => return format!("{held} above the ground"),
        h if h < 1.15 => "at waist height",
        h if h < 1.45 => "at chest height",
        h if h < 1.65 => "at eye level",
        h if h < 1.85 => "at head height",
        h if h < 2.35 => "above your head",
        _ => return format!("{held} above the ground"),
    };
    format!("{felt} ({held})")
}

/// Left or right of somebody who stands at `side` and looks at the track.
fn hand(onward: bool, side: Side) -> &'static str {
    if onward == (side == Side::Right) { "right" } else { "left" }
}

impl Move {
    /// The steps, such as "2 m farther left, away from the fence".
    fn parts(&self, units: LengthUnits) -> Vec<String> {
        let mut parts = Vec::new();
        if self.onward_m.abs() >= 0.25 {
            let onward = self.onward_m > 0.0;
            let whither = match (self.stays_before_fence, onward) {
                (true, true) => "towards the fence",
                (true, false) => "away from the fence",
                (false, true) => "the way the horse goes",
                (false, false) => "against the way the horse goes",
            };
            let far = place(self.onward_m.abs(), units);
            parts.push(format!("{far} farther {} ({whither})", hand(onward, self.side)));
        }
        if self.nearer_m.abs() >= 0.25 {
            let way = if self.nearer_m > 0.0 { "nearer to" } else { "farther from" };
            parts.push(format!("{} {way} the track", place(self.nearer_m.abs(), units)));
        }
        parts
    }

    /// As an order that begins small: "stand 2 m farther left (away from the fence)".
    pub(super) fn words(&self, units: LengthUnits) -> String {
        let steps = self.parts(units).join(" and ");
        let lifted = self.higher_m.abs() >= 0.05;
        let put = if self.in_hand { "hold" } else { "put" };
        let height = format!("{put} the phone {}", height_words(self.height_m, units));
        match (steps.is_empty(), lifted) {
            (false, true) => format!("stand {steps}, and {height}"),
            (false, false) => format!("stand {steps}"),
            (true, _) => height,
        }
    }
}

impl Named {
    fn words(&self, units: LengthUnits) -> String {
        format!("{} ({})", written_half(self.plus_minus_m, units), number_words(self.stride))
    }
}

impl Sureness {
    /// "take-off and the last three strides are known to ± 12 cm at worst (stride −3) instead of
    /// ± 17 cm (take-off), and the others to ± 34 cm (stride −5)"; `before` is what it was.
    fn words(&self, before: Option<&Self>, then: &str, units: LengthUnits) -> String {
        let half = written_half(self.judged.plus_minus_m, units);
        let least_sure = number_words(self.judged.stride);
        let what = what_is_judged(self.strides);
        let instead = before.map_or_else(String::new, |before| {
            format!(" instead of {}", before.judged.words(units))
        });
        let others = match self.largest.stride == self.judged.stride {
            true => String::new(),
            false => format!(", the others to {}", self.largest.words(units)),
        };
        format!("{what} are {then}known to {half} at worst ({least_sure}){instead}{others}")
    }
}

impl ForAll {
    /// As an order: "stand 18 m away, 10 m before the fence".
    fn words(&self, units: LengthUnits) -> String {
        match self {
            Self::Here => "stay where you are".to_owned(),
            Self::Turning => "turn the phone with the horse".to_owned(),
            Self::Farther { distance_m, before_fence_m } => {
                let along = along_words(*before_fence_m, units);
                format!("stand {} away, {along}", place(*distance_m, units))
            }
        }
    }
}

/// " For all five, turn the phone with the horse, or stand 18 m away, 10 m before the fence."
fn for_all_words(strides: u32, all: &[ForAll], units: LengthUnits) -> String {
    let whom = match strides {
        1 => "it".to_owned(),
        2 => "both".to_owned(),
        several => format!("all {}", count_words(several)),
    };
    let ways: Vec<String> = all.iter().map(|way| way.words(units)).collect();
    match ways.is_empty() {
        true => format!(" For {whom}, lay more poles, or take a phone that sees wider."),
        false => format!(" For {whom}, {}.", ways.join(", or ")),
    }
}

impl Fewer {
    /// Before the advice: "Within 16 m of the track four of the five strides can be measured".
    fn lead(&self, plan: &StandPlan, units: LengthUnits) -> String {
        format!(
            "Within {} of the track {} of the {} can be measured",
            place(plan.bounds.distance.high_m, units),
            count_words(plan.lesson.strides.count),
            strides_words(self.wanted)
        )
    }
}

impl StandPlan {
    /// What to do, in a sentence or two.
    pub fn sentence(&self, units: LengthUnits) -> String {
        let strides = self.lesson.strides.count;
        match &self.fewer {
            None => capital(&self.advice.words(strides, &self.bounds, units)),
            Some(fewer) => format!(
                "{}. {}{}",
                fewer.lead(self, units),
                capital(&self.advice.words(strides, &self.bounds, units)),
                for_all_words(fewer.wanted, &fewer.all, units)
            ),
        }
    }

    /// The advice to go somewhere else in few words: what is judged by, now and there.
    pub fn brief(&self, units: LengthUnits) -> Option<String> {
        let Advice::Go { go, here, there, .. } = &self.advice else { return None };
        let half = |sureness: &Sureness| written_half(sureness.judged.plus_minus_m, units);
        let instead = here.as_ref().map(|here| format!(" instead of {}", half(here)));
        let instead = instead.unwrap_or_default();
        let where_to = go.words(units);
        Some(format!("{where_to}: for take-off and last strides {} expected{instead}", half(there)))
    }

    /// Where to point the phone at the advised place, and what its picture will not hold.
    pub fn view_sentences(&self, units: LengthUnits) -> Vec<String> {
        let aimed = self.aim_before_fence_m().map(|aim| {
            let far = place(aim.get().abs(), units);
            let whither = if aim.get() >= 0.0 { "before" } else { "behind" };
            format!("From there point it at the track {far} {whither} the fence.")
        });
        let unseen = self.advised_unseen_sentence();
        let unseen = unseen.map(|unseen| format!("From there, {unseen}."));
        aimed.into_iter().chain(unseen).collect()
    }

    /// Where the coach herself stands (common practice, no source); before the other cautions.
    pub fn safety(&self, units: LengthUnits) -> String {
        format!(
            "Stand where a horse that runs out or on does not reach you: {} from the track at least, \
             never in its line, not where it lands. The person on the ground decides.",
            place(LEAST_DISTANCE_M, units)
        )
    }
}

impl Advice {
    /// Begins small.
    fn words(&self, strides: u32, bounds: &Bounds, units: LengthUnits) -> String {
        match self {
            Self::Stay { here } => format!(
                "stay where you are, for no place within the bounds is much better: {}.",
                here.words(None, "", units)
            ),
            Self::Go { go, here, there, worse } => {
                let known = there.words(here.as_ref(), "then ", units);
                let lack = match here {
                    Some(_) => "",
                    None => " From where you stand now not all of these can be measured.",
                };
                format!("{}: {known}.{lack}{}", go.words(units), costs(worse, units))
            }
            Self::Stand { phone, there } => format!(
                "stand {}, and {} the phone {}: {}.",
                ground_words(phone, units),
                if phone.turns() { "hold" } else { "put" },
                height_words(phone.height_m, units),
                there.words(None, "then ", units)
            ),
            Self::Nowhere { poles_lack: true, .. } => format!(
                "from no place within the bounds can {} and the take-off be measured: lay more poles, \
                 farther apart, near the strides and in view.",
                match strides {
                    1 => "a stride".to_owned(),
                    _ => format!("even one of the {}", strides_words(strides)),
                }
            ),
            Self::Nowhere { all, .. } => format!(
                "within {} of the track no place shows {}, the take-off and the fence.{}",
                place(bounds.distance.high_m, units),
                if strides == 1 { "one stride" } else { "even one stride" },
                for_all_words(strides, all, units)
            ),
        }
    }
}

/// What is given away: each number near the fence, and of several strides farther out the least sure.
fn costs(worse: &[Worse], units: LengthUnits) -> String {
    let is_far = |one: &&Worse| one.stride.is_some_and(|number| number < -(NEAR_STRIDES as i32));
    let far: Vec<&Worse> = worse.iter().filter(is_far).collect();
    let near = worse.iter().filter(|one| !is_far(one)).map(|one| one.words(units));
    let least_sure = far
        .iter()
        .copied()
        .reduce(|a, b| if b.there_plus_minus_m > a.there_plus_minus_m { b } else { a });
    let of_far = least_sure.map(|one| match far.len() {
        1 => one.words(units),
        _ => format!("the strides farther out ({})", one.words(units)),
    });
    let all: Vec<String> = near.chain(of_far).collect();
    match all.is_empty() {
        true => String::new(),
        false => format!(" Less sure than from now: {}.", listed(all)),
    }
}

/// "a, b and c".
fn listed(mut parts: Vec<String>) -> String {
    let Some(last) = parts.pop() else { return String::new() };
    if parts.is_empty() { last } else { format!("{} and {last}", parts.join(", ")) }
}

impl Worse {
    /// "take-off ± 17 cm instead of ± 14 cm".
    fn words(&self, units: LengthUnits) -> String {
        let what = number_words(self.stride);
        let half = |metres| written_half(metres, units);
        format!(
            "{what} {} instead of {}",
            half(self.there_plus_minus_m),
            half(self.here_plus_minus_m)
        )
    }
}

impl Change {
    /// What is done, in words; `phone` is the one that is changed.
    pub fn words(self, phone: &Phone, units: LengthUnits) -> String {
        let along = |onward: bool, by_m: f64| {
            let after = phone.before_fence_m + if onward { -by_m } else { by_m };
            let there = Phone { before_fence_m: after, ..*phone };
            Move::between(phone, &there).parts(units).join(" and ")
        };
        match self {
            Self::Nearer { by_m } => format!("{} nearer to the track", place(by_m, units)),
            Self::Farther { by_m } => format!("{} farther from the track", place(by_m, units)),
            Self::Onward { by_m } => along(true, by_m),
            Self::Back { by_m } => along(false, by_m),
            Self::Higher { to_m } => format!("the phone {}", height_words(to_m, units)),
            Self::OtherSide => "from the other side of the track".into(),
            Self::PointAnew => "the phone turned so that the strides lie in its middle".into(),
            Self::OnePoleMore => "one pole more, before the first".into(),
            Self::TapeThePoles => "the poles laid by the tape".into(),
            Self::SnapTheEnds => "the poles' ends drawn to their edges, as the desk does".into(),
        }
    }
}

impl Changed {
    /// Whether it is worth telling beside the ± of `here`: better by a twentieth at least.
    pub fn helps(&self, here: &Expectation) -> bool {
        match (self.sureness, here.sureness) {
            (Some(then), Some(now)) => {
                then.judged.plus_minus_m.get() < 0.95 * now.judged.plus_minus_m.get()
            }
            (Some(_), None) => true,
            (None, _) => false,
        }
    }
}

impl Unseen {
    /// What is out of the picture, in a sentence; `None` when nothing is.
    pub fn sentence(&self) -> Option<String> {
        let mut parts = Vec::new();
        let strides = self.strides();
        let number = |stride: &i32| format!("\u{2212}{}", stride.unsigned_abs());
        match strides.as_slice() {
            [] => {}
            [one] => parts.push(format!("stride {}", number(one))),
            [first, .., last] if strides.len() as i32 == last - first + 1 => {
                parts.push(format!("strides {} to {}", number(first), number(last)));
            }
            several => {
                let all: Vec<String> = several.iter().map(number).collect();
                parts.push(format!("strides {}", all.join(", ")));
            }
        }
        let has = |thing: UnseenThing| self.0.contains(&thing);
        if has(UnseenThing::TakeOff) {
            parts.push("the take-off".into());
        }
        match (has(UnseenThing::Base { left: true }), has(UnseenThing::Base { left: false })) {
            (true, true) => parts.push("the fence's ground line".into()),
            (false, false) => {}
            (left, _) => {
                let end = if left { "left" } else { "right" };
                parts.push(format!("the {end} end of the fence's ground line"));
            }
        }
        if has(UnseenThing::Landing) {
            parts.push("the landing".into());
        }
        match self.pole_ends() {
            0 => {}
            1 => parts.push("one end of a pole".into()),
            several => parts.push(format!("{several} ends of poles")),
        }
        let list = listed(parts);
        (!list.is_empty()).then(|| format!("out of the picture, in whole or in part: {list}"))
    }
}
