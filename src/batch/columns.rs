//! What the columns of an office's table mean: keys, names for keys, and what is ignored.

use super::table::{Column, ORDER};
use crate::batch::rule;
use crate::diagnostic::{Finding, Span};
use crate::input::{parse_length, quoted};

/// The keys of a job outside any table, and the name of the order.
pub const COLUMNS: [&str; 4] = [ORDER, "template", "title", "wearer"];
/// Most columns of a table: a job has fewer keys.
pub(super) const MOST_COLUMNS: usize = 256;
/// Most unknown columns that are named.
const MOST_NAMED: usize = 24;

/// How the columns of a table are read, as a profile or flags say it. Case and outer blanks of
/// names do not count; in the key of a table, `strap.width`, case does.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ColumnRules {
    /// The sheet of a workbook; `None` for the first.
    pub sheet: Option<String>,
    /// The columns that no order depends on.
    pub ignored: Vec<String>,
    /// The columns with a name of their own for a key. The first of a name counts.
    pub named: Vec<NamedColumn>,
}

/// What a column of a name of its own means.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NamedColumn {
    /// The name of the column.
    pub name: String,
    /// The key of the job.
    pub key: String,
    /// The unit of cells that have none.
    pub unit: Option<String>,
    /// Words of the cells, and what they stand for.
    pub words: Vec<(String, String)>,
}

impl ColumnRules {
    /// What a column of that name means; `None` for one that nothing is known of.
    pub(super) fn of(&self, name: &str) -> Option<Meaning> {
        let is = |other: &str| is_same_name(other, name);
        if let Some(named) = self.named.iter().find(|column| is(&column.name)) {
            return Some(Meaning::Key(named.clone()));
        }
        if self.ignored.iter().any(|ignored| is(ignored)) {
            return Some(Meaning::Ignored);
        }
        let plain = [""].iter().chain(&COLUMNS).find(|key| is(key));
        let key = plain.copied().or(Some(name.trim()).filter(|name| is_dotted(name)))?;
        Some(Meaning::Key(NamedColumn { key: key.to_owned(), ..NamedColumn::default() }))
    }
}

/// What a column means.
pub(super) enum Meaning {
    Key(NamedColumn),
    Ignored,
}

impl NamedColumn {
    /// The value that a cell gives.
    pub(super) fn value(&self, cell: &str) -> String {
        if let Some((_, value)) =
            self.words.iter().find(|(word, _)| is_same_name(word, cell))
        {
            return value.clone();
        }
        if let Some(unit) = &self.unit
            && parse_length(&self.key, cell).is_err()
        {
            let with_unit = format!("{cell} {unit}");
            if parse_length(&self.key, &with_unit).is_ok() {
                return with_unit;
            }
        }
        cell.to_owned()
    }
}

/// Whether two names are one: case and outer blanks do not count.
pub fn is_same_name(name: &str, other: &str) -> bool {
    fold(name) == fold(other)
}

/// Whether a name is `table.key`, and not only a name with a point, such as `Tel. no`.
fn is_dotted(name: &str) -> bool {
    let is_letter = |c: char| c.is_alphanumeric() || c == '-' || c == '_';
    let is_part = |part: &str| !part.is_empty() && part.chars().all(is_letter);
    name.contains('.') && name.split('.').all(is_part)
}

fn fold(name: &str) -> String {
    name.trim().to_lowercase()
}

/// Whether a job has such a key, as far as its form tells.
pub(super) fn is_key(key: &str) -> bool {
    key.is_empty() || COLUMNS.contains(&key) || is_dotted(key)
}

/// A column that has a name and no meaning yet.
fn of_name(name: &str) -> NamedColumn {
    NamedColumn { name: name.to_owned(), ..NamedColumn::default() }
}

/// The name of a column without the unit at its end: `Waist in`, `Width (mm)`.
fn without_unit(name: &str) -> (&str, Option<&'static str>) {
    let name = name.trim().trim_end_matches([')', ']', '.']);
    let of_unit = |unit: &&str| {
        let rest = name.len().checked_sub(unit.len())?;
        let (bare, end) = name.split_at_checked(rest)?;
        let is_apart = bare.ends_with(|c: char| !c.is_alphanumeric());
        (is_apart && end.eq_ignore_ascii_case(unit)).then_some(bare)
    };
    let unit = ["mm", "cm", "in"].into_iter().find_map(|u| Some((of_unit(&u)?, Some(u))));
    unit.unwrap_or((name, None))
}

