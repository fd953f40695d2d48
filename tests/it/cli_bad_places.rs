//! Places that cannot be read or written, or hold what is somebody's own.

use std::fs::File;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::program::{Said, groundline};
use crate::refusal::{measurable, one_error, refused, say, stable_with, stable_with_its_clip};
use crate::support::skip;

#[test]
fn places_that_cannot_be_written_to() {
    let stable = stable_with_its_clip();
    std::fs::create_dir(stable.path("folder")).unwrap();
    std::fs::write(stable.path("file"), "kept").unwrap();
    let no_folder = "there is no folder `no/such` (nothing was changed)\nhint: make the folder first, or choose another";
    for (words, error) in [
        ("frame @laid-out.mp4 0 -o @no/such/f.png", no_folder),
        ("begin @laid-out.mp4 -o @no/such/x.marks.json", no_folder),
        ("measure @lesson.marks.json --csv @no/such/t.csv", no_folder),
        ("sheet @lesson.marks.json -o @no/such/s.pdf", no_folder),
        ("frame @laid-out.mp4 0 -o @folder", "it is a folder (nothing was changed)"),
        ("measure @lesson.marks.json --csv @folder", "it is a folder (nothing was changed)"),
        ("measure @lesson.marks.json --xlsx @no/such/t.xlsx", no_folder),
        ("measure @lesson.marks.json --xlsx @folder", "it is a folder (nothing was changed)"),
        ("frame @laid-out.mp4 0 -o @file/f.png", "a part of the path is not a folder"),
        ("stills @lesson.marks.json -o @file", "there already is a file of that name"),
        ("demo @file", "there already is a file of that name"),
        ("begin @laid-out.mp4 -o @file", "there already is such a file"),
    ] {
        refused(&stable, &words.split(' ').collect::<Vec<_>>(), 1, error);
    }
}

#[test]
fn the_demo_replaces_nobodys_files() {
    let stable = stable_with(&measurable());
    std::fs::write(stable.path("sheet.pdf"), "mine").unwrap();
    let folder = "@";
    let error = "`sheet.pdf` there was not made by a demo\nhint: choose another folder: `groundline demo FOLDER`";
    refused(&stable, &["demo", folder], 1, error);
    std::fs::write(stable.path("about-this-demo.txt"), "Made by `groundline demo`").unwrap();
    std::fs::write(stable.path("schooling.marks.undo.json"), "{}").unwrap();
    refused(&stable, &["demo", folder], 1, "its marks were changed since");
}

/// Everybody may read what an administrator may not be kept from.
#[cfg(target_os = "linux")]
fn as_nobody() -> Option<Command> {
    let is_root = std::fs::read("/proc/self/environ").is_ok() && {
        let id = Command::new("id").arg("-u").output().unwrap();
        id.stdout == b"0\n"
    };
    let mut command = Command::new(if is_root { "setpriv" } else { "env" });
    if is_root {
        command.args(["--reuid=65534", "--regid=65534", "--clear-groups"]);
    }
    command.arg(env!("CARGO_BIN_EXE_groundline"));
    let works = {
        let mut probe = Command::new(command.get_program());
        probe.args(command.get_args()).arg("--version").output()
    };
    if works.is_ok_and(|output| output.status.success()) {
        return Some(command);
    }
    skip("the program cannot be run as an ordinary user here");
    None
}

