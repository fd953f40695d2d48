//! The general-purpose reference libraries, asked through Python.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use serde_json::Value;

use crate::support::skip;

/// The Python that has the packages of `tests/outside/requirements.txt`.
pub fn python() -> Option<PathBuf> {
    let found = std::env::var_os("GROUNDLINE_PYTHON").map(PathBuf::from);
    if found.is_none() {
        skip("GROUNDLINE_PYTHON is not set");
    }
    found
}

/// Runs a script of `tests/outside` on `input` and reads the JSON that it prints; `None` where
/// there is no Python.
pub fn ask_python(script: &str, input: &Value) -> Option<Value> {
    let python = python()?;
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/outside").join(script);
    let mut child = Command::new(python)
        .arg(&script)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("GROUNDLINE_PYTHON starts");
    // Dropping the pipe ends the script's input.
    child.stdin.take().unwrap().write_all(input.to_string().as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success(), "{} failed", script.display());
    Some(serde_json::from_slice(&output.stdout).expect("the script prints JSON"))
}

/// Numbers of a JSON array.
pub fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect()
}
