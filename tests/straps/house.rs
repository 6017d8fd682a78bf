//! Hardware and leather that a job calls by the name of a workshop.

use strapwright::diagnostic::{Severity, Style, text};
use strapwright::export::marks_csv::marks;
use strapwright::geom::Length;
use strapwright::layout::{Layout, Piece};
use strapwright::template::{BuiltIn, Missing, REGISTER, TemplateLoader, Text};
use strapwright::words::Wording;
use strapwright::{Prepared, prepare, prepare_from};
use toml::{Table, Value};

const PROFILE: &str = "\
[hardware.brass-heel-bar-40]
hardware = \"buckle\"
bar = \"4.5 mm\"
reach = \"29.5 mm\"
inside = \"40 mm\"
tongue = \"4 mm\"
note = \"drawer 3\"
[hardware]
welded-ring-25 = { hardware = \"ring\", bar = \"4 mm\", inside = \"25 mm\" }
half = { hardware = \"buckle\", bar = \"6 mm\" }
old-buckle = { hardware = \"buckle\", bar = \"6 mm\", frame = \"50 mm\" }
[leather]
\"bridle 9 oz\" = { thickness = \"9 oz\", k = 0.4 }
";
const BELT: &str = "template = \"belt\"\nmeasure.value = \"34 in\"\n";

/// The templates of the program, one of a house, and the profile.
struct House(Vec<Text>);

impl House {
    fn new(profile: &str) -> Self {
        let text = profile.to_owned().into();
        Self(vec![Text {
            name: "strapwright.toml".into(),
            text,
            path: Some("strapwright.toml".into()),
        }])
    }
}

impl TemplateLoader for House {
    fn find(&self, name: &str, by: Option<&Text>) -> Result<Text, Missing> {
        if name != "house-belt" {
            return BuiltIn.find(name, by);
        }
        let text = "template = \"belt\"\n[buckle]\nhardware = \"old-buckle\"\nreach = \"33 mm\"\n";
        let path = Some("house-belt.toml".into());
        Ok(Text { name: "house-belt.toml".into(), text: text.into(), path })
    }

    fn profiles(&self) -> &[Text] {
        &self.0
    }

    fn names(&self) -> Vec<String> {
        BuiltIn.names()
    }
}

fn run(job: &str, sets: &[&str]) -> Prepared {
    let sets: Vec<String> = sets.iter().map(|s| (*s).to_owned()).collect();
    prepare_from("job.toml", job, &sets, &House::new(PROFILE))
}

fn shown(run: &Prepared) -> String {
    text(&run.findings, &run.sources, Style::Plain)
}

/// The same layout as with the measures in place of the name.
fn assert_same(job: &str, sets: &[&str], spelt: &str) {
    let run = run(job, sets);
    let findings = shown(&run);
    let (_, fit, layout) = run.laid.unwrap_or_else(|| unreachable!("{findings}"));
    let spelt = prepare("job.toml", spelt, &[]).laid.expect("laid out");
    assert_eq!((fit, drawn(&layout)), (spelt.1, drawn(&spelt.2)), "{job}{findings}");
}

/// All that is cut and punched, whichever line asked for it.
fn drawn(layout: &Layout) -> (String, Vec<String>) {
    let outline = |piece: &Piece| format!("{:?} {:?}", piece.outline, piece.extent);
    (marks(layout), layout.pieces.iter().map(outline).collect())
}

#[test]
fn a_name_stands_for_its_measures() {
    let named = format!("{BELT}buckle.hardware = \"brass-heel-bar-40\"\n");
    let spelt = format!(
        "{BELT}buckle.bar = \"4.5 mm\"\nbuckle.reach = \"29.5 mm\"\n\
         buckle.inside = \"40 mm\"\nbuckle.tongue = \"4 mm\"\n"
    );
    assert_same(&named, &[], &spelt);
    // What the same text gives wins; a --set is a text over the job.
    let reach = format!("{spelt}buckle.frame = \"36 mm\"\n").replace("29.5", "31");
    assert_same(
        &format!("{named}buckle.reach = \"31 mm\"\nbuckle.frame = \"36 mm\"\n"),
        &[],
        &reach,
    );
    let own = format!("{BELT}buckle.reach = \"31 mm\"\nbuckle.bar = \"9 mm\"\n");
    assert_same(&own, &["buckle.hardware=brass-heel-bar-40"], &spelt);
    // The buckle of a house template falls away whole: its frame is the belt's again.
    let over = named.replace("\"belt\"", "\"house-belt\"");
    assert_same(&over, &[], &spelt);
    let other = BELT.replace("\"belt\"", "\"house-belt\"");
    let old = format!(
        "{BELT}buckle.bar = \"6 mm\"\nbuckle.frame = \"50 mm\"\nbuckle.reach = \"33 mm\"\n"
    );
    assert_same(&other, &[], &old);
    // One that says less takes nothing from a buckle that was measured below it, whoever did:
    // what it does not say is the belt's, and told as assumed.
    let half = format!("{BELT}buckle.bar = \"6 mm\"\n");
    let named_half = "buckle.hardware = \"half\"\n";
    assert_same(&format!("{BELT}{named_half}"), &[], &half);
    assert_same(&format!("{other}{named_half}"), &[], &half);
    let measured = format!("{BELT}buckle.reach = \"33 mm\"\n");
    assert_same(&measured, &["buckle.hardware=half"], &half);
    let assumed = strapwright::ticket::assumed(
        &run(&format!("{other}{named_half}"), &[]).laid.expect("laid out").0,
        Wording::default(),
    );
    assert!(assumed.is_some_and(|line| line.contains("buckle.reach 30 mm")));
    // So does the kind alone: a buckle of one's own.
    let kind = "buckle.hardware = \"buckle\"\nbuckle.bar = \"6 mm\"\n";
    assert_same(&format!("{other}{kind}"), &[], &half);
    let leather = format!("{BELT}strap.leather = \"bridle 9 oz\"\n");
    assert_same(
        &leather,
        &[],
        &format!("{BELT}strap.thickness = \"9 oz\"\nstrap.k = 0.4\n"),
    );
    let lined = "template = \"lined-belt\"\nmeasure.value = \"34 in\"\n";
    let lining = format!("{lined}lining.leather = \"bridle 9 oz\"\n");
    assert_same(
        &lining,
        &[],
        &format!("{lined}lining.thickness = \"9 oz\"\nlining.k = 0.4\n"),
    );
    // The sheets say what it was drawn for.
    let (job, fit, layout) = run(&named, &[]).laid.expect("laid out");
    let heading = strapwright::paginate::Heading::new(&job, fit.as_ref(), &layout);
    assert!(
        heading.note.iter().any(|n| n == "buckle: brass-heel-bar-40"),
        "{:?}",
        heading.note
    );
    let (fit, wording) = (fit.as_ref(), Wording::default());
    let input =
        strapwright::ticket::TicketInput { job: &job, fit, layout: &layout, wording };
    let said = strapwright::ticket::text(&strapwright::ticket::ticket(&input));
    assert!(said.contains("buckle: brass-heel-bar-40"), "{said}");
}

#[test]
fn what_is_wrong_with_a_name_is_told_at_its_line() {
    for (lines, rule, severity, words) in [
        (
            "buckle.hardware = \"brass-heelbar-40\"",
            "unknown-hardware",
            Severity::Error,
            "did you mean `brass-heel-bar-40`?",
        ),
        (
            "buckle.hardware = \"welded-ring-25\"",
            "hardware-kind",
            Severity::Error,
            "`welded-ring-25` is a ring; `buckle` is a buckle",
        ),
        (
            "strap.leather = \"bridle 8 oz\"",
            "unknown-leather",
            Severity::Error,
            "did you mean `bridle 9 oz`?",
        ),
        (
            "buckle.hardware = \"brass-heel-bar-40\"\n> buckle.reach = \"31 mm\"",
            "house-differs",
            Severity::Warning,
            "`29.5 mm`, as strapwright.toml:4 says",
        ),
        (
            "strap.leather = \"bridle 9 oz\"\n> strap.thickness = \"3 mm\"",
            "house-differs",
            Severity::Warning,
            "`9 oz`, as strapwright.toml:13 says",
        ),
    ] {
        let line = lines.lines().last().unwrap().trim_start_matches("> ");
        let job = format!("{BELT}{}\n", lines.replace("> ", ""));
        let run = run(&job, &[]);
        let found: Vec<_> =
            run.findings.iter().filter(|f| f.rule.as_str() == rule).collect();
        assert_eq!(found.len(), 1, "{lines}: {}", shown(&run));
        assert_eq!(found[0].severity, severity);
        let told = shown(&run);
        assert!(told.contains(words) && told.contains(line), "{told}");
        assert!(run.findings.len() <= 2, "{told}");
    }
    // The same measure in another unit is the same.
    let job =
        format!("{BELT}strap.leather = \"bridle 9 oz\"\nstrap.thickness = \"9/64 in\"\n");
    let run = run(&job, &[]);
    assert!(run.findings.is_empty(), "{}", shown(&run));
    // Without a profile no name is known.
    let lone = prepare("job.toml", &format!("{BELT}strap.leather = \"bridle\"\n"), &[]);
    assert!(shown(&lone).contains("no profile was read"), "{}", shown(&lone));
}

/// What a template reads of its hardware it reads of the object, so that another one moves
/// marks, girths and ticket alike, whatever the template calls its measures.
#[test]
fn templates_read_hardware_of_the_object() {
    let mut tried = 0;
    for template in REGISTER {
        let root: Table = template.text.parse().expect("a template");
        for (table, keys) in root.iter().filter_map(|(n, t)| Some((n, t.as_table()?))) {
            if !keys.contains_key("hardware") && table != "buckle" {
                continue;
            }
            for (key, other) in keys.iter().filter_map(|(k, v)| Some((k, v.as_str()?))) {
                let Some((far, name)) = other.split_once('.') else { continue };
                let own = root.get(far).and_then(|t| t.get(name)).and_then(Value::as_str);
                let Some(Ok(was)) = own.map(Length::parse) else { continue };
                let longer = was + Length::from_um(500);
                let made = |key: &str| {
                    let set = format!("{key}={longer}");
                    let job = format!("template = \"{}\"\n", template.name);
                    let (job, fit, layout) =
                        prepare("job.toml", &job, &[set]).laid.expect("laid out");
                    let serves = layout.serves(&job, fit.as_ref());
                    let wording = Wording::default();
                    let input = strapwright::ticket::TicketInput {
                        job: &job,
                        fit: fit.as_ref(),
                        layout: &layout,
                        wording,
                    };
                    let ticket = strapwright::ticket::ticket(&input);
                    let shown = strapwright::ticket::text(&ticket);
                    // What is only assumed differs: one of the two is given.
                    let lines = shown.lines().filter(|l| !l.contains("ssumed"));
                    let shown: Vec<String> = lines.map(ToOwned::to_owned).collect();
                    (drawn(&layout), fit, serves, shown)
                };
                assert_eq!(
                    made(&format!("{table}.{key}")),
                    made(other),
                    "{}: {table}.{key}",
                    template.name
                );
                tried += 1;
            }
        }
    }
    assert!(tried > 20, "{tried}");
}
