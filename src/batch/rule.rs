//! The rules that a table of orders can break.

use crate::diagnostic::rules;

rules! {
    ORDERS_TEXT = "orders-text": "the table of orders is not UTF-8 text, or is too large";
    ORDERS_COLUMN = "orders-column": "a column of the orders is missing, has no name or is there twice";
    ORDERS_ROW = "orders-row": "a row of the orders has no name, is too long, or has more cells than the header";
    ORDER_TWICE = "order-twice": "two orders have the same name";
    FILE_IN_THE_WAY = "file-in-the-way": "a file has the name of an order's drawing, and was not made from that order";
    ORDER_FAILED = "order-failed": "the program could not draw an order that it found nothing wrong with";
}
