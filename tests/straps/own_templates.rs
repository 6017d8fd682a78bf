//! Templates that are not the program's own: found on a shelf, laid over each other, with
//! their mistakes in their own text.

use crate::common::{line, rules};
use strapwright::diagnostic::{Finding, Severity};
use strapwright::geom::Length;
use strapwright::job::{self, ParsedJob, read_template};
use strapwright::template::{BuiltIn, Missing, TemplateLoader, Text, about_chain};
use strapwright::{Prepared, prepare_from};

/// Texts by their names; the program's templates come after them.
struct Own(Vec<(&'static str, String)>);

impl TemplateLoader for Own {
    fn find(&self, name: &str, by: Option<&Text>) -> Result<Text, Missing> {
        if name == "burnt" {
            return Err(Missing::Unreadable { why: "it is ash".to_owned() });
        }
        if name.contains("file") {
            return Err(Missing::NoFile { path: format!("shelf/{name}") });
        }
        match self.0.iter().find(|(own, _)| *own == name) {
            Some((own, text)) => Ok(Text {
                name: format!("own {own}"),
                text: text.clone().into(),
                path: Some(format!("{own}.toml").into()),
            }),
            None => BuiltIn.find(name, by),
        }
    }

    fn names(&self) -> Vec<String> {
        let own = self.0.iter().map(|(name, _)| (*name).to_owned());
        own.chain(BuiltIn.names()).collect()
    }
}

fn loader(texts: &[(&'static str, &str)]) -> Own {
    Own(texts.iter().map(|(name, text)| (*name, (*text).to_owned())).collect())
}

/// The jobs here give no measure, for brevity, and the warning that says so is left out.
fn made(job: &str, loader: &Own) -> Prepared {
    let mut done = prepare_from("job", job, &[], loader);
    done.findings.retain(|f| f.rule.as_str() != "measure-not-given");
    done
}

const WIDE: &str = "template = \"belt\"\ntitle = \"Wide belt\"\n[strap]\nwidth = \"44 mm\"\n\
    [buckle]\ninside = \"46 mm\"\n";

#[test]
fn templates_lie_over_each_other_and_the_job_over_all() {
    let pirate =
        "template = \"wide\"\n[strap]\nthickness = \"4 mm\"\n[fittings]\ncount = 3\n";
    let loader = loader(&[("wide", WIDE), ("pirate", pirate)]);
    let done = made("template = \"pirate\"\n[fittings]\ncount = 5\n", &loader);
    assert_eq!(rules(&done.findings), Vec::<&str>::new());
    let (job, _, layout) = done.laid.as_ref().unwrap();
    assert_eq!(job.template, "pirate");
    assert_eq!(job.title.value.as_str(), "Wide belt", "of the lower of the two");
    assert_eq!(job.strap.width.value, Length::from_mm(44));
    assert_eq!(job.strap.thickness.value, Length::from_mm(4));
    let marks = layout.strap().unwrap().marks.iter();
    let fittings = marks.filter(|m| layout.feature(m).as_str() == "fittings");
    assert_eq!(fittings.count(), 5, "of the job");
}

#[test]
fn a_slip_in_an_own_template_is_found_there() {
    let slip = WIDE.replace("inside", "insid");
    let loader = loader(&[("wide", &slip)]);
    let done = made("template = \"wide\"\n[strap]\nwidth = \"38 mm\"\n", &loader);
    assert_eq!(rules(&done.findings), ["unknown-key"]);
    let at = Some(("own wide", "insid = \"46 mm\""));
    assert_eq!(line(&done.sources, &done.findings[0]), at);
    assert_eq!(done.findings[0].remedy, "did you mean `inside`?");
    // What is wrong with a value is found there too.
    let loader = self::loader(&[("wide", &WIDE.replace("44 mm", "60 mm"))]);
    let done = made("template = \"wide\"", &loader);
    assert_eq!(rules(&done.findings), ["strap-to-buckle"]);
    assert_eq!(line(&done.sources, &done.findings[0]).unwrap().0, "own wide");
}

/// A copy of a template is no job yet, and the words say what is lacking.
#[test]
fn a_template_is_no_job() {
    let copy = strapwright::template::find("belt").unwrap().text;
    let done = made(copy, &loader(&[]));
    assert_eq!(rules(&done.findings), ["missing-key"]);
    assert!(done.findings[0].remedy.contains("template itself"), "{:?}", done.findings);
}

/// What lies over a template may make its keys idle; that is nobody's slip.
#[test]
fn an_idle_key_of_an_own_template_is_no_slip() {
    let own = "template = \"belt\"\n[end]\nroom = \"85 mm\"\n[tip]\nby = \"end.room\"\n";
    let over = "template = \"own\"\n[tip]\nby = \"90 mm\"\n";
    let loader = loader(&[("own", own), ("over", over)]);
    for job in [
        "template = \"own\"",
        "template = \"over\"",
        "template = \"own\"\ntip.by = \"3 in\"",
    ] {
        assert_eq!(rules(&made(job, &loader).findings), Vec::<&str>::new(), "{job}");
    }
    // A table that only a job reads is no slip either.
    let loader =
        self::loader(&[("own", "template = \"belt\"\n[end]\nroom = \"85 mm\"\n")]);
    let reads = made("template = \"own\"\ntip.by = \"end.room\"", &loader);
    assert_eq!(rules(&reads.findings), Vec::<&str>::new());
    assert_eq!(rules(&made("template = \"own\"", &loader).findings), ["unknown-key"]);
}

#[test]
fn a_template_that_cannot_be_had_is_found_where_it_is_named() {
    let chain: Vec<(&'static str, String)> =
        ["t0", "t1", "t2", "t3", "t4", "t5", "t6", "t7"]
            .iter()
            .zip(1..)
            .map(|(name, next)| (*name, format!("template = \"t{next}\"")))
            .chain([("t8", String::new()), ("a", "template = \"b\"".to_owned())])
            .chain([("b", "title = \"B\"\ntemplate = \"a\"".to_owned())])
            .chain([("c", "template = \"burnt\"".to_owned())])
            .chain([("d", "strap.width = 38 mm\n".to_owned())])
            .chain([("e", "template = 3\n".to_owned())])
            .collect();
    let loader = Own(chain);
    for (name, rule, span, found) in [
        ("wid", "unknown-template", "job", "`wid`"),
        ("file x", "unknown-template", "job", "no file shelf/file x"),
        ("burnt", "unread-template", "job", "it is ash"),
        ("c", "unread-template", "own c", "it is ash"),
        ("a", "template-cycle", "own b", "own a -> own b -> own a"),
        ("t0", "template-cycle", "own t7", "own t0 -> own t1"),
        ("d", "job-syntax", "own d", ""),
        ("e", "unknown-template", "own e", "`3`"),
    ] {
        let done = made(&format!("template = \"{name}\""), &loader);
        assert_eq!(rules(&done.findings)[0], rule, "{name}");
        assert_eq!(line(&done.sources, &done.findings[0]).unwrap().0, span, "{name}");
        assert!(done.findings[0].found.contains(found), "{name}: {:?}", done.findings[0]);
        assert!(done.laid.is_none(), "{name}");
    }
    // One less than too many.
    assert_ne!(rules(&made("template = \"t1\"", &loader).findings)[0], "template-cycle");
}

const LIMITS: &str = "template = \"belt\"\n[about.limits]\n\
    \"strap.width\" = { from = \"36 mm\", to = \"buckle.inside - 1 mm\", source = \"our rack\" }\n\
    \"size-holes.outside\" = { to = 4 }\n\
    \"strap.k\" = { from = 0.3, weight = \"error\" }\n";

#[test]
fn values_beyond_the_limits_of_their_template_are_found() {
    let loader = loader(&[("own", LIMITS)]);
    for (value, weight, found, required, remedy) in [
        ("strap.width = \"39 mm\"", None, "", "", ""),
        ("strap.width = \"36 mm\"", None, "", "", ""),
        ("size-holes.outside = 4", None, "", "", ""),
        ("strap.k = 0.3", None, "", "", ""),
        (
            "strap.width = \"39.5 mm\"",
            Some(Severity::Warning),
            "39.5 mm",
            "to 39 mm (~1 17/32 in) (our rack)",
            "about.limits.\"strap.width\".to = \"39.5 mm\"",
        ),
        (
            "strap.width = \"35.5 mm\"",
            Some(Severity::Warning),
            "35.5 mm",
            "36 mm",
            "about.limits.\"strap.width\".from = \"35.5 mm\"",
        ),
        ("size-holes.outside = 5", Some(Severity::Warning), "5", "at most 4", ".to = 5"),
        ("strap.k = 0.25", Some(Severity::Error), "0.25", "at least 0.3", ".from = 0.25"),
    ] {
        let done = made(&format!("template = \"own\"\n{value}\n"), &loader);
        let own: Vec<&Finding> =
            done.findings.iter().filter(|f| f.rule.as_str() == "out-of-limits").collect();
        let Some(weight) = weight else {
            assert!(own.is_empty(), "{value}: {own:?}");
            continue;
        };
        assert_eq!((own.len(), own[0].severity), (1, weight), "{value}");
        assert_eq!(line(&done.sources, own[0]), Some(("job", value)));
        assert!(own[0].found.starts_with(found), "{value}: {}", own[0].found);
        assert!(own[0].required.contains(required), "{value}: {}", own[0].required);
        assert!(own[0].remedy.ends_with(remedy), "{value}: {}", own[0].remedy);
        // What the remedy says does: the job may widen the limits of its template.
        let (_, widened) = own[0].remedy.split_once("job: ").unwrap();
        let done = made(&format!("template = \"own\"\n{value}\n{widened}\n"), &loader);
        assert!(
            !rules(&done.findings).contains(&"out-of-limits"),
            "{value}: {:?}",
            rules(&done.findings)
        );
    }
    // A rule says more of a value than limits do, and one word of it is enough.
    let narrow = made("template = \"own\"\nstrap.width = \"29 mm\"\n", &loader);
    assert_eq!(rules(&narrow.findings), ["strap-to-buckle"]);
}

#[test]
fn wrong_limits_are_found_where_they_stand() {
    for (limit, rule, found) in [
        ("\"strap.widht\" = { to = \"1 m\" }", "unknown-reference", "`strap.widht`"),
        ("\"strap.width\" = { to = 40 }", "bad-length", "the bare number 40"),
        ("\"strap.k\" = { to = \"40 mm\" }", "bad-value", "`40 mm`"),
        ("\"strap.width\" = { top = \"40 mm\" }", "unknown-key", "`top`"),
        ("\"strap.width\" = \"40 mm\"", "bad-value", "`40 mm`"),
        (
            "\"strap.width\" = { to = \"strap.widht\" }",
            "unknown-reference",
            "`strap.widht`",
        ),
        ("\"strap.width\" = { weight = \"grave\" }", "bad-value", "`grave`"),
    ] {
        let text = format!("template = \"belt\"\n[about.limits]\n{limit}\n");
        let loader = loader(&[("own", &text)]);
        let done = made("template = \"own\"", &loader);
        assert_eq!(rules(&done.findings), [rule], "{limit}");
        let at = Some(("own own", limit));
        assert_eq!(line(&done.sources, &done.findings[0]), at);
        assert_eq!(done.findings[0].found, found, "{limit}");
    }
}

/// What is said of a key that there is not is a slip: the words would describe nothing.
#[test]
fn a_key_that_is_described_is_there() {
    for (key, slips) in [
        ("strap.width", false),
        ("slot.extra", false),
        // It may be told, though the template has no value of it.
        ("stock.sizes", false),
        ("blank.length", false),
        ("size-holes.across", false),
        ("strap.widht", true),
        ("slto.extra", true),
        ("size-holes.count", true),
        ("width", true),
    ] {
        let described = format!("\"{key}\" = \"what it is\"");
        let text = format!("{WIDE}[slot]\nextra = \"2 mm\"\n[about.keys]\n{described}\n");
        let loader = loader(&[("wide", &text)]);
        let job = "template = \"wide\"\ntip.by = \"slot.extra + 80 mm\"";
        let done = made(job, &loader);
        let wanted: &[&str] = if slips { &["unknown-key"] } else { &[] };
        assert_eq!(rules(&done.findings), wanted, "{key}");
        if slips {
            assert_eq!(
                line(&done.sources, &done.findings[0]),
                Some(("own wide", described.as_str()))
            );
        }
    }
    // Every template of the program may be taken for an own one as it is, whose unread keys are
    // found.
    for template in strapwright::template::REGISTER {
        let loader = loader(&[("own", template.text)]);
        let done = made("template = \"own\"", &loader);
        assert_eq!(rules(&done.findings), Vec::<&str>::new(), "{}", template.name);
    }
}

/// A template says of itself what lies below it too, and is read without a job.
#[test]
fn what_a_pile_can_be_told_is_told() {
    let text = format!("{WIDE}[about]\nsummary = \"Ours\"\n[slot]\nextra = \"2 mm\"\n");
    let loader = loader(&[("wide", &text)]);
    let chain = read_template("wide", &loader);
    let places: Vec<&str> = chain.texts.iter().map(|t| t.name.as_str()).collect();
    assert_eq!(places, ["template belt", "own wide"]);
    let slips: Vec<&str> = chain.findings.iter().map(|f| f.found.as_str()).collect();
    assert_eq!(slips, ["`slot`"]);
    let texts: Vec<&str> = chain.texts.iter().map(|t| t.text.as_ref()).collect();
    let about = about_chain(&texts);
    assert_eq!(about.summary, "Ours");
    let key = |name: &str| about.keys.iter().find(|k| k.name == name).unwrap();
    assert_eq!(key("strap.width").default.as_deref(), Some("\"44 mm\""));
    assert!(key("strap.width").what.starts_with("width of the strap"));
    assert_eq!(
        key("strap.width").limits.as_ref().unwrap().from.as_deref(),
        Some("12 mm")
    );
    assert_eq!(key("slot.extra").what, "");
    assert!(key("tip.shape").of_feature && !key("slot.extra").of_feature);
}

/// The short way knows the program's templates and no others.
#[test]
fn without_a_shelf_only_carried_templates_are_known() {
    let ParsedJob { job, findings, .. } =
        job::read("job", "template = \"x/y.toml\"", &[]);
    assert!(job.is_none());
    assert_eq!(findings[0].rule.as_str(), "unknown-template");
}