#[cfg(target_os = "linux")]
#[test]
fn what_may_not_be_read_or_written() {
    use std::os::unix::fs::PermissionsExt;
    let stable = stable_with(&measurable());
    std::fs::write(stable.path("clip.mp4"), "some bytes\n").unwrap();
    let allow = |path: &Path, mode| {
        std::fs::set_permissions(path, std::fs::Permissions::from_mode(mode)).unwrap();
    };
    allow(&stable.path(""), 0o755);
    allow(&stable.marks(), 0o644);
    let said = |words: &[&str]| {
        let mut command = as_nobody()?;
        for word in words {
            match word.strip_prefix('@') {
                Some(name) => command.arg(stable.path(name)),
                None => command.arg(word),
            };
        }
        Some(Said::of(command.output().unwrap(), &stable))
    };
    // Others may look at the folder and not write to it, unless it is their own.
    allow(&stable.path(""), 0o555);
    let Some(unwritable) = said(&["measure", "@lesson.marks.json", "--csv", "@out.csv"]) else {
        return;
    };
    one_error(&unwritable, 1);
    assert_eq!(
        unwritable.err,
        "error: cannot save `out.csv`: the system does not allow it (nothing was changed)\n\
         hint: choose a folder that you may write to\n"
    );
    allow(&stable.path("clip.mp4"), 0o000);
    allow(&stable.marks(), 0o000);
    let clip = said(&["look", "@clip.mp4"]).unwrap();
    one_error(&clip, 1);
    assert_eq!(
        clip.err,
        "error: cannot read clip.mp4: the system does not allow it\nhint: check that you may read the file\n"
    );
    let marks = said(&["measure", "@lesson.marks.json"]).unwrap();
    one_error(&marks, 1);
    assert_eq!(marks.err, "error: cannot read `lesson.marks.json`: the system does not allow it\n");
    allow(&stable.path(""), 0o755);
    assert_eq!(stable.names(), ["clip.mp4", "lesson.marks.json"]);
}

/// An administrator may rename a file over a device; the program must not. A pipe stands for the
/// device here, so that a failing test harms nothing.
#[cfg(target_os = "linux")]
#[test]
fn a_pipe_is_not_written_over() {
    use std::os::unix::fs::FileTypeExt;
    let stable = stable_with(&measurable());
    assert!(Command::new("mkfifo").arg(stable.path("pipe")).status().unwrap().success());
    std::os::unix::fs::symlink("kept.csv", stable.path("link.csv")).unwrap();
    std::fs::write(stable.path("kept.csv"), "old").unwrap();
    let said = say(&stable, &["measure", "@lesson.marks.json", "--csv", "@pipe"]);
    one_error(&said, 1);
    assert_eq!(
        said.err,
        "error: cannot save `pipe`: it is a device or a pipe (a file needed) (nothing was changed)\nhint: choose the name of a file\n"
    );
    let kind = std::fs::symlink_metadata(stable.path("pipe")).unwrap().file_type();
    assert!(kind.is_fifo());
    assert_eq!(
        say(&stable, &["measure", "@lesson.marks.json", "--csv", "@link.csv"]).code,
        Some(0)
    );
    assert!(std::fs::symlink_metadata(stable.path("link.csv")).unwrap().is_symlink());
    assert!(std::fs::read_to_string(stable.path("kept.csv")).unwrap().contains("stride"));
}

/// Files may grow to 512 bytes only, which a program feels as on a full disk.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_leaves_no_half_file() {
    let stable = stable_with_its_clip();
    let before = (stable.names(), stable.text());
    for words in [
        "frame @laid-out.mp4 0 -o @f.png",
        "begin @laid-out.mp4 -o @new.marks.json",
        "measure @lesson.marks.json --csv @t.csv",
        "measure @lesson.marks.json --xlsx @t.xlsx",
        "sheet @lesson.marks.json -o @s.pdf",
    ] {
        let mut shell = Command::new("sh");
        let script = "trap '' XFSZ; ulimit -f 1; exec \"$@\"";
        shell.args(["-c", script, "sh", env!("CARGO_BIN_EXE_groundline")]);
        for word in words.split(' ') {
            match word.strip_prefix('@') {
                Some(name) => shell.arg(stable.path(name)),
                None => shell.arg(word),
            };
        }
        let said = Said::of(shell.output().unwrap(), &stable);
        one_error(&said, 1);
        assert!(said.err.contains("the file would be larger than is allowed"), "{}", said.err);
        assert_eq!((stable.names(), stable.text()), before, "{words}");
    }
}

#[cfg(target_os = "linux")]
#[test]
fn an_answer_that_cannot_be_written() {
    let stable = stable_with(&measurable());
    let full = File::options().write(true).open("/dev/full").unwrap();
    let mut program = groundline();
    program.arg("check").arg(stable.marks()).stdout(full).stderr(Stdio::piped());
    let said = Said::of(program.output().unwrap(), &stable);
    one_error(&said, 1);
    assert_eq!(said.err, "error: cannot write the answer: the disk is full\n");
}
