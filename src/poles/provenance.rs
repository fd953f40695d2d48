//! What distances and speeds share: tables of rows, and where each row was printed.
//!
//! A row that was not read carries [`Seen::Memory`] and is shown as such; nothing is computed from
//! it. Rows flatten their [`Provenance`], which serde cannot do and refuse unknown keys at once; a
//! misspelt key is caught by the test that reads each fixture and writes it anew.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How good a source is.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema,
)]
pub enum Grade {
    /// A peer-reviewed abstract or an official body's own page.
    A,
    /// Association, handbook or rule text seen second-hand.
    B,
    /// Coach's article, blog, shop page or forum post.
    C,
    /// No grade was given.
    #[serde(rename = "ungraded")]
    Ungraded,
}

impl Grade {
    /// Its letter.
    pub fn words(self) -> &'static str {
        match self {
            Self::A => "A",
            Self::B => "B",
            Self::C => "C",
            Self::Ungraded => "not stated",
        }
    }
}

/// How a row was come by.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Seen {
    /// The figure stood on the page named.
    Read,
    /// It stood on a page that quotes somebody else.
    ReadSecondHand,
    /// It was found on no page that was read.
    Memory,
    /// Arithmetic on rows that were read.
    Derived,
}

/// Where figures were printed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// Its short name in the rows.
    pub tag: String,
    /// How good it is.
    pub grade: Grade,
    /// What it is.
    pub what: String,
    /// Where it stood.
    #[serde(rename = "where")]
    pub place: String,
}

/// Where a row was printed, and how it was come by.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Provenance {
    /// Tags of its sources; none for a row from memory.
    pub sources: Vec<String>,
    /// The lowest grade among them.
    pub grade: Grade,
    /// How it was come by.
    pub seen: Seen,
    /// For memory only: how sure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub confidence: Option<String>,
    /// What else the source says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

/// Published figures with their sources.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Table<Row> {
    /// What the file is.
    pub note: String,
    /// Where figures were printed.
    pub sources: Vec<Source>,
    /// The figures.
    pub rows: Vec<Row>,
}

impl Provenance {
    /// "R20, grade B"; "from memory" where nothing was read.
    pub fn words(&self) -> String {
        match self.sources.is_empty() {
            true => self.seen.words().to_owned(),
            false => format!("{}, grade {}", self.sources.join(" "), self.grade.words()),
        }
    }
}

impl Source {
    /// "R20 handbook as quoted (where; grade B)".
    pub fn words(&self) -> String {
        let Self { tag, grade, what, place } = self;
        format!("{tag:<3} {what} ({place}; grade {})", grade.words())
    }

    /// The site it stood on, without the page: "docstoc.com".
    pub fn site(&self) -> &str {
        let is_site = |word: &&str| word.split('/').next().is_some_and(|host| host.contains('.'));
        let word = self.place.split_whitespace().rev().find(is_site).unwrap_or(&self.place);
        let host = word.split('/').next().unwrap_or(word);
        host.strip_prefix("www.").unwrap_or(host)
    }
}

impl<Row> Table<Row> {
    /// The source called `tag`.
    pub fn source(&self, tag: &str) -> Option<&Source> {
        self.sources.iter().find(|source| source.tag == tag)
    }
}

impl Seen {
    /// Whether somebody has seen the figure in print.
    pub fn is_read(self) -> bool {
        matches!(self, Self::Read | Self::ReadSecondHand)
    }

    /// In a word or two.
    pub fn words(self) -> &'static str {
        match self {
            Self::Read => "read",
            Self::ReadSecondHand => "read second-hand",
            Self::Memory => "from memory",
            Self::Derived => "derived",
        }
    }
}
