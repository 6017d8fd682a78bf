//! What holds for every table, tried on made-up ones and on garbage.

use super::{ColumnRules, FileNames, Order, Table, lay_out_order, read};
use crate::batch::rule;
use crate::diagnostic::{Finding, RuleId, Severity, Style, forbids_print, text};
use crate::job;
use crate::template::{BuiltIn, Text};
use proptest::prelude::*;
use std::collections::BTreeSet;

fn table(text: &str) -> Table {
    let reading = read("orders.csv", text.as_bytes().to_vec(), &ColumnRules::default());
    let shown =
        crate::diagnostic::text(&reading.findings, &reading.sources, Style::Plain);
    reading.table.unwrap_or_else(|| panic!("{shown}"))
}

fn all(table: &Table, base: Option<&Text>) -> Vec<Order> {
    table.rows().map(|row| lay_out_order(table, &row, base, &BuiltIn, "")).collect()
}

/// What a finding points at, letter for letter.
fn pointed<'o>(order: &'o Order, finding: &Finding) -> &'o str {
    let span = finding.span.as_ref().unwrap();
    &order.sources.get(span.source).unwrap().text[span.range.clone()]
}

#[test]
fn separators_quotes_and_marks_are_read_alike() {
    let plain = "order,template,title,measure.value\n7,belt,\"Ash, oak\",86 cm\n";
    for text in [
        plain.to_owned(),
        format!("\u{feff}{plain}"),
        plain.replace('\n', "\r\n"),
        plain.replace('\n', "\r"),
        "order;template;title;measure.value\n7;belt;Ash, oak;86 cm".to_owned(),
        "order\ttemplate\ttitle\tmeasure.value\n7\tbelt\tAsh, oak\t 86 cm \n".to_owned(),
        "\n\"ORDER\",\"Template\",\"title\",\"measure.value\"\n\n,,,\n\"7\",belt,\"Ash, oak\",\" 86 cm\"\n"
            .to_owned(),
    ] {
        let table = table(&text);
        let orders = all(&table, None);
        assert_eq!(orders.len(), 1, "{text:?}");
        let order = &orders[0];
        assert!(order.findings.is_empty(), "{text:?}: {:?}", order.findings);
        // As a spreadsheet counts: empty rows too.
        let row = if text.starts_with('\n') { 5 } else { 2 };
        assert_eq!((order.name.as_str(), order.row), ("7", row), "{text:?}");
        let job = &order.laid.as_ref().unwrap().0;
        assert_eq!(job.title.value, "Ash, oak", "{text:?}");
        let measure = &job.worn.as_ref().unwrap().measure;
        assert_eq!(measure.value.value.mm(0), "860", "{text:?}");
    }
}

#[test]
fn keys_outside_tables_are_texts_whatever_they_look_like() {
    let table = table(
        "order,template,title,wearer,measure.value\n1,belt,1984,\"[\"\"a\"\"]\",34 in\n\
         2,belt,true,x = 1,34 in\n",
    );
    let titles = ["1984", "true"].iter().zip(["[\"a\"]", "x = 1"]);
    for (order, (title, wearer)) in all(&table, None).iter().zip(titles) {
        assert!(order.findings.is_empty(), "{:?}", order.findings);
        let job = &order.laid.as_ref().unwrap().0;
        assert_eq!(
            (job.title.value.as_str(), job.wearer.value.as_str()),
            (*title, wearer)
        );
    }
}

#[test]
fn an_empty_cell_says_nothing_and_the_base_speaks() {
    let base = |text: &'static str| Text {
        name: "base.toml".to_owned(),
        text: text.into(),
        path: None,
    };
    let own = base("template = \"belt\"\ntitle = \"All\"\n");
    let table = table("order,title,strap.width\n1,,\n2,Own,35 mm\n");
    let orders = all(&table, Some(&own));
    let of = |i: usize| &orders[i].laid.as_ref().unwrap().0;
    assert_eq!((of(0).title.value.as_str(), of(1).title.value.as_str()), ("All", "Own"));
    assert_eq!(of(0).strap.width.value.mm(1), "38.1");
    assert_eq!(of(1).strap.width.value.mm(1), "35.0");
    // The same texts, the same key; any difference, another.
    let again = all(&table, Some(&own));
    assert_eq!(orders[0].key, again[0].key);
    assert_ne!(orders[0].key, orders[1].key);
    let other = base("template = \"belt\"\ntitle = \"Other\"\n");
    assert_ne!(orders[0].key, all(&table, Some(&other))[0].key);
}

