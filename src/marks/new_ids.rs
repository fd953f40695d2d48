//! Names of new things, so that every way of making one calls it alike.

use super::approach::Limb;
use super::file::MarksFile;

/// `wished`, or `wished-2`, `wished-3`, … where it is taken.
pub fn free_id(wished: &str, taken: impl Fn(&str) -> bool) -> String {
    let numbered = (2u32..).map(|number| format!("{wished}-{number}"));
    let mut ids = std::iter::once(wished.to_owned()).chain(numbered);
    ids.find(|id| !taken(id)).unwrap_or_default()
}

impl MarksFile {
    /// The next free id of an approach to that fence: `oxer-1`, `oxer-2`, …
    pub fn free_approach_id(&self, fence: &str) -> String {
        let mut ids = (1u32..).map(|number| format!("{fence}-{number}"));
        ids.find(|id| self.approach(id).is_none()).unwrap_or_default()
    }
}

impl Limb {
    /// The two letters with which ids of its footfalls begin: `lh` for the leading hind.
    pub fn letters(self) -> &'static str {
        match self {
            Self::TrailingHind => "th",
            Self::LeadingHind => "lh",
            Self::TrailingFore => "tf",
            Self::LeadingFore => "lf",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_next_free_name_is_taken() {
        let taken = ["poles", "poles-2"];
        assert_eq!(free_id("poles", |id| taken.contains(&id)), "poles-3");
        assert_eq!(free_id("rails", |id| taken.contains(&id)), "rails");
    }
}
