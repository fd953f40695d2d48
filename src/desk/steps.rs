//! The steps of marking a round: how far each is, what it lacks, what can be placed next.

use super::plain_words::plain_words;
use super::spots::{base_label, footfall_label, pole_end_label, poles_id};
use super::wire::{BaseEnd, EventName, LimbName, Side, StepName, StepView, Target};
use crate::marks::{
    Approach, BaseCorner, Event, Fence, FenceKind, Limb, MarksFile, Missing, Motion, PoleEnd,
    Reference, ReferenceKind,
};
use crate::pan::CameraMotion;
use crate::quantity::as_sentence;
use crate::store::missing_beside_motion;

/// All steps of a round, in the order of work; what the camera's motion tells need not be marked.
pub(super) fn steps(file: &MarksFile, motion: Option<&CameraMotion>) -> Vec<StepView> {
    let mut steps = vec![poles(file), fence(file), super::lengths::step(file), hooves(file)];
    if file.camera.motion != Motion::Fixed {
        steps.push(ties(file, motion));
    }
    steps
}

fn poles(file: &MarksFile) -> StepView {
    let poles = file.references.iter().find_map(|reference| match &reference.kind {
        ReferenceKind::Poles { count, ends, .. } if poles_id(file) == Some(&reference.id) => {
            Some((*count, ends))
        }
        _ => None,
    });
    let Some((count, ends)) = poles else {
        // A round may be measured from other things of known size, stated on the command line.
        // An upright alone tells no lengths on the ground.
        let tells = |known: &Reference| !matches!(known.kind, ReferenceKind::Vertical { .. });
        let done = file.references.iter().any(tells);
        return StepView {
            step: StepName::Poles,
            done,
            count: String::new(),
            says: if done {
                String::new()
            } else {
                "Type how many poles lie there, how far apart and how long.".to_owned()
            },
            wanted: Vec::new(),
        };
    };
    let is_marked = |pole: u32, end: PoleEnd| {
        ends.iter().any(|known| known.pole == pole && known.end == end && !known.marks.is_empty())
    };
    let all = (1..=count).flat_map(|pole| PoleEnd::BOTH.map(|end| (pole, end)));
    let wanted: Vec<Target> = all
        .filter(|(pole, end)| !is_marked(*pole, *end))
        .map(|(pole, end)| {
            let end = Side::from(end);
            Target::PoleEnd { pole, end, label: pole_end_label(pole, end) }
        })
        .collect();
    let whole = 2 * count as usize;
    let marked = whole - wanted.len();
    StepView {
        step: StepName::Poles,
        done: wanted.is_empty(),
        count: format!("{marked} of {whole} ends"),
        says: match wanted.len() {
            0 => String::new(),
            1 => "One end is not marked.".to_owned(),
            open if marked == 0 => format!(
                "Click the middle of each end's face; the click is drawn to the pole's own edges. \
                 {open} ends: four give metres, more are better."
            ),
            open => format!("{open} ends are not marked; four give metres, more are better."),
        },
        wanted,
    }
}

/// Whether the landing base must be marked to know where it is.
fn has_depth(fence: &Fence) -> bool {
    !matches!(fence.kind, FenceKind::Vertical | FenceKind::CrossRail | FenceKind::GroundPole)
        && fence.spread_m.is_none()
}

fn fence(file: &MarksFile) -> StepView {
    let mut wanted = Vec::new();
    let take_off = [BaseCorner::TakeOffLeft, BaseCorner::TakeOffRight];
    let landing = [BaseCorner::LandingLeft, BaseCorner::LandingRight];
    let target = |fence: &str, corner: BaseCorner| {
        let end = BaseEnd::from(corner);
        Target::Base { fence: fence.to_owned(), end, label: base_label(file, fence, end) }
    };
    let mut whole = 0;
    for fence in &file.fences {
        let corners = take_off.into_iter().chain(landing.into_iter().filter(|_| has_depth(fence)));
        for corner in corners {
            whole += 1;
            if fence.base(corner).is_empty() {
                wanted.push(target(&fence.id, corner));
            }
        }
    }
    if file.fences.is_empty() {
        // Placing the first makes the fence.
        whole = take_off.len();
        wanted.extend(take_off.map(|corner| target("", corner)));
    }
    let marked = whole - wanted.len();
    StepView {
        step: StepName::Fence,
        done: wanted.is_empty(),
        count: format!("{marked} of {whole} ends"),
        says: if wanted.is_empty() {
            String::new()
        } else if marked == 0 {
            "Mark where the uprights' inner faces meet the ground; behind a foot, where they would."
                .to_owned()
        } else {
            missing(file, |missing| {
                matches!(
                    missing,
                    Missing::GroundLine { .. } | Missing::FarBase { .. } | Missing::BaseEnd { .. }
                )
            })
        },
        wanted,
    }
}

