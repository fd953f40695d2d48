//! What was done to a file and can be undone: two lists.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::edit::{Edit, EditRefused};
use super::file::MarksFile;

/// Steps that are remembered; older ones are forgotten.
const LONGEST: usize = 1000;

/// One thing a person did, and what takes it back.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Step {
    /// What was done.
    pub edit: Edit,
    /// What takes it back.
    pub inverse: Edit,
}

/// What was done, oldest first, and what was undone since, in the order of undoing.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize, JsonSchema)]
pub struct History {
    /// Steps that stand.
    #[serde(default)]
    pub done: Vec<Step>,
    /// Steps taken back since the last new one.
    #[serde(default)]
    pub undone: Vec<Step>,
}

impl History {
    /// Makes the change and remembers it; what was undone before can no longer be redone.
    pub fn make(&mut self, file: &mut MarksFile, edit: Edit) -> Result<(), EditRefused> {
        let inverse = file.apply(edit.clone())?;
        self.done.push(Step { edit, inverse });
        self.undone.clear();
        let surplus = self.done.len().saturating_sub(LONGEST);
        self.done.drain(..surplus);
        Ok(())
    }

    /// Takes back the last step and gives its edit; `None` when there is nothing to take back.
    pub fn undo(&mut self, file: &mut MarksFile) -> Result<Option<Edit>, EditRefused> {
        let Some(step) = self.done.last().cloned() else { return Ok(None) };
        file.apply_again(step.inverse.clone())?;
        self.done.pop();
        let edit = step.edit.clone();
        self.undone.push(step);
        Ok(Some(edit))
    }

    /// Does the step again that was undone last; `None` when there is none.
    pub fn redo(&mut self, file: &mut MarksFile) -> Result<Option<Edit>, EditRefused> {
        let Some(step) = self.undone.last().cloned() else { return Ok(None) };
        file.apply_again(step.edit.clone())?;
        self.undone.pop();
        let edit = step.edit.clone();
        self.done.push(step);
        Ok(Some(edit))
    }
}

#[cfg(test)]
mod tests;
