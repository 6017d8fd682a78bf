//! The rules that a job or a template can break.

use crate::diagnostic::rules;

rules! {
    JOB_SYNTAX = "job-syntax": "the text is not TOML, or a --set is not KEY=VALUE";
    JOB_LIMIT = "job-limit": "a text or a table that is too large for a job, or too many findings";
    UNKNOWN_TEMPLATE = "unknown-template": "the job, or its template, names a template that does not exist";
    UNREAD_TEMPLATE = "unread-template": "the file of a template that cannot be read as text";
    TEMPLATE_CYCLE = "template-cycle": "a chain of templates that goes in a circle or is too long";
    UNKNOWN_KEY = "unknown-key": "a key that nothing reads, mostly a typing mistake";
    MISSING_KEY = "missing-key": "a key that the strap needs";
    BAD_LENGTH = "bad-length": "a length without a number or a unit, or not above zero";
    BAD_VALUE = "bad-value": "a value of the wrong form, or not one of those that are allowed";
    UNKNOWN_REFERENCE = "unknown-reference": "a sum of lengths, or a limit, names a key that does not exist";
    OUT_OF_LIMITS = "out-of-limits": "a value outside the limits that its template sets in about.limits";
    REFERENCE_CYCLE = "reference-cycle": "lengths that are given by each other";
    KEY_NOT_USED = "key-not-used": "a key that the job gives and that changes nothing";
    NOT_MEASURED = "not-measured": "keys of a job that stand there to be filled in, and are empty";
    MEASURE_NOT_GIVEN = "measure-not-given": "no line says what was measured, or from which frame";
    UNKNOWN_HARDWARE = "unknown-hardware": "hardware that is neither a kind nor a name of a profile";
    UNKNOWN_LEATHER = "unknown-leather": "leather that no profile names";
    HARDWARE_KIND = "hardware-kind": "a name of a profile is of another kind than what it stands for";
    HOUSE_DIFFERS = "house-differs": "a measure beside the name of a profile is another than the profile's";
    UNKNOWN_RANGE = "unknown-range": "the stock names a range of sizes that does not exist";
    STOCK_ORDER = "stock-order": "sizes of the stock that do not ascend, or are listed twice";
    UNKNOWN_SIZE = "unknown-size": "a size that the stock does not have";
}