fn hooves(file: &MarksFile) -> StepView {
    let approach = file.approaches.last();
    let contacts = approach.map_or(0, |approach| {
        Limb::ALL
            .into_iter()
            .filter(|limb| limb.is_hind())
            .map(|limb| approach.contacts(limb))
            .max()
            .unwrap_or(0)
    });
    let target = |limb: Limb, event: Event| {
        let (limb, event) = (LimbName::from(limb), EventName::from(event));
        Target::Footfall { limb, event, label: footfall_label(limb, event) }
    };
    let has = |limb: Limb, event: Event| {
        let marked = |approach: &Approach| {
            approach.footfalls.iter().any(|known| known.limb == limb && known.event == event)
        };
        approach.is_some_and(marked)
    };
    let ends = [
        (reference_limb(approach), Event::TakeOff),
        (other_hind(reference_limb(approach)), Event::TakeOff),
        (Limb::TrailingFore, Event::Landing),
        (Limb::LeadingFore, Event::Landing),
    ];
    let took_off = Limb::ALL.into_iter().any(|limb| has(limb, Event::TakeOff));
    let mut wanted: Vec<Target> = ends
        .into_iter()
        .filter(|(limb, event)| !has(*limb, *event))
        .map(|(limb, event)| target(limb, event))
        .collect();
    if !took_off {
        wanted.insert(0, target(reference_limb(approach), Event::Stride));
    }
    let strides = contacts.saturating_sub(1);
    StepView {
        step: StepName::Hooves,
        done: wanted.is_empty() && strides > 0,
        count: match (contacts, strides) {
            (0, _) => "none yet".to_owned(),
            (_, 1) => "1 stride".to_owned(),
            (_, strides) => format!("{strides} strides"),
        },
        says: if contacts == 0 {
            "Go to the first stride you want; mark one hind hoof each time it comes down. Of the two \
             the leading one lands second and farther forward."
                .to_owned()
        } else {
            missing(file, |missing| {
                matches!(
                    missing,
                    Missing::Strides { .. } | Missing::TakeOff { .. } | Missing::Landing { .. }
                )
            })
        },
        wanted,
    }
}

/// The hind that the strides are counted by: the one stated, else the one marked most.
fn reference_limb(approach: Option<&Approach>) -> Limb {
    let Some(approach) = approach else { return Limb::LeadingHind };
    approach.reference_limb.unwrap_or_else(|| {
        let (leading, trailing) =
            (approach.contacts(Limb::LeadingHind), approach.contacts(Limb::TrailingHind));
        if trailing > leading { Limb::TrailingHind } else { Limb::LeadingHind }
    })
}

fn other_hind(limb: Limb) -> Limb {
    if limb == Limb::LeadingHind { Limb::TrailingHind } else { Limb::LeadingHind }
}

fn ties(file: &MarksFile, motion: Option<&CameraMotion>) -> StepView {
    let joints = missing_beside_motion(file, motion)
        .into_iter()
        .find(|missing| matches!(missing, Missing::Joints { .. }));
    let says = joints
        .map_or_else(String::new, |missing| as_sentence(&plain_words(file, &missing.to_string())));
    let needs_none = motion.is_some_and(|motion| motion.pieces.len() == 1);
    let several =
        |count: usize| if count == 1 { "1 point".to_owned() } else { format!("{count} points") };
    StepView {
        step: StepName::Ties,
        done: says.is_empty() && (needs_none || !file.ties.is_empty()),
        count: several(file.ties.len()),
        says: if says.is_empty() && file.ties.is_empty() && !needs_none {
            "The phone turned: mark fixed things (posts, wings, letters) that are seen in several frames.".to_owned()
        } else {
            says
        },
        wanted: vec![Target::Tie { tie: None, label: "a new fixed point".to_owned() }],
    }
}

/// What the file lacks of one kind, as sentences.
fn missing(file: &MarksFile, of_step: impl Fn(&Missing) -> bool) -> String {
    let said: Vec<String> = file
        .missing()
        .iter()
        .filter(|missing| of_step(missing))
        .map(|missing| as_sentence(&plain_words(file, &missing.to_string())))
        .collect();
    said.join(" ")
}
