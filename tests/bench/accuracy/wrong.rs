//! Scenes in which something is not as the coach says: does the tool notice?
//!
//! Each is a clean scene of a fixed camera whose marks (or whose poles, before they are clicked)
//! are changed by one mistake. The clean twin, same clicks without the mistake, tells what the
//! mistake did from what chance did.

use std::collections::BTreeSet;

use groundline::arena::marks;
use groundline::marks::{MarkAddress, MarksFile, PoleEnd, ReferenceKind};
use groundline::quantity::{Given, Unit, seeded};
use groundline::stride::Measurement;
use groundline::survey::SurveyDoubt;
use rand::{Rng, RngExt};

use super::cases::{Case, Held, case};
use super::judge::{Run, run};
use super::score::Quantity;

/// What is wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mistake {
    SpacingTyped,
    /// The same, where the clip's own facts give the focal length.
    SpacingTypedFocalKnown,
    /// The same, where the fence's width is stated too.
    SpacingTypedWidthKnown,
    PoleKicked,
    WrongPole,
    CameraMoved,
    GroundNotFlat,
}

impl Mistake {
    pub const ALL: [Self; 7] = [
        Self::SpacingTyped,
        Self::SpacingTypedFocalKnown,
        Self::SpacingTypedWidthKnown,
        Self::PoleKicked,
        Self::WrongPole,
        Self::CameraMoved,
        Self::GroundNotFlat,
    ];

    pub fn words(self) -> &'static str {
        match self {
            Self::SpacingTyped => "spacing typed 10 % wrong",
            Self::SpacingTypedFocalKnown => "the same, focal length given to 2 %",
            Self::SpacingTypedWidthKnown => "the same, fence's width stated",
            Self::PoleKicked => "a pole kicked 30 cm",
            Self::WrongPole => "a mark on the wrong pole",
            Self::CameraMoved => "camera moved, told fixed",
            Self::GroundNotFlat => "ground not flat",
        }
    }
}

/// Numbers of the scenes that carry mistakes; the clean set keeps to those below.
pub const FIRST: u64 = 1000;

/// The mistake made, and what would name it.
struct Made {
    file: MarksFile,
    named_by: Box<dyn Fn(&Notice) -> bool + Send + Sync>,
    words: String,
}

/// Something the tool says that it does not say of a clean scene.
#[derive(Clone, Debug, PartialEq)]
pub enum Notice {
    Suspect(MarkAddress),
    Doubt(SurveyDoubt),
    Refused(String),
}

impl Notice {
    /// What it is, without what it is about.
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Suspect(MarkAddress::PoleEnd { .. }) => "pole end suspect",
            Self::Suspect(MarkAddress::Footfall { .. }) => "hoof suspect",
            Self::Suspect(_) => "other mark suspect",
            Self::Refused(_) => "refusal",
            Self::Doubt(doubt) => match doubt {
                SurveyDoubt::PoleOutOfPlace { .. } => "pole out of place",
                SurveyDoubt::SpacingDoubtful { .. } => "spacing doubtful",
                SurveyDoubt::LengthDoubtful { .. } => "length doubtful",
                SurveyDoubt::CameraHeightDoubtful { .. } => "camera height doubtful",
                SurveyDoubt::FocalLengthDoubtful { .. } => "focal length doubtful",
                SurveyDoubt::EndsExchanged { .. } => "ends exchanged",
                SurveyDoubt::MarksFitBadly { .. } => "marks fit badly",
                SurveyDoubt::TrackBends { .. } => "track bends",
                SurveyDoubt::ReferencesOnOneLine { .. } => "references on one line",
                SurveyDoubt::FrameNotJoined { .. } => "frame not joined",
                SurveyDoubt::CameraMoved { .. } => "camera moved",
                SurveyDoubt::BackgroundRough { .. } => "background rough",
            },
        }
    }

    /// A bend is a statement about the ride and one line about how the poles lie: neither says
    /// that something is wrong.
    fn is_alarm(&self) -> bool {
        !matches!(
            self,
            Self::Doubt(
                SurveyDoubt::TrackBends { .. }
                    | SurveyDoubt::ReferencesOnOneLine { .. }
                    | SurveyDoubt::FrameNotJoined { .. }
            )
        )
    }
}

