//! The schema of the job language: what an editor says of jobs that are as they should be, and
//! of those that are not.

use crate::common::samples;
use crate::{broken_jobs, sane_jobs};
use jsonschema::Validator;
use std::collections::BTreeMap;
use strapwright::diagnostic::forbids_print;
use strapwright::geom::Length;
use strapwright::{job, schema, template};

/// A text as a JSON value; `None` where it is no TOML.
fn json(text: &str) -> Option<serde_json::Value> {
    let table: toml::Table = text.parse().ok()?;
    Some(serde_json::to_value(table).unwrap())
}

/// The schema of all jobs and templates.
fn of_all() -> Validator {
    jsonschema::draft7::new(&schema::schema()).unwrap()
}

/// The schemas of the jobs of each template.
fn of_templates() -> BTreeMap<&'static str, Validator> {
    let of = |name| {
        let chain = job::read_template(name, &template::BuiltIn);
        let texts: Vec<&str> = chain.texts.iter().map(|t| t.text.as_ref()).collect();
        jsonschema::draft7::new(&schema::schema_of(&texts)).unwrap()
    };
    template::REGISTER.iter().map(|t| (t.name, of(t.name))).collect()
}

/// Checks that a schema finds nothing in a text.
fn allows(schema: &Validator, text: &str) {
    let value = json(text).unwrap();
    let found = schema.iter_errors(&value);
    let found: Vec<String> =
        found.map(|e| format!("{}: {e}", e.instance_path())).collect();
    assert!(found.is_empty(), "{found:?}\n{text}");
}

#[test]
fn templates_sample_jobs_and_sane_jobs_are_allowed() {
    let (all, of) = (of_all(), of_templates());
    for template in template::REGISTER {
        allows(&all, template.text);
    }
    let samples = samples::jobs();
    assert!(samples.len() > 20, "{}", samples.len());
    for (_, text) in samples {
        allows(&all, &text);
        let root: toml::Table = text.parse().unwrap();
        if let Some(of) = of.get(root["template"].as_str().unwrap()) {
            allows(of, &text);
        }
    }
    for (template, text) in sane_jobs::all() {
        allows(&all, &text);
        allows(&of[template], &text);
    }
}

/// Most broken jobs have the right form: what is wrong is the strap.
#[test]
fn broken_jobs_of_a_wrong_form_are_refused() {
    let (all, of) = (of_all(), of_templates());
    let texts = broken_jobs::texts();
    let values: Vec<_> =
        texts.filter_map(|(template, text)| Some((template, json(&text)?))).collect();
    let by_all = values.iter().filter(|(_, value)| !all.is_valid(value)).count();
    let by_own = values.iter().filter(|(template, value)| {
        of.get(template).is_some_and(|own| !own.is_valid(value))
    });
    let by_own = by_own.count();
    assert!(by_all >= 48 && by_own >= 55, "{by_all}, {by_own}");
}

/// Each key of each template misspelt, or with a value that no key takes: what the schema
/// refuses, the program refuses too, and none of these gets past either.
#[test]
fn misspelt_keys_and_wrong_values_are_refused() {
    let (all, of) = (of_all(), of_templates());
    let (mut count, mut by_all) = (0, 0);
    for template in template::REGISTER {
        let root: toml::Table = template.text.parse().unwrap();
        let tables = root.iter().filter(|(name, _)| *name != "about");
        let keys = tables.filter_map(|(name, table)| Some((name, table.as_table()?)));
        for (table, (key, value)) in
            keys.flat_map(|(name, table)| table.iter().map(move |key| (name, key)))
        {
            for line in [
                format!("{table}.{key}x = {value}"),
                format!("{table}.{key} = [1, 2]"),
                format!("{table}.{key} = {{ x = \"1 mm\" }}"),
            ] {
                let text = format!("template = \"{}\"\n{line}\n", template.name);
                let value = json(&text).unwrap();
                assert!(!of[template.name].is_valid(&value), "{text}");
                let findings = job::read("job.toml", &text, &[]).findings;
                assert!(forbids_print(&findings), "{text}");
                count += 1;
                by_all += usize::from(!all.is_valid(&value));
            }
        }
    }
    assert!(count >= 4_000 && by_all >= 3_400, "{count}, {by_all}");
}

/// The pattern of a length against its reader.
#[test]
fn lengths_are_told_from_other_texts() {
    let all = of_all();
    let allowed =
        |text: &str| all.is_valid(&serde_json::json!({ "watch": { "a": text } }));
    for text in [
        "34 in",
        "34in",
        "34 1/2\"",
        "34 ½ in",
        "34½″",
        "¾ inch",
        "1-1/4 IN",
        "865 mm",
        "876,3 mm",
        "1.5 m",
        "86.5 Cm",
        "2 ft 10 1/2 in",
        "6' 2\"",
        "-3 mm",
        "+3 mm",
        "9 oz",
        "8 irons",
        " 34 in ",
    ] {
        assert!(Length::parse_thickness(text).is_ok(), "{text}");
        assert!(allowed(text), "{text}");
    }
    for text in ["", " ", "34", "four mm", "34 zoll", "34 in 1/2", "mm", "1 yd", "34 mmm"]
    {
        assert!(Length::parse_thickness(text).is_err(), "{text}");
        assert!(!allowed(text), "{text}");
    }
    for text in [
        "strap.width",
        "strap.width / 2",
        "2.5 x strap.width - 1 in",
        "pi x 3 mm / 2",
        "3 mm + pi x buckle.bar",
        "1 in + turn-back.take-up",
    ] {
        assert!(allowed(text), "{text}");
    }
    for text in ["strap", "strap.width +", "strap.width+1 mm", "2 strap.width", "(1 mm)"]
    {
        assert!(!allowed(text), "{text}");
    }
}
