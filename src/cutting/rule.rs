//! The rules that lists of strips and cutting plans can break.

use crate::diagnostic::rules;

rules! {
    STOCK_SYNTAX = "stock-syntax": "the list of strips is neither TOML nor a table";
    STOCK_KEY = "stock-key": "a key or column of the list of strips that is missing, unknown or twice";
    STOCK_VALUE = "stock-value": "a name, length, width, thickness or count that no strip can have";
    STOCK_EMPTY = "stock-empty": "the list of strips names no strip";
    STOCK_LIMIT = "stock-limit": "a list of strips longer than any bench's";
    CUT_LIMIT = "cut-limit": "pieces that are too many to plan, or have no length that can be cut";
    STOCK_RUNS_OUT = "stock-runs-out": "pieces that no strip of their width and thickness is left for";
}
