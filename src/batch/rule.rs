//! The rules that a table of orders can break.

use crate::diagnostic::rules;

rules! {
    ORDERS_TEXT = "orders-text": "the table of orders is not UTF-8 text, or longer than any day's";
    ORDERS_COLUMN = "orders-column": "a column of the orders that is missing, nameless or twice";
    ORDERS_ROW = "orders-row": "a row that is no order: nameless, too long, or longer than the header";
    ORDER_TWICE = "order-twice": "two orders have the same name";
    FILE_IN_THE_WAY = "file-in-the-way": "a file is where an order's belongs, and was not made from it";
    ORDER_FAILED = "order-failed": "the program could not draw an order that it found nothing wrong with";
}
