//! The page's own files, built into the program.

use axum::http::header;
use axum::response::{IntoResponse, Response};

include!(concat!(env!("OUT_DIR"), "/page_files.rs"));

/// A file of the page by its name; `None` where there is none.
pub(super) fn page_file(name: &str) -> Option<Response> {
    let (_, bytes) = PAGE_FILES.iter().find(|(known, _)| *known == name)?;
    let kind = match name.rsplit_once('.').map(|(_, ending)| ending) {
        Some("html") => "text/html; charset=utf-8",
        Some("js") => "text/javascript; charset=utf-8",
        Some("css") => "text/css; charset=utf-8",
        Some("svg") => "image/svg+xml",
        Some("json") => "application/json",
        _ => "application/octet-stream",
    };
    Some(([(header::CONTENT_TYPE, kind)], *bytes).into_response())
}
