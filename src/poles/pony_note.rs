//! What it changes that a plan is for a pony, and what not.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::asked::{Asked, Going, Readiness, Size};
use super::beside::{Beside, Standing};
use super::distance::Distance;
use super::exercise::Exercise;
use super::line::NOTHING_M;
use super::published::Published;
use super::rule::Rule;
use super::table_distance::table_distance;
use super::wording::laid_words;
use crate::quantity::{LengthUnits, Metres, Unit};

/// What a pony's plan took from tables for ponies.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct PonyNote {
    /// The exercises whose distance is that of tables for ponies.
    pub by_pony_tables: Vec<Exercise>,
    /// Tags of those tables.
    pub sources: Vec<String>,
    /// Those that come out longer than a horse's of the very same stride, and by how much.
    pub longer_than_a_horse: Vec<LongerBy>,
}

/// An exercise that comes out longer.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LongerBy {
    /// Which.
    pub exercise: Exercise,
    /// By how much.
    pub by_m: Metres,
}

impl PonyNote {
    /// Of these `distances`; `None` for a horse.
    pub(super) fn of(asked: &Asked, distances: &[Distance], published: &Published) -> Option<Self> {
        if asked.size == Size::Horse {
            return None;
        }
        let is_theirs =
            |one: &&Distance| matches!(one.rule, Rule::MiddleOfTables | Rule::TablesTimesStride);
        let theirs: Vec<&Distance> = distances.iter().filter(is_theirs).collect();
        let compared = |beside: &&Beside| matches!(beside.standing, Standing::Compared { .. });
        let rows = theirs.iter().flat_map(|one| one.beside.iter().filter(compared));
        let mut sources: Vec<String> =
            rows.flat_map(|beside| beside.row.provenance.sources.clone()).collect();
        // Shorter tags first, so that R7 stands before R12.
        sources.sort_by_key(|tag| (tag.len(), tag.clone()));
        sources.dedup();
        // What ground and horse take off differs from table to table and is no matter of size.
        let fresh = |size| Asked {
            size,
            slope_percent: 0.0,
            going: Going::Good,
            readiness: Readiness::Ready,
            ..asked.clone()
        };
        let (pony, horse) = (fresh(asked.size), fresh(Size::Horse));
        let longer = |one: &&Distance| {
            let aim = |asked| Some(table_distance(one.exercise, asked, published)?.length.aim_m);
            let by_m = aim(&pony)? - aim(&horse)?;
            (by_m.get() > NOTHING_M).then_some(LongerBy { exercise: one.exercise, by_m })
        };
        Some(Self {
            by_pony_tables: theirs.iter().map(|one| one.exercise).collect(),
            sources,
            longer_than_a_horse: theirs.iter().filter_map(longer).collect(),
        })
    }

    /// In a sentence.
    pub(super) fn sentence(&self, units: LengthUnits) -> String {
        let lines = "a pony's lines follow its own stride, as a horse's do";
        if self.by_pony_tables.is_empty() {
            return format!("{lines}; the tables and rules beside them are those for ponies");
        }
        let names: Vec<String> = self.by_pony_tables.iter().map(|one| one.listed()).collect();
        let tables = format!(
            "{} follow the tables for ponies ({})",
            names.join(", "),
            self.sources.join(" ")
        );
        let said = |LongerBy { exercise, by_m }: &LongerBy| {
            format!("{} by {}", exercise.listed(), laid_words(*by_m, units))
        };
        let longer = match &self.longer_than_a_horse[..] {
            [] => String::new(),
            all => format!(
                ", which make it longer than a horse's of the same stride, as they print nearly as much \
                 for ponies as for horses: {}",
                all.iter().map(said).collect::<Vec<_>>().join(", ")
            ),
        };
        format!("{lines}; {tables}{longer}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::poles::sample::typed;
    use crate::poles::{Gait, PonyClass, plan, plan_line};

    fn note(asked: &Asked) -> Option<PonyNote> {
        let plan = plan(asked, &Published::built_in().unwrap()).unwrap();
        PonyNote::of(asked, &plan.distances, &Published::built_in().unwrap())
    }

    #[test]
    fn a_trotting_pony_s_bounce_is_longer_because_the_tables_print_so() {
        let medium = Size::Pony(Some(PonyClass::Medium));
        let pony = Asked { size: medium, gait: Gait::Trot, going: Going::Deep, ..typed(3.5) };
        let found = note(&pony).unwrap();
        // R20 (read*): 9-10 ft for a pony, middle 2.896 m, whose stride is 3.13 m (R16, R23); for a
        // horse 9-10, 9-11 and 9-11 ft (R1, R5, R20), median of the middles 3.048 m, whose stride is
        // 3.63 m (R1, R16, R23, R10). Of a stride of 3.50 m: 3.24 and 2.94 m.
        let [LongerBy { exercise: Exercise::Bounce, by_m }] = found.longer_than_a_horse[..] else {
            panic!("{found:?}")
        };
        assert!((by_m.get() - 0.297).abs() < 0.005, "{by_m:?}");
        let said = found.sentence(LengthUnits::Metres);
        assert!(said.contains("bounce follow the tables for ponies (R7 R20"), "{said}");
        assert!(said.ends_with("as much for ponies as for horses: bounce by 0.30 m"), "{said}");
        // In canter no pony table prints more in proportion.
        let canter = note(&Asked { size: medium, ..typed(3.5) }).unwrap();
        assert!(canter.longer_than_a_horse.is_empty(), "{canter:?}");
        assert!(canter.sources.contains(&"R7".to_owned()));
        assert_eq!(note(&typed(3.5)), None);
    }

    #[test]
    fn of_a_single_line_only_what_stands_beside_it_is_the_pony_s() {
        let published = Published::built_in().unwrap();
        let asked = Asked { size: Size::Pony(None), ..typed(3.0) };
        let plan = plan_line(&asked, 3, &published).unwrap();
        let note = PonyNote::of(&asked, &plan.distances, &published).unwrap();
        assert_eq!(
            note.sentence(LengthUnits::Feet),
            "a pony's lines follow its own stride, as a horse's do; the tables and rules beside them \
             are those for ponies"
        );
    }
}
