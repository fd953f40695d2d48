//! Stopping long work from the keyboard without leaving half a file behind.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, OnceLock};

/// Whether somebody asked to stop.
#[derive(Clone, Debug)]
pub(super) struct Interrupt(Arc<AtomicBool>);

impl Interrupt {
    /// Listens for Ctrl-C (and for being told to end). The first one is answered by whoever asks
    /// [`Self::asked`]; a second one ends the program where it stands.
    pub(super) fn listen() -> Self {
        // A process has one handler: who listens again hears the same.
        static HEARD: OnceLock<Arc<AtomicBool>> = OnceLock::new();
        let flag = HEARD.get_or_init(|| {
            let flag = Arc::new(AtomicBool::new(false));
            let heard = Arc::clone(&flag);
            // Where no handler can be set the system's own remains: work stops, if less tidily.
            let _ = ctrlc::set_handler(move || {
                if heard.swap(true, Ordering::SeqCst) {
                    std::process::exit(130);
                }
            });
            flag
        });
        Self(Arc::clone(flag))
    }

    pub(super) fn asked(&self) -> bool {
        self.0.load(Ordering::SeqCst)
    }
}
