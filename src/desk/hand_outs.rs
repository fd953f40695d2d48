//! Sheets, pictures, tables and reels made from the page: each by a run of the program itself, so
//! that it is just what the command makes, and can be stopped at any moment without a half file.

use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::{Arc, Mutex, PoisonError};

use super::lesson_arguments::lesson_arguments;
use super::wire::{HandOutKind, HandOutRequest, HandOutState, HandOutView};
use crate::footage::io_words;

/// What is being made and was made.
pub(super) struct HandOuts {
    /// The program to run.
    program: PathBuf,
    /// Where single files are made until they are fetched; goes with the desk.
    made: tempfile::TempDir,
    jobs: Mutex<Vec<Arc<Job>>>,
    /// Held by the one that is being made: each uses the whole machine.
    turn: Arc<Mutex<()>>,
}

struct Job {
    kind: HandOutKind,
    output: PathBuf,
    /// While it runs.
    child: Mutex<Option<Child>>,
    state: Mutex<(HandOutState, String)>,
}

impl HandOuts {
    pub fn new(program: PathBuf) -> std::io::Result<Self> {
        let made = tempfile::Builder::new().prefix("groundline-desk-").tempdir()?;
        Ok(Self { program, made, jobs: Mutex::default(), turn: Arc::default() })
    }

    /// Starts one; `others` is the folder with other rounds of the horse, where it is named.
    pub fn start(
        &self,
        marks: &Path,
        others: Option<&Path>,
        request: &HandOutRequest,
    ) -> std::io::Result<HandOutView> {
        let mut jobs = self.jobs.lock().unwrap_or_else(PoisonError::into_inner);
        let id = jobs.len() as u32;
        let stem = marks.file_name().unwrap_or_default().to_string_lossy();
        let stem = stem.strip_suffix(".marks.json").unwrap_or(&stem);
        let name = format!("{stem}-{}", ending(request.kind));
        let output = match request.kind {
            // A folder of pictures stays beside the clip.
            HandOutKind::Stills => marks.with_file_name(name),
            _ => {
                let folder = self.made.path().join(id.to_string());
                std::fs::create_dir_all(&folder)?;
                folder.join(name)
            }
        };
        let mut command = Command::new(&self.program);
        command.args(arguments(marks, others, request, &output));
        command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let job = Arc::new(Job {
            kind: request.kind,
            output,
            child: Mutex::new(None),
            state: Mutex::new((HandOutState::Working, "waits for its turn".to_owned())),
        });
        jobs.push(Arc::clone(&job));
        let (made, turn) = (Arc::clone(&job), Arc::clone(&self.turn));
        std::thread::spawn(move || {
            let _turn = turn.lock().unwrap_or_else(PoisonError::into_inner);
            made.make(command);
        });
        Ok(job.view(id))
    }

    pub fn view(&self, id: u32) -> Option<HandOutView> {
        self.job(id).map(|job| job.view(id))
    }

    /// Stops one that is being made.
    pub fn cancel(&self, id: u32) -> Option<HandOutView> {
        let job = self.job(id)?;
        job.settle(HandOutState::Cancelled, "stopped; nothing was left behind".to_owned());
        job.kill();
        Some(job.view(id))
    }

    /// The file that was made.
    pub fn file(&self, id: u32) -> Option<PathBuf> {
        let job = self.job(id)?;
        let done = job.state().0 == HandOutState::Done;
        (done && job.output.is_file()).then(|| job.output.clone())
    }

    fn job(&self, id: u32) -> Option<Arc<Job>> {
        let jobs = self.jobs.lock().unwrap_or_else(PoisonError::into_inner);
        jobs.get(id as usize).cloned()
    }
}

impl Drop for HandOuts {
    fn drop(&mut self) {
        for job in self.jobs.lock().unwrap_or_else(PoisonError::into_inner).iter() {
            job.kill();
        }
    }
}

