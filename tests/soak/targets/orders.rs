//! Tables of orders, laid over a common job, row by row.

use super::Target;
use crate::common::random::Random;
use crate::mutate::text;
use strapwright::batch::{self, Summary};
use strapwright::diagnostic::{self, Style, forbids_print};
use strapwright::export::cell;
use strapwright::template::{BuiltIn, Text};

pub(crate) const TARGET: Target = Target { name: "orders", weight: 4, input, run };

/// Rows of a table that are laid out; each is a job of its own.
const MOST_ROWS: usize = 12;

const WORDS: &[&str] = &[
    "order",
    "template",
    "title",
    "wearer",
    "measure.value",
    "measure.taken",
    "strap.width",
    "strap.thickness",
    "fittings.count",
    "blank.length",
    "stock.size",
    "tip",
    "belt",
    "cuff",
    "hat-band",
    "86,5 cm",
    "37 1/2 in",
    "1 km",
    "1000",
    "strap.width",
    "buckle.bar + 3 mm",
    "[\"turn-back\"]",
    "{ a = 1 }",
    ",",
    ";",
    "\t",
    "\r\n",
    "\"",
    "\"\"",
    "\u{feff}",
    "\0",
    "..",
    "/",
];

fn input(random: &mut Random) -> Vec<u8> {
    let table = include_str!("../../../sample-jobs/orders.csv");
    let short = "order;template;measure.value;strap.width\n1;belt;\"86,5 cm\";38 mm\n\
                 2;cuff;17 cm;\n\n3;hat-band;58 cm;20 mm\n";
    let tabs = short.replace(';', "\t");
    text(random, &[table.to_owned(), short.to_owned(), tabs], WORDS)
}

fn run(input: &[u8]) -> bool {
    let reading =
        batch::read("orders.csv", input.to_vec(), &batch::ColumnRules::default());
    let words = diagnostic::text(&reading.findings, &reading.sources, Style::Plain);
    assert!(words.len() < 1 << 20, "{} bytes of words", words.len());
    let Some(table) = reading.table else {
        assert!(forbids_print(&reading.findings), "no table, and nothing said");
        return false;
    };
    let text = "template = \"belt\"\n".into();
    let base = Text { name: "base.toml".to_owned(), text, path: None };
    let base = input.len().is_multiple_of(2).then_some(&base);
    let mut is_sound = false;
    for row in table.rows().take(MOST_ROWS) {
        let order = batch::lay_out_order(&table, &row, base, &BuiltIn, "");
        let words = diagnostic::text(&order.findings, &order.sources, Style::Plain);
        assert!(words.len() < 1 << 20, "{} bytes of words", words.len());
        assert!(order.findings.iter().all(|f| f.span.is_some()), "{:?}", order.findings);
        assert!(order.laid.is_some() || forbids_print(&order.findings));
        let summary = Summary::new(&order, &table, &order.findings, None);
        let cells = csv_row(&summary);
        assert_eq!(cells[1], cell(&order.name));
        let formula =
            |c: &str| c.starts_with(['=', '+', '-', '@']) && c.parse::<f64>().is_err();
        assert!(!cells.iter().any(formula), "{cells:?}");
        is_sound |= !forbids_print(&order.findings);
    }
    is_sound
}

/// The cells of a summary as they are written.
fn csv_row(summary: &Summary) -> csv::StringRecord {
    let mut table = csv::Writer::from_writer(Vec::new());
    table.serialize(summary).unwrap();
    let bytes = table.into_inner().unwrap();
    csv::Reader::from_reader(bytes.as_slice()).records().next().unwrap().unwrap()
}
