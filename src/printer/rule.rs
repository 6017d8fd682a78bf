//! The rules that printer files and calibrations can break.

use crate::diagnostic::rules;

rules! {
    PRINTER_SYNTAX = "printer-syntax": "a printer file is not TOML";
    PRINTER_KEY = "printer-key": "a printer file has an unknown key";
    PRINTER_MISSING = "printer-missing": "a printer file lacks a key";
    PRINTER_VALUE = "printer-value": "a printer file has a value that its key cannot take";
    IMPLAUSIBLE_SCALE = "implausible-scale": "no printer is this far off: a reading is wrong";
    AXES_APART = "axes-apart": "the two axes of a printer differ more than printers do";
    FITTED_TO_PAGE = "fitted-to-page": "the viewer scaled the print, not the printer";
    PRINTED_UNFITTED = "printed-unfitted": "the print was to be fitted to the page and was not";
    READINGS_DISAGREE = "readings-disagree": "bar and strip give different scales";
    PROVES_TOO_LITTLE = "proves-too-little": "the readings are too coarse for this strap";
    NOTHING_TO_CORRECT = "nothing-to-correct": "the error is smaller than the readings can show";
    SKEWED = "skewed": "the printer's axes are not square to each other";
    SQUARE_PAPER = "square-paper": "a square sheet has no long edge to tell the axes by";
    OTHER_PAPER = "other-paper": "the printer was measured with another paper";
}
