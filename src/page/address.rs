//! The address of a strap: all that a person said, as the dotted keys that `--set` takes, and
//! what the view shows. Back, reload and a bookmark bring the same strap.

use form_urlencoded::{Serializer, parse};
use maud::{Markup, html};

/// Most characters of a query, and most pairs in it: a strap has some 60 keys.
const MOST: (usize, usize) = (8_192, 200);

/// The state of a view.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Address {
    /// `/strap/belt`, without the view.
    pub(super) path: String,
    /// The keys of the job that were said, each with its text as it was typed.
    pub(super) said: Vec<(String, String)>,
    /// What is about the view alone: `unit`, `mark`, `paper`.
    view: Vec<(String, String)>,
}

/// Whether a key is one of the job: those of tables have one dot. Others are none, whatever their
/// characters would mean in TOML, so that an address names no template.
fn is_of_job(key: &str) -> bool {
    let is_plain = |part: &str| {
        let mut bytes = part.bytes();
        !part.is_empty()
            && bytes.all(|b| b.is_ascii_alphanumeric() || b == b'-' || b == b'_')
    };
    let dotted = key.split_once('.');
    dotted.is_some_and(|(table, name)| is_plain(table) && is_plain(name))
        || key == "title"
        || key == "wearer"
}

impl Address {
    /// Reads a query. `None` for one that is too long. A key that is given again replaces the
    /// value before it; an empty value is none.
    pub(super) fn read(path: &str, query: &str) -> Option<Self> {
        if query.len() > MOST.0 {
            return None;
        }
        let mut address = Self { path: path.to_owned(), ..Self::default() };
        for (n, (key, value)) in parse(query.as_bytes()).enumerate() {
            if n == MOST.1 {
                return None;
            }
            // Several of them stand in one form.
            if key == "said" {
                address.view.push((key.into_owned(), value.into_owned()));
            } else {
                address.set(&key, value.trim());
            }
        }
        Some(address)
    }

    fn list(&mut self, key: &str) -> &mut Vec<(String, String)> {
        if is_of_job(key) { &mut self.said } else { &mut self.view }
    }

    /// Gives a key a value, or takes it away where the value is empty.
    pub(super) fn set(&mut self, key: &str, value: &str) {
        let list = self.list(key);
        let own = list.iter_mut().find(|(k, _)| k == key);
        match own {
            _ if value.is_empty() => list.retain(|(k, _)| k != key),
            Some(own) => value.clone_into(&mut own.1),
            None => list.push((key.to_owned(), value.to_owned())),
        }
    }

    /// The same with another value of one key.
    pub(super) fn with(&self, key: &str, value: &str) -> Self {
        let mut other = self.clone();
        other.set(key, value);
        other
    }

    /// What was said of a key of the job or of the view.
    pub(super) fn get(&self, key: &str) -> Option<&str> {
        let list = if is_of_job(key) { &self.said } else { &self.view };
        list.iter().find(|(k, _)| k == key).map(|(_, value)| value.as_str())
    }

    /// The clean address of a form or a button, without the words that only they have: a value
    /// is said if it was said before or is not that of the template.
    /// `None` for an address that is clean already.
    pub(super) fn cleaned(
        &self,
        default: impl Fn(&str) -> Option<String>,
    ) -> Option<Self> {
        let words = ["form", "said", "set"];
        let is_clean = !self.view.iter().any(|(key, _)| words.contains(&key.as_str()));
        if is_clean {
            return None;
        }
        let mut clean = self.clone();
        clean.view.retain(|(key, _)| !words.contains(&key.as_str()));
        if self.get("form").is_some() {
            let was_said =
                |key: &String| self.view.iter().any(|(k, v)| k == "said" && v == key);
            let says = |(key, value): &(String, String)| {
                was_said(key) || default(key).as_deref() != Some(value)
            };
            clean.said.retain(says);
        }
        if let Some((key, value)) = self.get("set").and_then(|set| set.split_once('=')) {
            clean.set(key, value);
        }
        Some(clean)
    }

    /// The address of a view of the same strap: `print`, or empty for the strap itself.
    pub(super) fn link(&self, view: &str) -> String {
        let mut link = self.path.clone();
        if !view.is_empty() {
            link = link + "/" + view;
        }
        let pairs = self.said.iter().chain(&self.view);
        let query = Serializer::new(String::new()).extend_pairs(pairs).finish();
        if query.is_empty() { link } else { link + "?" + &query }
    }

    /// The pairs of the view that a form keeps as they are.
    pub(super) fn kept(&self) -> impl Iterator<Item = &(String, String)> {
        self.view
            .iter()
            .filter(|(key, _)| !["form", "said", "set", "mark"].contains(&&**key))
    }

    /// The strap in a form, without the keys that the form gives itself.
    pub(super) fn hidden(&self, own: &[&str]) -> Markup {
        html! {
            @for (key, value) in self.said.iter().chain(self.kept()) {
                @if !own.contains(&key.as_str()) {
                    input type="hidden" name=(key) value=(value);
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(query: &str) -> Address {
        Address::read("/strap/belt", query).unwrap()
    }

    #[test]
    fn a_link_brings_the_same_strap() {
        let text = "measure.value=34+1%2F2+in&strap.width=44&unit=mm";
        let address = read(text);
        assert_eq!(address.get("measure.value"), Some("34 1/2 in"));
        assert_eq!(address.link(""), format!("/strap/belt?{text}"));
        assert_eq!(read("").link("print"), "/strap/belt/print");
        assert!(Address::read("/", &"a.b=1&".repeat(201)).is_none());
        assert!(Address::read("/", &"a".repeat(9_000)).is_none());
    }

    #[test]
    fn a_form_says_what_differs_and_what_was_said() {
        let default = |_: &str| Some("4 mm".to_owned());
        let form = read("form=1&said=a.b&a.b=4+mm&c.d=4+mm&e.f=5+mm&title=");
        let clean = form.cleaned(default).unwrap();
        assert_eq!(clean.link(""), "/strap/belt?a.b=4+mm&e.f=5+mm");
        assert_eq!(clean.cleaned(default), None);
        let button = read("a.b=1+mm&set=a.b%3D4+mm").cleaned(default).unwrap();
        assert_eq!(button.link(""), "/strap/belt?a.b=4+mm");
    }
}
