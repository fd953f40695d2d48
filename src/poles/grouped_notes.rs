//! The warnings of a whole plan in few sentences: what several distances share is said once.

use super::distance::Distance;
use super::exercise::Exercise;
use super::plan::Plan;
use super::warning::{PlanWarning, ShortenedBy, Shortening};
use super::wording::laid_words;
use crate::quantity::{LengthUnits, Metres, Unit, as_sentence, whole_counts};

/// What to beware of about `plan`, a sentence each: stride, ground and horse, what is shortened, what
/// leaves room or tables, which strides are not among those measured.
pub fn grouped_notes(plan: &Plan, units: LengthUnits) -> Vec<String> {
    let mut notes = plan_notes(plan, units);
    notes.extend(shortened(plan, |_| true, units));
    let outside = |is_longer: bool| {
        listed(plan, |warning| match warning {
            PlanWarning::OutsidePublished { by_m, .. } if (by_m.get() > 0.0) == is_longer => {
                Some(format!(" by {}", laid_words(Metres::new(by_m.get().abs()), units)))
            }
            _ => None,
        })
    };
    let never = listed(plan, |warning| match warning {
        PlanWarning::NeverShown { needed_m, .. } => {
            Some(format!(" ({})", laid_words(*needed_m, units)))
        }
        _ => None,
    });
    let plain =
        |wanted: &PlanWarning| listed(plan, |warning| (warning == wanted).then(String::new));
    let said = |start: &str, list: Option<String>| list.map(|list| format!("{start}: {list}."));
    notes.extend(
        [
            said("Shorter than any published table", outside(false)),
            said("Longer than any published table", outside(true)),
            said("Needs a stride that is not among those measured of this horse", never),
            said("No published table was read", plain(&PlanWarning::NonePublished)),
            said("Only figures from memory beside it", plain(&PlanWarning::MemoryOnly)),
        ]
        .into_iter()
        .flatten(),
    );
    notes.iter().map(|note| whole_counts(note)).collect()
}

/// What to beware of about stride, ground and horse, a sentence each.
fn plan_notes(plan: &Plan, units: LengthUnits) -> Vec<String> {
    plan.warnings.iter().map(|warning| as_sentence(&warning.sentence(units))).collect()
}

/// What is taken off an exercise, written.
type Amount = (Exercise, String);

/// "Shortened for low fence: lines of 1 to 6 strides by 0.88 m each.", a sentence for each reason, or
/// for those that act together, of which `is_wanted`.
pub(super) fn shortened(
    plan: &Plan,
    is_wanted: impl Fn(&Shortening) -> bool,
    units: LengthUnits,
) -> Vec<String> {
    let mut groups: Vec<(&[ShortenedBy], Vec<Amount>)> = Vec::new();
    for distance in &plan.distances {
        for warning in &distance.warnings {
            let PlanWarning::Shortened { parts } = warning else { continue };
            for part in parts.iter().filter(|part| is_wanted(part)) {
                let said = (distance.exercise, laid_words(part.by_m, units));
                match groups.iter_mut().find(|(known, _)| *known == &part.why[..]) {
                    Some((_, all)) => all.push(said),
                    None => groups.push((&part.why, vec![said])),
                }
            }
        }
    }
    let words = |(why, all): (&[ShortenedBy], Vec<Amount>)| {
        let why: Vec<&str> = why.iter().map(|why| why.words()).collect();
        format!("Shortened for {}: {}.", why.join(", "), amounts(&all))
    };
    groups.into_iter().map(words).collect()
}

/// "bounce by 0.17 m, lines of 1 to 6 strides by 0.46 m each": lines that follow one another and lose
/// alike are told together.
fn amounts(all: &[Amount]) -> String {
    let alike = |a: &Amount, b: &Amount| {
        let lines = matches!((a.0, b.0), (Exercise::Line { .. }, Exercise::Line { .. }));
        lines && a.1 == b.1
    };
    let run = |run: &[Amount]| match run {
        [(Exercise::Line { strides: first }, by), .., (Exercise::Line { strides: last }, _)] => {
            format!("lines of {first} to {last} strides by {by} each")
        }
        all => {
            let one = |(exercise, by): &Amount| format!("{} by {by}", exercise.listed());
            all.iter().map(one).collect::<Vec<_>>().join(", ")
        }
    };
    all.chunk_by(alike).map(run).collect::<Vec<_>>().join(", ")
}

