//! The few distances of a plan that stand on the sheet, a short sentence each.

use super::asked::{Asked, Gait, Stride, StrideBasis};
use super::distance::Distance;
use super::exercise::{Exercise, LONGEST_LINE};
use super::grouped_notes::shortened;
use super::line::line;
use super::plan::Plan;
use super::published::Published;
use super::published_beside::published_beside;
use super::warning::{PlanWarning, ShortenedBy, numbers_words, short_end_words};
use super::wording::{laid_words, span_words, walked_words};
use crate::quantity::{LengthUnits, Unit, as_sentence, capital};

/// Canter poles, lines of one and two strides, and the line of as many strides as were measured,
/// where all are level, from a `plan` beside `published`; then what was assumed and what to beware
/// of. `assumed_height`: no height was stated, so that the plan's is an assumption.
pub fn next_distances(
    plan: &Plan,
    published: &Published,
    assumed_height: bool,
    units: LengthUnits,
) -> Vec<String> {
    let wanted = |distance: &&Distance| {
        matches!(distance.exercise, Exercise::CanterPoles | Exercise::Line { strides: 1 | 2 })
    };
    let mut said: Vec<String> = plan
        .distances
        .iter()
        .filter(wanted)
        .map(|distance| sentence(distance, "", units))
        .collect();
    if let Some(strides) = measured_count(&plan.asked.stride) {
        // A plan that could be made can be made for a longer line, too.
        let line = line(&plan.asked, strides, published);
        said.extend(line.iter().map(|line| sentence(line, ", as many as were measured", units)));
    }
    said.push(basis(&plan.asked, assumed_height, units));
    let by_the_rule =
        [ShortenedBy::LowFence, ShortenedBy::PolesOnGround, ShortenedBy::TrotApproach];
    said.extend(shortened(
        plan,
        |part| part.why.iter().all(|why| by_the_rule.contains(why)),
        units,
    ));
    said.extend(plan.warnings.iter().map(|warning| match warning {
        // The sheet has no versions of lines.
        PlanWarning::ShortEnd { why } => as_sentence(&short_end_words(why)),
        PlanWarning::StridesLeftOut { numbers } => {
            format!("Planned from the level strides, without {}.", numbers_words(numbers))
        }
        other => as_sentence(&other.sentence(units)),
    }));
    said
}

/// As many strides as were measured, where a line of so many is worth building: not where some were
/// uneven, for a stride that was added counts there, too.
fn measured_count(stride: &Stride) -> Option<u32> {
    match stride {
        Stride::Measured { strides_m, basis: StrideBasis::AllLevel, .. } => {
            let count = u32::try_from(strides_m.len()).ok()?;
            (3..=LONGEST_LINE).contains(&count).then_some(count)
        }
        Stride::Measured { .. } | Stride::Typed { .. } => None,
    }
}

/// "2 strides: 9.65 m (31 ft 8 in, 10½ walked paces); published 10.00 to 11.00 m.".
fn sentence(distance: &Distance, why: &str, units: LengthUnits) -> String {
    let aim = distance.length.aim_m;
    let (first, second) = (laid_words(aim, units), laid_words(aim, units.other()));
    let (name, walked) = (capital(&distance.exercise.words()), walked_words(aim));
    let warns = |wanted: fn(&PlanWarning) -> bool| distance.warnings.iter().any(wanted);
    let mut beware = match published_beside(distance) {
        Some(beside) => {
            let span = span_words(beside.low_m, beside.high_m, units);
            let is_outside = warns(|one| matches!(one, PlanWarning::OutsidePublished { .. }));
            format!("; {}published {span}", if is_outside { "outside the " } else { "" })
        }
        None => "; no published table was read".to_owned(),
    };
    if warns(|one| matches!(one, PlanWarning::NeverShown { .. })) {
        beware.push_str("; not among the strides measured");
    }
    format!("{name}{why}: {first} ({second}, {walked}){beware}.")
}