impl Job {
    fn state(&self) -> (HandOutState, String) {
        self.state.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// The first end that it comes to stands.
    fn settle(&self, state: HandOutState, says: String) {
        let mut known = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        if known.0 == HandOutState::Working {
            *known = (state, says);
        }
    }

    fn kill(&self) {
        let mut child = self.child.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(child) = child.as_mut() {
            // It may have ended by itself.
            let _ = child.kill();
        }
    }

    /// Runs the command, unless it was stopped before its turn came.
    fn make(&self, mut command: Command) {
        let started = {
            let mut child = self.child.lock().unwrap_or_else(PoisonError::into_inner);
            let mut state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
            if state.0 != HandOutState::Working {
                return;
            }
            "being made".clone_into(&mut state.1);
            command.spawn().map(|spawned| *child = Some(spawned))
        };
        match started {
            Ok(()) => self.watch(),
            Err(error) => self.settle(HandOutState::Failed, io_words(&error)),
        }
    }

    /// Waits until it ends, reading what it says meanwhile, so that its pipes never fill.
    fn watch(&self) {
        let pipes = {
            let mut child = self.child.lock().unwrap_or_else(PoisonError::into_inner);
            child.as_mut().map(|child| (child.stdout.take(), child.stderr.take()))
        };
        let Some((out, err)) = pipes else { return };
        let read = |pipe: Option<Box<dyn std::io::Read + Send>>| {
            let mut text = String::new();
            if let Some(mut pipe) = pipe {
                // What it said before the pipe broke is better than nothing.
                let _ = pipe.read_to_string(&mut text);
            }
            text
        };
        let errors = std::thread::spawn(move || read(err.map(|err| Box::new(err) as _)));
        // What it says is for a terminal; it is read so that the pipe never fills.
        read(out.map(|out| Box::new(out) as _));
        let errors = errors.join().unwrap_or_default();
        let ended = self.child.lock().unwrap_or_else(PoisonError::into_inner).take();
        let succeeded =
            ended.is_some_and(|mut child| child.wait().is_ok_and(|status| status.success()));
        if succeeded {
            // Where a file waits to be fetched is nobody's matter; a folder of stills stays there.
            let name = self.output.file_name().unwrap_or_default().to_string_lossy();
            let says = match self.output.is_file() {
                true => format!("made `{name}`"),
                false => format!("made the folder `{name}` beside the clip"),
            };
            self.settle(HandOutState::Done, says);
        } else {
            let error = errors.trim().strip_prefix("error: ").unwrap_or(errors.trim()).to_owned();
            self.settle(HandOutState::Failed, error);
        }
    }

    fn view(&self, id: u32) -> HandOutView {
        let (state, says) = self.state();
        let is_file = state == HandOutState::Done && self.output.is_file();
        let file = is_file.then(|| format!("/api/hand-outs/{id}/file"));
        HandOutView { id, kind: self.kind, state, says, file }
    }
}

fn ending(kind: HandOutKind) -> &'static str {
    match kind {
        HandOutKind::Sheet => "sheet.pdf",
        HandOutKind::Stills => "stills",
        HandOutKind::ApproachPicture => "approach.jpg",
        HandOutKind::Csv => "numbers.csv",
        HandOutKind::Workbook => "numbers.xlsx",
        HandOutKind::Reel => "reel.mp4",
        HandOutKind::Lesson => "lesson.pdf",
    }
}

/// What would be typed for it.
fn arguments(
    marks: &Path,
    others: Option<&Path>,
    request: &HandOutRequest,
    output: &Path,
) -> Vec<std::ffi::OsString> {
    let (command, option) = match request.kind {
        HandOutKind::Sheet => ("sheet", "-o"),
        HandOutKind::Stills => ("stills", "-o"),
        HandOutKind::ApproachPicture => ("approach-picture", "-o"),
        HandOutKind::Csv => ("measure", "--csv"),
        HandOutKind::Workbook => ("measure", "--xlsx"),
        HandOutKind::Reel => ("reel", "-o"),
        HandOutKind::Lesson => ("poles", "-o"),
    };
    let mut arguments: Vec<std::ffi::OsString> =
        vec![command.into(), marks.into(), option.into(), output.into()];
    if request.feet {
        arguments.extend(["--units".into(), "ft".into()]);
    }
    if request.kind == HandOutKind::Sheet {
        for (option, value) in request.limits.options() {
            arguments.extend([option.into(), value.into()]);
        }
    }
    if request.kind == HandOutKind::Lesson {
        arguments.extend(request.lesson.iter().flat_map(lesson_arguments));
    }
    let says_what_is_shown = match request.kind {
        HandOutKind::Sheet => true,
        // A typed stride is no horse's.
        HandOutKind::Lesson => request.lesson.iter().all(|wish| wish.stride_m.is_none()),
        _ => false,
    };
    if let Some(folder) = others.filter(|_| says_what_is_shown) {
        arguments.extend(["--shown-in".into(), folder.into()]);
    }
    // The approach picture names nobody.
    if request.no_names && request.kind != HandOutKind::ApproachPicture {
        arguments.push("--no-names".into());
    }
    arguments
}