/// The exercises, and their versions, that carry a warning, each with what `said` says of it.
fn listed(plan: &Plan, said: impl Fn(&PlanWarning) -> Option<String>) -> Option<String> {
    let mut all = Vec::new();
    for distance in &plan.distances {
        let name = distance.exercise.listed();
        let own = distance.warnings.iter().find_map(&said);
        if let Some(own) = own {
            all.push(format!("{name}{own}"));
            continue;
        }
        for (version, words) in versions(distance) {
            if let Some(its) = version.iter().find_map(&said).filter(|its| !its.is_empty()) {
                all.push(format!("{name} ({words}){its}"));
            }
        }
    }
    (!all.is_empty()).then(|| all.join(", "))
}

fn versions(distance: &Distance) -> impl Iterator<Item = (&[PlanWarning], &'static str)> {
    let shorter = distance.shorter.iter().map(|version| (&version.warnings[..], "shorter version"));
    let longer = distance.longer.iter().map(|version| (&version.warnings[..], "longer version"));
    shorter.chain(longer)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::poles::sample::{measured, typed};
    use crate::poles::{Asked, Gait, Going, Published, plan};

    fn notes(asked: &Asked) -> Vec<String> {
        grouped_notes(&plan(asked, &Published::built_in().unwrap()).unwrap(), LengthUnits::Metres)
    }

    #[test]
    fn what_distances_share_is_said_once() {
        let asked = Asked { gait: Gait::Trot, going: Going::Deep, ..typed(3.5) };
        let notes = notes(&asked);
        let shortened: Vec<_> = notes.iter().filter(|note| note.starts_with("Shortened")).collect();
        // The ground takes its part of everything, the trot approach its own of the lines: 3 ft and
        // half of 3 ft of a 12-ft stride (R11, R21), 3.5 × 3/8 m.
        assert_eq!(shortened.len(), 2, "{notes:?}");
        let trot =
            "Shortened for trot approach: lines of 1\u{a0}to 6\u{a0}strides by 1.31\u{a0}m each.";
        assert!(shortened.iter().any(|note| *note == trot), "{shortened:?}");
        let deep =
            shortened.iter().find(|note| note.starts_with("Shortened for deep going: ")).unwrap();
        // Half of 3 ft of a 12-ft stride (R3, R21): 3.5 / 8.
        assert!(deep.ends_with("lines of 1\u{a0}to 6\u{a0}strides by 0.44\u{a0}m each."), "{deep}");
        let once = notes.iter().filter(|note| note.contains("no source gives an amount")).count();
        assert_eq!(once, 1, "{notes:?}");
        let none = notes.iter().find(|note| note.starts_with("No published")).unwrap();
        assert!(
            none.ends_with("3\u{a0}strides, 4\u{a0}strides, 5\u{a0}strides, 6\u{a0}strides."),
            "{none}"
        );
    }

    #[test]
    fn a_version_is_named_where_only_it_goes_too_far() {
        // Shown 3.34 to 3.66 m: the longer version needs 3.5 × 25/24 = 3.65, the shorter 3.35.
        let notes = notes(&measured(3.4, &[3.4, 3.5]));
        let never = notes.iter().find(|note| note.starts_with("Needs a stride that")).unwrap();
        assert!(never.contains("1\u{a0}stride (shorter version) (3.26\u{a0}m)"), "{never}");
        assert!(
            notes_of_a_twelve_foot_stride()
                .iter()
                .all(|note| !note.contains("not among those measured"))
        );
    }

    fn notes_of_a_twelve_foot_stride() -> Vec<String> {
        notes(&typed(3.6576))
    }
}
