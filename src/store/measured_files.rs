//! Many marks files, every one measured, or taken from what was measured before.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use rayon::prelude::*;

use super::load::{marks_bytes, marks_of_bytes};
use super::measured_cache::MeasuredCache;
use super::motion_file::{kept_motion, motion_stamp};
use crate::marks::MarksFile;
use crate::stride::{Draws, measure_drawn};
use crate::tables::SkippedFile;
use crate::weeks::{NamesFound, Wanted, WeeksEntry};

/// What the marks files of a folder hold.
pub struct MeasuredFiles {
    /// The wanted approaches, in the order of files.
    pub entries: Vec<WeeksEntry>,
    /// Names of everything, wanted or not.
    pub names: NamesFound,
    /// Files that could not be used, in the order of files.
    pub skipped: Vec<SkippedFile>,
    /// How many marks files were looked at.
    pub files: usize,
}

/// One file.
struct Looked {
    hash: String,
    found: Result<Found, String>,
}

/// Fence, horse and rider of each approach, and the wanted ones measured.
struct Found {
    names: Vec<[String; 3]>,
    entries: Vec<WeeksEntry>,
}

/// Looks at the marks files `paths` of `folder`; `went_on` is told after each. They are read and
/// nothing else is touched.
pub fn measured_files(
    folder: &Path,
    paths: &[PathBuf],
    wanted: &Wanted,
    went_on: impl Fn() + Sync,
) -> MeasuredFiles {
    let draws = Draws::default();
    let settings = format!("{} draws from {}", draws.count, draws.seed);
    let cache = MeasuredCache::of_this_program(&settings);
    let look = |path: &PathBuf| {
        let looked = look_at(path, wanted, draws, cache.as_ref());
        went_on();
        looked
    };
    let looked: Vec<Looked> = paths.par_iter().map(look).collect();
    gathered(folder, paths, looked)
}

fn look_at(path: &Path, wanted: &Wanted, draws: Draws, cache: Option<&MeasuredCache>) -> Looked {
    let bytes = match marks_bytes(path) {
        Ok(bytes) => bytes,
        Err(error) => return Looked { hash: String::new(), found: Err(error.to_string()) },
    };
    let hash = blake3::hash(&bytes).to_hex().to_string();
    // Numbers follow from the camera's motion as well as from the marks.
    let key = match motion_stamp(path) {
        Some(stamp) => blake3::hash(format!("{hash} {stamp}").as_bytes()).to_hex().to_string(),
        None => hash.clone(),
    };
    let known = cache.and_then(|cache| cache.get::<Vec<WeeksEntry>>(&key));
    let found = match known {
        Some(entries) => Ok(wanted_of(entries, wanted)),
        None => measured(path, &bytes, wanted, draws).map(|(found, all)| {
            if let (Some(cache), Some(all)) = (cache, all) {
                // What could not be kept is measured again next time.
                cache.put(&key, &all);
            }
            found
        }),
    };
    Looked { hash, found }
}

fn wanted_of(entries: Vec<WeeksEntry>, wanted: &Wanted) -> Found {
    let names = |entry: &WeeksEntry| {
        let one = &entry.approach;
        [one.fence.clone(), one.horse.clone(), one.rider.clone()]
    };
    let names: Vec<[String; 3]> = entries.iter().map(names).collect();
    let mut entries = entries;
    let holds = |entry: &WeeksEntry| {
        let one = &entry.approach;
        wanted.holds(&one.fence, &one.horse, &one.rider)
    };
    entries.retain(holds);
    Found { names, entries }
}

/// The wanted approaches, and all of them where they were measured.
type Measured = (Found, Option<Vec<WeeksEntry>>);

fn measured(path: &Path, bytes: &[u8], wanted: &Wanted, draws: Draws) -> Result<Measured, String> {
    let file = marks_of_bytes(path, bytes).map_err(|error| error.to_string())?;
    let names = names_of(&file);
    if names.is_empty() {
        return Err(format!(
            "cannot measure `{}`: the marks file holds no approach",
            path.display()
        ));
    }
    if !names.iter().any(|[fence, horse, rider]| wanted.holds(fence, horse, rider)) {
        return Ok((Found { names, entries: Vec::new() }, None));
    }
    let motion = kept_motion(path, &file.clip);
    let drawn = measure_drawn(&file, motion.as_ref(), draws)
        .map_err(|error| format!("cannot measure `{}`: {error}", path.display()))?;
    let entries = WeeksEntry::of_round(&file, &drawn.measurement, drawn.draws);
    Ok((wanted_of(entries.clone(), wanted), Some(entries)))
}

fn names_of(file: &MarksFile) -> Vec<[String; 3]> {
    let approaches = file.approaches.iter().map(|approach| {
        let name = file.fence(&approach.fence).map(|fence| fence.name.trim());
        let fence = name.filter(|name| !name.is_empty()).unwrap_or(&approach.fence);
        [fence, file.round.horse.trim(), file.round.rider.trim()].map(str::to_owned)
    });
    approaches.collect()
}

/// Joins what was found. Of files with the same bytes the first counts: a copy is no second round.
fn gathered(folder: &Path, paths: &[PathBuf], looked: Vec<Looked>) -> MeasuredFiles {
    let mut gathered = MeasuredFiles {
        entries: Vec::new(),
        names: NamesFound::default(),
        skipped: Vec::new(),
        files: paths.len(),
    };
    let mut seen: BTreeMap<String, String> = BTreeMap::new();
    for (path, looked) in paths.iter().zip(looked) {
        let file = path.strip_prefix(folder).unwrap_or(path).display().to_string();
        let found = looked.found.and_then(|found| match seen.get(&looked.hash) {
            Some(same) => Err(format!("cannot count `{file}`: it is a copy of `{same}`")),
            None => Ok(found),
        });
        match found {
            Err(why) => gathered.skipped.push(SkippedFile { file, why }),
            Ok(found) => {
                for [fence, horse, rider] in &found.names {
                    gathered.names.add(fence, horse, rider);
                }
                gathered.entries.extend(found.entries.into_iter().map(|mut entry| {
                    entry.approach.file.clone_from(&file);
                    entry
                }));
                seen.insert(looked.hash, file);
            }
        }
    }
    gathered
}