/// The key that an office most likely means by the name of a column, in the languages of the
/// sheets.
pub(super) fn guess(name: &str) -> Option<&'static str> {
    guess_of(name).or_else(|| {
        // `Belt width`, `Order no`: two words that belong together.
        let (first, second) = name.trim().split_once([' ', '-', '_'])?;
        let key = guess_of(second)?;
        let is_one = match fold(first).as_str() {
            "belt" | "strap" | "collar" => ![ORDER, "wearer", "template"].contains(&key),
            "order" => key == ORDER,
            "customer" => key == "wearer" && fold(second) == "name",
            "leather" => key == "strap.thickness",
            _ => false,
        };
        is_one.then_some(key)
    })
}

fn guess_of(name: &str) -> Option<&'static str> {
    let name = fold(name);
    Some(match name.trim_matches(|c: char| !c.is_alphanumeric()) {
        "order" | "no" | "nr" | "number" | "id" | "auftrag" | "auftragsnr" | "n"
        | "auftragsnummer" | "bestellung" | "commande" | "numéro" | "pedido" | "núm"
        | "número" | "ordine" | "numero" | "zamówienie" | "numer" => ORDER,
        "for" | "name" | "who" | "person" | "customer" | "kunde" | "kundin"
        | "client" | "nom" | "cliente" | "nombre" | "nome" | "klient" | "nazwisko" => {
            "wearer"
        }
        "strap" | "item" | "kind" | "what" | "artikel" | "riemen" | "article"
        | "courroie" | "artículo" | "correa" | "articolo" | "cinghia" | "artykuł"
        | "pasek" => "template",
        "waist" | "neck" | "girth" | "size" | "measure" | "bundweite" | "umfang"
        | "maß" | "größe" | "taille" | "tour de taille" | "mesure" | "cintura"
        | "contorno" | "medida" | "talla" | "misura" | "girovita" | "obwód" | "miara"
        | "rozmiar" => "measure.value",
        "width" | "breite" | "largeur" | "ancho" | "larghezza" | "szerokość" => {
            "strap.width"
        }
        "thickness" | "stärke" | "lederstärke" | "épaisseur" | "grosor" | "spessore"
        | "grubość" => "strap.thickness",
        "leather" | "leder" | "cuir" | "cuero" | "cuoio" | "skóra" => "strap.leather",
        "buckle" | "schnalle" | "boucle" | "hebilla" | "fibbia" | "klamra" => {
            "buckle.hardware"
        }
        _ => return None,
    })
}

/// The columns of these names as an office most likely means them; the keys `taken` are other
/// columns.
pub(super) fn guessed(names: &[&str], mut taken: Vec<&str>) -> Vec<Column> {
    let mut keys = vec![None; names.len()];
    // A name that is a word of its own comes before two words.
    for guess in [guess_of, guess] {
        for (key, name) in keys.iter_mut().zip(names).filter(|(key, _)| key.is_none()) {
            *key = guess(without_unit(name).0).filter(|key| !taken.contains(key));
            taken.extend(*key);
        }
    }
    let column = |(name, key): (&&str, Option<&str>)| {
        let unit = without_unit(name).1.map(ToOwned::to_owned);
        let meaning =
            |key: &str| NamedColumn { key: key.to_owned(), unit, ..of_name(name) };
        Column { name: (*name).to_owned(), means: key.map(meaning), range: 0..0 }
    };
    names.iter().zip(keys).map(column).collect()
}

/// The finding on columns that nothing is known of, in a table with `separator`, with what they
/// most likely are.
pub(super) fn unknown(guessed: &[Column], separator: &str, span: Span) -> Finding {
    let more = match guessed.len().saturating_sub(MOST_NAMED) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    let (mut keys, mut ignored, mut all) = (Vec::new(), Vec::new(), Vec::new());
    for Column { name, means, .. } in guessed.iter().take(MOST_NAMED) {
        let name = quoted(name);
        match means {
            Some(NamedColumn { key, unit: Some(unit), .. }) => {
                keys.push(format!("{name} = {{ key = \"{key}\", unit = \"{unit}\" }}"));
            }
            Some(NamedColumn { key, .. }) => keys.push(format!("{name} = \"{key}\"")),
            None => ignored.push(name.clone()),
        }
        all.push(name);
    }
    let columns =
        (!keys.is_empty()).then(|| format!("columns = {{ {} }}", keys.join(", ")));
    let ignore =
        (!ignored.is_empty()).then(|| format!("ignore = [{}]", ignored.join(", ")));
    let lines: Vec<String> = columns.into_iter().chain(ignore).collect();
    let what =
        if guessed.len() == 1 { "a column is no key" } else { "columns are no keys" };
    Finding::error(rule::ORDERS_COLUMN, format!("{what} of a job"))
        .at(Some(span))
        .expected(
            format!("{}{more}{separator}", all.join(", ")),
            "keys, named columns or ignored ones",
        )
        .remedy(format!(
            "say in strapwright.toml which keys they are, and ignore the others: [orders] with {}",
            lines.join(", and ")
        ))
        .flag("or --column NAME=KEY, --ignore NAME")
}
