//! The rules that the layout can break.

use crate::diagnostic::rules;

rules! {
    UNKNOWN_DATUM = "unknown-datum": "a feature is placed from a datum that no feature publishes";
    OTHER_PIECE = "other-piece": "a feature is placed from a datum of another piece";
    DATUM_CYCLE = "datum-cycle": "features that are placed from each other";
    NO_LENGTH = "no-length": "the strap's two ends meet or cross: nothing is left of it";
    TWO_ENDS = "two-ends": "a piece has no start or tip, or more than one of them";
    BAD_TAPER = "bad-taper": "a change of width that is out of place or too steep to be smooth";
    NO_ROOM = "no-room": "a line within the edges, or a lining, for which there is no room";
    TOO_MANY_MARKS = "too-many-marks": "more holes than anybody punches";
    TOO_MANY_PIECES = "too-many-pieces": "more pieces than anybody cuts";
    NOT_NESTABLE = "not-nestable": "sizes that could not be told apart on one strip of paper";
}
