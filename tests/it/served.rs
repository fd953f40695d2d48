//! A folder whose desk is asked without a socket.

use std::path::PathBuf;
use std::sync::Arc;

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::http::{HeaderMap, Method, Request, StatusCode, header};
use groundline::desk::{Access, Desk, Presence, router};
use groundline::footage::write::WriteOptions;
use serde_json::{Value, json};
use tower::ServiceExt;

use crate::support::{folder, made, quick};

pub const SIZE: (u32, u32) = (320, 180);
pub const FRAMES: u32 = 30;
pub const PORT: u16 = 8765;

/// A folder with a clip, and its desk.
pub struct Served {
    pub folder: tempfile::TempDir,
    router: Router,
    pub cookie: String,
    runtime: tokio::runtime::Runtime,
}

pub struct Answer {
    pub status: StatusCode,
    pub heads: HeaderMap,
    pub body: Vec<u8>,
}

impl Answer {
    pub fn json(&self) -> Value {
        serde_json::from_slice(&self.body)
            .unwrap_or_else(|_| panic!("{}: {}", self.status, String::from_utf8_lossy(&self.body)))
    }
}

impl Served {
    pub fn new() -> Self {
        let folder = folder();
        made(&folder.path().join("ride.mp4"), SIZE, FRAMES, &quick(WriteOptions::default()));
        Self::of(folder)
    }

    pub fn of(folder: tempfile::TempDir) -> Self {
        let access = Access::new(PORT).unwrap();
        let key = access.url().split_once("key=").unwrap().1.to_owned();
        let program = PathBuf::from(env!("CARGO_BIN_EXE_groundline"));
        let mut presence = Presence::claim(folder.path());
        presence.announce(&access);
        let desk = Desk::new(folder.path().to_owned(), None, program, presence).unwrap();
        let router = router(Arc::new(desk), access);
        let runtime = tokio::runtime::Builder::new_multi_thread().enable_all().build().unwrap();
        Self { folder, router, cookie: format!("groundline_desk_{PORT}={key}"), runtime }
    }

    pub fn marks(&self) -> PathBuf {
        self.folder.path().join("ride.marks.json")
    }

    pub fn ask(&self, request: Request<Body>) -> Answer {
        self.runtime.block_on(async {
            let answer = self.router.clone().oneshot(request).await.unwrap();
            let (parts, body) = answer.into_parts();
            let body = to_bytes(body, usize::MAX).await.unwrap().to_vec();
            Answer { status: parts.status, heads: parts.headers, body }
        })
    }

    pub fn request(&self, method: Method, path: &str) -> axum::http::request::Builder {
        Request::builder()
            .method(method)
            .uri(path)
            .header(header::HOST, format!("127.0.0.1:{PORT}"))
            .header(header::ORIGIN, format!("http://127.0.0.1:{PORT}"))
            .header(header::COOKIE, &self.cookie)
    }

    pub fn get(&self, path: &str) -> Answer {
        self.ask(self.request(Method::GET, path).body(Body::empty()).unwrap())
    }

    pub fn send(&self, method: Method, path: &str, body: &Value) -> Answer {
        let request = self.request(method, path).header(header::CONTENT_TYPE, "application/json");
        self.ask(request.body(Body::from(body.to_string())).unwrap())
    }

    pub fn act(&self, revision: &str, key: &str, act: Value) -> Answer {
        let body = json!({ "revision": revision, "key": key, "act": act });
        self.send(Method::POST, "/api/rounds/ride.mp4/acts", &body)
    }

    /// Makes a change on the round as it is and gives the round after it.
    pub fn done(&self, key: &str, act: Value) -> Value {
        let revision = self.revision();
        let answer = self.act(&revision, key, act);
        assert_eq!(answer.status, StatusCode::OK, "{}", String::from_utf8_lossy(&answer.body));
        answer.json()
    }

    pub fn revision(&self) -> String {
        let round = self.send(Method::POST, "/api/rounds/ride.mp4", &json!(null)).json();
        round["revision"].as_str().unwrap().to_owned()
    }
}

/// A step of a round by its name.
pub fn step<'a>(round: &'a Value, name: &str) -> &'a Value {
    round["steps"].as_array().unwrap().iter().find(|step| step["step"] == name).unwrap()
}

pub fn labels(targets: &Value) -> Vec<&str> {
    targets.as_array().unwrap().iter().map(|target| target["label"].as_str().unwrap()).collect()
}
