//! Which approaches are wanted, and the names to say when none is.

use std::collections::BTreeSet;

/// The approaches that are wanted; what is not stated is not asked for.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Wanted {
    /// What the fence is called.
    pub fence: Option<String>,
    /// Which horse.
    pub horse: Option<String>,
    /// Who rode.
    pub rider: Option<String>,
}

impl Wanted {
    /// Whether an approach with these names is wanted: the same letters, large or small, blanks
    /// around them not counted.
    pub fn holds(&self, fence: &str, horse: &str, rider: &str) -> bool {
        let same = |wanted: &Option<String>, name: &str| {
            wanted.as_ref().is_none_or(|wanted| plain(wanted) == plain(name))
        };
        same(&self.fence, fence) && same(&self.horse, horse) && same(&self.rider, rider)
    }
}

fn plain(name: &str) -> String {
    name.trim().to_lowercase()
}

/// The names that stand in a folder's marks files, sorted.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct NamesFound {
    /// Of fences.
    pub fences: BTreeSet<String>,
    /// Of horses.
    pub horses: BTreeSet<String>,
    /// Of riders.
    pub riders: BTreeSet<String>,
}

impl NamesFound {
    /// Adds those of one approach; empty ones are none.
    pub fn add(&mut self, fence: &str, horse: &str, rider: &str) {
        let lists = [&mut self.fences, &mut self.horses, &mut self.riders];
        for (list, name) in lists.into_iter().zip([fence, horse, rider]) {
            let name = name.trim();
            if !name.is_empty() && !list.contains(name) {
                list.insert(name.to_owned());
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_match_in_any_case_and_never_in_part() {
        let wanted = Wanted { fence: Some(" blue Oxer".into()), ..Wanted::default() };
        assert!(wanted.holds("Blue oxer", "Copper", ""));
        assert!(!wanted.holds("Blue oxer 2", "Copper", ""));
        let wanted = Wanted { horse: Some("ČERNÁ".into()), ..Wanted::default() };
        assert!(wanted.holds("any", "Černá", "Ada") && !wanted.holds("any", "", "Ada"));
        assert!(Wanted::default().holds("", "", ""));
    }
}
