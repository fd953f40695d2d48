//! The few distances of a plan that stand on the sheet, a short sentence each.

use super::asked::{Asked, Gait};
use super::distance::Distance;
use super::exercise::{Exercise, LONGEST_LINE};
use super::grouped_notes::stride_notes;
use super::line::line;
use super::plan::Plan;
use super::published::Published;
use super::warning::PlanWarning;
use super::wording::{laid_words, walked_words};
use crate::quantity::{LengthUnits, Unit, capital};

/// Canter poles, lines of one and two strides, and the line of as many strides as were `ridden`,
/// from a `plan` beside `published`; then what was assumed and what to beware of. `assumed_height`:
/// no height was stated, so that the plan's is an assumption.
pub fn next_distances(
    plan: &Plan,
    published: &Published,
    ridden: u32,
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
    if (3..=LONGEST_LINE).contains(&ridden) {
        // A plan that could be made can be made for a longer line, too.
        let line = line(&plan.asked, ridden, published);
        said.extend(line.iter().map(|line| sentence(line, ", as many as were measured", units)));
    }
    said.push(basis(&plan.asked, assumed_height, units));
    said.extend(stride_notes(plan, units));
    said
}

/// "2 strides: 9.65 m (31 ft 8 in, 10½ walked paces)."
fn sentence(distance: &Distance, why: &str, units: LengthUnits) -> String {
    let aim = distance.length.aim_m;
    let (first, second) = (laid_words(aim, units), laid_words(aim, units.other()));
    let (name, walked) = (capital(&distance.exercise.words()), walked_words(aim));
    let beware = distance.warnings.iter().filter_map(|warning| match warning {
        PlanWarning::OutsidePublished { .. } => Some("outside the published tables"),
        PlanWarning::NeverShown { .. } => Some("not among the strides measured"),
        _ => None,
    });
    let beware: String = beware.map(|words| format!("; {words}")).collect();
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
    format!("{fences}, a horse {gait}; starting points, the person on the ground decides.")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::poles::plan;
    use crate::poles::sample::typed;

    #[test]
    fn the_sheet_says_poles_short_lines_and_the_line_that_was_ridden() {
        let published = Published::built_in().unwrap();
        let plan = plan(&Asked { height_m: 1.0, ..typed(3.6576) }, &published).unwrap();
        let said = next_distances(&plan, &published, 5, true, LengthUnits::Feet);
        assert_eq!(said.len(), 5, "{said:?}");
        assert!(said[0].starts_with("Canter poles: "), "{}", said[0]);
        // (n+1) × 12 ft (R1, R4), 4 n + 4 walked paces (R2, R11).
        assert_eq!(said[1], "1 stride: 24 ft (7.32 m, 8 walked paces).");
        assert_eq!(said[2], "2 strides: 36 ft (10.97 m, 12 walked paces).");
        assert_eq!(
            said[3],
            "5 strides, as many as were measured: 72 ft (21.95 m, 24 walked paces)."
        );
        assert_eq!(
            said[4],
            "For fences of 3 ft 3 in (assumed), a horse in canter; starting points, the person on \
             the ground decides."
        );
        assert_eq!(next_distances(&plan, &published, 2, false, LengthUnits::Metres).len(), 4);
        assert_eq!(next_distances(&plan, &published, 40, false, LengthUnits::Metres).len(), 4);
    }
}
