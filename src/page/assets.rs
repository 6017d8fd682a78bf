//! The style sheet, which stands in the head of each page, so that a first view takes one round
//! trip; and the script, kept for good by a browser: its name changes with what is in it.

use crate::export::hex;
use base64::display::Base64Display;
use base64::prelude::BASE64_STANDARD;
use sha2::{Digest, Sha256};
use std::sync::LazyLock;

pub(super) const STYLE: &str = include_str!("style.css");
pub(super) const SCRIPT: &str = include_str!("page.js");

/// A short name of a text: two texts of one name are one text.
pub(super) fn hash(text: &str) -> String {
    hex(&Sha256::digest(text.as_bytes())[..6])
}

/// The sources that the page's styles may have, for its headers: the style sheet in the head.
pub(super) fn style_source() -> String {
    let hash = Base64Display::new(&Sha256::digest(STYLE.as_bytes()), &BASE64_STANDARD)
        .to_string();
    format!("'sha256-{hash}'")
}

/// The address of the script.
pub(super) fn script_path() -> &'static str {
    static PATH: LazyLock<String> =
        LazyLock::new(|| format!("/page-{}.js", hash(SCRIPT)));
    &PATH
}

/// The address of the icon of a tab.
pub(super) const ICON_PATH: &str = "/icon.svg";
pub(super) const ICON: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 32 32\">\
    <path fill=\"#6a5033\" d=\"M2 10H20L30 16L20 22H2z\"/>\
    <circle fill=\"#fff\" cx=\"9\" cy=\"16\" r=\"2\"/>\
    <circle fill=\"#fff\" cx=\"17\" cy=\"16\" r=\"2\"/></svg>";
