//! Values put into the text of a TOML file, whose other lines stay as they are.

use crate::batch::{NamedColumn, is_same_name};
use crate::input;
use toml_edit::{Array, Decor, DocumentMut, InlineTable, Item, Table, TableLike, Value};

/// The text after a change of its document. Its ends of lines stay as they were.
fn changed(text: &str, change: impl FnOnce(&mut Table) -> Option<()>) -> Option<String> {
    let mut document: DocumentMut = text.parse().ok()?;
    change(document.as_table_mut())?;
    let new = document.to_string();
    let ends = text.matches("\r\n").count();
    let is_crlf = ends > 0 && ends == text.matches('\n').count();
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

/// The text of a job or a profile with another value of one key; `None` for a text that is no TOML.
pub(super) fn put(text: &str, key: &str, typed: &str) -> Option<String> {
    changed(text, |root| match key.split_once('.') {
        Some((name, key)) => {
            let is_new = table(root, name)?.get(key).is_none();
            // The blank before the closing brace stays there, and not before a comma.
            let last = root.get_mut(name)?.as_inline_table_mut().filter(|_| is_new);
            let last =
                last.and_then(|inline| inline.iter_mut().last().map(|(_, last)| last));
            let blank = last.and_then(|last| {
                let suffix = last.decor().suffix()?.as_str()?.to_owned();
                let is_blank = !suffix.is_empty() && suffix.trim().is_empty();
                is_blank.then(|| last.decor_mut().set_suffix(""))?;
                Some(suffix)
            });
            put_into(table(root, name)?, key, typed)?;
            if let (Some(blank), Some(Item::Value(new))) =
                (blank, table(root, name)?.get_mut(key))
            {
                *new.decor_mut() = Decor::new(" ", blank);
            }
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
        let is_one =
            |name: &str| columns.iter().any(|column| is_same_name(&column.name, name));
        let (named, unused): (Vec<_>, Vec<_>) =
            columns.iter().partition(|column| !column.key.is_empty());
        if let Some(ignored) = orders.get_mut("ignore").and_then(Item::as_array_mut) {
            ignored.retain(|old| !old.as_str().is_some_and(is_one));
        }
        if !unused.is_empty() {
            let new = || Array::new().into();
            let ignored = orders.entry("ignore").or_insert_with(new).as_array_mut()?;
            ignored.extend(unused.iter().map(|column| column.name.as_str()));
        }
        let all = table(orders, "columns")?;
        let old: Vec<String> = all.iter().map(|(name, _)| name.to_owned()).collect();
        for name in old.iter().filter(|name| is_one(name)) {
            all.remove(name);
        }
        for NamedColumn { name, key, unit, words } in named {
            let mut value = InlineTable::new();
            value.insert("key", key.as_str().into());
            if let Some(unit) = unit {
                value.insert("unit", unit.as_str().into());
            }
            if !words.is_empty() {
                let words = words.iter().map(|(word, meaning)| (word, meaning.as_str()));
                value.insert("words", words.collect::<InlineTable>().into());
            }
            let is_plain = value.len() == 1;
            let value = if is_plain { Value::from(key) } else { value.into() };
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
        let lines =
            "template = \"belt\"\nstrap = {\n  width = \"38 mm\", # of the shelf\n}\n";
        let in_lines = put(lines, "strap.thickness", "3 mm");
        assert!(in_lines.contains("# of the shelf\n"), "{in_lines}");
        let other = text.replace('\n', "\r\n");
        let windows = put(&put(&other, "strap.thickness", "3 mm"), "title", "A");
        assert_eq!(windows.matches('\n').count(), windows.matches("\r\n").count());
        assert_eq!(windows.lines().count(), text.lines().count() + 2);
        for text in [wider, thick, holes, title, twice, in_line, in_lines, windows] {
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
        // One that is there is replaced, whatever its case; its words are those that are given.
        let office = format!(
            "{text}[orders]\nignore = [\"waist\"]\n[orders.columns]\n\
             customer = {{ key = \"title\", words = {{ A = \"B\" }} }}\nNo = \"order\"\n"
        );
        let words = vec![("Ines".to_owned(), "Ines Fairwater".to_owned())];
        let named = NamedColumn { words, ..column("Customer", "wearer", None) };
        let replaced = with_columns(&office, &[named, columns[0].clone()]).unwrap();
        let wanted = "[orders]\nignore = []\n[orders.columns]\nNo = \"order\"\n\
                      Customer = { key = \"wearer\", words = { Ines = \"Ines Fairwater\" } }\n\
                      Waist = { key = \"measure.value\", unit = \"in\" }\n";
        assert_eq!(replaced, format!("{text}{wanted}"));
        let own = "\n[orders]\nignore = [\"Till\"]\n\n[orders.columns]\n\
                   Waist = { key = \"measure.value\", unit = \"in\" }\nCustomer = \"wearer\"\n";
        assert!(said.ends_with(own), "{said}");
    }
}
