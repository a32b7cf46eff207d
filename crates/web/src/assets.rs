//! The files every page uses, held in the program. Their address carries a stamp of their content,
//! so that a browser may keep them for good.

use axum::extract::Path;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use std::sync::LazyLock;

/// One file.
pub(crate) struct Asset {
    /// Its path below the stamp.
    pub(crate) path: &'static str,
    /// Its media type.
    kind: &'static str,
    /// What is in it.
    pub(crate) bytes: &'static [u8],
}

macro_rules! assets {
    ($($path:literal $kind:literal),* $(,)?) => {
        &[$(Asset {
            path: $path,
            kind: $kind,
            bytes: include_bytes!(concat!("../assets/", $path)),
        }),*]
    };
}

/// All of them.
pub(crate) const ASSETS: &[Asset] = assets![
    "style.css" "text/css; charset=utf-8",
    "lamp.js" "text/javascript; charset=utf-8",
    "sheet.js" "text/javascript; charset=utf-8",
    "mark.svg" "image/svg+xml",
    "fonts/cabin.woff2" "font/woff2",
    "fonts/b612-400.woff2" "font/woff2",
    "fonts/b612-400i.woff2" "font/woff2",
    "fonts/b612-700.woff2" "font/woff2",
    "fonts/LICENSE-Cabin.txt" "text/plain; charset=utf-8",
    "fonts/LICENSE-B612.txt" "text/plain; charset=utf-8",
];

/// FNV-1a over all of them, 64 bits: changes when any file does.
static STAMP: LazyLock<String> = LazyLock::new(|| {
    let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
    for byte in ASSETS.iter().flat_map(|asset| asset.bytes) {
        hash = (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3);
    }
    format!("{hash:016x}")
});

/// The address of a file.
pub(crate) fn address(path: &str) -> String {
    format!("/assets/{}/{path}", *STAMP)
}

/// The content of a file of ours.
pub(crate) fn bytes(path: &str) -> &'static [u8] {
    ASSETS.iter().find(|asset| asset.path == path).map_or(&[], |asset| asset.bytes)
}

/// `GET /assets/{stamp}/{file}`: an older stamp gets the file of today, which must not be kept.
pub(crate) async fn get(Path((stamp, file)): Path<(String, String)>) -> Response {
    let Some(asset) = ASSETS.iter().find(|asset| asset.path == file) else {
        return (StatusCode::NOT_FOUND, "There is no such file.\n").into_response();
    };
    let keep = if stamp == *STAMP { "public, max-age=31536000, immutable" } else { "no-store" };
    ([(header::CONTENT_TYPE, asset.kind), (header::CACHE_CONTROL, keep)], asset.bytes)
        .into_response()
}
