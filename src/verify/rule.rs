//! The rules that a file that is read back can break.

use crate::diagnostic::rules;

rules! {
    INK_MISSING = "ink-missing": "a page of the file does not show all that its sheet draws";
    INK_EXTRA = "ink-extra": "a page of the file shows what its sheet does not draw";
    PAGE_SETUP = "page-setup": "a page of the file would not be shown or printed as it is";
    WORDS_UNREAD = "words-unread": "the words of a page are pictures, so they are not compared";
    METADATA_LOST = "metadata-lost": "the file does not say how it was drawn";
    PAGE_UNREADABLE = "page-unreadable": "a page's content is broken or is no sheet's";
    NO_SHEETS = "no-sheets": "no page says which sheet of which print it is";
    PRINT_SCALING = "print-scaling": "the file does not ask to be printed without scaling";
    PRINTS_MIXED = "prints-mixed": "sheets of different prints in one file";
    SHEET_MISSING = "sheet-missing": "a sheet of the print is not there";
    SHEET_TWICE = "sheet-twice": "a sheet is there more than once";
    SHEET_ORDER = "sheet-order": "the sheets are not in their order";
    SHEET_TURNED = "sheet-turned": "a sheet lies turned or mirrored on its page";
    PAGE_SIZE = "page-size": "a page is not as large as the paper that its sheet names";
    SHEET_SCALED = "sheet-scaled": "a sheet is not drawn at full scale";
    BAR_MISSING = "bar-missing": "a sheet has no scale bar along an edge";
    BAR_OFF = "bar-off": "a scale bar is not as long as its numerals say";
    CROSS_ODD = "cross-odd": "a cross of a join does not stand on two strips";
    JOIN_OFF = "join-off": "joined by its crosses a strip does not lie at its place";
    OTHER_JOB = "other-job": "the sheets are those of another job";
    PIECE_MISSING = "piece-missing": "a piece of the job is on none of the sheets";
    PIECE_EXTRA = "piece-extra": "a piece on the sheets is none of the job's";
    OUTLINE_OFF = "outline-off": "an outline is not the job's";
    MARK_MISSING = "mark-missing": "a mark of the job is on none of the sheets";
    MARK_EXTRA = "mark-extra": "a mark on the sheets is none of the job's";
    MARK_MOVED = "mark-moved": "a mark is not at its place";
    MARK_FORM = "mark-form": "a mark has not its form or size";
    PEN_WIDE = "pen-wide": "a stroke is so wide that it hides what it draws";
    OFF_PAGE = "off-page": "a part of the drawing lies outside the page";
    RULER_WRONG = "ruler-wrong": "a numeral of a ruler is not at the tick that a tape reads";
    LABEL_WRONG = "label-wrong": "the reading beside a mark is not its own";
    PLACE_UNPROVEN = "place-unproven": "nothing tells where along its piece a stretch of it lies";
    MARKS_DISAGREE = "marks-disagree": "two strips have the same mark at different places";
}
