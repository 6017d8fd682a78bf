//! The forms of values and tables.

use super::Properties;
use crate::job::Takes;
use serde_json::{Value, json};

/// A sum of lengths. A term has factors if any, a key or a length, and a divisor if any. Units
/// are words that begin like one that is read.
const SUM: &str = concat!(
    r"^(\s*((pi|[0-9.,/]+)\s+[x×]\s*)*",
    r"([A-Za-z][\w-]*\.[\w.-]+|[-−+]?(\s*[0-9¼-¾⅓-⅞][0-9¼-¾⅓-⅞.,/⁄\s-]*",
    r#"([CMcm]?[Mm]|[FIOfio][A-Za-z]+\.?|["″”'′’])){1,2})"#,
    r"(\s+/\s+[1-9][0-9]*)*\s*( [+-] (?!$)|$))+$",
);

/// A length below zero: what is added to one may bring it above.
const BELOW_ZERO: &str = r"^\s*[-−][^+]*$";

/// A length of nothing.
const ZERO: &str = r"^\s*[0.,]+\s*[^\s0-9.,+-]+\s*$";

/// The form of a value.
pub(super) fn form(takes: Takes) -> Value {
    // Beside a `$ref` of draft-07 nothing counts, so it stands in a list.
    let length = json!({ "$ref": "#/definitions/length" });
    let not = |pattern: &str| json!({ "not": { "pattern": pattern } });
    let text = json!({ "type": "string" });
    match takes {
        Takes::Any => json!({}),
        Takes::Text => json!({ "type": ["string", "number"] }),
        Takes::Truth => json!({ "type": "boolean" }),
        Takes::Ratio => json!({ "type": "number", "minimum": 0, "maximum": 1 }),
        Takes::Count(range) => {
            json!({ "type": "integer", "minimum": range.start(), "maximum": range.end() })
        }
        Takes::Words(words) => json!({ "enum": words }),
        Takes::Length => json!({ "allOf": [length] }),
        Takes::FromZero => json!({ "allOf": [length, not(BELOW_ZERO)] }),
        Takes::Size => json!({ "allOf": [length, not(BELOW_ZERO), not(ZERO)] }),
        Takes::Lengths => {
            json!({
                "anyOf": [length, { "type": "array", "items": length, "minItems": 1 }],
            })
        }
        Takes::Names => json!({ "type": ["string", "array"], "items": text }),
        Takes::NamesOrAll => {
            json!({ "type": ["string", "array", "boolean"], "items": text })
        }
        Takes::Table => json!({ "type": "object" }),
    }
}

/// The form of a length. Whether the keys of a sum are there, and what it comes to, the
/// program alone says.
pub(super) fn length() -> Value {
    json!({
        "type": "string",
        "pattern": SUM,
        "description": "a length with its unit, or a sum: 38 mm, 1 1/2 in, \
                        buckle.reach + 2.5 x strap.width",
    })
}

/// A table that has these keys and no other.
pub(super) fn closed(properties: &Properties) -> Value {
    table(properties, &false.into())
}

/// A table that has these keys, and others of one form.
pub(super) fn table(properties: &Properties, others: &Value) -> Value {
    json!({ "type": "object", "properties": properties, "additionalProperties": others })
}
