//! Who may talk to the desk: only the page that was opened with its token, from this computer.
//!
//! The token stands in the address that is opened and becomes a cookie that scripts cannot read and
//! other sites cannot send. `Host` must be ours, so that no other name can be made to point here; a
//! request that changes something must come from our own page, which its `Origin` says.

use axum::extract::{Request, State};
use axum::http::header::{self, HeaderMap, HeaderValue};
use axum::http::{Method, StatusCode, Uri};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

/// Where the desk is reached, and the secret without which it says nothing.
#[derive(Clone, Debug)]
pub struct Access {
    port: u16,
    token: String,
}

/// Nothing from elsewhere, no script or style but our own files, in no frame of another page.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: \
                      data:; connect-src 'self'; font-src 'self'; base-uri 'none'; form-action \
                      'none'; frame-ancestors 'none'";

impl Access {
    /// For a port; the token comes from the system's random numbers.
    pub fn new(port: u16) -> Result<Self, getrandom::Error> {
        let mut bytes = [0; 16];
        getrandom::fill(&mut bytes)?;
        let token = bytes.iter().map(|byte| format!("{byte:02x}")).collect();
        Ok(Self { port, token })
    }

    /// The address to open in a browser.
    pub fn url(&self) -> String {
        format!("http://127.0.0.1:{}/?key={}", self.port, self.token)
    }

    /// The address without its secret, to tell another desk.
    pub fn place(&self) -> String {
        format!("http://127.0.0.1:{}", self.port)
    }

    /// One cookie a port: cookies do not know ports.
    fn cookie_name(&self) -> String {
        format!("groundline_desk_{}", self.port)
    }

    fn hosts(&self) -> [String; 2] {
        ["127.0.0.1", "localhost"].map(|name| format!("{name}:{}", self.port))
    }

    fn is_own_host(&self, headers: &HeaderMap) -> bool {
        let host = headers.get(header::HOST).and_then(|host| host.to_str().ok());
        host.is_some_and(|host| self.hosts().iter().any(|own| own == host))
    }

    /// A page of ours says where it is from; so does every browser that changes something.
    fn is_own_origin(&self, method: &Method, headers: &HeaderMap) -> bool {
        match headers.get(header::ORIGIN).map(HeaderValue::to_str) {
            None => method == Method::GET || method == Method::HEAD,
            Some(Err(_)) => false,
            Some(Ok(origin)) => {
                self.hosts().iter().any(|own| origin.strip_prefix("http://") == Some(own))
            }
        }
    }

    fn is_token(&self, given: &str) -> bool {
        // Hashes compare in constant time.
        blake3::hash(given.as_bytes()) == blake3::hash(self.token.as_bytes())
    }

    fn has_cookie(&self, headers: &HeaderMap) -> bool {
        let name = self.cookie_name();
        let cookies =
            headers.get_all(header::COOKIE).iter().filter_map(|value| value.to_str().ok());
        cookies.flat_map(|cookies| cookies.split(';')).any(|cookie| {
            let known = cookie.trim().split_once('=').filter(|(key, _)| *key == name);
            known.is_some_and(|(_, value)| self.is_token(value))
        })
    }

    fn key_in(&self, uri: &Uri) -> bool {
        let given = uri
            .query()
            .and_then(|query| query.split('&').find_map(|pair| pair.strip_prefix("key=")));
        uri.path() == "/" && given.is_some_and(|key| self.is_token(key))
    }

    /// Turns the token of the address into the cookie and takes it out of the address.
    fn welcomed(&self) -> Response {
        let cookie =
            format!("{}={}; HttpOnly; SameSite=Strict; Path=/", self.cookie_name(), self.token);
        let mut response = (StatusCode::SEE_OTHER, [(header::LOCATION, "/")]).into_response();
        if let Ok(cookie) = HeaderValue::from_str(&cookie) {
            response.headers_mut().insert(header::SET_COOKIE, cookie);
        }
        response
    }
}

/// Lets through who may, and sets what every answer carries.
pub(super) async fn guard(State(access): State<Access>, request: Request, next: Next) -> Response {
    let (method, headers) = (request.method().clone(), request.headers().clone());
    let refused = |status: StatusCode, why: &'static str| (status, why).into_response();
    let mut response = if !access.is_own_host(&headers) {
        refused(StatusCode::MISDIRECTED_REQUEST, "This is not the desk's address.")
    } else if !access.is_own_origin(&method, &headers) {
        refused(StatusCode::FORBIDDEN, "The desk takes changes from its own page only.")
    } else if method == Method::GET && access.key_in(request.uri()) {
        access.welcomed()
    } else if !access.has_cookie(&headers) {
        refused(
            StatusCode::UNAUTHORIZED,
            "Open the address that `groundline desk` printed: it holds the key to this page.",
        )
    } else {
        next.run(request).await
    };
    let set = response.headers_mut();
    for (name, value) in [
        (header::CONTENT_SECURITY_POLICY, POLICY),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::REFERRER_POLICY, "no-referrer"),
        (header::X_FRAME_OPTIONS, "DENY"),
    ] {
        set.insert(name, HeaderValue::from_static(value));
    }
    set.entry(header::CACHE_CONTROL).or_insert(HeaderValue::from_static("no-store"));
    set.insert("cross-origin-resource-policy", HeaderValue::from_static("same-origin"));
    set.insert("cross-origin-opener-policy", HeaderValue::from_static("same-origin"));
    response
}
