//! The print view: the sheets as they come out, and the files to save.

use super::say::{count, say, say_with};
use super::strap::Strap;
use super::workshop::NO_PRINTER;
use super::{Answer, Workshop, frame};
use crate::Laid;
use crate::diagnostic::{Finding, forbids_print};
use crate::export::{FORMATS, Format, PDF, Writes, svg};
use crate::fit::MeasurementUncertainty;
use crate::paginate::{Paper, ReusedSheet, SheetSet};
use crate::print::{PrintSetup, draw, paginate_after, paginate_job};
use crate::printer::ParsedPrinter;
use crate::ticket::{TicketInput, text, ticket};
use crate::words::{Language, Units, Wording};
use maud::{Markup, html};

/// How the sheets are made: as the address says, else as the profile does.
pub(super) struct Setup {
    pub(super) print: PrintSetup,
    pub(super) has_ticket: bool,
    /// What is wrong with the printer, or with it on this paper.
    pub(super) findings: Vec<Finding>,
}

impl Setup {
    pub(super) fn read<'a>(
        workshop: &Workshop,
        said: impl Fn(&str) -> Option<&'a str>,
    ) -> Self {
        let get = |key| said(key).unwrap_or_default();
        let profile = &workshop.profile;
        let language = Language::from_code(get("language"));
        let language = language.unwrap_or(profile.wording().language);
        let wording = Wording { language, units: units(workshop, get("units")) };
        let ParsedPrinter { printer, mut findings } = workshop.printer(get("printer"));
        let house = || profile.paper.as_ref().map(|given| given.value.clone());
        let paper = Paper::parse(get("paper")).ok().or_else(house);
        let measuring = MeasurementUncertainty::default();
        let (print, finding) = PrintSetup::new(paper, printer, measuring, wording);
        findings.extend(finding);
        let has_ticket = match get("ticket") {
            "yes" => true,
            "no" => false,
            _ => profile.has_ticket(),
        };
        Self { print, has_ticket, findings }
    }

    pub(super) fn of(workshop: &Workshop, strap: &Strap<'_>) -> Self {
        Self::read(workshop, |key| strap.address.get(key))
    }

    /// The sheets of a strap, with its ticket if that is wanted.
    pub(super) fn sheets(&self, laid: &Laid) -> Result<SheetSet, Vec<Finding>> {
        self.sheets_after(laid, None, Vec::new(), self.has_ticket)
    }

    /// The sheets of a strap that use those of an earlier print again, `reused` among them.
    pub(super) fn sheets_after(
        &self,
        laid: &Laid,
        last: Option<&SheetSet>,
        reused: Vec<ReusedSheet>,
        with_ticket: bool,
    ) -> Result<SheetSet, Vec<Finding>> {
        if forbids_print(&self.findings) {
            return Err(self.findings.clone());
        }
        let options = self.print.print_options(with_ticket);
        paginate_after(laid, &options, last, reused).map_err(|finding| vec![*finding])
    }
}

/// The units that come first: those of an address, else those of the profile.
pub(super) fn units(workshop: &Workshop, said: &str) -> Units {
    let named = Units::NAMES.iter().find(|(name, _)| *name == said);
    named.map_or(workshop.profile.wording().units, |(_, units)| *units)
}

/// Keeps how the sheets are made as the workshop's own, in its profile; says what became of it.
pub(super) fn keep(workshop: &Workshop, strap: &Strap<'_>) -> String {
    let Setup { print, has_ticket, .. } = Setup::of(workshop, strap);
    let Wording { language, units } = print.wording;
    let units =
        Units::NAMES.iter().find(|(_, own)| *own == units).map_or("mm", |(n, _)| n);
    let settings = [
        ("paper", print.paper.name().to_lowercase()),
        ("units", units.to_owned()),
        ("language", language.code().to_owned()),
        ("ticket", has_ticket.to_string()),
    ];
    match workshop.keep_settings(&settings) {
        Ok(()) => say("Kept. New straps and orders are printed in this way."),
        Err(why) => format!("{} {why}", say("Not kept.")),
    }
}

