//! What the page can ask for, by what it is about; [`super::serve`] says under which address.

mod clips;
mod hand_outs;
mod look_query;
mod rounds;
mod stand;

use std::sync::Arc;

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};

use super::answers::Refusal;
use super::page_files::page_file;
use super::state::Desk;

pub(super) use clips::{clip, folder, folder_view, frame, poster};
pub(super) use hand_outs::{hand_out, hand_out_cancel, hand_out_file, hand_out_view};
pub(super) use rounds::{act, begin, lesson, motion, numbers, overlay, round, steady};
pub(super) use stand::{stand, stood};

type Shared = State<Arc<Desk>>;
type Answer<T> = Result<Json<T>, Refusal>;

pub(super) async fn index() -> Response {
    page_file("index.html").unwrap_or_else(|| StatusCode::NOT_FOUND.into_response())
}

pub(super) async fn page(Path(name): Path<String>) -> Response {
    page_file(&name).unwrap_or_else(|| StatusCode::NOT_FOUND.into_response())
}

/// Work that blocks, off the threads that answer.
async fn apart<T: Send + 'static>(
    work: impl FnOnce() -> Result<T, Refusal> + Send + 'static,
) -> Result<T, Refusal> {
    match tokio::task::spawn_blocking(work).await {
        Ok(done) => done,
        Err(_) => {
            Err(Refusal::failed("cannot answer: the program failed at it; this is our fault"))
        }
    }
}
