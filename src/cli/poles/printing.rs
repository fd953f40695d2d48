//! A plan on the terminal.

use std::io::Write;

use super::asking::Asking;
use crate::cli::Failure;
use crate::poles::{
    Distance, Plan, Published, Version, as_it_lies, distance_words, stride_words,
    version_with_stride, version_words, versions,
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
            writeln!(out, "\nPace beside course speeds\n{}", pace.sentence(self.units))?;
            for line in pace.lines() {
                writeln!(out, "{:5}· {line}", "")?;
            }
        }
        writeln!(
            out,
            "\nIn brackets the room around the distance: half the step between the published tables, \
             and the stride's ±. Centimetres are arithmetic: laid to 5 cm or 2 in it is near enough \
             (common practice, no source). A walked pace is 3 ft, four to a 12-ft stride.{}",
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
        if alone {
            for (name, version) in versions(distance) {
                let said = version_with_stride(name, version, self.units);
                writeln!(out, "{:5}to adjust: {said}", "")?;
                for warning in &version.warnings {
                    writeln!(out, "{:10}note: {}", "", warning.sentence(self.units))?;
                }
            }
            for line in as_it_lies(&distance.needed, self.units) {
                writeln!(out, "{:5}{line}", "")?;
            }
        } else {
            let said: Vec<String> = versions(distance).map(|one| self.version(one)).collect();
            if !said.is_empty() {
                writeln!(out, "{:5}to adjust: {}", "", said.join("; "))?;
            }
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

    /// A version with what to beware of in few words.
    fn version(&self, (name, version): (&str, &Version)) -> String {
        let beware: String = version.beware().map(|words| format!(", {words}")).collect();
        format!("{}{beware}", version_words(name, version, self.units))
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