pub(super) fn view(workshop: &Workshop, strap: &Strap<'_>, told: Option<&str>) -> Markup {
    let setup = Setup::of(workshop, strap);
    let body = html! {
        (frame::steps(&strap.address, &strap.title(), "print"))
        @if let Some(laid) = strap.printable() {
            @let set = setup.sheets(laid);
            div .two {
                div .measure {
                    section .hundred {
                        p .big { "100 %" }
                        p { strong { (say("Print at 100 %, no “fit to page”.")) } " "
                            (say("Then lay a steel ruler on both bars of a sheet before you cut.")) }
                    }
                    div #findings data-live {
                        @match &set {
                            Ok(set) => {
                                (frame::findings(&setup.findings))
                                (frame::findings(&set.findings))
                            }
                            Err(findings) => (frame::findings(findings)),
                        }
                    }
                    (choices(workshop, strap, &setup))
                    div #save data-live {
                        @if let Ok(set) = &set { (save(strap, &setup, set)) }
                        form method="post" action=(strap.address.link("print")) {
                            p .row { button type="submit" { (say("Always print in this way")) } }
                            p .how { (say("Paper, units, language and ticket go into strapwright.toml.")) }
                        }
                        @if let Some(told) = told { p role="status" { strong { (told) } } }
                    }
                }
                div #sheets .strap data-live { @if let Ok(set) = &set { (sheets(strap, set)) } }
            }
        } @else {
            (frame::no_print(&strap.address))
        }
    };
    frame::page(&format!("{}: {}", say("Print"), strap.title().0), "/", &body)
}

fn choices(workshop: &Workshop, strap: &Strap<'_>, setup: &Setup) -> Markup {
    let paper = setup.print.paper.name();
    let Wording { language, units } = setup.print.wording;
    let mut papers = Paper::names();
    if !papers.iter().any(|name| name.eq_ignore_ascii_case(paper)) {
        papers.push(paper.to_owned());
    }
    let named: Vec<_> = papers.iter().map(|name| Paper::parse(name)).collect();
    let papers = papers.iter().zip(&named);
    let papers = papers.map(|(name, paper)| {
        (name.as_str(), paper.as_ref().map_or(&**name, Paper::name))
    });
    let languages = Language::ALL.map(|l| (l.code(), l.own_name()));
    let all_units =
        [("mm", say("millimetres")), ("in", say("inches")), ("both", say("both"))];
    let unit = Units::NAMES.iter().find(|(_, u)| *u == units).map_or("", |(n, _)| n);
    let tickets = [("yes", say("yes")), ("no", say("no"))];
    let ticket = tickets[usize::from(!setup.has_ticket)].0;
    let printers = workshop.printers();
    let house = workshop.profile.printer.as_ref();
    let house = house.map(|named| {
        say_with("that of the profile, { $printer }", &[("printer", &named.value)])
    });
    let none = (if house.is_some() { NO_PRINTER } else { "" }, say("not checked yet"));
    let printers = house
        .iter()
        .map(|name| ("", name.clone()))
        .chain([none])
        .chain(printers.iter().map(|name| (name.as_str(), name.clone())));
    let chosen = strap.address.get("printer").unwrap_or_default();
    html! {
        form .field-list method="get" action=(strap.address.path.clone() + "/print") data-live-form {
            (strap.address.hidden(&["paper", "ticket", "language", "units", "printer"]))
            (frame::choice("printer", &say("Printer"), printers, chosen))
            (frame::choice("paper", &say("Paper"), papers, paper))
            (frame::choice("language", &say("Language of the sheets"), languages, language.code()))
            (frame::choice("units", &say("Units of the sheets"), all_units, unit))
            (frame::choice("ticket", &say("Ticket before the sheets"), tickets, ticket))
            p .row { button type="submit" { (say("Show these sheets")) } }
        }
    }
}

/// The files of a format, without their ending.
fn files(format: &Format, set: &SheetSet) -> Vec<String> {
    match format.writes {
        Writes::OneFile(_) => vec!["sheets".to_owned()],
        Writes::Strap { .. } => vec!["strap".to_owned()],
        Writes::FilePerSheet(_) | Writes::Preview { .. } => {
            set.sheets.iter().map(|sheet| format!("save-{}", sheet.number)).collect()
        }
    }
}

