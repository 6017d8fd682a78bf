//! The rules that printer files can break.

use crate::diagnostic::rules;

rules! {
    PRINTER_SYNTAX = "printer-syntax": "a printer file is not TOML";
    PRINTER_KEY = "printer-key": "a printer file has an unknown key";
    PRINTER_MISSING = "printer-missing": "a printer file lacks a key";
    PRINTER_VALUE = "printer-value": "a printer file has a value that its key cannot take";
    IMPLAUSIBLE_SCALE = "implausible-scale": "no printer needs this much correction";
    PRINTER_CHANGED = "printer-changed": "a printer differs from its earlier readings";
    SAME_READING = "same-reading": "a reading is in the printer file already";
    OTHER_PRINTER = "other-printer": "a print was drawn for another printer than its file";
    OTHER_PAPER = "other-paper": "the printer was measured with another paper";
    OTHER_FIT = "other-fit": "a fit to the page and prints at 100 % do not go into one file";
}
