//! The style sheet and the script, carried in the program and kept for good by a browser: their
//! names change with what is in them.

use crate::export::hex;
use sha2::{Digest, Sha256};
use std::sync::LazyLock;

pub(super) const STYLE: &str = include_str!("style.css");
pub(super) const SCRIPT: &str = include_str!("page.js");

/// A short name of a text: two texts of one name are one text.
pub(super) fn hash(text: &str) -> String {
    hex(&Sha256::digest(text.as_bytes())[..6])
}

/// The address of the style sheet.
pub(super) fn style_path() -> &'static str {
    static PATH: LazyLock<String> =
        LazyLock::new(|| format!("/style-{}.css", hash(STYLE)));
    &PATH
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
