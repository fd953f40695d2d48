//! Adding, replacing and removing in a list of things that have ids.

use super::ListChange;
use super::refused::EditRefused;
use crate::marks::approach::{Approach, Footfall};
use crate::marks::fence::Fence;
use crate::marks::reference::Reference;
use crate::marks::tie::Tie;

/// What the file has lists of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ThingKind {
    /// A thing of known size.
    Reference,
    /// A fixed point that joins frames.
    Tie,
    /// A fence.
    Fence,
    /// An approach.
    Approach,
    /// A footfall of an approach.
    Footfall,
}

impl std::fmt::Display for ThingKind {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str(match self {
            Self::Reference => "reference",
            Self::Tie => "tie",
            Self::Fence => "fence",
            Self::Approach => "approach",
            Self::Footfall => "footfall",
        })
    }
}

/// A thing with an id of its own in its list.
pub(super) trait Named {
    const KIND: ThingKind;
    fn id(&self) -> &str;
    /// What kind of thing it is; a reference says which.
    fn kind_words(&self) -> String {
        Self::KIND.to_string()
    }
}

macro_rules! named {
    ($($thing:ident),*) => {$(
        impl Named for $thing {
            const KIND: ThingKind = ThingKind::$thing;
            fn id(&self) -> &str {
                &self.id
            }
        }
    )*};
}

named!(Tie, Fence, Approach, Footfall);

impl Named for Reference {
    const KIND: ThingKind = ThingKind::Reference;
    fn id(&self) -> &str {
        &self.id
    }
    fn kind_words(&self) -> String {
        self.kind.words().to_owned()
    }
}

fn position<T: Named>(list: &[T], id: &str) -> Result<usize, EditRefused> {
    list.iter().position(|thing| thing.id() == id).ok_or_else(|| EditRefused::NoSuchThing {
        kind: T::KIND,
        id: id.to_owned(),
        known: list.iter().map(|thing| thing.id().to_owned()).collect(),
    })
}

pub(super) fn find<'a, T: Named>(list: &'a mut [T], id: &str) -> Result<&'a mut T, EditRefused> {
    let index = position(list, id)?;
    Ok(&mut list[index])
}

/// Changes the list and gives the inverse.
pub(super) fn change_list<T: Named>(
    list: &mut Vec<T>,
    change: ListChange<T>,
) -> Result<ListChange<T>, EditRefused> {
    match change {
        ListChange::Add { thing, at } => {
            let id = free_id(list, thing.id())?;
            insert(list, thing, at)?;
            Ok(ListChange::Remove { id })
        }
        ListChange::Replace { id, thing } => {
            let index = position(list, &id)?;
            if thing.id() != id {
                free_id(list, thing.id())?;
            }
            let new_id = thing.id().to_owned();
            let old = std::mem::replace(&mut list[index], thing);
            Ok(ListChange::Replace { id: new_id, thing: old })
        }
        ListChange::Remove { id } => {
            let index = position(list, &id)?;
            Ok(ListChange::Add { thing: list.remove(index), at: Some(index) })
        }
    }
}

fn free_id<T: Named>(list: &[T], id: &str) -> Result<String, EditRefused> {
    let id = id.to_owned();
    if list.iter().any(|other| other.id() == id) {
        return Err(EditRefused::IdTaken { kind: T::KIND, id });
    }
    Ok(id)
}

/// Inserts at `at`, or at the end.
pub(super) fn insert<T>(list: &mut Vec<T>, thing: T, at: Option<usize>) -> Result<(), EditRefused> {
    let length = list.len();
    let at = at.unwrap_or(length);
    if at > length {
        return Err(EditRefused::BeyondList { at, length });
    }
    list.insert(at, thing);
    Ok(())
}
