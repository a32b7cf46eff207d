//! What holds for every request and answer: who may ask, and the headers that keep a page to
//! itself.

use axum::extract::Request;
use axum::http::header::{self, HeaderName, HeaderValue};
use axum::http::{HeaderMap, Method, StatusCode};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};

/// Only own files, no inline style or script, forms only to this place, in no frame.
const POLICY: &str = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; \
    font-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; \
    frame-ancestors 'none'";

/// Headers of every answer.
const HEADERS: [(HeaderName, &str); 6] = [
    (header::CONTENT_SECURITY_POLICY, POLICY),
    (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
    (header::X_FRAME_OPTIONS, "DENY"),
    (header::REFERRER_POLICY, "same-origin"),
    (HeaderName::from_static("cross-origin-opener-policy"), "same-origin"),
    (HeaderName::from_static("permissions-policy"), "camera=(), microphone=(), geolocation=()"),
];

/// Refuses names that are not this machine's (another site's name can be made to point here) and
/// forms that another site sends; lays the headers on what is answered.
pub(crate) async fn guard(request: Request, next: Next) -> Response {
    let mut response = if !named_as_this_machine(request.headers()) {
        (StatusCode::MISDIRECTED_REQUEST, "Ask for 127.0.0.1 or localhost.\n").into_response()
    } else if request.method() == Method::POST && !from_own_page(request.headers()) {
        (StatusCode::FORBIDDEN, "This form came from another site; nothing was changed.\n")
            .into_response()
    } else {
        next.run(request).await
    };
    let headers = response.headers_mut();
    for (name, value) in HEADERS {
        headers.insert(name, HeaderValue::from_static(value));
    }
    headers.entry(header::CACHE_CONTROL).or_insert(HeaderValue::from_static("no-cache, private"));
    response
}

/// The host without its port is the loopback address; a request without a host is a test's.
fn named_as_this_machine(headers: &HeaderMap) -> bool {
    let Some(host) = headers.get(header::HOST) else { return true };
    let Ok(host) = host.to_str() else { return false };
    let name = match host.rsplit_once(':') {
        Some((name, port)) if port.bytes().all(|byte| byte.is_ascii_digit()) => name,
        _ => host,
    };
    matches!(name, "127.0.0.1" | "localhost" | "[::1]")
}

/// A browser says where a form comes from; what says nothing is no browser.
fn from_own_page(headers: &HeaderMap) -> bool {
    let text = |name: &HeaderName| headers.get(name).and_then(|value| value.to_str().ok());
    let site = HeaderName::from_static("sec-fetch-site");
    if let Some(site) = text(&site) {
        return matches!(site, "same-origin" | "none");
    }
    match (text(&header::ORIGIN), text(&header::HOST)) {
        (Some(origin), Some(host)) => origin.strip_prefix("http://") == Some(host),
        (Some(_), None) => false,
        (None, _) => true,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn with(pairs: &[(&'static str, &'static str)]) -> HeaderMap {
        pairs
            .iter()
            .map(|(name, value)| (HeaderName::from_static(name), HeaderValue::from_static(value)))
            .collect()
    }

    #[test]
    fn only_names_of_this_machine_are_answered() {
        for host in ["127.0.0.1:8420", "localhost", "localhost:1", "[::1]:8420"] {
            assert!(named_as_this_machine(&with(&[("host", host)])), "{host}");
        }
        for host in ["evil.example", "127.0.0.1.evil.example:80", "10.0.0.1", "localhost:x"] {
            assert!(!named_as_this_machine(&with(&[("host", host)])), "{host}");
        }
    }

    #[test]
    fn a_form_of_another_site_is_known() {
        assert!(from_own_page(&with(&[("sec-fetch-site", "same-origin")])));
        assert!(!from_own_page(&with(&[("sec-fetch-site", "cross-site")])));
        assert!(!from_own_page(&with(&[("origin", "http://evil"), ("host", "localhost:1")])));
        assert!(from_own_page(&with(&[("origin", "http://localhost:1"), ("host", "localhost:1")])));
        assert!(from_own_page(&with(&[])));
    }
}
