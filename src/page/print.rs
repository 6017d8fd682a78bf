//! The print view: the sheets as they come out, and the files to save.

use super::strap::Strap;
use super::{Answer, Workshop, frame};
use crate::Laid;
use crate::diagnostic::{Finding, counted};
use crate::export::{Format, Writes, svg};
use crate::fit::MeasurementUncertainty;
use crate::paginate::{
    Correction, Heading, PaginateError, Paper, Request, ReusedSheet, SheetSet, paginate,
};
use crate::print::{PrintOptions, draw, draw_pdf, paginate_job};
use crate::printer::Printer;
use crate::ticket::{TicketInput, text, ticket};
use crate::words::{Language, Wording};
use maud::{Markup, html};

/// What the address says of the print.
pub(super) struct Setup {
    pub(super) paper: Paper,
    /// A printer of the workshop, by the name of its file.
    printer: Option<(String, Printer)>,
    wording: Wording,
    has_ticket: bool,
}

impl Setup {
    /// A paper or a printer that is not known is as none.
    pub(super) fn read(workshop: &Workshop, strap: &Strap<'_>) -> Self {
        let get = |key| strap.address.get(key).unwrap_or_default();
        let named = workshop.printer(get("printer"));
        let printer = named.map(|printer| (get("printer").to_owned(), printer));
        let own = printer.as_ref().map(|(_, printer)| printer.paper.as_str());
        let paper = |name: &str| Paper::parse(name).ok();
        let profile = &workshop.profile;
        let house = profile.paper.as_ref().map(|given| given.value.clone());
        let paper = paper(get("paper")).or_else(|| paper(own?)).or(house);
        let paper = paper.unwrap_or_default();
        let house = profile.language.as_ref().map(|given| given.value);
        let language = Language::from_code(get("language")).or(house);
        let language = language.unwrap_or_default();
        let has_ticket = match get("ticket") {
            "yes" => true,
            "no" => false,
            _ => profile.ticket.as_ref().is_none_or(|given| given.value),
        };
        let wording = Wording { language, ..Wording::default() };
        Self { paper, printer, wording, has_ticket }
    }

    /// What undoes the printer's error.
    pub(super) fn correction(&self) -> Option<&Correction> {
        self.printer.as_ref().map(|(_, printer)| &printer.correction)
    }

    pub(super) fn printer_name(&self) -> Option<&str> {
        self.printer.as_ref().map(|(name, _)| name.as_str())
    }

    /// The sheets of a strap.
    pub(super) fn sheets(
        &self,
        laid: &Laid,
        with_ticket: bool,
    ) -> Result<SheetSet, Box<Finding>> {
        paginate_job(
            laid,
            &PrintOptions {
                paper: &self.paper,
                correction: self.correction(),
                measuring: MeasurementUncertainty::default(),
                wording: self.wording,
                with_ticket,
            },
        )
    }

    /// The sheets of a strap that use those of an earlier print again, `reused` among them.
    pub(super) fn sheets_after(
        &self,
        (job, fit, layout): &Laid,
        last: &SheetSet,
        reused: Vec<ReusedSheet>,
        with_ticket: bool,
    ) -> Result<SheetSet, PaginateError> {
        let fit = fit.as_ref();
        let heading = Heading::with_wording(job, fit, layout, self.wording);
        let heading = Heading { reused, ..heading };
        let input = TicketInput { job, fit, layout, wording: self.wording };
        let ticket = with_ticket.then(|| ticket(&input));
        paginate(&Request {
            correction: self.correction(),
            ticket: ticket.as_ref(),
            ..Request::new(layout, &heading, &self.paper).reusing(last)
        })
    }
}

