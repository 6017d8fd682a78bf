//! Who may come in: only this machine, or the workshop's network with a token; no page of
//! another site.

use super::assets::style_source;
use axum::http::header::{self, CONTENT_SECURITY_POLICY};
use axum::http::{HeaderMap, HeaderValue, Method};
use std::net::{IpAddr, SocketAddr};
use std::sync::LazyLock;

/// The headers of every answer: nothing comes from outside, nothing is framed, no address is
/// passed on to other sites. With `no-referrer` a browser would send `Origin: null` with the
/// page's own forms (Fetch standard, "append a request Origin header").
const HEADERS: [(&str, &str); 4] = [
    ("x-content-type-options", "nosniff"),
    ("referrer-policy", "same-origin"),
    ("cross-origin-resource-policy", "same-origin"),
    ("cross-origin-opener-policy", "same-origin"),
];

/// Where what a page loads may come from.
static POLICY: LazyLock<String> = LazyLock::new(|| {
    format!(
        "default-src 'none'; style-src {}; script-src 'self'; img-src 'self'; \
         connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
        style_source()
    )
});

/// Puts the headers of every answer into it.
pub(super) fn close(headers: &mut HeaderMap) {
    headers.extend(HeaderValue::from_str(&POLICY).map(|p| (CONTENT_SECURITY_POLICY, p)));
    for (name, value) in HEADERS {
        headers.insert(name, HeaderValue::from_static(value));
    }
}

/// Where the page listens, and what it asks of those who come.
#[derive(Clone, Debug)]
pub struct Door {
    /// The address that is listened on.
    pub at: SocketAddr,
    /// What the first visit must bring, where others than this machine can come.
    pub token: Option<String>,
}

impl Door {
    /// Whether a request is for this page and, where it changes something, from it. A name of
    /// a foreign site that leads here (DNS rebinding) is refused: only numbers and
    /// `localhost` are let in.
    pub(super) fn lets_in(&self, method: &Method, headers: &HeaderMap) -> bool {
        let text = |name| headers.get(name).and_then(|v: &HeaderValue| v.to_str().ok());
        let Some(host) = text(header::HOST.as_str()).filter(|host| self.is_own(host))
        else {
            return false;
        };
        if method == Method::GET || method == Method::HEAD {
            return true;
        }
        let own = format!("http://{host}");
        method == Method::POST && text(header::ORIGIN.as_str()) == Some(own.as_str())
    }

    fn is_own(&self, host: &str) -> bool {
        let (name, port) = host.rsplit_once(':').unwrap_or((host, "80"));
        if port.parse() != Ok(self.at.port()) {
            return false;
        }
        let name = name.trim_matches(['[', ']']);
        let reached = if name == "localhost" {
            Some(IpAddr::from([127, 0, 0, 1]))
        } else {
            name.parse().ok()
        };
        // From outside, any number of this machine may be the one that is called.
        reached.is_some_and(|ip| ip.is_loopback() || !self.at.ip().is_loopback())
    }

    /// Whether the token of a visit, by its cookie, is the right one.
    pub(super) fn knows(&self, headers: &HeaderMap) -> bool {
        let Some(token) = &self.token else { return true };
        let cookies = headers.get_all(header::COOKIE).iter();
        let own = format!("{COOKIE}={token}");
        let mut all = cookies.filter_map(|c| c.to_str().ok()).flat_map(|c| c.split(';'));
        all.any(|cookie| is_same(cookie.trim(), &own))
    }

    /// The cookie that the right token of an address gives. A browser sends it also where the
    /// address stands in a message or on another page; forms of another page do not come in.
    pub(super) fn cookie(&self, given: &str) -> Option<String> {
        let token = self.token.as_ref().filter(|token| is_same(token, given))?;
        Some(format!("{COOKIE}={token}; Path=/; HttpOnly; SameSite=Lax"))
    }
}

const COOKIE: &str = "strapwright";

/// Compares in a time that does not tell where two texts differ.
fn is_same(one: &str, other: &str) -> bool {
    let differs = |(a, b): (u8, u8)| a ^ b;
    one.len() == other.len()
        && one.bytes().zip(other.bytes()).map(differs).fold(0, |all, d| all | d) == 0
}
