//! What was measured from a marks file, kept so that it need not be measured again.
//!
//! Invariant: an entry is used only when it was made by this very program from these very bytes.
//! It lies in the system's folder for such things, never beside what the user made, and all of it
//! may be deleted at any time. What cannot be read or written is as if it were not there.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::time::UNIX_EPOCH;

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

/// A folder of measured results.
#[derive(Clone, Debug)]
pub struct MeasuredCache {
    folder: PathBuf,
    made_by: String,
}

/// What a kept file holds after its first line, which is the hash of the rest.
#[derive(Serialize, Deserialize)]
struct Kept<T> {
    made_by: String,
    marks: String,
    measured: T,
}

impl MeasuredCache {
    /// The one of this program in the system's folder for caches. `settings` says how is measured
    /// (number of draws, seed). `None` where there is no such folder or the program cannot tell
    /// which build it is.
    pub fn of_this_program(settings: &str) -> Option<Self> {
        let folder = system_cache_folder()?.join("groundline").join("measured");
        // A program built anew may measure otherwise under the same version.
        let program = std::fs::metadata(std::env::current_exe().ok()?).ok()?;
        let built = program.modified().ok()?.duration_since(UNIX_EPOCH).ok()?;
        let version = env!("CARGO_PKG_VERSION");
        let made_by =
            format!("{version} of {} bytes at {} ns, {settings}", program.len(), built.as_nanos());
        Some(Self { folder, made_by })
    }

    /// The one in `folder`, of a program that calls itself `made_by`.
    pub fn in_folder(folder: &Path, made_by: &str) -> Self {
        Self { folder: folder.to_owned(), made_by: made_by.to_owned() }
    }

    /// What was kept for the marks of that hash.
    pub fn get<T: DeserializeOwned>(&self, marks: &str) -> Option<T> {
        let bytes = std::fs::read(self.place(marks)).ok()?;
        let (hash, json) = bytes.split_at_checked(blake3::OUT_LEN * 2 + 1)?;
        if hash.trim_ascii_end() != blake3::hash(json).to_hex().as_bytes() {
            return None;
        }
        let kept: Kept<T> = serde_json::from_slice(json).ok()?;
        (kept.made_by == self.made_by && kept.marks == marks).then_some(kept.measured)
    }

    /// Keeps what was measured for the marks of that hash, in place of what was kept for them.
    /// Whether it was kept.
    pub fn put<T: Serialize>(&self, marks: &str, measured: &T) -> bool {
        let kept = Kept { made_by: self.made_by.clone(), marks: marks.to_owned(), measured };
        let Ok(json) = serde_json::to_vec(&kept) else { return false };
        // Not fsynced: an entry cut short by a crash has another hash and is measured again.
        let write = || -> std::io::Result<()> {
            std::fs::create_dir_all(&self.folder)?;
            let mut aside = tempfile::NamedTempFile::new_in(&self.folder)?;
            writeln!(aside, "{}", blake3::hash(&json).to_hex())?;
            aside.write_all(&json)?;
            aside.persist(self.place(marks)).map_err(|error| error.error)?;
            Ok(())
        };
        write().is_ok()
    }

    fn place(&self, marks: &str) -> PathBuf {
        self.folder.join(format!("{marks}.measured"))
    }
}

/// The user's folder for what can be made again.
pub fn system_cache_folder() -> Option<PathBuf> {
    let variable = |name| std::env::var_os(name).map(PathBuf::from).filter(|p| p.is_absolute());
    let usual = || {
        if cfg!(windows) {
            return variable("LOCALAPPDATA");
        }
        let home = variable("HOME")?;
        Some(home.join(if cfg!(target_os = "macos") { "Library/Caches" } else { ".cache" }))
    };
    variable("XDG_CACHE_HOME").or_else(usual)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_entry_is_used_only_for_the_same_bytes_by_the_same_program() {
        let folder = tempfile::tempdir().unwrap();
        let cache = MeasuredCache::in_folder(&folder.path().join("new"), "this one");
        let get = |cache: &MeasuredCache, marks| cache.get::<Vec<f64>>(marks);
        assert_eq!(get(&cache, "aa"), None);
        assert!(cache.put("aa", &vec![3.42, 0.1]));
        assert_eq!(get(&cache, "aa"), Some(vec![3.42, 0.1]));
        assert_eq!(get(&cache, "bb"), None);
        let other = MeasuredCache::in_folder(&folder.path().join("new"), "another");
        assert_eq!(get(&other, "aa"), None);
        // Renamed by hand, it is still that of other marks.
        std::fs::rename(cache.place("aa"), cache.place("bb")).unwrap();
        assert_eq!(get(&cache, "bb"), None);
    }

    #[test]
    fn a_damaged_entry_is_as_if_it_were_not_there() {
        let folder = tempfile::tempdir().unwrap();
        let cache = MeasuredCache::in_folder(folder.path(), "this one");
        assert!(cache.put("aa", &vec![3.42]));
        let whole = std::fs::read(cache.place("aa")).unwrap();
        let changed = String::from_utf8(whole.clone()).unwrap().replace("3.42", "3.43");
        for damaged in [changed.as_bytes(), &whole[..whole.len() - 3], &whole[..10], b""] {
            std::fs::write(cache.place("aa"), damaged).unwrap();
            assert_eq!(cache.get::<Vec<f64>>("aa"), None);
        }
        let nowhere = MeasuredCache::in_folder(&cache.place("aa").join("x"), "this one");
        assert!(!nowhere.put("aa", &vec![1.0]));
    }
}