pub(super) fn view(workshop: &Workshop, strap: &Strap<'_>) -> Markup {
    let setup = Setup::read(workshop, strap);
    let set = strap.printable().map(|laid| setup.sheets(laid, setup.has_ticket));
    let body = html! {
        (frame::steps(&strap.address, &strap.title(), "print"))
        @match set {
            None => {
                section .status {
                    h2 { (frame::sign(Some(crate::diagnostic::Severity::Error), 26))
                        span .stop { "No print yet" } }
                    p { "Something has to be mended first. "
                        a href=(strap.address.link("")) { "See what, and how" } }
                }
            }
            Some(Err(finding)) => {
                (choices(workshop, strap, &setup))
                section .status {
                    h2 { (frame::sign(Some(finding.severity), 26)) span .stop { (finding.message) } }
                    p { "Found " (finding.found) ". It may be " (finding.required) ". " (finding.remedy) "." }
                }
            }
            Some(Ok(set)) => {
                div .two {
                    div .measure {
                        (hundred())
                        (choices(workshop, strap, &setup))
                        (save(strap, &setup, &set))
                    }
                    (sheets(strap, &set))
                }
            }
        }
    };
    frame::page(&format!("Print {}", strap.title().0), "/", &body)
}

/// The words without which nothing is printed.
fn hundred() -> Markup {
    html! {
        section .hundred {
            p .big { "100 %" }
            p { strong { "Print at 100 %, no “fit to page”." }
                " Then lay a steel ruler on both bars of a sheet before you cut." }
        }
    }
}

fn choices(workshop: &Workshop, strap: &Strap<'_>, setup: &Setup) -> Markup {
    let names = Paper::names();
    let printers = workshop.printers();
    let name = setup.paper.name();
    html! {
        form .field-list method="get" action=(strap.address.path.clone() + "/print") {
            @for (key, value) in &strap.address.said {
                input type="hidden" name=(key) value=(value);
            }
            @for (key, value) in strap.address.kept() {
                @if !["paper", "ticket", "language", "printer"].contains(&key.as_str()) {
                    input type="hidden" name=(key) value=(value);
                }
            }
            @if !printers.is_empty() {
                div .field {
                    label for="printer" { "Printer" }
                    select id="printer" name="printer" {
                        option value="" { "one that was not checked" }
                        @for name in &printers {
                            option value=(name) selected[setup.printer_name() == Some(name)] { (name) }
                        }
                    }
                }
            }
            div .field {
                label for="paper" { "Paper" }
                select id="paper" name="paper" {
                    @for paper in &names {
                        option value=(paper) selected[paper.eq_ignore_ascii_case(name)] { (paper) }
                    }
                    @if !names.iter().any(|n| n.eq_ignore_ascii_case(name)) {
                        option value=(name) selected { (name) }
                    }
                }
            }
            div .field {
                label for="language" { "Language of the sheets" }
                select id="language" name="language" {
                    @for language in Language::ALL {
                        option value=(language.code()) selected[language == setup.wording.language] {
                            (own_name(language))
                        }
                    }
                }
            }
            div .field {
                label for="ticket" { "Ticket before the sheets" }
                select id="ticket" name="ticket" {
                    option value="yes" selected[setup.has_ticket] { "yes" }
                    option value="no" selected[!setup.has_ticket] { "no" }
                }
            }
            p .row { button type="submit" { "Show these sheets" } }
        }
    }
}

/// What a language calls itself.
fn own_name(language: Language) -> &'static str {
    match language.code() {
        "de" => "Deutsch",
        "es" => "Español",
        "fr" => "Français",
        "it" => "Italiano",
        "pl" => "Polski",
        _ => "English",
    }
}

fn save(strap: &Strap<'_>, setup: &Setup, set: &SheetSet) -> Markup {
    let link = |file: &str| strap.address.link(file);
    let others = Format::drawings().filter(|f| f.name != crate::export::PDF.name);
    html! {
        h2 { "Save" }
        p .row {
            a .button.black href=(link("sheets.pdf")) {
                "PDF to print" small { (counted(set.sheets.len(), "sheet"))
                    @if setup.has_ticket { " and the ticket" } }
            }
            a .button href=(link("job.toml")) { "Job file" small { (strap.stem()) ".toml" } }
            a .button href=(link("ticket.txt")) { "Ticket" small { "as text" } }
        }
        @for format in others {
            details .fold {
                summary { strong { (format.name.to_uppercase()) } " " span .quiet { (format.about) } }
                p .row {
                    @match format.writes {
                        Writes::FilePerSheet(_) => @for sheet in &set.sheets {
                            a .button href=(link(&format!("save-{}.{}", sheet.number, format.extension))) {
                                "Sheet " (sheet.number)
                            }
                        },
                        _ => a .button href=(link(&format!("sheets.{}", format.extension))) { "All sheets" },
                    }
                }
            }
        }
    }
}

