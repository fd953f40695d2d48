//! Running the real program and looking at what it says.

use std::process::{Command, Output};

use crate::sample::Stable;

pub fn groundline() -> Command {
    Command::new(env!("CARGO_BIN_EXE_groundline"))
}

/// What one run said and how it ended; paths of the folder are shortened.
pub struct Said {
    pub code: Option<i32>,
    pub out: String,
    pub err: String,
}

impl Said {
    pub fn of(output: Output, stable: &Stable) -> Self {
        let folder = stable.path("").display().to_string();
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap().replace(&folder, "");
        Self { code: output.status.code(), out: text(output.stdout), err: text(output.stderr) }
    }

    #[track_caller]
    pub fn done(self, line: &str) {
        assert_eq!((self.code, self.err.as_str()), (Some(0), ""));
        assert_eq!(self.out, format!("{line}\n"));
    }

    #[track_caller]
    pub fn refused(self, code: i32, lines: &str) {
        assert_eq!(self.err.trim_end(), lines);
        assert_eq!((self.code, self.out.as_str()), (Some(code), ""));
    }
}

/// `groundline COMMAND lesson.marks.json WORDS`, the words split at blanks.
pub fn run(stable: &Stable, command: &str, words: &str) -> Said {
    let mut program = groundline();
    program.arg(command).arg(stable.marks()).args(words.split_whitespace());
    Said::of(program.output().unwrap(), stable)
}

pub fn mark(stable: &Stable, words: &str) -> Said {
    run(stable, "mark", words)
}