/// Everything said about a scene.
pub fn notices(run: &Run) -> Vec<Notice> {
    let of = |measurement: &Measurement| {
        let suspects = measurement.suspects.iter().map(|s| Notice::Suspect(s.mark.clone()));
        suspects.chain(measurement.doubts.iter().cloned().map(Notice::Doubt)).collect()
    };
    match (&run.refused, &run.measurement) {
        (Some(reason), _) => vec![Notice::Refused(reason.clone())],
        (None, Some(measurement)) => of(measurement),
        (None, None) => Vec::new(),
    }
}

/// Those that say something is wrong.
pub fn alarms(run: &Run) -> Vec<Notice> {
    notices(run).into_iter().filter(Notice::is_alarm).collect()
}

/// What became of one scene with a mistake.
pub struct Verdict {
    pub number: u64,
    /// What was done, in words.
    pub words: String,
    /// The interval of a stride misses the truth, and it may be chance that did it.
    pub missed: bool,
    /// The mistake moved a stride by more than the stated ± of that stride.
    pub harmed: bool,
    /// Largest such shift, in units of the ±.
    pub worst: f64,
    pub noticed: bool,
    /// What is named is what is wrong.
    pub named: bool,
    pub kinds: BTreeSet<&'static str>,
    /// Said only that the track bends, which the clean twin does not.
    pub only_a_bend: bool,
    /// The clean twin's intervals miss a truth too.
    pub twin_missed: bool,
    /// Why it was refused, if it was.
    pub refused: Option<String>,
    /// Camera found (focal length over the true one, height) with the mistake, and without.
    pub cameras: [Option<(f64, f64)>; 2],
}

/// A clean scene and what is measured of it.
pub struct Twin {
    case: Case,
    file: MarksFile,
    run: Run,
}

impl Twin {
    pub fn of(case: Case) -> Self {
        let file = marks(&case.scene, &case.truth, &case.clicking);
        let run = run(&case, &file, 0);
        Self { case, file, run }
    }

    /// The clean scene of that number, with what else is known where `mistake` is made.
    pub fn for_mistake(mistake: Mistake, number: u64) -> Self {
        let mut case = case(Held::Fixed, number);
        if mistake == Mistake::SpacingTypedWidthKnown {
            case.clicking.fence_width = true;
        }
        if mistake != Mistake::SpacingTypedFocalKnown {
            return Self::of(case);
        }
        let mut file = marks(&case.scene, &case.truth, &case.clicking);
        let focal = case.truth.frames[0].camera.lens.focal_px;
        // Off by something within the two per cent, and another in every scene.
        let off = seeded(80_000 + number).random_range(-0.03..0.03);
        file.camera.focal_px = Some(Given::new(focal * (1.0 + off), 0.02 * focal));
        let run = run(&case, &file, 0);
        Self { case, file, run }
    }
}

/// What becomes of a clean scene once the mistake is made.
pub fn verdict(mistake: Mistake, twin: &Twin) -> Verdict {
    let made = make(mistake, twin);
    let wrong = run(&twin.case, &made.file, 0);
    let before = notices(&twin.run);
    let new: Vec<Notice> = notices(&wrong).into_iter().filter(|n| !before.contains(n)).collect();
    let alarms: Vec<&Notice> = new.iter().filter(|notice| notice.is_alarm()).collect();
    let worst = worst_shift(&wrong, &twin.run);
    Verdict {
        number: twin.case.number,
        words: made.words,
        missed: misses(&wrong),
        harmed: worst > 1.0,
        worst,
        noticed: !alarms.is_empty(),
        named: alarms.iter().any(|notice| (made.named_by)(notice)),
        kinds: alarms.iter().map(|notice| notice.kind()).collect(),
        only_a_bend: alarms.is_empty() && new.iter().any(|n| n.kind() == "track bends"),
        twin_missed: misses(&twin.run),
        cameras: [wrong.camera, twin.run.camera],
        refused: wrong.refused,
    }
}

