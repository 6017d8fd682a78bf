//! The size view: another size of the stock, and which sheets of the last print it keeps.

use super::print::Setup;
use super::say::{count, count_with, say, say_with};
use super::strap::Strap;
use super::{Answer, Workshop, frame};
use crate::Laid;
use crate::diagnostic::forbids_print;
use crate::export::svg;
use crate::paginate::{Heading, ReusedSheet, SheetDiff, SheetSet, compare_sheets};
use crate::print::draw_pdf;
use crate::words::Wording;
use maud::{Markup, html};

/// A size after the print of another.
struct Swap {
    laid: Laid,
    last: SheetSet,
    whole: SheetSet,
    diff: SheetDiff,
}

/// A size that nothing forbids.
fn sized(strap: &Strap<'_>, label: &str) -> Option<Laid> {
    let prepared = strap.sized(label);
    prepared.laid.filter(|_| !forbids_print(&prepared.findings))
}

fn swap(strap: &Strap<'_>, setup: &Setup, last: &SheetSet, size: &str) -> Option<Swap> {
    let laid = sized(strap, size)?;
    let whole = setup.sheets_after(&laid, Some(last), Vec::new(), false).ok()?;
    let diff = compare_sheets(last, &whole);
    Some(Swap { laid, last: last.clone(), whole, diff })
}

/// The labels of the sizes, and the two that the address names or that come first.
fn chosen<'s>(strap: &'s Strap<'_>) -> Option<(Vec<&'s str>, &'s str, &'s str)> {
    let stock = strap.laid()?.0.stock.as_ref()?;
    let labels: Vec<&str> = stock.labels().collect();
    let find = |key| {
        let said = strap.address.get(key)?;
        labels.iter().copied().find(|label| *label == said)
    };
    let after = find("after").or_else(|| labels.first().copied())?;
    let size = find("size").or_else(|| labels.get(1).copied()).unwrap_or(after);
    Some((labels, after, size))
}

pub(super) fn view(workshop: &Workshop, strap: &Strap<'_>) -> Markup {
    let setup = Setup::of(workshop, strap);
    let body = html! {
        (frame::steps(&strap.address, &strap.title(), "sizes"))
        (frame::findings(&setup.findings))
        @match chosen(strap) {
            None => (no_sizes(strap)),
            Some((labels, after, size)) => (of_sizes(strap, &setup, &labels, after, size)),
        }
    };
    frame::page(&format!("{}: {}", say("Other sizes"), strap.title().0), "/", &body)
}

fn no_sizes(strap: &Strap<'_>) -> Markup {
    let takes_sizes = strap.key("stock.sizes").is_some();
    let path = format!("{}/sizes", strap.address.path);
    let ranges: Vec<&str> =
        crate::stock::REGISTER.iter().map(|range| range.name).collect();
    html! {
        @if takes_sizes {
            form .measure method="get" action=(path) {
                (strap.address.hidden(&["stock.sizes"]))
                div .field {
                    div {
                        label for="sizes" { (say("Which sizes do you stock?"))
                            span .how { (say_with("A span such as 28 to 46 in by 2 in, or a range: { $ranges }",
                                &[("ranges", &ranges.join(", "))])) } }
                        input type="text" id="sizes" name="stock.sizes" autocomplete="off"
                            value=(strap.address.get("stock.sizes").unwrap_or_default());
                    }
                }
                p .row { button type="submit" { (say("Show these sizes")) } }
            }
            @for finding in &strap.prepared.findings {
                @if strap.key_of(finding).as_deref() == Some("stock.sizes") {
                    (frame::finding(finding, &html! {}))
                }
            }
        } @else {
            section .status {
                h2 { (say("This strap is not made to stock")) }
                p { (say("Its length follows from no measure of a body. Type another length and print that.")) }
                p { a href=(strap.address.link("")) { (say("To its measures")) } }
            }
        }
    }
}

