//! Values put into the text of a TOML file, whose other lines stay as they are.

use crate::batch::NamedColumn;
use crate::input;
use toml_edit::{Array, DocumentMut, InlineTable, Item, Table, TableLike, Value};

/// The text after a change of its document. Its ends of lines stay as they were.
fn changed(text: &str, change: impl FnOnce(&mut Table) -> Option<()>) -> Option<String> {
    let mut document: DocumentMut = text.parse().ok()?;
    change(document.as_table_mut())?;
    let new = document.to_string();
    let is_crlf = text.contains("\r\n");
    Some(if is_crlf { new.replace("\r\n", "\n").replace('\n', "\r\n") } else { new })
}

/// The table of that name, made where it is not there.
fn table<'t>(of: &'t mut dyn TableLike, name: &str) -> Option<&'t mut dyn TableLike> {
    let mut new = Table::new();
    // Its head stands there only if it has values.
    new.set_implicit(true);
    of.entry(name).or_insert(Item::Table(new)).as_table_like_mut()
}

/// Puts a value as a person types it. What stands round one that is there stays.
fn put_into(table: &mut dyn TableLike, key: &str, typed: &str) -> Option<()> {
    let mut new: Value = input::to_toml(typed).parse().ok()?;
    if let Some(Item::Value(old)) = table.get(key) {
        *new.decor_mut() = old.decor().clone();
    }
    table.insert(key, Item::Value(new));
    Some(())
}

/// The text of a job with another value of one key; `None` for a text that is no TOML.
pub(super) fn put(text: &str, key: &str, typed: &str) -> Option<String> {
    changed(text, |root| match key.split_once('.') {
        Some((name, key)) => {
            put_into(table(root, name)?, key, typed)?;
            // Commas without blanks before them.
            root.get_mut(name)?.as_inline_table_mut().map(InlineTable::fmt);
            Some(())
        }
        None => put_into(root, key, typed),
    })
}

/// The text of a profile with one more thing of a sort; `None` where it cannot be put in or there
/// is one of that name.
pub(super) fn with_thing<'v>(
    text: &str,
    [sort, name]: [&str; 2],
    measures: impl Iterator<Item = (&'v str, &'v str)>,
) -> Option<String> {
    changed(text, |root| {
        let all = table(root, sort)?;
        if all.contains_key(name) {
            return None;
        }
        let thing = table(all, name)?;
        measures.map(|(key, typed)| put_into(thing, key, typed)).collect()
    })
}

/// The text of a profile that says what these columns of orders mean; those without a key are
/// not used.
pub(super) fn with_columns(text: &str, columns: &[NamedColumn]) -> Option<String> {
    changed(text, |root| {
        let orders = table(root, "orders")?;
        let (named, unused): (Vec<_>, Vec<_>) =
            columns.iter().partition(|column| !column.key.is_empty());
        let ignored =
            orders.entry("ignore").or_insert(Array::new().into()).as_array_mut()?;
        let is_of = |old: &Value| columns.iter().any(|c| old.as_str() == Some(&c.name));
        ignored.retain(|old| !is_of(old));
        ignored.extend(unused.iter().map(|column| column.name.as_str()));
        let all = table(orders, "columns")?;
        for column in columns {
            all.remove(&column.name);
        }
        for NamedColumn { name, key, unit, .. } in named {
            let value = unit.as_deref().map_or_else(
                || Value::from(key),
                |unit| {
                    let pairs = [("key", key.as_str()), ("unit", unit)];
                    InlineTable::from_iter(pairs).into()
                },
            );
            all.insert(name, Item::Value(value));
        }
        Some(())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_is_put_where_a_person_would_write_it() {
        let text =
            "template = \"belt\" # ours\n\n[strap]\nwidth = \"38 mm\" # of the shelf\n";
        let put = |text: &str, key: &str, typed: &str| put(text, key, typed).unwrap();
        let wider = put(text, "strap.width", "40 mm");
        assert_eq!(wider, text.replace("38", "40"));
        let thick = put(text, "strap.thickness", "3 mm");
        assert_eq!(thick, format!("{text}thickness = \"3 mm\"\n"));
        let holes = put(text, "size-holes.inside", "3");
        assert_eq!(holes, format!("{text}\n[size-holes]\ninside = 3\n"));
        let title = put(text, "title", "A");
        assert_eq!(title, text.replace("\n\n", "\ntitle = \"A\"\n\n"));
        // Dotted keys, a table in one line, other ends of lines.
        let dotted = "template = \"belt\"\nstrap.width = \"38 mm\"\n";
        let twice = put(dotted, "strap.thickness", "3 mm");
        assert_eq!(twice, format!("{dotted}strap.thickness = \"3 mm\"\n"));
        let line = "template = \"belt\"\nstrap = { width = \"38 mm\" }\n";
        let in_line = put(line, "strap.thickness", "3 mm");
        assert_eq!(in_line, line.replace(" }", ", thickness = \"3 mm\" }"));
        let other = text.replace('\n', "\r\n");
        let windows = put(&put(&other, "strap.thickness", "3 mm"), "title", "A");
        assert_eq!(windows.matches('\n').count(), windows.matches("\r\n").count());
        assert_eq!(windows.lines().count(), text.lines().count() + 2);
        for text in [wider, thick, holes, title, twice, in_line, windows] {
            assert!(crate::prepare("job", &text, &[]).laid.is_some(), "{text}");
        }
    }

    #[test]
    fn things_and_columns_are_added_to_a_profile() {
        let text =
            "paper = \"a4\" # on the shelf\n\n[hardware.ring-25]\nhardware = \"ring\"\n";
        let measures = || [("hardware", "buckle"), ("bar", "4.5 mm")].into_iter();
        let added = with_thing(text, ["hardware", "bosun 40"], measures()).unwrap();
        let own = "\n[hardware.\"bosun 40\"]\nhardware = \"buckle\"\nbar = \"4.5 mm\"\n";
        assert_eq!(added, format!("{text}{own}"));
        assert_eq!(with_thing(text, ["hardware", "ring-25"], measures()), None);
        let column = |name: &str, key: &str, unit: Option<&str>| NamedColumn {
            name: name.to_owned(),
            key: key.to_owned(),
            unit: unit.map(ToOwned::to_owned),
            words: Vec::new(),
        };
        let columns = [
            column("Waist", "measure.value", Some("in")),
            column("Customer", "wearer", None),
            column("Till", "", None),
        ];
        let said = with_columns(text, &columns).unwrap();
        let again = with_columns(&said, &columns).unwrap();
        assert_eq!(again, said);
        assert!(said.starts_with(text), "{said}");
        let own = "\n[orders]\nignore = [\"Till\"]\n\n[orders.columns]\n\
                   Waist = { key = \"measure.value\", unit = \"in\" }\nCustomer = \"wearer\"\n";
        assert!(said.ends_with(own), "{said}");
    }
}