/// Whether a stride's interval misses the truth.
pub fn misses(run: &Run) -> bool {
    run.data.iter().any(|d| d.quantity == Quantity::StrideLength && !d.judged.inside)
}

/// By how many of its own ± the mistake moved the worst stride.
fn worst_shift(wrong: &Run, twin: &Run) -> f64 {
    let lengths = |run: &Run| -> Vec<(i32, f64, f64)> {
        run.measurement
            .iter()
            .flat_map(|m| &m.approaches[0].strides)
            .filter_map(|row| {
                let length = row.length_m.as_ref()?;
                Some((row.number, length.value.get(), length.plus_minus()))
            })
            .collect()
    };
    let clean = lengths(twin);
    lengths(wrong)
        .into_iter()
        .filter_map(|(number, value, plus_minus)| {
            let (_, was, _) = clean.iter().find(|(of, ..)| *of == number)?;
            Some((value - was).abs() / plus_minus)
        })
        .fold(0.0, f64::max)
}

fn make(mistake: Mistake, twin: &Twin) -> Made {
    let mut random = seeded(90_000 + twin.case.number);
    let (clean, file) = (&twin.case, twin.file.clone());
    match mistake {
        Mistake::SpacingTyped
        | Mistake::SpacingTypedFocalKnown
        | Mistake::SpacingTypedWidthKnown => spacing_typed(file, &mut random),
        Mistake::PoleKicked => pole_kicked(clean, &mut random),
        Mistake::WrongPole => wrong_pole(file, clean, &mut random),
        Mistake::CameraMoved => camera_moved(file, clean, &mut random),
        Mistake::GroundNotFlat => ground_not_flat(file, clean, &mut random),
    }
}

fn spacing_typed(mut file: MarksFile, random: &mut impl Rng) -> Made {
    let factor = if random.random_bool(0.5) { 1.1 } else { 0.9 };
    for reference in &mut file.references {
        if let ReferenceKind::Poles { spacing_m, .. } = &mut reference.kind {
            spacing_m.value *= factor;
        }
    }
    let named_by =
        |notice: &Notice| matches!(notice.kind(), "spacing doubtful" | "length doubtful");
    Made { file, named_by: Box::new(named_by), words: format!("spacing × {factor}") }
}

fn pole_kicked(clean: &Case, random: &mut impl Rng) -> Made {
    let mut truth = clean.truth.clone();
    let kicked = random.random_range(0..truth.poles.len());
    let by = if random.random_bool(0.5) { 0.3 } else { -0.3 };
    let pole = &mut truth.poles[kicked];
    pole.left.x += by;
    pole.right.x += by;
    let (number, of) = (pole.pole, truth.poles.len());
    let named_by = move |notice: &Notice| match notice {
        Notice::Doubt(SurveyDoubt::PoleOutOfPlace { pole, .. })
        | Notice::Suspect(MarkAddress::PoleEnd { pole, .. }) => *pole == number,
        _ => false,
    };
    let file = marks(&clean.scene, &truth, &clean.clicking);
    let words = format!("pole {number} of {of} moved by {by} m");
    Made { file, named_by: Box::new(named_by), words }
}

