//! What the horse of the open round has shown in the folder's other rounds, measured in the
//! background. One thread, so that the page's own frames come first on the other cores; what was
//! measured once is kept for the next time (`store::MeasuredCache`).

use std::path::Path;
use std::sync::{Arc, Condvar, Mutex, PoisonError};
use std::time::Duration;

use crate::store::{ShownElsewhere, shown_elsewhere};

/// The other rounds of a horse, looked at or being looked at.
#[derive(Clone)]
pub(super) struct OtherRounds {
    pub horse: String,
    found: Arc<Found>,
}

#[derive(Default)]
struct Found {
    shown: Mutex<Option<ShownElsewhere>>,
    known: Condvar,
}

impl OtherRounds {
    /// Begins to look through the folder of the round `marks`.
    pub fn look(marks: &Path, horse: &str) -> Self {
        let found = Arc::<Found>::default();
        let folder = marks.parent().unwrap_or(Path::new(".")).to_owned();
        let (into, marks, named) = (Arc::clone(&found), marks.to_owned(), horse.to_owned());
        std::thread::spawn(move || {
            let look = || shown_elsewhere(&folder, &marks, &named);
            let looked = match rayon::ThreadPoolBuilder::new().num_threads(1).build() {
                Ok(alone) => alone.install(look),
                Err(_) => look(),
            };
            let shown = looked.unwrap_or_else(|error| ShownElsewhere {
                shown: None,
                left_out: vec![error.to_string()],
            });
            *into.shown.lock().unwrap_or_else(PoisonError::into_inner) = Some(shown);
            into.known.notify_all();
        });
        Self { horse: horse.to_owned(), found }
    }

    /// What they show; `None` where that is not known within `patience`.
    pub fn shown(&self, patience: Duration) -> Option<ShownElsewhere> {
        let shown = self.found.shown.lock().unwrap_or_else(PoisonError::into_inner);
        let waited = self.found.known.wait_timeout_while(shown, patience, |shown| shown.is_none());
        let (shown, _) = waited.unwrap_or_else(PoisonError::into_inner);
        shown.clone()
    }
}
