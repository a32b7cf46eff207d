//! The switch of units: kept in a cookie of this browser, and back to the page it came from.

use crate::answer::units_named;
use axum::Form;
use axum::extract::rejection::FormRejection;
use axum::http::header;
use axum::response::{IntoResponse, Redirect, Response};
use std::collections::BTreeMap;

/// `POST /units`.
pub(crate) async fn choose(
    form: Result<Form<BTreeMap<String, String>>, FormRejection>,
) -> Response {
    let fields = form.map(|Form(fields)| fields).unwrap_or_default();
    let back = fields.get("back").map(String::as_str).filter(|back| is_own(back)).unwrap_or("/");
    let Some(units) = fields.get("units").filter(|units| units_named(units).is_some()) else {
        return Redirect::to(back).into_response();
    };
    let cookie = format!("units={units}; Path=/; Max-Age=31536000; SameSite=Strict; HttpOnly");
    ([(header::SET_COOKIE, cookie)], Redirect::to(back)).into_response()
}

/// A path of this place and of no other.
fn is_own(path: &str) -> bool {
    path.starts_with('/')
        && !path.starts_with("//")
        && path.bytes().all(|byte| byte.is_ascii_graphic() && byte != b'\\')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_path_of_this_place_is_gone_back_to() {
        assert!(is_own("/brew") && is_own("/dipstick/tun"));
        for other in ["//evil.example", "http://evil.example", "", "/\\evil", "/a\nb"] {
            assert!(!is_own(other), "{other:?}");
        }
    }
}