fn wrong_pole(mut file: MarksFile, clean: &Case, random: &mut impl Rng) -> Made {
    let rough = clean.clicking.pole_sd_px;
    let (mut wrong, mut words) = (None, String::from("no end is marked"));
    for reference in &mut file.references {
        let ReferenceKind::Poles { ends, .. } = &mut reference.kind else { continue };
        let at = random.random_range(0..ends.len());
        let end = &mut ends[at];
        let poles = &clean.truth.poles;
        let neighbour = match end.pole as usize {
            1 => 2,
            last if last == poles.len() => last - 1,
            pole => {
                if random.random_bool(0.5) {
                    pole + 1
                } else {
                    pole - 1
                }
            }
        };
        for mark in &mut end.marks {
            let camera = &clean.truth.frames[mark.frame.0 as usize].camera;
            let Ok(seen) = camera.project(poles[neighbour - 1].end(end.end)) else { continue };
            mark.x = seen.x + rough * random.random_range(-1.5..1.5);
            mark.y = seen.y + rough * random.random_range(-1.5..1.5);
        }
        wrong = Some((end.pole, end.end));
        let side = if end.end == PoleEnd::Left { "left" } else { "right" };
        words = format!("{side} end of pole {} of {} on pole {neighbour}", end.pole, poles.len());
    }
    let named_by = move |notice: &Notice| match notice {
        Notice::Suspect(MarkAddress::PoleEnd { pole, end, .. }) => wrong == Some((*pole, *end)),
        _ => false,
    };
    Made { file, named_by: Box::new(named_by), words }
}

fn camera_moved(mut file: MarksFile, clean: &Case, random: &mut impl Rng) -> Made {
    let hooves = &mut file.approaches[0].footfalls;
    // Pixels of a picture 1920 wide: the same nudge shifts a finer picture by more of its own.
    let finer = f64::from(clean.scene.filming.picture.width) / 1920.0;
    let size = random.random_range(3.0..20.0);
    let way: f64 = random.random_range(0.0..std::f64::consts::TAU);
    let frames: Vec<_> = hooves.iter().map(|hoof| hoof.mark.frame).collect();
    let (first, last) = (frames.iter().min(), frames.iter().max());
    let moved_at = match (first, last) {
        (Some(first), Some(last)) => random.random_range(first.0 + 1..=last.0),
        _ => 0,
    };
    for hoof in hooves.iter_mut().filter(|hoof| hoof.mark.frame.0 >= moved_at) {
        hoof.mark.x += size * finer * way.cos();
        hoof.mark.y += size * finer * way.sin();
    }
    let (x, y) = (size * way.cos(), size * way.sin());
    let words = format!("{x:.0} px across and {y:.0} px down from frame {moved_at} on");
    let named_by = |notice: &Notice| notice.kind() == "marks fit badly";
    Made { file, named_by: Box::new(named_by), words }
}

/// A hump or a hollow across the track; poles and fence stand on the flat beside it.
fn ground_not_flat(mut file: MarksFile, clean: &Case, random: &mut impl Rng) -> Made {
    let truth = &clean.truth;
    let height = random.random_range(0.10..0.20) * if random.random_bool(0.5) { 1.0 } else { -1.0 };
    let half = random.random_range(4.0..10.0);
    let first = truth.approach_contacts().map(|c| c.place.x).fold(f64::MAX, f64::min);
    let middle = random.random_range(first..0.0);
    let z = |x: f64| {
        let share = ((x - middle) / half).clamp(-1.0, 1.0);
        height * (share * std::f64::consts::FRAC_PI_2).cos().powi(2)
    };
    for hoof in file.approaches[0].footfalls.iter_mut().filter(|hoof| !hoof.hidden) {
        let camera = &truth.frames[hoof.mark.frame.0 as usize].camera;
        let contact = truth.approach_contacts().find(|contact| {
            let shown = truth.frame_at(contact.contact_s).map(|frame| frame.frame);
            contact.limb == hoof.limb && shown == Some(hoof.mark.frame)
        });
        let Some(contact) = contact else { continue };
        let flat = camera.project(contact.place.at_height(0.0));
        let lifted = camera.project(contact.place.at_height(z(contact.place.x)));
        if let (Ok(flat), Ok(lifted)) = (flat, lifted) {
            hoof.mark.x += lifted.x - flat.x;
            hoof.mark.y += lifted.y - flat.y;
        }
    }
    let words = format!("{height:.2} m at x {middle:.0} m, over {:.0} m", 2.0 * half);
    let named_by = |notice: &Notice| notice.kind() == "marks fit badly";
    Made { file, named_by: Box::new(named_by), words }
}
