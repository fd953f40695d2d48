//! What a command could not do: the chain of errors, one hint, the exit code.

use std::error::Error;
use std::fmt::{Display, Formatter, Result};
use std::io::ErrorKind;

use crate::footage::write::WriteError;
use crate::footage::{FootageError, io_words};
use crate::store::{ClipChanged, NoClip, NotBegun, StoreError};

/// A command that was not done.
#[derive(Debug)]
pub struct Failure {
    error: Box<dyn Error>,
    hint: Option<String>,
    exit_code: u8,
}

impl Failure {
    /// Something that could not be done (exit code 1).
    pub fn new(error: impl Into<Box<dyn Error>>) -> Self {
        Self { error: error.into(), hint: None, exit_code: 1 }
    }

    /// Something that was typed wrongly (exit code 2).
    pub fn usage(message: impl Into<String>) -> Self {
        Self { exit_code: 2, ..Self::new(message.into()) }
    }

    /// Something that was stopped from the keyboard (exit code 130, as shells have it).
    pub fn cancelled(message: impl Into<String>) -> Self {
        Self { exit_code: 130, ..Self::new(message.into()) }
    }

    /// The same, with something that can be done about it.
    pub fn hint(self, hint: impl Into<String>) -> Self {
        Self { hint: Some(hint.into()), ..self }
    }

    /// The same, as the reason why `what` was not done.
    pub fn before(self, what: &str) -> Self {
        Self { error: format!("{what}: {}", self.error).into(), ..self }
    }

    /// What the program ends with.
    pub fn exit_code(&self) -> u8 {
        self.exit_code
    }

    /// What the system said, if it was the system.
    pub fn io_kind(&self) -> Option<ErrorKind> {
        self.error.downcast_ref::<std::io::Error>().map(std::io::Error::kind)
    }
}

/// Lines for standard error: the error, its causes where they say something new, the hint.
impl Display for Failure {
    fn fmt(&self, out: &mut Formatter<'_>) -> Result {
        let mut said = match self.error.downcast_ref::<std::io::Error>() {
            Some(error) => format!("cannot write the answer: {}", io_words(error)),
            None => self.error.to_string(),
        };
        writeln!(out, "error: {said}")?;
        let mut cause = self.error.source();
        while let Some(error) = cause {
            let words = error.to_string();
            // Messages that already tell their cause do not tell it twice; what the system said
            // was put in our own words.
            if !said.contains(&words) && !error.is::<std::io::Error>() {
                writeln!(out, "because: {words}")?;
            }
            said.push_str(&words);
            cause = error.source();
        }
        match &self.hint {
            Some(hint) => writeln!(out, "hint: {hint}"),
            None => Ok(()),
        }
    }
}

impl From<StoreError> for Failure {
    fn from(error: StoreError) -> Self {
        let hint = error.hint();
        Self { hint, ..Self::new(error) }
    }
}

impl From<ClipChanged> for Failure {
    fn from(error: ClipChanged) -> Self {
        let hint = error.hint();
        Self { hint, ..Self::new(error) }
    }
}

impl From<NoClip> for Failure {
    fn from(error: NoClip) -> Self {
        let hint = error.hint();
        Self { hint, ..Self::new(error) }
    }
}

impl From<NotBegun> for Failure {
    fn from(error: NotBegun) -> Self {
        let hint = error.hint();
        Self { hint, ..Self::new(error) }
    }
}

impl From<FootageError> for Failure {
    fn from(error: FootageError) -> Self {
        let hint = error.hint();
        Self { hint, ..Self::new(error) }
    }
}

impl From<WriteError> for Failure {
    fn from(error: WriteError) -> Self {
        let hint = error.hint();
        Self { hint, ..Self::new(error) }
    }
}

/// Of the answer: every other file has an error of its own.
impl From<std::io::Error> for Failure {
    fn from(error: std::io::Error) -> Self {
        Self::new(error)
    }
}
