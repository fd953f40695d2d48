//! Lists the page's files, so that a new one is built in without being named anywhere.

use std::env;
use std::error::Error;
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

fn main() -> Result<(), Box<dyn Error>> {
    let page = Path::new(&env::var("CARGO_MANIFEST_DIR")?).join("src/desk/page");
    println!("cargo::rerun-if-changed={}", page.display());
    let mut files: Vec<PathBuf> = fs::read_dir(&page)?
        .map(|entry| entry.map(|entry| entry.path()))
        .collect::<Result<_, _>>()?;
    files.sort();
    let mut list = String::from(
        "/// Name and bytes of each file.\npub(super) static PAGE_FILES: &[(&str, &[u8])] = &[\n",
    );
    for file in files.iter().filter(|file| file.is_file()) {
        println!("cargo::rerun-if-changed={}", file.display());
        let name = file.file_name().unwrap_or_default().to_string_lossy();
        // Types are for checking the page, not for running it.
        if !name.ends_with(".d.ts") {
            writeln!(list, "    ({name:?}, include_bytes!({file:?})),")?;
        }
    }
    list.push_str("];\n");
    fs::write(Path::new(&env::var("OUT_DIR")?).join("page_files.rs"), list)?;
    Ok(())
}