fn sheets(strap: &Strap<'_>, set: &SheetSet) -> Markup {
    let joins = set.joins.len() + set.lengthwise_joins.len();
    let check = set.checks.first();
    html! {
        div .strap {
            dl .facts {
                div { dt { "sheets " (set.paper) } dd { (set.sheets.len()) } }
                div { dt { "joins" } dd { (joins) } }
                @if let Some(check) = check {
                    div { dt { "joined, A to B" } dd { (check.length.plain_mm()) " mm" } }
                }
                div { dt { "print" } dd { (set.fingerprint) } }
            }
            @for finding in &set.findings {
                div .finding.mind { h3 { (frame::sign(Some(finding.severity), 22)) span { (finding.message) } }
                    p { (finding.remedy) } }
            }
            ul .sheets {
                @for sheet in &set.sheets {
                    li {
                        img src=(strap.address.link(&format!("sheet-{}.svg", sheet.number)))
                            width=(sheet.width.mm(0)) height=(sheet.height.mm(0)) loading="lazy"
                            alt={ "Sheet " (sheet.number) " of " (set.sheets.len()) ", as it is printed" };
                        p { strong { "Sheet " (sheet.number) " of " (set.sheets.len()) } }
                    }
                }
            }
        }
    }
}

/// A file of the strap; `None` where there is none of that name or nothing may be printed.
pub(super) fn file(workshop: &Workshop, strap: &Strap<'_>, name: &str) -> Option<Answer> {
    let laid = strap.printable()?;
    let (job, fit, layout) = laid;
    let setup = Setup::read(workshop, strap);
    let stem = strap.stem();
    if name == "ticket.txt" {
        let input =
            TicketInput { job, fit: fit.as_ref(), layout, wording: setup.wording };
        let bytes = text(&ticket(&input)).into_bytes();
        return Some(Answer::File(
            Some(format!("{stem}-ticket.txt")),
            "text/plain; charset=utf-8",
            bytes,
        ));
    }
    let (what, ending) = name.split_once('.')?;
    let format = Format::drawings().find(|f| f.extension == ending)?;
    let set = setup.sheets(laid, setup.has_ticket && format.has_ticket).ok()?;
    if what == "sheets" {
        let bytes = if format.name == crate::export::PDF.name {
            draw_pdf(&set, layout, &[]).ok()?.0
        } else if matches!(format.writes, Writes::OneFile(_)) {
            draw(&set, layout, &[], &format).ok()?.0.into_iter().next()?
        } else {
            return None;
        };
        return Some(Answer::File(Some(format!("{stem}.{ending}")), mime(ending), bytes));
    }
    let (what, number) = what.split_once('-')?;
    let number: usize = number.parse().ok()?;
    let at = set.sheets.iter().position(|sheet| sheet.number == number)?;
    let (name, files) = match what {
        // Shown on the page as it will be drawn; what is saved was read back.
        "sheet" if ending == "svg" => (None, svg::svg(&set).ok()?),
        "save" => {
            let name = format!("{stem}-{number}.{ending}");
            (Some(name), draw(&set, layout, &[], &format).ok()?.0)
        }
        _ => return None,
    };
    Some(Answer::File(name, mime(ending), files.into_iter().nth(at)?))
}

fn mime(ending: &str) -> &'static str {
    match ending {
        "pdf" => "application/pdf",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        _ => "application/octet-stream",
    }
}