fn basis(asked: &Asked, assumed_height: bool, units: LengthUnits) -> String {
    let gait = match asked.gait {
        Gait::Trot => "in trot",
        Gait::Canter => "in canter",
    };
    let height = laid_words(Unit::new(asked.height_m), units);
    let assumed = if assumed_height { " (assumed)" } else { "" };
    let fences = match asked.height_m {
        0.0 => "For poles on the ground".to_owned(),
        _ => format!("For fences of {height}{assumed}"),
    };
    let ground: String = asked.ground_words().iter().map(|words| format!(", {words}")).collect();
    format!("{fences}, a horse {gait}{ground}; starting points, the person on the ground decides.")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::poles::sample::{measured, typed};
    use crate::poles::{Going, plan};

    /// Five strides of 12 ft, level, before fences of 1.00 m.
    fn twelve_foot() -> Asked {
        Asked { height_m: 1.0, ..measured(3.6576, &[3.65, 3.66, 3.66, 3.66, 3.66]) }
    }

    fn said(asked: &Asked, assumed: bool, units: LengthUnits) -> Vec<String> {
        let published = Published::built_in().unwrap();
        next_distances(&plan(asked, &published).unwrap(), &published, assumed, units)
    }

    #[test]
    fn the_sheet_says_poles_short_lines_and_the_line_that_was_ridden() {
        let said = said(&twelve_foot(), true, LengthUnits::Feet);
        assert_eq!(said.len(), 5, "{said:?}");
        assert!(said[0].starts_with("Canter poles: "), "{}", said[0]);
        // (n+1) × 12 ft (R1, R4), 4 n + 4 walked paces (R2, R11); 21 ft (R12, R21) to 26.5 ft (R20).
        assert_eq!(
            said[1],
            "1 stride: 24 ft (7.32 m, 8 walked paces); published 21 ft to 26 ft 6 in."
        );
        assert!(said[2].starts_with("2 strides: 36 ft (10.97 m, 12 walked paces); published "));
        assert!(
            said[3].starts_with(
                "5 strides, as many as were measured: 72 ft (21.95 m, 24 walked paces); published "
            ),
            "{}",
            said[3]
        );
        assert_eq!(
            said[4],
            "For fences of 3 ft 3 in (assumed), a horse in canter; starting points, the person on \
             the ground decides."
        );
    }

    #[test]
    fn a_line_of_uneven_strides_or_of_too_many_is_not_proposed() {
        let of_basis = |of: StrideBasis| {
            let mut asked = twelve_foot();
            if let Stride::Measured { basis, .. } = &mut asked.stride {
                *basis = of;
            }
            asked
        };
        let chipped = of_basis(StrideBasis::LevelOnes { left_out: vec![-1] });
        for asked in [of_basis(StrideBasis::Uneven), chipped, measured(3.6, &[3.6; 13]), typed(3.6)]
        {
            let said = said(&asked, false, LengthUnits::Metres);
            assert!(!said.iter().any(|one| one.contains("as many as")), "{said:?}");
        }
        // No table for seven strides of a horse was read.
        let seven = said(&measured(3.6, &[3.6; 7]), false, LengthUnits::Metres);
        assert!(seven[3].ends_with("; no published table was read."), "{}", seven[3]);
    }

    #[test]
    fn what_is_shortened_says_so_once_and_why() {
        let heavy = Asked {
            height_m: 0.8,
            going: Going::Deep,
            slope_percent: 3.0,
            ..measured(3.6, &[3.6, 3.6, 3.6])
        };
        let short = said(&heavy, false, LengthUnits::Metres);
        assert!(short[4].contains("a horse in canter, deep going, 3 % uphill;"), "{}", short[4]);
        // A quarter of the stride: 3 ft of 12 (R11, R3).
        assert_eq!(short[5], "Shortened for low fence: lines of 1 to 6 strides by 0.90 m each.");
        assert_eq!(
            short[6],
            "Uphill, deep going: no source gives an amount, so each distance starts at its short end, \
             once for all of these, however steep."
        );
        assert_eq!(short.len(), 7, "{short:?}");
        let down = Asked { slope_percent: -3.0, ..twelve_foot() };
        let down = said(&down, false, LengthUnits::Metres);
        assert!(down.last().unwrap().starts_with("Downhill strides grow"), "{down:?}");
    }
}
