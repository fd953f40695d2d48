//! Sentences without ids. On the command line an id is what one types; on the page a coach sees names.

use super::spots::footfall_label;
use crate::marks::MarksFile;

/// A sentence of the program with the ids of a file's things told as the page tells them.
pub(super) fn plain_words(file: &MarksFile, text: &str) -> String {
    let mut words = text.to_owned();
    for (thing, name) in names(file) {
        words = words.replace(&thing, &name);
    }
    words.replace("add ties there", "mark more fixed points there").replace('`', "")
}

/// What is replaced by what, the longer first: "of fence `A`" before "`A`".
fn names(file: &MarksFile) -> Vec<(String, String)> {
    let mut names = Vec::new();
    let one_fence = file.fences.len() == 1;
    for (number, fence) in (1..).zip(&file.fences) {
        let name = match (fence.name.as_str(), one_fence) {
            ("", true) => "the fence".to_owned(),
            ("", false) => format!("fence {number}"),
            (name, _) => format!("fence {name}"),
        };
        names.push((format!("fence `{}`", fence.id), name));
    }
    let one_approach = file.approaches.len() == 1;
    for (number, approach) in (1..).zip(&file.approaches) {
        let name =
            if one_approach { "the approach".to_owned() } else { format!("approach {number}") };
        names.push((format!("approach `{}`", approach.id), name));
        for footfall in &approach.footfalls {
            let at = footfall.mark.frame;
            let name = footfall_label(footfall.limb.into(), footfall.event.into());
            names.push((format!("footfall `{}`", footfall.id), format!("{name} (frame {at})")));
        }
    }
    for tie in &file.ties {
        names.push((format!("tie `{}`", tie.id), format!("fixed point {}", tie.id)));
    }
    for reference in &file.references {
        let (id, kind) = (&reference.id, reference.kind.words());
        names.push((format!("{kind} `{id}`"), format!("the {kind}")));
        names.push((format!("`{id}`"), format!("the {}", id.replace('-', " "))));
    }
    names
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::marks::sample::sample;

    #[test]
    fn ids_are_told_as_names() {
        let mut file = sample();
        let id = file.fences[0].id.clone();
        file.fences[0].name = String::new();
        assert_eq!(
            plain_words(&file, &format!("the base of fence `{id}` is not marked")),
            "the base of the fence is not marked"
        );
        file.fences[0].name = "Blue oxer".into();
        assert_eq!(plain_words(&file, &format!("added fence `{id}`")), "added fence Blue oxer");
        assert_eq!(
            plain_words(&file, "frame 3 shares too few fixed points; add ties there"),
            "frame 3 shares too few fixed points; mark more fixed points there"
        );
    }
}
