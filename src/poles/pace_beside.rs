//! A measured pace beside the few course speeds that matter for it, and the sentence about it.

use schemars::JsonSchema;
use serde::Serialize;

use super::speed_beside::{SpeedBeside, SpeedVerdict, beside_speeds};
use super::speed_tables::{Phase, SpeedRow, SpeedTables};
use crate::quantity::{Estimate, LengthUnits, MetresPerSecond, written_pace, written_speed};

/// A pace with the course speeds it is like, and the next below and above.
#[derive(Clone, Debug, PartialEq, Serialize, JsonSchema)]
pub struct PaceBeside {
    /// The pace.
    pub pace_m_per_s: Estimate<MetresPerSecond>,
    /// Rows that hold the pace, or lie within its ±; the nearest first.
    pub alike: Vec<SpeedBeside>,
    /// The fastest row that is certainly slower than the pace.
    pub next_below: Option<SpeedBeside>,
    /// The slowest row that is certainly faster.
    pub next_above: Option<SpeedBeside>,
}

impl PaceBeside {
    /// `pace` beside the speeds that were read.
    pub fn of(pace: &Estimate<MetresPerSecond>, tables: &SpeedTables) -> Self {
        let all = beside_speeds(pace, tables);
        let with = |wanted: SpeedVerdict| all.iter().filter(move |one| one.verdict == wanted);
        let far = |one: &&SpeedBeside| one.outside_m_per_min.abs();
        let nearest = |wanted| with(wanted).min_by(|a, b| far(a).total_cmp(&far(b))).cloned();
        let mut alike: Vec<SpeedBeside> = with(SpeedVerdict::Within).cloned().collect();
        let mut within: Vec<SpeedBeside> = with(SpeedVerdict::WithinPlusMinus).cloned().collect();
        within.sort_by(|a, b| far(&a).total_cmp(&far(&b)));
        alike.extend(within);
        Self {
            pace_m_per_s: *pace,
            alike,
            next_below: nearest(SpeedVerdict::Faster),
            next_above: nearest(SpeedVerdict::Slower),
        }
    }

    /// The pace in metres a minute, as course rules count; before it in feet a second, where lengths
    /// are in feet.
    fn pace(&self, units: LengthUnits) -> String {
        let of_rules = written_pace(&self.pace_m_per_s);
        match units {
            LengthUnits::Metres => of_rules.to_string(),
            LengthUnits::Feet => {
                format!("{} ({of_rules})", written_speed(&self.pace_m_per_s, units))
            }
        }
    }

    /// The pace and what it is like, in a sentence.
    pub fn sentence(&self, units: LengthUnits) -> String {
        let pace = self.pace(units);
        let row = |beside: &SpeedBeside| beside.row.words();
        match (&self.alike[..], &self.next_below, &self.next_above) {
            ([first, others @ ..], ..) => {
                let more = match others.len() {
                    0 => String::new(),
                    1 => ", and of 1 other speed that was read".to_owned(),
                    count => format!(", and of {count} other speeds that were read"),
                };
                format!("{pace}: the pace of {}{more}", row(first))
            }
            ([], Some(below), Some(above)) => {
                format!("{pace}: between {} and {}", row(below), row(above))
            }
            ([], None, Some(above)) => {
                format!(
                    "{pace}: slower than any course speed that was read; the next is {}",
                    row(above)
                )
            }
            ([], Some(below), None) => {
                format!(
                    "{pace}: faster than any course speed that was read; the next is {}",
                    row(below)
                )
            }
            ([], None, None) => format!("{pace}: no course speed was read"),
        }
    }

    /// The pace and the speed it is most like, in few words; `None` where it is like none.
    pub fn short_sentence(&self, units: LengthUnits) -> Option<String> {
        let first = self.alike.first()?;
        Some(format!("{}: as {}", self.pace(units), first.row.name()))
    }

    /// A line for each row: how the pace stands to it, and what it is.
    pub fn lines(&self) -> Vec<String> {
        let alike =
            self.alike.iter().map(|one| format!("{}: {}", one.verdict.words(), one.row.words()));
        let below = self.next_below.iter().map(|one| format!("next below: {}", one.row.words()));
        let above = self.next_above.iter().map(|one| format!("next above: {}", one.row.words()));
        alike.chain(below).chain(above).collect()
    }
}

impl SpeedRow {
    /// "US eventing, show jumping, Training, 325 m/min": without its source, which stands elsewhere.
    fn name(&self) -> String {
        let (place, level, printed) = (&self.place, &self.level, &self.printed);
        format!("{place}, {}, {level}, {printed}", self.phase_words())
    }

    fn phase_words(&self) -> &'static str {
        match self.phase {
            Phase::ShowJumping => "show jumping",
            Phase::CrossCountry => "cross-country",
        }
    }

    /// "US eventing, show jumping, Training (325 m/min; R19, grade B)".
    pub fn words(&self) -> String {
        let (place, level, printed) = (&self.place, &self.level, &self.printed);
        let phase = self.phase_words();
        format!("{place}, {phase}, {level} ({printed}; {})", self.provenance.words())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::sample::estimate;

    fn of(value: f64, half: f64) -> PaceBeside {
        PaceBeside::of(&estimate(value / 60.0, half / 60.0), &SpeedTables::built_in().unwrap())
    }

    #[test]
    fn a_pace_lies_among_the_nearest_speeds() {
        // Between 400 m/min (R25, outdoors exceptionally) and 435 m/min (R33, BE80): none within ± 9.
        let between = of(417.0, 9.0);
        assert!(between.alike.is_empty());
        assert_eq!(
            between.sentence(LengthUnits::Metres),
            "417 ± 9 m/min: between Luxembourg, show jumping, outdoors, exceptionally (400 m/min; \
             R25, grade A) and UK, cross-country, BE80 (435 m/min; R33, grade B)"
        );
        assert_eq!(between.lines().len(), 2);
        // 417 m/min are 22.8 ft/s.
        let feet = between.sentence(LengthUnits::Feet);
        assert!(feet.starts_with("22.8 ± 0.5 ft/s (417 ± 9 m/min): between "), "{feet}");
    }

    #[test]
    fn what_holds_the_pace_comes_before_what_lies_within_its_plus_minus() {
        // 346 ± 9: within 300 or 350 (R25), 300–350 (R36); 350–400 and 350 are within the ±.
        let alike = of(346.0, 9.0);
        assert_eq!(alike.alike[0].verdict, SpeedVerdict::Within);
        let last = alike.alike.last().unwrap();
        assert_eq!(last.verdict, SpeedVerdict::WithinPlusMinus);
        let said = alike.sentence(LengthUnits::Metres);
        assert!(
            said.starts_with("346 ± 9 m/min: the pace of Luxembourg, show jumping, indoors"),
            "{said}"
        );
        // 325 (R19, R35) is the next below, 400 (R25) the next above.
        assert_eq!(alike.next_below.as_ref().unwrap().row.high_m_per_min, 325.0);
        assert_eq!(alike.next_above.as_ref().unwrap().row.low_m_per_min, 400.0);
        assert_eq!(alike.lines().len(), alike.alike.len() + 2);
    }

    #[test]
    fn outside_all_speeds_only_the_nearest_is_named() {
        // 300 m/min is the slowest, 570 the fastest that was read (R25, R31).
        assert!(
            of(240.0, 8.0)
                .sentence(LengthUnits::Metres)
                .contains("slower than any course speed that was read; the next is")
        );
        assert!(
            of(620.0, 8.0)
                .sentence(LengthUnits::Metres)
                .contains("faster than any course speed that was read; the next is FEI")
        );
    }
}
