//! A plan on the terminal.

use std::io::Write;

use super::asking::Asking;
use crate::cli::Failure;
use crate::poles::{
    Distance, Plan, Published, StrideNeeded, Version, distance_words, laid_words, stride_words,
    walked_words,
};
use crate::quantity::{LengthUnits, written_taped};

/// How a plan is printed.
pub(super) struct Printing<'a> {
    pub asking: &'a Asking,
    pub published: &'a Published,
    pub units: LengthUnits,
    /// Whether every row beside a distance is listed.
    pub sources: bool,
}

impl Printing<'_> {
    pub fn print(&self, plan: &Plan, out: &mut dyn Write) -> Result<(), Failure> {
        self.print_stride(plan, out)?;
        let cells: Vec<[String; 4]> = plan
            .distances
            .iter()
            .map(|distance| {
                let words = distance_words(distance);
                let (first, second) = match self.units {
                    LengthUnits::Metres => (words.metres, words.feet),
                    LengthUnits::Feet => (words.feet, words.metres),
                };
                [words.name, first, second, words.walked]
            })
            .collect();
        let widths = [0, 1, 2].map(|column| {
            cells.iter().map(|row| row[column].chars().count()).max().unwrap_or_default()
        });
        for (distance, [name, first, second, walked]) in plan.distances.iter().zip(&cells) {
            let [a, b, c] = widths;
            writeln!(out, "{name:<a$}  {first:<b$}  {second:<c$}  {walked}")?;
            self.print_below(distance, plan.distances.len() == 1, out)?;
        }
        if let Some(pace) = &plan.pace_beside {
            writeln!(out, "\nPace beside course speeds\n{}", pace.sentence())?;
            for line in pace.lines() {
                writeln!(out, "{:5}· {line}", "")?;
            }
        }
        writeln!(
            out,
            "\nIn brackets the room around the distance: half the step between the published tables, \
             and the stride's ±. A walked pace is 3 ft, four to a 12-ft stride.{}",
            if self.sources { "" } else { " --sources lists the tables." }
        )?;
        for caution in plan.cautions {
            writeln!(out, "{caution}")?;
        }
        if self.sources { print_sources(plan, self.published, out) } else { Ok(()) }
    }

    fn print_stride(&self, plan: &Plan, out: &mut dyn Write) -> Result<(), Failure> {
        let stride = stride_words(plan, self.units);
        let also = match self.units {
            LengthUnits::Metres => format!(" ({})", written_taped(plan.stride_m)),
            LengthUnits::Feet => String::new(),
        };
        writeln!(out, "stride {stride}{also}")?;
        for line in &self.asking.taken {
            writeln!(out, "{line}")?;
        }
        for warning in &plan.warnings {
            writeln!(out, "note: {}", warning.sentence(self.units))?;
        }
        writeln!(out)?;
        Ok(())
    }

    /// What belongs to a distance; everything where it stands `alone`.
    fn print_below(
        &self,
        distance: &Distance,
        alone: bool,
        out: &mut dyn Write,
    ) -> Result<(), Failure> {
        let versions = [("shorter", &distance.shorter), ("longer", &distance.longer)];
        let versions: Vec<(&str, &Version)> =
            versions.into_iter().filter_map(|(name, v)| Some((name, v.as_ref()?))).collect();
        if alone {
            for (name, version) in &versions {
                self.print_version(name, version, out)?;
            }
            for needed in &distance.needed {
                writeln!(out, "{:5}{}", "", self.needed_words(needed))?;
            }
        } else if !versions.is_empty() {
            let said: Vec<String> =
                versions.iter().map(|(n, v)| self.version_words(n, v)).collect();
            writeln!(out, "{:5}to adjust: {}", "", said.join("; "))?;
        }
        for warning in &distance.warnings {
            writeln!(out, "{:5}note: {}", "", warning.sentence(self.units))?;
        }
        if self.sources {
            writeln!(out, "{:5}{}", "", distance.rule.words())?;
            for beside in &distance.beside {
                writeln!(out, "{:5}· {}", "", beside.words())?;
            }
        }
        Ok(())
    }

    fn print_version(
        &self,
        name: &str,
        version: &Version,
        out: &mut dyn Write,
    ) -> Result<(), Failure> {
        let stride = laid_words(version.stride_m, self.units);
        let said = self.version_words(name, version);
        writeln!(out, "{:5}to adjust: {said}, strides of {stride}", "")?;
        for warning in &version.warnings {
            writeln!(out, "{:10}note: {}", "", warning.sentence(self.units))?;
        }
        Ok(())
    }

    /// "shorter 6.90 m (22 ft 8 in, 7½ walked paces)".
    fn version_words(&self, name: &str, version: &Version) -> String {
        let aim = version.length.aim_m;
        let (first, second) = (laid_words(aim, self.units), laid_words(aim, self.units.other()));
        format!("{name} {first} ({second}, {})", walked_words(aim))
    }

    fn needed_words(&self, needed: &StrideNeeded) -> String {
        let noun = if needed.strides == 1 { "stride" } else { "strides" };
        let never = match needed.is_never_shown {
            Some(true) => ", which this horse has never shown",
            _ => "",
        };
        let stride = laid_words(needed.stride_m, self.units);
        format!("as it lies, {} {noun} would be {stride} each{never}", needed.strides)
    }
}

/// What the tags beside the rows stand for.
fn print_sources(plan: &Plan, published: &Published, out: &mut dyn Write) -> Result<(), Failure> {
    writeln!(out)?;
    for source in plan.sources(published) {
        writeln!(out, "{}", source.words())?;
    }
    Ok(())
}