/// An order's name and line, and each rule with what it points at.
type Found<'a> = (&'a str, usize, Vec<(RuleId, &'a str)>);

#[test]
fn findings_point_at_their_cells() {
    let text = "order;template;strap.w;measure.value;strap.width\n\
                a;belt;Ines;86 cm;38\n\
                b;belt;;\"34 1/2\"\"\";\"buckle.bar + 3 parsec\"\n\
                c;belt;;34 1/2\";\n\
                d;blet;;;\n\
                e;belt;;;38 mm;extra\n\
                ;belt;;;\n\
                g;;;;\n\
                h;belt;;;\"38 mm\n";
    let table = table(text);
    let orders = all(&table, None);
    let found: Vec<Found<'_>> = orders
        .iter()
        .map(|o| {
            let all = o.findings.iter().map(|f| (f.rule, pointed(o, f)));
            (o.name.as_str(), o.line, all.collect())
        })
        .collect();
    let wanted: Vec<Found<'_>> = vec![
        (
            "a",
            2,
            vec![(job::rule::BAD_LENGTH, "38"), (job::rule::UNKNOWN_KEY, "strap.w")],
        ),
        ("b", 3, vec![(job::rule::BAD_LENGTH, "buckle.bar + 3 parsec")]),
        ("c", 4, vec![]),
        ("d", 5, vec![(job::rule::UNKNOWN_TEMPLATE, "blet")]),
        ("e", 6, vec![(rule::ORDERS_ROW, "extra")]),
        ("", 7, vec![(rule::ORDERS_ROW, "")]),
        ("g", 8, vec![(rule::ORDERS_ROW, "")]),
        ("", 9, vec![(rule::ORDERS_ROW, "\"")]),
    ];
    assert_eq!(found, wanted);
    let a = &orders[0];
    let places: Vec<_> = a
        .findings
        .iter()
        .map(|f| {
            let span = f.span.as_ref().unwrap();
            let called = a.sources.get(span.source).unwrap().display_name();
            (called, a.sources.line_column(span), a.column_key(f, &table))
        })
        .collect();
    assert_eq!(
        places,
        [
            (
                "orders.csv, cell E2, column strap.width".to_owned(),
                Some((2, 19)),
                Some("strap.width")
            ),
            ("orders.csv, header".to_owned(), Some((1, 16)), Some("strap.w")),
        ]
    );
    // The unit may be that of all cells.
    let unit = "\"strap.width\" = { key = \"strap.width\", unit = \"in\" }";
    assert!(a.findings[0].remedy.contains(unit), "{}", a.findings[0].remedy);
    assert!(!orders[1].findings[0].remedy.contains("unit ="), "{:?}", orders[1].findings);
    // The column is wrong for all rows, the cell for its own.
    assert!(a.is_about_row(&a.findings[0]) && !a.is_about_row(&a.findings[1]));
}

/// A name with a point is no key by that alone; the key of a table is taken letter for letter.
#[test]
fn names_of_columns_are_not_taken_for_keys() {
    let header = "Order;TEMPLATE;Tel. no;No.;Strap.width\n1;belt;555;7;38 mm\n";
    let reading = read("orders.csv", header.into(), &ColumnRules::default());
    let [finding] = reading.findings.as_slice() else { panic!("{:?}", reading.findings) };
    assert_eq!(finding.found, "\"Tel. no\", \"No.\"; read with `;` between the cells");
    let own = table(&header.replace("Tel. no;No.", "strap.k;"));
    let keys: Vec<&str> = own.columns.iter().map(super::Column::key).collect();
    assert_eq!(keys, ["order", "template", "strap.k", "", "Strap.width"]);
}