fn save(strap: &Strap<'_>, setup: &Setup, set: &SheetSet) -> Markup {
    let link = |file: &str| strap.address.link(file);
    let others = FORMATS.iter().filter(|f| f.name != PDF.name);
    html! {
        h2 { (say("Save")) }
        p .row {
            a .button.black href=(link("sheets.pdf")) {
                (say("PDF to print")) small { (count(set.sheets.len(), "{ $count } sheet", "{ $count } sheets"))
                    @if setup.has_ticket { " " (say("and the ticket")) } }
            }
            a .button href=(link("job.toml")) { (say("Job file")) small { (strap.stem()) ".toml" } }
            a .button href=(link("ticket.txt")) { (say("Ticket")) small { (say("as text")) } }
        }
        @for format in others {
            details .fold {
                summary { strong { (format.name.to_uppercase()) } " " span .quiet { (say(format.about)) } }
                p .row {
                    @for file in files(format, set) {
                        a .button href=(link(&format!("{file}.{}", format.extension))) {
                            @match file.strip_prefix("save-") {
                                Some(number) => (say_with("Sheet { $number }", &[("number", &number)])),
                                None => (say("The whole strap")),
                            }
                        }
                    }
                }
            }
        }
    }
}

fn sheets(strap: &Strap<'_>, set: &SheetSet) -> Markup {
    let joins = set.joins.len() + set.lengthwise_joins.len();
    html! {
        dl .facts {
                div { dt { (say_with("sheets { $paper }", &[("paper", &set.paper)])) } dd { (set.sheets.len()) } }
                div { dt { (say("joins")) } dd { (joins) } }
                @if let Some(check) = set.checks.first() {
                    div { dt { (say("joined, A to B")) } dd { (strap.shown(check.length)) } }
                }
                div { dt { (say("print")) } dd { (set.fingerprint) } }
            }
        (frame::sheets(set, |n| strap.address.link(&format!("sheet-{n}.svg")), None))
    }
}

/// A file of the strap; `None` where there is none of that name or nothing may be printed.
pub(super) fn file(workshop: &Workshop, strap: &Strap<'_>, name: &str) -> Option<Answer> {
    let laid = strap.printable()?;
    let (job, fit, layout) = laid;
    let setup = Setup::of(workshop, strap);
    let stem = strap.stem();
    if name == "ticket.txt" {
        let wording = setup.print.wording;
        let input = TicketInput { job, fit: fit.as_ref(), layout, wording };
        let bytes = text(&ticket(&input)).into_bytes();
        let kind = "text/plain; charset=utf-8";
        return Some(Answer::File(Some(format!("{stem}-ticket.txt")), kind, bytes));
    }
    let (what, ending) = name.split_once('.')?;
    let format = FORMATS.iter().find(|f| f.extension == ending)?;
    let (kind, number) = what.split_once('-').unwrap_or((what, ""));
    let mut set = if format.is_strap() && kind == "strap" {
        // A whole strap is for no printer.
        let print = PrintSetup { printer: None, ..setup.print }.on_whole_page(layout);
        paginate_job(laid, &print.print_options(false)).ok()?
    } else {
        let with_ticket = setup.has_ticket && format.has_ticket;
        setup.sheets_after(laid, None, Vec::new(), with_ticket).ok()?
    };
    // Shown on the page as it will be drawn; what is saved was read back.
    let is_shown = kind == "sheet" && ending == "svg";
    if !is_shown && !files(format, &set).iter().any(|file| file == what) {
        return None;
    }
    if let Ok(number) = number.parse() {
        set.leave_out_all_but(&[number]);
    }
    if is_shown {
        let bytes = svg::svg(&set).ok()?.into_iter().next()?;
        return Some(Answer::File(None, "image/svg+xml", bytes));
    }
    match draw(&set, layout, &[], format) {
        Ok((files, _)) => {
            let dash = if number.is_empty() { "" } else { "-" };
            let name = format!("{stem}{dash}{number}.{ending}");
            Some(Answer::File(Some(name), mime(ending), files.into_iter().next()?))
        }
        Err(why) => {
            Some(Answer::Refused(frame::nothing(&say("No drawing"), &format!("{why}."))))
        }
    }
}

fn mime(ending: &str) -> &'static str {
    match ending {
        "pdf" => "application/pdf",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "dxf" => "image/vnd.dxf",
        _ => "application/octet-stream",
    }
}