fn of_sizes(
    strap: &Strap<'_>,
    setup: &Setup,
    labels: &[&str],
    after: &str,
    size: &str,
) -> Markup {
    let last = sized(strap, after)
        .and_then(|laid| setup.sheets_after(&laid, None, Vec::new(), false).ok());
    let swaps: Vec<Option<Swap>> =
        labels.iter().map(|label| swap(strap, setup, last.as_ref()?, label)).collect();
    let own = labels.iter().position(|l| *l == size).and_then(|at| swaps[at].as_ref());
    let pair = strap.address.with("after", after).with("size", size);
    html! {
        form .measure method="get" action=(format!("{}/sizes", strap.address.path)) {
            (strap.address.hidden(&["size", "after"]))
            (frame::choice("after", &say("Which size is printed?"), labels.iter().map(|l| (*l, *l)), after))
            fieldset .field {
                legend { (say("Which size now?")) }
                div .choices.sizes {
                    @for (label, swap) in labels.iter().zip(&swaps) {
                        label {
                            input type="radio" name="size" value=(label) checked[*label == size];
                            span { strong { (label) } br;
                                @match swap {
                                    _ if *label == after => (say("printed")),
                                    Some(swap) => (count(swap.diff.print.len(), "{ $count } new sheet", "{ $count } new sheets")),
                                    None => (say("cannot be printed")),
                                }
                            }
                        }
                    }
                }
            }
            p .row { button type="submit" { (say("Show this size")) } }
        }
        @match own {
            None => section .status {
                h2 { (say("No print of this size")) }
                p { (say("Something of it has to be mended.")) " "
                    a href=(strap.address.with("stock.size", size).link("")) { (say("See what")) } }
            },
            Some(swap) => (of_swap(&pair, swap, [size, after], strap.wording, setup.has_ticket)),
        }
    }
}

fn of_swap(
    pair: &super::address::Address,
    swap: &Swap,
    [size, after]: [&str; 2],
    wording: Wording,
    has_ticket: bool,
) -> Markup {
    let (print, keep) = (swap.diff.print.len(), swap.diff.keep.len());
    let (job, fit, layout) = &swap.laid;
    let heading = Heading::with_wording(job, fit.as_ref(), layout, wording);
    html! {
        div .two {
            div .measure {
                section .status role="status" {
                    @if size == after { h2 { (say_with("{ $size } is printed", &[("size", &size)])) } }
                    @else { h2 { (count_with(print,
                        "{ $size } after { $other }: print { $count } sheet, keep { $kept }",
                        "{ $size } after { $other }: print { $count } sheets, keep { $kept }",
                        &[("size", &size), ("other", &after), ("kept", &keep)])) } }
                    p { (heading.serves) }
                }
                @if print > 0 {
                    p .row {
                        a .button.black href=(pair.link("swap.pdf")) {
                            (say("PDF of the new sheets")) small { (count(print, "{ $count } sheet", "{ $count } sheets"))
                                @if has_ticket { " " (say("and the ticket")) } }
                        }
                    }
                }
            }
            (frame::sheets(&swap.whole, |n| pair.link(&format!("swap-{n}.svg")), Some(&swap.diff.keep)))
        }
    }
}

/// The sheets of a size after another: as a PDF of those that are new, or one as it looks.
pub(super) fn file(workshop: &Workshop, strap: &Strap<'_>, name: &str) -> Option<Answer> {
    let setup = Setup::of(workshop, strap);
    let (_, after, size) = chosen(strap)?;
    let last = setup.sheets_after(&sized(strap, after)?, None, Vec::new(), false).ok()?;
    let swap = swap(strap, &setup, &last, size)?;
    if name == "swap.pdf" {
        let reused: Vec<ReusedSheet> = swap.diff.reused(&swap.last);
        let mut set =
            setup.sheets_after(&swap.laid, Some(&last), reused, setup.has_ticket).ok()?;
        set.leave_out_all_but(&swap.diff.print);
        let (bytes, _) = draw_pdf(&set, &swap.laid.2, &[]).ok()?;
        let name = format!("{}-{}.pdf", strap.stem(), size.replace([' ', '/'], "-"));
        return Some(Answer::File(Some(name), "application/pdf", bytes));
    }
    let number: usize = name.strip_prefix("swap-")?.strip_suffix(".svg")?.parse().ok()?;
    let mut set = swap.whole;
    set.leave_out_all_but(&[number]);
    let file = svg::svg(&set).ok()?.into_iter().next()?;
    Some(Answer::File(None, "image/svg+xml", file))
}
