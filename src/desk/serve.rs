//! The server: routes, their guard, and the loop that answers.

use std::io::Write;
use std::net::{Ipv4Addr, SocketAddr};
use std::path::PathBuf;
use std::sync::Arc;

use axum::Router;
use axum::extract::DefaultBodyLimit;
use axum::middleware::from_fn_with_state;
use axum::routing::{get, post, put};
use tokio::net::TcpListener;

use super::access::{Access, guard};
use super::presence::Presence;
use super::routes;
use super::state::Desk;
use super::upload::upload;
use crate::footage::io_words;

/// The most that a change may weigh, bytes.
const CHANGE_BYTES: usize = 256 << 10;

/// What to serve and where.
#[derive(Clone, Debug)]
pub struct DeskOptions {
    /// The folder.
    pub folder: PathBuf,
    /// The clip to open first.
    pub first: Option<String>,
    /// The port; 0 for any that is free.
    pub port: u16,
    /// Open the browser.
    pub open: bool,
    /// The program itself, to be run for what is handed out.
    pub program: PathBuf,
}

/// Why the desk cannot be opened.
#[derive(Debug, thiserror::Error)]
pub enum DeskError {
    /// The port is taken, or the system gives none.
    #[error("cannot open the desk at port {port}: {}", io_words(source))]
    Port {
        /// Which.
        port: u16,
        /// What the system said.
        #[source]
        source: std::io::Error,
    },
    /// Something else that the system did not give.
    #[error("cannot open the desk: {}", io_words(.0))]
    System(#[from] std::io::Error),
    /// No random numbers for the key.
    #[error("cannot open the desk: the system gives no random number for its key")]
    Random,
}

impl DeskError {
    /// What can be done about it.
    pub fn hint(&self) -> Option<String> {
        match self {
            Self::Port { .. } => Some("choose another with --port, or leave it out".into()),
            Self::System(_) | Self::Random => None,
        }
    }
}

/// Every route of the desk behind its guard.
pub fn router(desk: Arc<Desk>, access: Access) -> Router {
    Router::new()
        .route("/", get(routes::index))
        .route("/page/{name}", get(routes::page))
        .route("/api/folder", get(routes::folder))
        .route("/api/clips/{clip}/poster", get(routes::poster))
        .route("/api/clips/{clip}/frames/{number}", get(routes::frame))
        .route("/api/rounds/{clip}", get(routes::round).post(routes::begin))
        .route("/api/rounds/{clip}/acts", post(routes::act))
        .route("/api/rounds/{clip}/numbers", get(routes::numbers))
        .route("/api/rounds/{clip}/lesson", get(routes::lesson))
        .route("/api/rounds/{clip}/stand", get(routes::stood))
        .route("/api/rounds/{clip}/overlay/{frame}", get(routes::overlay))
        .route("/api/rounds/{clip}/motion", get(routes::motion))
        .route("/api/rounds/{clip}/steady/{frame}", get(routes::steady))
        .route("/api/rounds/{clip}/hand-out", post(routes::hand_out))
        .route("/api/stand", get(routes::stand))
        .route("/api/hand-outs/{id}", get(routes::hand_out_view).delete(routes::hand_out_cancel))
        .route("/api/hand-outs/{id}/file", get(routes::hand_out_file))
        .layer(DefaultBodyLimit::max(CHANGE_BYTES))
        .merge(
            Router::new()
                .route("/api/clips/{clip}", put(upload).get(routes::clip))
                .layer(DefaultBodyLimit::disable()),
        )
        .with_state(desk)
        .layer(from_fn_with_state(access, guard))
}

/// The port that was asked for; else the one of the last time where it is free, or any.
async fn listen(asked: u16, last: Option<u16>) -> Result<(TcpListener, u16), DeskError> {
    let bind = |port| TcpListener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, port)));
    let listener = match (asked, last) {
        (0, Some(last)) => match bind(last).await {
            Ok(listener) => Ok(listener),
            Err(_) => bind(0).await,
        },
        (asked, _) => bind(asked).await,
    };
    let listener = listener.map_err(|source| DeskError::Port { port: asked, source })?;
    let port = listener.local_addr()?.port();
    Ok((listener, port))
}

/// Serves until the program is stopped. `out` is told where.
pub fn serve(options: DeskOptions, out: &mut dyn Write) -> Result<(), DeskError> {
    let runtime =
        tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build()?;
    runtime.block_on(async move {
        let mut presence = Presence::claim(&options.folder);
        let last = presence.last_access();
        let (listener, port) = listen(options.port, last.as_ref().map(Access::port)).await?;
        let access = match last.filter(|last| last.port() == port) {
            Some(last) => last,
            None => Access::new(port).map_err(|_| DeskError::Random)?,
        };
        presence.announce(&access);
        let desk = Desk::new(options.folder, options.first, options.program, presence)?;
        if let Some(place) = desk.elsewhere() {
            writeln!(out, "note: another desk has this folder open at {place}")?;
        }
        writeln!(out, "the desk is open at {}", access.url())?;
        writeln!(out, "only this computer can reach it; Ctrl-C closes it")?;
        out.flush()?;
        // Without a browser the address can still be typed.
        if options.open && open::that_detached(access.url()).is_err() {
            writeln!(out, "note: no browser could be opened; open the address above")?;
        }
        let router = router(Arc::new(desk), access);
        axum::serve(listener, router).await?;
        Ok(())
    })
}