#[test]
fn what_is_no_table_is_told_apart() {
    let utf_16 = |text: &str, mark: bool| -> Vec<u8> {
        let mark = mark.then_some(0xfeff_u16);
        mark.into_iter().chain(text.encode_utf16()).flat_map(u16::to_le_bytes).collect()
    };
    let good = "order,template\nAndré,belt\n";
    let latin: Vec<u8> =
        good.chars().map(|c| u8::try_from(u32::from(c)).unwrap()).collect();
    for (bytes, rule, words) in [
        (utf_16(good, true), rule::ORDERS_TEXT, "UTF-16"),
        (utf_16(good, false), rule::ORDERS_TEXT, "UTF-16"),
        (
            latin,
            rule::ORDERS_TEXT,
            "byte 0xe9 in line 2; in Latin-1 and Windows-1252 that is `é`",
        ),
        (vec![b'x'; (1 << 25) + 1], rule::ORDERS_TEXT, "32 MiB"),
        (b"".to_vec(), rule::ORDERS_COLUMN, "nothing"),
        (b"\n \n".to_vec(), rule::ORDERS_COLUMN, "nothing"),
        (b"order,template\n".to_vec(), rule::ORDERS_ROW, "nothing below"),
        (b"orders,template\n1,belt\n".to_vec(), rule::ORDERS_COLUMN, "orders, template"),
        (b"order,title,Title\n1,a,b\n".to_vec(), rule::ORDERS_COLUMN, "a second one"),
    ] {
        let reading = read("orders.csv", bytes, &ColumnRules::default());
        assert!(reading.table.is_none(), "{words}");
        let shown = text(&reading.findings, &reading.sources, Style::Plain);
        let found = &reading.findings[0];
        assert_eq!((found.rule, found.severity), (rule, Severity::Error), "{shown}");
        assert!(shown.contains(words), "{shown}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// Whatever the bytes are, every finding can be shown over its text.
    #[test]
    fn garbage_is_found_and_shown(
        header in "(?:order|template|title|measure.value|strap|[a-z.\"=,;]){0,12}",
        body in "(?:belt|34 in|38 mm|[\\PC\n\r\"=,;\\[\\]{}#'\0]){0,80}",
    ) {
        for bytes in [
            format!("order,template,{header}\n{body}").into_bytes(),
            format!("order;template;title;measure.value;strap.width;tip.shape\n{body}").into_bytes(),
            format!("{header}{body}").encode_utf16().flat_map(u16::to_be_bytes).collect(),
        ] {
            let reading = read("orders.csv", bytes, &ColumnRules::default());
            let shown = text(&reading.findings, &reading.sources, Style::Plain);
            prop_assert_eq!(shown.is_empty(), reading.findings.is_empty());
            let Some(table) = reading.table else {
                prop_assert!(forbids_print(&reading.findings));
                continue;
            };
            for order in all(&table, None) {
                let shown = text(&order.findings, &order.sources, Style::Plain);
                prop_assert_eq!(shown.is_empty(), order.findings.is_empty());
                prop_assert!(order.laid.is_some() || forbids_print(&order.findings));
                for finding in &order.findings {
                    prop_assert!(finding.span.is_some(), "{:?}", finding);
                    pointed(&order, finding);
                }
            }
        }
    }

    /// Names of files stay in their folder and are no two alike.
    #[test]
    fn names_are_safe_and_apart(
        orders in prop::collection::vec(
            "(?:[aAbB12./\\\\: \0ßſẞÅ\u{212b}K\u{212a}İı-]|con|NUL|\\PC){0,12}|.{0,200}",
            1..40,
        ),
    ) {
        let mut names = FileNames::default();
        let mut taken = BTreeSet::new();
        for order in &orders {
            let name = names.assign(order);
            let file = format!("{name}.pdf");
            prop_assert!(file.len() <= 120, "{}", file);
            let fine = |c: char| c.is_alphanumeric() || c == '-';
            prop_assert!(!name.is_empty() && name.chars().all(fine), "{:?}", name);
            prop_assert!(!name.starts_with('-') && !name.ends_with('-'), "{:?}", name);
            let path = std::path::Path::new("/out").join(&file);
            prop_assert_eq!(path.parent().unwrap(), std::path::Path::new("/out"));
            let upper = name.to_uppercase();
            let device = ["CON", "PRN", "AUX", "NUL"].contains(&upper.as_str())
                || (upper.chars().count() == 4
                    && ["COM", "LPT"].iter().any(|d| upper.starts_with(d))
                    && upper.ends_with(|c| "0123456789¹²³".contains(c)));
            prop_assert!(!device, "{:?}", name);
            prop_assert!(taken.insert(upper.to_lowercase()), "{:?} twice", name);
        }
    }
}
