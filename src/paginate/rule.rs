//! The rules that the sheets can break.

use crate::diagnostic::rules;

rules! {
    MARK_IN_JOIN = "mark-in-join": "a mark or a seam lies where two sheets are joined";
    PAPER_TOO_SMALL = "paper-too-small": "the paper is too small for the joins or for one of the marks";
    TOO_MANY_SHEETS = "too-many-sheets": "the drawing has more sheets, or more length, than anybody tapes together";
}
