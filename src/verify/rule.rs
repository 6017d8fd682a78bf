//! The rules that a file that is read back can break.

use crate::diagnostic::rules;

rules! {
    INK_MISSING = "ink-missing": "a page of the file does not show all that its sheet draws";
    INK_EXTRA = "ink-extra": "a page of the file shows what its sheet does not draw";
    PAGE_SETUP = "page-setup": "a page of the file would not be shown or printed as it is";
    WORDS_UNREAD = "words-unread": "the words of a page are pictures, so they are not compared";
    METADATA_LOST = "metadata-lost": "the file does not say how it was drawn";
    NO_SHEETS = "no-sheets": "no page says which print it is of";
    PRINT_SCALING = "print-scaling": "the file does not ask to be printed without scaling";
    PRINTS_MIXED = "prints-mixed": "sheets of different prints in one file";
    PAGE_STRAY = "page-stray": "a page shows none of the print's sheets";
    SHEET_MISSING = "sheet-missing": "a sheet of the print is not there";
    SHEET_TWICE = "sheet-twice": "a sheet is there more than once";
    SHEET_ORDER = "sheet-order": "the sheets are not in their order";
    PAGE_SIZE = "page-size": "a page is not as large as the paper that its sheet names";
    SHEET_SCALED = "sheet-scaled": "a sheet is not drawn at full scale";
    BAR_MISSING = "bar-missing": "a sheet lacks a scale bar";
    BAR_OFF = "bar-off": "a scale bar or its numerals are out of place";
    CROSS_ODD = "cross-odd": "a cross of a join is missing, alone or at another place";
    JOIN_OFF = "join-off": "the crosses of a join lie farther apart on one strip than on the other";
    OTHER_JOB = "other-job": "the sheets are those of another job";
    PIECE_MISSING = "piece-missing": "a part of a piece is on no sheet";
    OUTLINE_OFF = "outline-off": "an outline is not drawn along all of an edge, or along none";
    MARK_MISSING = "mark-missing": "a mark or a line of the job is not where it should be";
    MARK_EXTRA = "mark-extra": "a mark or a fold line on the sheets is none of the job's";
    MARK_MOVED = "mark-moved": "a mark is not at its place";
    OFF_PAGE = "off-page": "a tile lies off its page or on another tile";
    RULER_WRONG = "ruler-wrong": "a tick or a numeral of a ruler is not where a tape has it";
    LABEL_WRONG = "label-wrong": "the reading beside a mark is not its own";
}
